package phrase

import (
	"strings"
	"sync/atomic"
)

var decimalComma atomic.Bool

// DecimalComma sets with which decimal mark texts show values from now on: a comma, or else a point.
// It is a setting of the workshop, not of the language, and changes nothing that is recorded.
func DecimalComma(on bool) { decimalComma.Store(on) }

// Decimal writes a value or a window with the decimal mark that is set. It is for values only, never
// for names or sentences.
func Decimal(value string) string {
	if !decimalComma.Load() {
		return value
	}
	// ".." between two limits stays.
	parts := strings.Split(value, "..")
	for i := range parts {
		parts[i] = strings.ReplaceAll(parts[i], ".", ",")
	}
	return strings.Join(parts, "..")
}

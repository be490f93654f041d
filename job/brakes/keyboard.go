package brakes

import (
	"strings"

	"bay.example/pawl/job/phrase"
)

// KeyboardSlip is a scanner whose keyboard layout differs from the one the
// computer expects.
type KeyboardSlip struct {
	// Cause says which layouts were mixed.
	Cause string
	// Meant is the number with the slip undone.
	Meant VehicleNumber
}

// layout maps what arrived to what the scanner meant.
type layout struct {
	cause string
	undo  map[rune]rune
}

// layouts follow the key positions of the keyboards named by their first keys
// (ISO/IEC 9995 places; assignments common practice, no source).
var layouts = []layout{
	{phrase.Of("brakes.keyboard.y-and-z-exchanged-scanner-and-computer"),
		map[rune]rune{'Y': 'Z', 'Z': 'Y', 'ß': '-', '?': '-'}},
	{phrase.Of("brakes.keyboard.scanner-set-to-qwerty-computer-to-azerty"),
		map[rune]rune{'A': 'Q', 'Q': 'A', 'W': 'Z', 'Z': 'W', '?': 'M', ',': 'M',
			'&': '1', 'é': '2', 'É': '2', '"': '3', '\'': '4', '(': '5', '-': '6', 'è': '7', 'È': '7', '_': '8', 'ç': '9', 'Ç': '9', 'à': '0', 'À': '0'}},
	{phrase.Of("brakes.keyboard.scanner-set-to-azerty-computer-to-qwerty"),
		map[rune]rune{'A': 'Q', 'Q': 'A', 'W': 'Z', 'Z': 'W', ';': 'M', ':': 'M',
			'!': '1', '@': '2', '#': '3', '$': '4', '%': '5', '^': '6', '&': '7', '*': '8', '(': '9', ')': '0'}},
	{phrase.Of("brakes.keyboard.digits-arrived-with-the-shift-key-held"),
		map[rune]rune{'!': '1', '@': '2', '#': '3', '$': '4', '%': '5', '^': '6', '&': '7', '*': '8', '(': '9', ')': '0'}},
	{phrase.Of("brakes.keyboard.digits-arrived-with-the-shift-key-held-2"),
		map[rune]rune{'!': '1', '"': '2', '§': '3', '$': '4', '%': '5', '&': '6', '/': '7', '(': '8', ')': '9', '=': '0'}},
}

// KeyboardSlips looks for a scanner on the wrong keyboard layout when a scan is
// no vehicle identification number or its check digit does not fit. A slip is
// named only when undoing it makes the check digit fit. It is a hint; the scan
// is repeated after the scanner has been set right. A scan that fits as it is
// has no slips.
func KeyboardSlips(scan string) []KeyboardSlip {
	if fitting(scan) != "" {
		return nil
	}
	raised := strings.ToUpper(strings.TrimSpace(scan))
	var slips []KeyboardSlip
	for _, l := range layouts {
		undone := strings.Map(func(c rune) rune {
			if meant, ok := l.undo[c]; ok {
				return meant
			}
			return c
		}, raised)
		// Hyphens are printed on some labels between the parts of the number.
		undone = strings.ReplaceAll(undone, "-", "")
		if undone == raised {
			continue
		}
		if meant := fitting(undone); meant != "" {
			slips = append(slips, KeyboardSlip{l.cause, meant})
		}
	}
	return slips
}

// fitting returns the number when it is one and its check digit fits.
func fitting(text string) VehicleNumber {
	v, err := ParseVehicleNumber(text)
	if err != nil {
		return ""
	}
	c, err := v.CheckDigit()
	if err != nil || !c.Fits() {
		return ""
	}
	return v
}

package quantity

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

const windowForms = "write for example 108..132 N·m, 120 ± 12 N·m, 120 N·m ± 10 %, >= 16.00 mm or <= 0.05 mm"

// ParseWindow reads a window written as "108..132 N·m", "120 ± 12 N·m" (also
// +- and +/-), "120 N·m ± 10 %", ">= 16.00 mm" or "<= 0.05 mm" (also ≥ and ≤).
// Limits are included. The unit is required, may follow each number, and is
// the same on both sides. A window with low above high is an error.
func ParseWindow(text string) (Window, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return Window{}, errors.New("no window was given; " + windowForms)
	}
	w, err := parseWindow(text)
	if err != nil {
		return Window{}, err
	}
	w.Text = text
	if err := w.ordered(); err != nil {
		return Window{}, err
	}
	return w, nil
}

func parseWindow(text string) (Window, error) {
	plain := strings.NewReplacer("+/-", "±", "+-", "±", "+−", "±", ">=", "≥", "<=", "≤").Replace(text)
	if limit, ok := strings.CutPrefix(plain, "≥"); ok {
		low, err := Parse(limit, "")
		return Window{Low: low}, inWindow(text, err)
	}
	if limit, ok := strings.CutPrefix(plain, "≤"); ok {
		high, err := Parse(limit, "")
		return Window{High: high}, inWindow(text, err)
	}
	if strings.HasPrefix(plain, "<") || strings.HasPrefix(plain, ">") {
		return Window{}, fmt.Errorf("%s leaves the limit itself out, but limits are included here; write >= or <=", quote(text))
	}
	if target, tolerance, ok := strings.Cut(plain, "±"); ok {
		return parseTolerance(text, target, tolerance)
	}
	if low, high, ok := strings.Cut(plain, ".."); ok {
		return parseRange(text, low, high)
	}
	return Window{}, fmt.Errorf("%s is not a window; %s", quote(text), windowForms)
}

// inWindow names the window an error was found in.
func inWindow(text string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("the window %s cannot be read: %w", quote(text), err)
}

func parseRange(text, lowText, highText string) (Window, error) {
	if strings.HasPrefix(highText, ".") {
		return Window{}, fmt.Errorf("%s has three points in a row; write two, and a zero before a decimal mark, for example 0.5..0.9 mm", quote(text))
	}
	high, err := Parse(highText, "")
	if err != nil {
		return Window{}, inWindow(text, err)
	}
	low, err := Parse(lowText, high.Unit)
	if err != nil {
		return Window{}, inWindow(text, err)
	}
	if low.Unit != high.Unit {
		return Window{}, fmt.Errorf("the window %s mixes %s and %s; write both limits in one unit", quote(text), low.Unit, high.Unit)
	}
	return Window{Low: low, High: high}, nil
}

func parseTolerance(text, targetText, toleranceText string) (Window, error) {
	if _, unit := split(strings.TrimSpace(toleranceText)); unit == "" {
		return Window{}, fmt.Errorf("the window %s has no unit at its end; %s", quote(text), windowForms)
	}
	tolerance, err := Parse(toleranceText, "")
	if err != nil {
		return Window{}, inWindow(text, err)
	}
	if tolerance.Negative() {
		return Window{}, fmt.Errorf("the window %s has a negative tolerance; write it without a sign", quote(text))
	}
	_, targetUnit := split(strings.TrimSpace(targetText))
	relative := tolerance.Unit == Percent
	if relative && targetUnit == "" {
		return Window{}, fmt.Errorf("the window %s gives no unit for the target; write for example 120 N·m ± 10 %%", quote(text))
	}
	target, err := Parse(targetText, tolerance.Unit)
	if err != nil {
		return Window{}, inWindow(text, err)
	}
	switch dimension := target.Unit.Dimension(); {
	case relative && (dimension == Ratio || dimension == Temperature):
		return Window{}, fmt.Errorf("the window %s is unclear, since %% of %s can mean two things; write both limits, for example 45..55 %s", quote(text), dimension.article(), target.Unit)
	case !relative && tolerance.Unit != target.Unit:
		return Window{}, fmt.Errorf("the window %s mixes %s and %s; write the target and its tolerance in one unit", quote(text), target.Unit, tolerance.Unit)
	}
	return around(text, target, tolerance, relative)
}

// around works out the limits exactly: 35 N·m ± 4 % is 33.6 to 36.4 N·m.
func around(text string, target, tolerance Quantity, relative bool) (Window, error) {
	middle, err := target.exact()
	if err != nil {
		return Window{}, inWindow(text, err)
	}
	half, err := tolerance.exact()
	if err != nil {
		return Window{}, inWindow(text, err)
	}
	places := target.Places()
	if relative {
		half.Mul(half, big.NewRat(1, 100)).Mul(half, new(big.Rat).Abs(middle))
	} else {
		places = max(places, tolerance.Places())
	}
	low, err := decimal(new(big.Rat).Sub(middle, half), target.Unit, places)
	if err != nil {
		return Window{}, fmt.Errorf("the lower limit of the window %s %w", quote(text), err)
	}
	high, err := decimal(new(big.Rat).Add(middle, half), target.Unit, places)
	if err != nil {
		return Window{}, fmt.Errorf("the upper limit of the window %s %w", quote(text), err)
	}
	return Window{Low: low, High: high, Target: target}, nil
}

package quantity

import (
	"errors"
	"math/big"
	"strings"

	"bay.example/pawl/job/phrase"
)

var windowForms = phrase.Of("quantity.parsewindow.write-for-example")

// ParseWindow reads a window written as "108..132 N·m", "120 ± 12 N·m" (also
// +- and +/-), "120 N·m ± 10 %", ">= 16.00 mm" or "<= 0.05 mm" (also ≥ and ≤).
// Limits are included. The unit is required, may follow each number, and is
// the same on both sides. A window with low above high is an error.
func ParseWindow(text string) (Window, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return Window{}, errors.New(phrase.Of("quantity.parsewindow.no-window-was-given", windowForms))
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
		return Window{}, phrase.Error("quantity.parsewindow.leaves-the-limit-out", quote(text))
	}
	if target, tolerance, ok := strings.Cut(plain, "±"); ok {
		return parseTolerance(text, target, tolerance)
	}
	if low, high, ok := strings.Cut(plain, ".."); ok {
		return parseRange(text, low, high)
	}
	return Window{}, phrase.Error("quantity.parsewindow.is-not-a-window", quote(text), windowForms)
}

// inWindow names the window an error was found in.
func inWindow(text string, err error) error {
	if err == nil {
		return nil
	}
	return phrase.Error("quantity.parsewindow.the-window-cannot-be-read", quote(text), err)
}

func parseRange(text, lowText, highText string) (Window, error) {
	if strings.HasPrefix(highText, ".") {
		return Window{}, phrase.Error("quantity.parsewindow.has-three-points-in-a-row-write", quote(text))
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
		return Window{}, phrase.Error("quantity.parsewindow.the-window-mixes-and-write-both-limits", quote(text), low.Unit, high.Unit)
	}
	return Window{Low: low, High: high}, nil
}

func parseTolerance(text, targetText, toleranceText string) (Window, error) {
	if _, unit := split(strings.TrimSpace(toleranceText)); unit == "" {
		return Window{}, phrase.Error("quantity.parsewindow.the-window-has-no-unit-at-its", quote(text), windowForms)
	}
	tolerance, err := Parse(toleranceText, "")
	if err != nil {
		return Window{}, inWindow(text, err)
	}
	if tolerance.Negative() {
		return Window{}, phrase.Error("quantity.parsewindow.the-window-has-a-negative-tolerance-write", quote(text))
	}
	_, targetUnit := split(strings.TrimSpace(targetText))
	relative := tolerance.Unit == Percent
	if relative && targetUnit == "" {
		return Window{}, phrase.Error("quantity.parsewindow.the-window-gives-no-unit-for-the", quote(text))
	}
	target, err := Parse(targetText, tolerance.Unit)
	if err != nil {
		return Window{}, inWindow(text, err)
	}
	switch dimension := target.Unit.Dimension(); {
	case relative && (dimension == Ratio || dimension == Temperature):
		return Window{}, phrase.Error("quantity.parsewindow.the-window-is-unclear-since-of-can", quote(text), dimension.article(), target.Unit)
	case !relative && tolerance.Unit != target.Unit:
		return Window{}, phrase.Error("quantity.parsewindow.the-window-mixes-and-write-the-target", quote(text), target.Unit, tolerance.Unit)
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
		return Window{}, phrase.Error("quantity.parsewindow.the-lower-limit-of-the-window", quote(text), err)
	}
	high, err := decimal(new(big.Rat).Add(middle, half), target.Unit, places)
	if err != nil {
		return Window{}, phrase.Error("quantity.parsewindow.the-upper-limit-of-the-window", quote(text), err)
	}
	return Window{Low: low, High: high, Target: target}, nil
}

package quantity

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"bay.example/pawl/job/phrase"
)

// maxDigits is the most digits a number may have: far more than any instrument
// shows, and few enough that a stuck key is noticed.
const maxDigits = 20

// quotedRunes is how much of a refused text an error repeats.
const quotedRunes = 32

var exponent = regexp.MustCompile(`^[eE][+\-−]?[0-9]+`)

// quote repeats what was typed inside an error, cut when it is long.
func quote(text string) string {
	if runes := []rune(text); len(runes) > quotedRunes {
		text = string(runes[:quotedRunes]) + "…"
	}
	return fmt.Sprintf("%q", text)
}

// ParseNumber reads a plain decimal number and returns its canonical form: a
// point as the decimal mark, a sign only when negative, no superfluous leading
// zeros, trailing zeros kept. A decimal comma, a leading plus and the minus
// sign U+2212 are accepted. Everything else is an error that says what to type.
func ParseNumber(text string) (string, error) {
	text = strings.TrimSpace(text)
	negative, digits := false, text
	switch {
	case strings.HasPrefix(digits, "-"):
		negative, digits = true, digits[1:]
	case strings.HasPrefix(digits, "−"):
		negative, digits = true, strings.TrimPrefix(digits, "−")
	case strings.HasPrefix(digits, "+"):
		digits = digits[1:]
	}
	whole, decimals, mark := digits, "", strings.IndexAny(digits, ".,")
	if mark >= 0 {
		whole, decimals = digits[:mark], digits[mark+1:]
	}
	switch {
	case !onlyDigits(whole) || !onlyDigits(decimals):
		return "", refusal(text)
	case mark >= 0 && decimals == "", whole == "" && decimals == "":
		return "", refusal(text)
	}
	typed := len(whole) + len(decimals)
	whole = strings.TrimLeft(whole, "0")
	if whole == "" {
		whole = "0"
	}
	if typed > maxDigits || len(whole)+len(decimals) > maxDigits {
		return "", phrase.Error("quantity.number.has-more-than-digits-type-the-value", quote(text), maxDigits)
	}
	number := whole
	if mark >= 0 {
		number += "." + decimals
	}
	return signed(negative, number), nil
}

// signed puts the minus sign before a number unless the number is zero.
func signed(negative bool, number string) string {
	if negative && strings.Trim(number, "0.") != "" {
		return "-" + number
	}
	return number
}

// canonical reports whether a number is exactly as ParseNumber would return it.
func canonical(number string) bool {
	again, err := ParseNumber(number)
	return err == nil && again == number
}

func onlyDigits(text string) bool {
	return strings.Trim(text, "0123456789") == ""
}

// refusal says, in one sentence, why a text is not a plain decimal number.
func refusal(text string) error {
	bare := strings.TrimLeft(text, "+-−")
	switch strings.ToLower(bare) {
	case "":
		if text == "" {
			return phrase.Error("quantity.number.no-number-was-typed-type-the-digits")
		}
		return phrase.Error("quantity.number.is-only-a-sign-type-the-digits", quote(text))
	case "nan":
		return phrase.Error("quantity.number.is-not-a-value-type-the-digits", quote(text))
	case "inf", "infinity", "∞":
		return phrase.Error("quantity.number.has-no-end-and-cannot-be-measured", quote(text))
	case ".", ",":
		return phrase.Error("quantity.number.is-only-a-decimal-mark-type-the", quote(text))
	}
	quoted := quote(text)
	if strings.ContainsFunc(text, otherDigit) {
		return phrase.Error("quantity.number.is-not-written-in-plain-digits-type", quoted)
	}
	if rest := strings.TrimLeft(bare, "0123456789.,"); rest != bare && exponent.FindString(rest) == rest && rest != "" {
		return phrase.Error("quantity.number.is-not-a-plain-decimal-number-type", quoted)
	}
	switch {
	case strings.ContainsFunc(text, unicode.IsLetter):
		return phrase.Error("quantity.number.has-letters-where-the-number-should-be", quoted)
	case strings.ContainsFunc(text, unicode.IsSpace):
		return phrase.Error("quantity.number.has-a-blank-inside-the-number-type", quoted)
	case strings.ContainsAny(text, "'’_"), strings.Contains(text, ",") && strings.Contains(text, "."):
		return phrase.Error("quantity.number.has-marks-between-the-thousands-leave-them", quoted)
	case strings.Contains(text, "/"):
		return phrase.Error("quantity.number.is-a-fraction-type-it-as-a", quoted)
	case strings.ContainsAny(bare, "+-−"), len([]rune(text))-len([]rune(bare)) > 1:
		return phrase.Error("quantity.number.has-a-sign-out-of-place-type", quoted)
	case strings.ContainsFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.,+-−", r) }):
		return phrase.Error("quantity.number.is-not-a-plain-decimal-number-type-2", quoted)
	case strings.Count(bare, ".")+strings.Count(bare, ",") > 1:
		return phrase.Error("quantity.number.has-more-than-one-decimal-mark-type", quoted)
	default:
		return phrase.Error("quantity.number.ends-with-a-decimal-mark-type-the", quoted)
	}
}

// otherDigit reports digits and marks that look like plain ones and are not,
// such as the full-width forms.
func otherDigit(r rune) bool {
	return unicode.IsDigit(r) && (r < '0' || r > '9') || r == '．' || r == '，'
}

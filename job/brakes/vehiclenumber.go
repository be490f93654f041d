package brakes

import (
	"strings"

	"bay.example/pawl/job/phrase"
)

// VehicleNumber is a vehicle identification number of 17 characters in capital
// letters. Form: ISO 3779.
type VehicleNumber string

// vinValues is the transliteration of 49 CFR 565.15 table III. I, O and Q have
// no value and never occur.
var vinValues = map[byte]int{
	'0': 0, '1': 1, '2': 2, '3': 3, '4': 4, '5': 5, '6': 6, '7': 7, '8': 8, '9': 9,
	'A': 1, 'B': 2, 'C': 3, 'D': 4, 'E': 5, 'F': 6, 'G': 7, 'H': 8,
	'J': 1, 'K': 2, 'L': 3, 'M': 4, 'N': 5, 'P': 7, 'R': 9,
	'S': 2, 'T': 3, 'U': 4, 'V': 5, 'W': 6, 'X': 7, 'Y': 8, 'Z': 9,
}

// vinWeights by position, 49 CFR 565.15 table IV.
var vinWeights = [17]int{8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2}

// ParseVehicleNumber reads a typed or scanned number. Blanks round it are
// dropped and small letters raised; nothing else is changed. Errors: not 17
// characters, one of I, O, Q, or a character that is no capital letter or
// digit.
func ParseVehicleNumber(text string) (VehicleNumber, error) {
	trimmed := strings.TrimSpace(text)
	if trimmed == "" {
		return "", phrase.Error("brakes.vehiclenumber.no-vehicle-identification-number-17-letters-and")
	}
	raised := []rune(trimmed)
	for i, c := range raised {
		if c >= 'a' && c <= 'z' {
			raised[i] = c - 'a' + 'A'
		}
	}
	// The wrong character comes before the wrong length: it says more.
	for i, c := range raised {
		switch {
		case c == 'I' || c == 'O' || c == 'Q':
			return "", phrase.Error("brakes.vehiclenumber.character-is-which-no-vehicle-identification", i+1, c)
		case c > 127 || !isVehicleCharacter(byte(c)):
			return "", phrase.Error("brakes.vehiclenumber.character-is-a-vehicle-identification-number", i+1, c)
		}
	}
	if len(raised) != 17 {
		return "", phrase.Error("brakes.vehiclenumber.characters-a-vehicle-identification-number-has", len(raised))
	}
	return VehicleNumber(raised), nil
}

// isVehicleCharacter says whether c has a value.
func isVehicleCharacter(c byte) bool {
	_, ok := vinValues[c]
	return ok
}

// CheckDigit is the outcome of the weighted sum over a vehicle identification
// number.
type CheckDigit struct {
	Sum      int
	Computed byte // 0–9 or X
	Printed  byte // position 9
	// Binding is true for world manufacturer identifiers beginning 1 to 5
	// (49 CFR 565): there a mismatch is an error, elsewhere a warning, for
	// position 9 may be a filler.
	Binding bool
	// Text is one sentence, empty when the digit fits.
	Text string
}

// Fits says whether computed and printed digit agree. Two exchanged characters
// of equal weighted value still fit: the digit proves little.
func (c CheckDigit) Fits() bool { return c.Computed == c.Printed }

// CheckDigit sums value × weight; the remainder modulo 11 is the digit, 10 is
// written X. Source: 49 CFR 565.15 tables III and IV. The receiver must come
// from ParseVehicleNumber; another is an error.
func (v VehicleNumber) CheckDigit() (CheckDigit, error) {
	if parsed, err := ParseVehicleNumber(string(v)); err != nil {
		return CheckDigit{}, err
	} else if parsed != v {
		return CheckDigit{}, phrase.Error("brakes.vehiclenumber.vehicle-identification-number-is-not-in-capital", string(v))
	}
	c := CheckDigit{Printed: v[8], Binding: v[0] >= '1' && v[0] <= '5'}
	for i, weight := range vinWeights {
		c.Sum += vinValues[v[i]] * weight
	}
	c.Computed = "0123456789X"[c.Sum%11]
	if !c.Fits() {
		c.Text = phrase.Of("brakes.vehiclenumber.check-digit-at-position-9-is-was", c.Printed, c.Computed)
		if c.Binding {
			c.Text += phrase.Of("brakes.vehiclenumber.typed-wrong-compare-with-the-plate")
		} else {
			c.Text += phrase.Of("brakes.vehiclenumber.compare-with-the-plate-not-every-maker")
		}
	}
	return c, nil
}

// modelYearCodes in order from 1980; 30 codes that repeat every 30 years
// (49 CFR 565.15).
const modelYearCodes = "ABCDEFGHJKLMNPRSTVWXY123456789"

// ModelYears lists the years position 10 may mean from 1980 to the given year,
// which the caller may set one ahead. It is empty for characters that are no
// code (0, U, Z). Makers outside the rule may use the position otherwise: the
// years are candidates only.
func (v VehicleNumber) ModelYears(until int) []int {
	if len(v) != 17 {
		return nil
	}
	at := strings.IndexByte(modelYearCodes, v[9])
	if at < 0 {
		return nil
	}
	var years []int
	for year := 1980 + at; year <= until; year += len(modelYearCodes) {
		years = append(years, year)
	}
	return years
}

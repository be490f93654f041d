package quantity_test

import (
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
)

func TestParseNumberCanonical(t *testing.T) {
	for typed, want := range map[string]string{
		"0":                     "0",
		"120":                   "120",
		"120.5":                 "120.5",
		"16.00":                 "16.00",
		"007":                   "7",
		"000.50":                "0.50",
		".5":                    "0.5",
		"-.5":                   "-0.5",
		"+0.02":                 "0.02",
		"-0.02":                 "-0.02",
		"\u22120.02":            "-0.02",
		"-0":                    "0",
		"-0.00":                 "0.00",
		"-010":                  "-10",
		"16,42":                 "16.42",
		"0,250":                 "0.250",
		"1250,5":                "1250.5",
		"1250,500":              "1250.500",
		"16,425":                "16.425", // a gauge with a decimal comma; thousands are never set off
		"1.250":                 "1.250",
		"  8 ":                  "8",
		"\u00a08\u202f":         "8",
		"12345678901234567890":  "12345678901234567890",
		"0.1234567890123456789": "0.1234567890123456789",
	} {
		got, err := quantity.ParseNumber(typed)
		if err != nil || got != want {
			t.Errorf("ParseNumber(%q) = %q, %v; want %q", typed, got, err, want)
		}
	}
}

// The sentences are part of what a mechanic sees, so they are compared whole.
func TestParseNumberRefusals(t *testing.T) {
	for _, c := range []struct{ typed, want string }{
		{"", `no number was typed; type the digits, for example 120.5`},
		{"   ", `no number was typed; type the digits, for example 120.5`},
		{"1e3", `"1e3" is not a plain decimal number; type the digits, for example 1000`},
		{"1.5E-3", `"1.5E-3" is not a plain decimal number; type the digits, for example 1000`},
		{"NaN", `"NaN" is not a value; type the digits the instrument shows, for example 120.5`},
		{"inf", `"inf" has no end and cannot be measured; type the digits the instrument shows, for example 120.5`},
		{"-Infinity", `"-Infinity" has no end and cannot be measured; type the digits the instrument shows, for example 120.5`},
		{"1 250", `"1 250" has a blank inside the number; type the digits together, for example 1250`},
		{"- 5", `"- 5" has a blank inside the number; type the digits together, for example 1250`},
		{"-", `"-" is only a sign; type the digits after it, for example -0.5`},
		{"+", `"+" is only a sign; type the digits after it, for example -0.5`},
		{"--5", `"--5" has a sign out of place; type at most one sign, in front, for example -0.5`},
		{"5-", `"5-" has a sign out of place; type at most one sign, in front, for example -0.5`},
		{".", `"." is only a decimal mark; type the digits around it, for example 0.5`},
		{"-.", `"-." is only a decimal mark; type the digits around it, for example 0.5`},
		{"1.2.3", `"1.2.3" has more than one decimal mark; type one, for example 120.5`},
		{"1,2,3", `"1,2,3" has more than one decimal mark; type one, for example 120.5`},
		{"5.", `"5." ends with a decimal mark; type the digits after it or leave it out, for example 5 or 5.0`},
		{"5,", `"5," ends with a decimal mark; type the digits after it or leave it out, for example 5 or 5.0`},
		{"123456789012345678901", `"123456789012345678901" has more than 20 digits; type the value as the instrument shows it`},
		{".12345678901234567890", `".12345678901234567890" has more than 20 digits; type the value as the instrument shows it`},
		{strings.Repeat("0", 21), `"000000000000000000000" has more than 20 digits; type the value as the instrument shows it`},
		{strings.Repeat("9", 60), `"99999999999999999999999999999999…" has more than 20 digits; type the value as the instrument shows it`},
		{"12O", `"12O" has letters where the number should be; type digits only, for example 120.5`},
		{"0x10", `"0x10" has letters where the number should be; type digits only, for example 120.5`},
		{"１２", `"１２" is not written in plain digits; type 0 to 9 on the ordinary keys`},
		{"١٢", `"١٢" is not written in plain digits; type 0 to 9 on the ordinary keys`},
		{"1,250.5", `"1,250.5" has marks between the thousands; leave them out, for example 1250.5`},
		{"1'250", `"1'250" has marks between the thousands; leave them out, for example 1250.5`},
		{"1_250", `"1_250" has marks between the thousands; leave them out, for example 1250.5`},
		{"1/2", `"1/2" is a fraction; type it as a decimal, for example 0.5`},
		{"5%", `"5%" is not a plain decimal number; type the digits, for example 120.5`},
		{"\xff", `"\xff" is not a plain decimal number; type the digits, for example 120.5`},
	} {
		got, err := quantity.ParseNumber(c.typed)
		if err == nil {
			t.Errorf("ParseNumber(%q) = %q; want a refusal", c.typed, got)
			continue
		}
		if err.Error() != c.want {
			t.Errorf("ParseNumber(%q)\n got %s\nwant %s", c.typed, err, c.want)
		}
	}
}

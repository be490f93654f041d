package quantity_test

import (
	"fmt"
	"math/big"
	"os"
	"os/exec"
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
)

// gnuName is each unit in the language of GNU Units, from its own definitions.
// A count has no unit there, and a temperature is a function, tempC(37).
var gnuName = map[quantity.Unit]string{
	quantity.NewtonMetre: "N m", quantity.PoundFoot: "lbf ft", quantity.PoundInch: "lbf in",
	quantity.KilogramForceMetre: "kgf m", quantity.KilogramForceCentimetre: "kgf cm",
	quantity.Millimetre: "mm", quantity.Micrometre: "micrometer", quantity.Centimetre: "cm",
	quantity.Metre: "m", quantity.Inch: "inch", quantity.Thou: "thou",
	quantity.Kilometre: "km", quantity.Mile: "mile", quantity.Degree: "degree",
	quantity.Kilonewton: "kN", quantity.Newton: "N", quantity.Decanewton: "daN",
	quantity.KilogramForce: "kgf", quantity.PoundForce: "lbf",
	quantity.Bar: "bar", quantity.Kilopascal: "kPa", quantity.Megapascal: "MPa",
	quantity.PoundPerSquareInch: "psi", quantity.KilogramForcePerSquareCentimetre: "kgf/cm^2",
	quantity.Celsius: "tempC", quantity.Fahrenheit: "tempF", quantity.Percent: "percent",
	quantity.Millilitre: "ml", quantity.Litre: "liter",
	quantity.Kilogram: "kg", quantity.Tonne: "tonne", quantity.Pound: "lb",
	quantity.Second: "s", quantity.Volt: "V",
	quantity.KilometrePerHour: "km/hour", quantity.MilePerHour: "mile/hour",
}

// Source: the GNU Units program, when it is installed: every pair of units of
// one dimension. Its floats print 15 digits; two parts in 10^14 are allowed.
func TestConversionsAgreeWithGNUUnitsProgram(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		t.Skip("the program units (GNU Units) is not installed; its printed tables are checked all the same")
	}
	ask := func(args ...string) *exec.Cmd {
		c := exec.Command(program, args...)
		// Definitions of this account or this locale are none of the program's.
		c.Env = []string{"LC_ALL=C", "HOME=" + t.TempDir(), "PATH=" + os.Getenv("PATH")}
		return c
	}
	version, err := ask("--version").Output()
	if err != nil || !strings.HasPrefix(string(version), "GNU Units") {
		t.Skipf("the program units here is not GNU Units; its printed tables are checked all the same")
	}
	var asked []quantity.Quantity
	var into []quantity.Unit
	var questions strings.Builder
	for _, from := range quantity.Units() {
		if from == quantity.Count {
			continue
		}
		for _, to := range quantity.Units() {
			if !from.Same(to) {
				continue
			}
			q := quantity.Quantity{Number: "37.25", Unit: from}
			asked, into = append(asked, q), append(into, to)
			if from.Dimension() == quantity.Temperature {
				fmt.Fprintf(&questions, "%s(%s)\n%s\n", gnuName[from], q.Number, gnuName[to])
			} else {
				fmt.Fprintf(&questions, "%s %s\n%s\n", q.Number, gnuName[from], gnuName[to])
			}
		}
	}
	run := ask("--terse", "--quiet", "--output-format", "%.15g")
	run.Stdin = strings.NewReader(questions.String())
	output, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	answers := strings.Fields(string(output))
	if len(answers) != len(asked) || len(asked) < 100 {
		t.Fatalf("%d answers to %d questions: %s", len(answers), len(asked), output)
	}
	for i, q := range asked {
		exact, err := q.In(into[i])
		if err != nil {
			t.Error(err)
			continue
		}
		answer := rational(t, answers[i])
		off := new(big.Rat).Sub(exact, answer)
		off.Abs(off.Quo(off, answer))
		if off.Cmp(big.NewRat(2, 100_000_000_000_000)) > 0 {
			t.Errorf("%v is %s %s, GNU Units prints %s", q, exact.FloatString(15), into[i], answers[i])
		}
	}
}

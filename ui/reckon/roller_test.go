package reckon_test

import (
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/ui/reckon"
)

// Worked by hand: (2.30 − 1.70) ÷ 2.30 is 26.1 %; 300 N on 1140 kg × 9.80665 m/s² are 2.7 %. The
// limits of 20 % and 4 % are those of the invented rule set "demo".
func TestBalanceWithFluctuationAndBind(t *testing.T) {
	for _, q := range reckon.Questions(time.Now) {
		if q.Name() != "balance" {
			continue
		}
		set := func(flag, value string) {
			if err := q.Flags().Set(flag, value); err != nil {
				t.Fatal(err)
			}
		}
		for flag, value := range map[string]string{"left": "2.10", "right": "1.65", "most": "2.30", "least": "1.70", "rolling": "0.30", "axle-mass": "1140", "rules": "demo"} {
			set(flag, value)
		}
		a, err := q.Ask(nil)
		if err != nil {
			t.Fatal(err)
		}
		said := accents.Off(strings.Join(a.Say, "\n"))
		for _, want := range []string{"Fluctuation: 26.1 %, at most 20 %: warn", "Bind: 2.7 %, at most 4 %: pass"} {
			if !strings.Contains(said, want) {
				t.Errorf("%q is not said:\n%s", want, said)
			}
		}
		return
	}
	t.Fatal("there is no balance calculator")
}

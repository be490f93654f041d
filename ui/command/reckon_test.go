package command

import (
	"encoding/json"
	"strings"
	"testing"
)

// reckoned are the calculators with the worked numbers of the trade paper; answers are golden.
var reckoned = []struct {
	name string
	args []string
}{
	{"convert", []string{"convert", "26 lbf·ft", "N·m"}},
	{"convert-exact", []string{"convert", "1", "in", "mm"}},
	{"convert-negative", []string{"convert", "-40 °C", "°F"}},
	{"window-not-proven", []string{"window", ">= 16.00 mm", "16.004", "--uncertainty", "0.005"}},
	{"window-length", []string{"window", ">= 16.00 mm", "16.04", "--error", "0.05", "--resolution", "0.05"}},
	{"window-torque-hint", []string{"window", "32..38 N·m", "26", "--error", "4 %", "--resolution", "0.5"}},
	{"window-plain", []string{"window", "108..132 N·m", "132"}},
	{"conform", []string{"conform", ">= 16.00 mm", "16.004", "--uncertainty", "0.005"}},
	{"able", []string{"able", "152..168 N·m", "--set", "160", "--error", "4", "--resolution", "1"}},
	{"able-not", []string{"able", "27..29 N·m", "--set", "28", "--error", "4%", "--resolution", "0.5"}},
	{"adapter", []string{"adapter", "--target", "28", "--length", "300", "--adapter", "40", "--window", "26..30 N·m"}},
	{"adapter-back", []string{"adapter", "--set", "24.5", "--length", "300", "--adapter", "40", "--angle", "0"}},
	{"preload", []string{"preload", "--thread", "M12x1.5", "--class", "10.9", "--friction", "0.12", "--window", "900..1000 N·m"}},
	{"order", []string{"order", "6"}},
	{"order-check", []string{"order", "6", "--check", "1-2-3-4-5-6"}},
	{"disc", []string{"disc", "--min", "16.00", "--refit", "16.50", "--variation", "0.015", "--resolution", "0.001", "--uncertainty", "0.004",
		"--points", "16.421,16.415,16.418,16.427,16.436,16.441,16.433,16.426"}},
	{"disc-odd", []string{"disc", "--min", "16.00", "--nominal", "18.00 ± 0.10 mm", "--points", "20.02 20.02 20.03 20.02 20.01 2.002 20.02 20.03"}},
	{"runout", []string{"runout", "--points", "0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04", "--return", "0", "--limit", "0.08",
		"--hub-tir", "0.03", "--hub-radius", "60", "--radius", "140"}},
	{"index", []string{"index", "--studs", "6", "--screws", "2", "--limit", "0.08",
		"--at", "0=0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04", "--at", "2=0 .01 .01 .01 .02 .01 0 -.01 -.01 -.01 -.02 -.01"}},
	{"pads", []string{"pads", "--inner", "3.1,3.0", "--outer", "7.4,7.5", "--other-inner", "6.2,6.1", "--other-outer", "6.4,6.3", "--new", "11.5", "--plate", "5.5"}},
	{"pads-right", []string{"pads", "--side", "right", "--inner", "6.2,6.1", "--outer", "6.4,6.3"}},
	{"wear", []string{"wear", "--limit", "2.0", "--uncertainty", "0.2", "--after", "20000", "42180=11.5", "61430=7.9"}},
	{"wear-none", []string{"wear", "--limit", "2.0", "new:61430=11.5"}},
	{"wear-three", []string{"wear", "--limit", "2.0", "20000=11.4", "40000=8.9", "61430=6.0"}},
	{"regress", []string{"regress", "--at", "100", "0.2=0.1", "337.4=338.8", "118.2=118.1"}},
	{"balance", []string{"balance", "--left", "2.10", "--right", "1.65", "--rules", "demo"}},
	{"efficiency", []string{"efficiency", "--forces", "220kgf,220kgf,215kgf,215kgf", "--mass", "1500", "--required", "58"}},
	{"efficiency-rules", []string{"efficiency", "--forces", "1.90,1.80", "--mass", "2280", "--system", "parking"}},
	{"fluid", []string{"fluid", "--required", "DOT 4", "--offered", "DOT 5.1", "--boiling", "168"}},
	{"vin", []string{"vin", "1M8GDM9AXKP042788"}},
	{"vin-warn", []string{"vin", "WP0ZZZ99ZTS392124"}},
}

func TestReckonAnswers(t *testing.T) {
	asked := map[string]bool{}
	for _, q := range reckoned {
		t.Run(q.name, func(t *testing.T) {
			for _, as := range []string{formText, formJSON} {
				code, out, messages := pawl(t, "", append(append([]string{"reckon"}, q.args...), "--as", as)...)
				if code != exitFine || messages != "" {
					t.Fatalf("exit %d: %s", code, messages)
				}
				golden(t, "reckon/"+q.name+"."+as, out)
			}
		})
		asked[q.args[0]] = true
	}
	p, _, _ := program("")
	for _, c := range p.reckonCommand().Commands() {
		if !asked[c.Name()] {
			t.Errorf("no question for the calculator %s", c.Name())
		}
	}
}

// Every answer names its source, and its JSON has the members the documentation promises.
func TestReckonForm(t *testing.T) {
	for _, q := range reckoned {
		_, out, _ := pawl(t, "", append(append([]string{"reckon"}, q.args...), "--as", "json")...)
		var a struct {
			Format        int
			Reckon        string
			Given, Result map[string]any
			Say, Source   []string
		}
		dec := json.NewDecoder(strings.NewReader(out))
		dec.DisallowUnknownFields()
		if err := dec.Decode(&a); err != nil {
			t.Fatalf("%s: %v", q.name, err)
		}
		if a.Format != reckonFormat || a.Reckon != q.args[0] || len(a.Given) == 0 || len(a.Result) == 0 || len(a.Say) == 0 || len(a.Source) == 0 {
			t.Errorf("%s: incomplete: %+v", q.name, a)
		}
		for _, n := range floats(a.Given, a.Result) {
			t.Errorf("%s: the figure %v is a bare JSON number with decimals", q.name, n)
		}
	}
}

// floats finds numbers in JSON that are no whole ones: they would have lost their exact decimal.
func floats(values ...any) []float64 {
	var out []float64
	for _, v := range values {
		switch x := v.(type) {
		case map[string]any:
			for _, y := range x {
				out = append(out, floats(y)...)
			}
		case []any:
			out = append(out, floats(x...)...)
		case float64:
			if x != float64(int64(x)) {
				out = append(out, x)
			}
		}
	}
	return out
}

func TestReckonMisuse(t *testing.T) {
	for _, c := range []struct{ args, say string }{
		{"", "lists the calculators"},
		{"convert 5", "a value with its unit"},
		{"convert 5 N·m", "has no unit"},
		{"convert 5mm N·m", "mm"},
		{"convert 1e3mm in", "1e3"},
		{"window 27..29 28", "has no unit"},
		{"window 27..29Nm 28mm", "expected a value in N·m"},
		{"window 27..29Nm 28 --uncertainty 1 --error 4%", "stands alone"},
		{"window 27..29Nm 28 --resolution 1", "the error limit is missing"},
		{"conform 27..29Nm 28", "give one of"},
		{"able 27..29Nm --set 28", "needs --error"},
		{"able 27..29Nm --set 28 --error 120%", "less than 100 %"},
		{"adapter --length 300 --adapter 40", "give one of --target"},
		{"adapter --length 30 --adapter 400 --target 28", "mm"},
		{"preload --thread M12x1.5", "needs --class"},
		{"preload --thread Q12 --class 10.9", "Q12"},
		{"preload --thread M12 --class 10.9 --friction much", "coefficient"},
		{"order six", "six"},
		{"order 0", "0"},
		{"disc", "needs --points"},
		{"disc --points 16.4,x", "value 2"},
		{"disc --points 16.4kg,16", "value 1"},
		{"runout --points 0,1", "3"},
		{"index --studs 6", "needs --at"},
		{"index --studs 6 --at 0", "expected the studs turned"},
		{"index --studs 6 --at 0=0,1,2 --at 2=0,1,2 --permitted 7", "0 to 5"},
		{"pads --inner 3 --outer 3,4", "expected two"},
		{"pads --inner 3,3 --outer 3,4 --side inner", "left or right"},
		{"wear --limit 2", "at least one visit"},
		{"wear --limit 2 61430", "a pair"},
		{"regress 1=2 2=3", "3"},
		{"balance --left 2", "needs --right"},
		{"balance --left 2 --right 1 --rules none", "none"},
		{"balance --left 2 --right 1 --on yesterday", "year-month-day"},
		{"efficiency --forces 1,2 --mass 1000 --system hand", "service, secondary or parking"},
		{"efficiency --forces 1,2 --mass 1000 --required 0", "more than nothing"},
		{"fluid --required DOT4 --offered oil9", "--offered"},
		{"vin ABC", "17"},
		{"disc --points 16 --as xml", "text or json"},
		{"disc --nothing", "has no flag"},
	} {
		code, out, messages := pawl(t, "", append([]string{"reckon"}, strings.Fields(c.args)...)...)
		if code != exitMisuse || out != "" {
			t.Errorf("%q: exit %d, wrote %q", c.args, code, out)
		}
		if strings.Count(messages, "\n") != 1 || !strings.Contains(messages, c.say) {
			t.Errorf("%q: message %q does not say %q in one line", c.args, messages, c.say)
		}
	}
}

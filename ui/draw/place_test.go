package draw

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"bay.example/pawl/job/phrase/accents"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// TestGaugeNeverShowsTheWrongSide draws values however near to a limit: outside
// is drawn outside with its arrow and its words, inside between the posts.
func TestGaugeNeverShowsTheWrongSide(t *testing.T) {
	th := theme(t, Options{Palette: "mono", ASCII: true})
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, from, to int) Amount {
			n := rapid.IntRange(from, to).Draw(t, name)
			text := strconv.FormatFloat(float64(n)/100, 'f', 2, 64)
			return Amount{float64(n) / 100, text}
		}
		low := number("low", 0, 20000)
		high := Amount{At: low.At + number("window", 2, 5000).At}
		high.Text = strconv.FormatFloat(high.At, 'f', 2, 64)
		g := Gauge{Low: low, High: high, Value: number("value", 0, 30000), Uncertainty: number("u", 0, 500).At}
		// Most errors are to be expected within one cell of a limit.
		switch step := float64(rapid.IntRange(-2, 2).Draw(t, "step")) / 100; rapid.IntRange(0, 2).Draw(t, "near") {
		case 1:
			g.Value.At = low.At + step
		case 2:
			g.Value.At = high.At + step
		}
		g.Value.Text = strconv.FormatFloat(g.Value.At, 'f', 2, 64)
		sided := rapid.IntRange(0, 2).Draw(t, "sided")
		if sided == 1 {
			g.High = Amount{}
		}
		if sided == 2 {
			g.Low = Amount{}
		}
		w := rapid.IntRange(30, 100).Draw(t, "w")
		lines := strings.Split(g.Draw(th, w), "\n")
		bar := lines[1]
		left, right := strings.IndexByte(bar, '['), strings.IndexByte(bar, ']')
		if (left >= 0) != (g.Low.Text != "") || (right >= 0) != (g.High.Text != "") {
			t.Fatalf("%+v: a limit is hidden:\n%s", g, bar)
		}
		under, over := g.Low.Text != "" && g.Value.At < low.At, g.High.Text != "" && g.Value.At > high.At
		switch {
		case under:
			if at := strings.IndexByte(bar, '<'); at < 0 || at >= left || !strings.Contains(lines[2], "under") {
				t.Fatalf("%+v is under:\n%s", g, strings.Join(lines, "\n"))
			}
		case over:
			if at := strings.IndexByte(bar, '>'); at < 0 || at <= right || !strings.Contains(lines[2], "over") {
				t.Fatalf("%+v is over:\n%s", g, strings.Join(lines, "\n"))
			}
		default:
			at := strings.IndexByte(bar, 'O')
			if at < 0 || at <= left || right >= 0 && at >= right || strings.Contains(lines[2], "over") || strings.Contains(lines[2], "under") {
				t.Fatalf("%+v is inside:\n%s", g, strings.Join(lines, "\n"))
			}
		}
	})
}

// TestDifference uses values whose binary difference is not the decimal one.
func TestDifference(t *testing.T) {
	for _, c := range []struct{ a, b, want string }{
		{"0.12", "0.08", "0.04"}, {"16.00", "15.98", "0.02"}, {"132", "139.5", "7.5"}, {"0.3", "0.1", "0.2"}, {"1.005", "1", "0.005"},
		{"108", "60", "48"}, {"120", "120.00", ""}, {"-0.02", "0.01", "0.03"},
	} {
		if got := difference(a(c.a), a(c.b)); got != c.want {
			t.Errorf("difference of %s and %s is %q, want %q", c.a, c.b, got, c.want)
		}
	}
	if got := difference(Amount{math.Inf(1), "x"}, a("1")); got != "" {
		t.Errorf("difference to infinity is %q", got)
	}
}

// TestRingClockwise checks which point stands where, seen on the clock.
func TestRingClockwise(t *testing.T) {
	th := theme(t, Options{Palette: "mono"})
	lines := strings.Split(Ring{Points: amounts("4 3 2 1"), Next: -1}.Draw(th, 31, 13), "\n")
	column := func(line, text string) int {
		before, _, found := strings.Cut(line, text)
		if !found {
			return -1
		}
		return Width(before)
	}
	for _, c := range []struct {
		text     string
		line, at int
	}{{" 4 ", 0, 14}, {" 2 ", 12, 14}, {"3", 6, 28}, {"[1]", 6, 1}} {
		if got := column(lines[c.line], c.text); got != c.at {
			t.Errorf("%q stands at column %d of line %d, want %d:\n%s", c.text, got, c.line, c.at, strings.Join(lines, "\n"))
		}
	}
}

// TestCurveRunsThroughItsReadings feeds readings taken from a harmonic: every
// reading must hide or touch the line drawn through it, so without the readings
// the line is seen within one row of where they were.
func TestCurveRunsThroughItsReadings(t *testing.T) {
	th := theme(t, Options{Palette: "mono"})
	fit := Harmonic{Mean: 0.01, Amplitude: 0.05, Peak: 75}
	c := Curve{Fit: &fit}
	for i := range 12 {
		v := fit.at(float64(i) * 30)
		c.Readings = append(c.Readings, Amount{v, strconv.FormatFloat(v, 'f', 3, 64)})
	}
	const w, h = 74, 15
	with := c.Draw(th, w, h)
	readings := 0
	for y, line := range strings.Split(with, "\n") {
		cells := []rune(line) // every glyph here is one rune of one cell
		for x, r := range cells {
			if y == 0 || r != '●' {
				continue
			}
			readings++
			near := false
			for dy := -1; dy <= 1 && !near; dy++ {
				for dx := -1; dx <= 1; dx += 2 {
					near = near || strings.ContainsRune("˙·.", []rune(strings.Split(with, "\n")[y+dy])[x+dx])
				}
			}
			if !near {
				t.Errorf("the reading at column %d, line %d is off the line", x, y)
			}
		}
	}
	if readings != 12 {
		t.Errorf("%d readings drawn, want 12:\n%s", readings, with)
	}
}

// TestBigShapes checks that big characters can be told apart and that all lines
// of one are equally wide, in each size.
func TestBigShapes(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		th := theme(t, Options{Palette: "mono", ASCII: ascii})
		for _, lines := range []int{3, 5} {
			seen := map[string]rune{}
			for c := range bigShapes {
				big := th.BigText(Title, string(c), 8, lines)
				if other, taken := seen[big]; taken {
					t.Errorf("%q and %q look the same in %d lines", other, c, lines)
				}
				seen[big] = c
			}
		}
	}
	for c, shape := range bigShapes {
		for _, row := range shape {
			if len(row) != len(shape[0]) {
				t.Errorf("%q has dots in rows of unequal length", c)
			}
		}
		strokes, ok := bigStrokes[c]
		if !ok || len(strokes[0]) != len(strokes[1]) || len(strokes[1]) != len(strokes[2]) {
			t.Errorf("%q has strokes %q", c, strokes)
		}
	}
}

// TestTableKeepsSelectionInSight walks the selection through a long table.
func TestTableKeepsSelectionInSight(t *testing.T) {
	th := theme(t, Options{Palette: "mono"})
	tb := Table{Headings: []Heading{{"row", true}}}
	for i := range 40 {
		tb.Rows = append(tb.Rows, []Cell{{Text: strconv.Itoa(i)}})
	}
	for tb.Selected = range 40 {
		lines := strings.Split(tb.Draw(th, 24, 8), "\n")
		var marked []string
		for _, line := range lines {
			if strings.HasPrefix(line, ">") {
				marked = append(marked, strings.TrimSpace(strings.TrimPrefix(line, ">")))
			}
		}
		if diff := cmp.Diff([]string{strconv.Itoa(tb.Selected)}, marked); diff != "" {
			t.Errorf("row %d selected (-want +got):\n%s", tb.Selected, diff)
		}
		if last := accents.Off(lines[7]); !strings.Contains(last, "above") || !strings.Contains(last, "below") {
			t.Errorf("row %d selected: %q does not say what is not shown", tb.Selected, last)
		}
	}
}

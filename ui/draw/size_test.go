package draw

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

// hostileText draws text as it must be expected from scanners, files and people.
func hostileText() *rapid.Generator[string] {
	pieces := rapid.SampledFrom([]string{"a", "word ", "16.415", " ", "中", "é", "e\u0301", "\u0301", "👩\u200d🔧", "🇩🇪", "한", "\u1100\u1161", "\u0e33",
		"\x1b[31m", "\x1b[m", "\x1b[0m", "\x1b[2J", "\x1b]0;x", "\x1b", "\u009b1m", "\t", "\r", "\n", "\xff", "\u202e", "\ufe0f", "…", "─", "-"})
	return rapid.OneOf(rapid.Map(rapid.SliceOfN(pieces, 0, 40), func(p []string) string { return strings.Join(p, "") }), rapid.String())
}

func anyTheme(t *rapid.T) *Theme {
	th, err := NewTheme(Options{Palette: rapid.SampledFrom(Palettes()).Draw(t, "palette"), ASCII: rapid.Bool().Draw(t, "ascii"),
		NoColor: rapid.Bool().Draw(t, "no colour"), Profile: rapid.SampledFrom([]Profile{Plain, Colour16, Colour256, TrueColour}).Draw(t, "profile")})
	if err != nil {
		t.Fatal(err)
	}
	return th
}

// exact fails unless a frame has h lines of w cells and no escape sequence but
// colour and weight.
func exact(t *rapid.T, what, frame string, w, h int) {
	t.Helper()
	if h <= 0 {
		if frame != "" {
			t.Fatalf("%s: %q in no lines", what, frame)
		}
		return
	}
	lines := strings.Split(frame, "\n")
	if len(lines) != h {
		t.Fatalf("%s: %d lines, want %d:\n%q", what, len(lines), h, frame)
	}
	for i, line := range lines {
		if n := ansi.StringWidth(line); n != max(w, 0) {
			t.Fatalf("%s: line %d is %d cells wide, want %d: %q", what, i, n, w, line)
		}
		for s := line; ; {
			i := strings.IndexByte(s, 0x1b)
			if i < 0 {
				break
			}
			n := sequence(s[i:])
			if n == 0 {
				t.Fatalf("%s: an escape sequence got through: %q", what, line)
			}
			s = s[i+n:]
		}
		if stripped := ansi.Strip(line); Clean(stripped) != stripped {
			t.Fatalf("%s: a hostile character got through: %q", what, line)
		}
	}
}

func TestFitIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := anyTheme(t)
		block := hostileText().Draw(t, "block")
		w, h := rapid.IntRange(-1, 60).Draw(t, "w"), rapid.IntRange(-1, 12).Draw(t, "h")
		exact(t, "Fit", th.Fit(block, w, h), w, h)
		exact(t, "Paint", th.Paint(block, w, h), w, h)
		once := th.Fit(block, w, h)
		if twice := th.Fit(once, w, h); twice != once {
			t.Fatalf("Fit changes what fits:\n%q\n%q", once, twice)
		}
	})
}

// TestPaintLeavesNoHole checks that no cell of a painted frame is without the
// palette's background: no printable character may follow a reset.
func TestPaintLeavesNoHole(t *testing.T) {
	for _, palette := range []string{"bright", "dark"} {
		th := theme(t, Options{Palette: palette, Profile: TrueColour})
		for _, s := range samples {
			frame := th.Paint("plain "+th.Style(Bad, "styled")+" plain\n"+s.draw(th, s.w, s.h), s.w+4, s.h+2)
			for _, line := range strings.Split(frame, "\n") {
				on := false
				for rest := line; rest != ""; {
					if n := sequence(rest); n > 0 {
						on = rest[:n] != reset
						if on && !strings.Contains(rest[:n], "48;2;") {
							t.Fatalf("%s: %q sets no background", s.name, rest[:n])
						}
						rest = rest[n:]
						continue
					}
					if !on {
						t.Fatalf("%s: unpainted cell before %q in %q", s.name, rest, line)
					}
					n, _ := cluster(rest)
					rest = rest[n:]
				}
			}
		}
	}
}

func anyAmount() *rapid.Generator[Amount] {
	return rapid.Custom(func(t *rapid.T) Amount {
		at := rapid.OneOf(rapid.Float64Range(-200, 200), rapid.SampledFrom([]float64{0, 1, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, -math.MaxFloat64, 1e-300})).Draw(t, "at")
		text := rapid.OneOf(rapid.SampledFrom([]string{"", "16.415", "-0.02", "120", "1000000000000"}), hostileText()).Draw(t, "text")
		return Amount{at, text}
	})
}

func anyState() *rapid.Generator[State] {
	return rapid.Map(rapid.Uint8Range(0, uint8(stateCount)+1), func(n uint8) State { return State(n) })
}

// TestDrawingsKeepTheirSize draws everything with any content in any size.
func TestDrawingsKeepTheirSize(t *testing.T) {
	amount, text, state := anyAmount(), hostileText(), anyState()
	rapid.Check(t, func(t *rapid.T) {
		th := anyTheme(t)
		w, h := rapid.IntRange(-1, 130).Draw(t, "w"), rapid.IntRange(-1, 30).Draw(t, "h")
		some := func(n string) Amount { return amount.Draw(t, n) }
		many := rapid.SliceOfN(amount, 0, 14).Draw(t, "many")
		unit := text.Draw(t, "unit")
		switch rapid.IntRange(0, 9).Draw(t, "which") {
		case 0:
			g := Gauge{Value: some("value"), Low: some("low"), High: some("high"), Aim: some("aim"), Full: some("full"), Uncertainty: some("u").At, Unit: unit, State: state.Draw(t, "state")}
			exact(t, "Gauge", g.Draw(th, w), w, 3)
			exact(t, "Gauge.Line", g.Line(th, w), w, 1)
		case 1:
			exact(t, "Ring", Ring{Points: many, Next: rapid.IntRange(-1, 9).Draw(t, "next"), Unit: unit, Notes: []string{text.Draw(t, "note")}}.Draw(th, w, h), w, h)
		case 2:
			c := Curve{Readings: many, Unit: unit, Note: text.Draw(t, "note")}
			if rapid.Bool().Draw(t, "fit") {
				c.Fit = &Harmonic{some("mean").At, some("amplitude").At, some("peak").At}
			}
			exact(t, "Curve", c.Draw(th, w, h), w, h)
		case 3:
			p := Positions{Limit: some("limit"), Best: rapid.IntRange(-1, 9).Draw(t, "best"), Unit: unit}
			for _, a := range many {
				p.Rows = append(p.Rows, Position{text.Draw(t, "name"), a, rapid.Bool().Draw(t, "over"), rapid.Bool().Draw(t, "permitted")})
			}
			exact(t, "Positions", p.Draw(th, w, h), w, h)
		case 4:
			p := PadPoints{some("ol"), some("ot"), some("il"), some("it"), some("new"), some("limit"), unit, state.Draw(t, "state")}
			exact(t, "PadPoints", p.Draw(th, w), w, padHeight)
		case 5:
			wl := WearLine{Limit: some("limit"), Warning: some("warning"), Uncertainty: some("u").At, Soonest: some("soonest"), Latest: some("latest"), Unit: unit, Note: text.Draw(t, "note")}
			for _, a := range many {
				wl.Points = append(wl.Points, WearPoint{some("km"), a})
			}
			exact(t, "WearLine", wl.Draw(th, w, h), w, h)
		case 6:
			big := rapid.OneOf(text, rapid.StringMatching(`[-+]?[0-9]{1,5}\.?[0-9]{0,4}`)).Draw(t, "big")
			exact(t, "BigText", th.BigText(Title, big, w, h), w, h)
		case 7:
			var ps Phases
			for range many {
				ps = append(ps, Phase{rapid.OneOf(text, rapid.Just("Raise")).Draw(t, "name"), state.Draw(t, "state"), rapid.Bool().Draw(t, "sided"), state.Draw(t, "left"), state.Draw(t, "right")})
			}
			exact(t, "Phases", ps.Draw(th, w), w, ps.Height(th, w))
		case 8:
			tb := Table{Selected: rapid.IntRange(-1, 20).Draw(t, "selected"), Empty: text.Draw(t, "empty")}
			for range rapid.IntRange(0, 5).Draw(t, "columns") {
				tb.Headings = append(tb.Headings, Heading{text.Draw(t, "title"), rapid.Bool().Draw(t, "right")})
			}
			for range many {
				tb.Rows = append(tb.Rows, rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Cell { return Cell{text.Draw(t, "cell"), state.Draw(t, "state")} }), 0, 6).Draw(t, "row"))
			}
			exact(t, "Table", tb.Draw(th, w, h), w, h)
		case 9:
			var keys []Binding
			for range many {
				keys = append(keys, Binding{text.Draw(t, "key"), text.Draw(t, "word")})
			}
			exact(t, "KeyBar", th.KeyBar(keys, w), w, 1)
			exact(t, "Box", th.Box(text.Draw(t, "title"), text.Draw(t, "block"), w, h), w, h)
			a, b := w/2, max(w, 0)-w/2
			exact(t, "Columns", th.Columns(h, 0, Column{text.Draw(t, "l"), a}, Column{text.Draw(t, "r"), b}), max(a, 0)+max(b, 0), h)
			line := th.Truncate(th.Style(Bad, text.Draw(t, "line")), w)
			if Width(line) > max(w, 0) {
				t.Fatalf("Truncate: %q is wider than %d", line, w)
			}
			for _, l := range th.Wrap(text.Draw(t, "text"), w) {
				if Width(l) > w {
					t.Fatalf("Wrap: %q is wider than %d", l, w)
				}
			}
		}
	})
}

func BenchmarkFit(b *testing.B) {
	th := theme(b, Options{Palette: "bright", Profile: TrueColour})
	var lines []string
	for len(lines) < 40 {
		for _, s := range samples {
			lines = append(lines, strings.Split(s.draw(th, s.w, s.h), "\n")...)
		}
	}
	frame := strings.Join(lines[:40], "\n")
	for b.Loop() {
		th.Paint(frame, 120, 40)
	}
}

func BenchmarkDrawings(b *testing.B) {
	th := theme(b, Options{Palette: "bright", Profile: TrueColour})
	for _, s := range samples {
		b.Run(s.name, func(b *testing.B) {
			for b.Loop() {
				s.draw(th, s.w, s.h)
			}
		})
	}
}

package brakes_test

import (
	"math/cmplx"
	"strconv"
	"strings"
	"testing"

	"bay.example/pawl/job/brakes"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// polar is a vector of an amplitude in mm at an angle in degrees.
func polar(amplitude, angle float64) complex128 {
	return cmplx.Rect(amplitude, angle*3.141592653589793/180)
}

// mounted builds a mounting from hub and disc without using the package.
func mounted(hub, disc complex128, k, studs int) brakes.Mounting {
	return brakes.Mounting{Turned: k, Tilt: brakes.Harmonic{Vector: hub + disc*polar(1, 360*float64(k)/float64(studs))}}
}

// Source: computed from hub 20 µm at 60° and disc 25 µm at 200°, see the
// header of the table.
func TestIndexingTable(t *testing.T) {
	hub, disc := polar(0.020, 60), polar(0.025, 200)
	for _, row := range reference(t, "runout_indexing.csv") {
		studs, err := strconv.Atoi(row["studs"])
		if err != nil {
			t.Fatal(err)
		}
		k, err := strconv.Atoi(row["positions_turned"])
		if err != nil {
			t.Fatal(err)
		}
		s, err := brakes.Separate(studs, []brakes.Mounting{mounted(hub, disc, 0, studs), mounted(hub, disc, 1, studs)})
		if err != nil {
			t.Fatal(err)
		}
		p := s.Predict(nil)[k]
		name := row["studs"] + " studs, turned " + row["positions_turned"]
		printed(t, name, p.TIR*1000, row["predicted_tir_um"])
		printed(t, name, p.Degrees, row["turn_deg"])
	}
}

// Whatever hub and disc are, two or more mountings give them back.
func TestSeparateRoundTrip(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		studs := rapid.IntRange(3, 10).Draw(r, "studs")
		hub := polar(rapid.Float64Range(0, 0.2).Draw(r, "hub"), rapid.Float64Range(0, 360).Draw(r, "hub angle"))
		disc := polar(rapid.Float64Range(0, 0.2).Draw(r, "disc"), rapid.Float64Range(0, 360).Draw(r, "disc angle"))
		ks := rapid.SliceOfNDistinct(rapid.IntRange(0, studs-1), 2, studs, rapid.ID[int]).Draw(r, "positions")
		var ms []brakes.Mounting
		for _, k := range ks {
			ms = append(ms, mounted(hub, disc, k, studs))
		}
		s, err := brakes.Separate(studs, ms)
		if err != nil {
			r.Fatal(err)
		}
		if cmplx.Abs(s.Hub-hub) > 1e-12 || cmplx.Abs(s.Disc-disc) > 1e-12 || s.Misfit > 1e-12 {
			r.Fatalf("hub %v → %v, disc %v → %v, misfit %g", hub, s.Hub, disc, s.Disc, s.Misfit)
		}
	})
}

// Worked example, invented demo values: three mountings of one disc.
func TestIndexingWorkedExample(t *testing.T) {
	turns := map[int]string{
		0: firstTurn,
		2: "0 .01 .01 .01 .02 .01 0 -.01 -.01 -.01 -.02 -.01",
		3: "0 -.01 -.01 -.02 -.04 -.04 -.04 -.03 -.03 -.02 0 0",
	}
	tilts := map[int]brakes.Mounting{}
	for k, want := range map[int]string{0: "0.12 mm", 2: "0.04 mm", 3: "0.04 mm"} {
		set := brakes.RunOut{Readings: mm(t, turns[k])}
		tir, err := set.TIR()
		if err != nil || tir != q(want) {
			t.Errorf("position %d: %v, %v", k, tir, err)
		}
		h, err := set.Harmonic()
		if err != nil {
			t.Fatal(err)
		}
		tilts[k] = brakes.Mounting{Turned: k, Tilt: h}
	}
	s, err := brakes.Separate(6, []brakes.Mounting{tilts[0], tilts[2]})
	if err != nil {
		t.Fatal(err)
	}
	hub, hubAngle, disc, discAngle := s.Parts()
	printed(t, "hub", hub, "0.072")
	printed(t, "hub angle", hubAngle, "40")
	printed(t, "disc", disc, "0.061")
	printed(t, "disc angle", discAngle, "75")
	for k, want := range []string{"0.127", "0.090", "0.031", "0.042", "0.099", "0.130"} {
		printed(t, "position "+strconv.Itoa(k), s.Predict(nil)[k].TIR, want)
	}
	for _, c := range []struct {
		screws int
		limit  string
		best   int
		cures  bool
		say    string
	}{
		{0, "<= 0.08 mm", 2, true, "turn the disc by 2 of 6 studs (120°)"},
		{2, "<= 0.08 mm", 3, true, "0.042 mm expected; fit it so and measure again"},
		{1, "<= 0.08 mm", 0, false, "indexing is impossible"},
		{2, "<= 0.03 mm", 3, false, "indexing cannot cure this (best possible 0.04 mm); hub part 0.07 mm, disc part 0.06 mm"},
	} {
		permitted, err := brakes.PermittedPositions(6, c.screws)
		if err != nil {
			t.Fatal(err)
		}
		a, err := s.Advise(permitted, window(t, c.limit))
		if err != nil || a.Best.Turned != c.best || a.Cures != c.cures || !strings.Contains(a.Text, c.say) {
			t.Errorf("%d screws, %s: %+v, %v", c.screws, c.limit, a, err)
		}
	}
	all, err := brakes.Separate(6, []brakes.Mounting{tilts[0], tilts[2], tilts[3]})
	if err != nil || all.Misfit <= 0 || all.Misfit > 0.01 {
		t.Errorf("three mountings: %+v, %v", all, err)
	}
}

func TestPermittedPositions(t *testing.T) {
	for _, c := range []struct {
		studs, screws int
		want          []int
	}{
		{5, 0, []int{0, 1, 2, 3, 4}}, {6, 1, []int{0}}, {6, 2, []int{0, 3}}, {5, 2, []int{0}},
		{6, 3, nil}, {6, -1, nil}, {1, 0, nil},
	} {
		got, err := brakes.PermittedPositions(c.studs, c.screws)
		if d := cmp.Diff(c.want, got); d != "" || (err == nil) != (c.want != nil) {
			t.Errorf("%d studs, %d screws: %v%s", c.studs, c.screws, err, d)
		}
	}
}

func TestSeparateRefuses(t *testing.T) {
	one := mounted(0.01, 0.02, 1, 6)
	again := mounted(0.01, 0.02, 7, 6)
	for name, ms := range map[string][]brakes.Mounting{"none": nil, "one": {one}, "same position": {one, again}} {
		if s, err := brakes.Separate(6, ms); err == nil {
			t.Errorf("%s: got %+v, want an error", name, s)
		}
	}
	s, err := brakes.Separate(6, []brakes.Mounting{one, mounted(0.01, 0.02, 3, 6)})
	if err != nil {
		t.Fatal(err)
	}
	if a, err := s.Advise(nil, window(t, "<= 0.08 mm")); err == nil {
		t.Errorf("nothing permitted: got %+v", a)
	}
	if a, err := s.Advise([]int{0}, window(t, ">= 0.08 mm")); err == nil {
		t.Errorf("no upper limit: got %+v", a)
	}
}

package bay

import (
	"os"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// toTurned is a job whose left disc was measured in position 0 and, turned by one of three studs,
// again. The readings are 0.03 mm from the hub at 0° and 0.03 mm from the disc at 0°, read to
// 0.01 mm: together 0.06·cos θ, and 0.03·cos(θ − 60°) when the disc has turned by 120° (vectors of
// single-plane balancing, ISO 21940).
func toTurned(t testing.TB) (*store.File, *time.Time) {
	t.Helper()
	f, now := workshop(t)
	data, err := os.ReadFile("testdata/turn-procedure.toml")
	must(t, err)
	p, err := procedures.LoadProcedure("turn-procedure.toml", data)
	must(t, err)
	must(t, f.Install(frida, p))
	data, err = os.ReadFile("testdata/turn-sheet.toml")
	must(t, err)
	s, err := procedures.LoadSheet("turn-sheet.toml", data)
	must(t, err)
	must(t, f.InstallSheet(frida, s))
	must(t, f.PutVehicle(frida, register.Vehicle{ID: "V-9", Name: "Hub on the bench", Sheet: "test-hub", Demo: true}))
	_, err = f.OpenJob(store.Actor{Person: tarik}, store.NewJob{Vehicle: "V-9", Complaint: "pulsates", Customer: "bench", Odometer: "1000", Procedure: "turn"})
	must(t, err)
	d := doer{t, f}
	on, dial := procedures.Ref{Stage: "disc-on", Side: procedures.Left}, procedures.Ref{Stage: "runout", Side: procedures.Left}
	points := []string{"1", "2", "3", "4", "5", "6", "7", "8"}
	turnTo := func(position string, readings ...string) {
		d.enter(tarik, on, "position", "", position, "")
		d.do(tarik, job.Sign{Stage: on})
		for i, item := range points {
			d.enter(tarik, dial, "runout", item, readings[i], "D1")
		}
	}
	turnTo("0", "0.06", "0.04", "0", "-0.04", "-0.06", "-0.04", "0", "0.04")
	d.do(tarik, job.Again{Stage: dial, Rework: "index"})
	turnTo("1", "0.02", "0.03", "0.03", "0.01", "-0.02", "-0.03", "-0.03", "-0.01")
	return f, now
}

// TestPositions predicts every stud position from two mountings, on the stage where there is room
// and full size with V. Unrounded, the run-out is 0.12 mm as marked, over the limit, and 0.06 mm
// turned by one or two; the readings are rounded to 0.01 mm.
func TestPositions(t *testing.T) {
	f, now := toTurned(t)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter")
	r.goTo("Run-out of the fitted disc, left")
	rows := r.m.top().(*jobScreen).positions(&r.m.env).Rows
	for i, want := range []float64{0.12, 0.06, 0.06} {
		if d := rows[i].TIR.At - want; d > 0.015 || d < -0.015 || rows[i].Over != (i == 0) {
			t.Errorf("position %d: %+v, want about %.2f mm", i, rows[i], want)
		}
	}
	r.keys("V")
	r.sees("turned by 1")
	r.sees("over limit")
	r.both("positions")
	r.keys("Esc")
	r.both("positions-stage")
}

// TestWearLine draws the visits of the vehicle and the forecast below the set.
func TestWearLine(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	doer{t, f}.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter")
	s := r.m.top().(*jobScreen)
	// The history an earlier visit would have left: 11.40 mm at 31230 km.
	c := *s.card
	c.Opened.History = []job.PastValue{{Figure: "disc/left", Job: 1, Date: "2025-05-01", Odometer: quantity.MustParse("31230 km"), Value: quantity.MustParse("11.40 mm")}}
	s.card = &c
	r.goTo("Disc looked at, left")
	wl, ok := s.wearLine(&r.m.env, s.stage().Node.Check("disc"))
	// 1.00 mm in 10 000 km; 0.40 mm are left to the limit of 10.0 mm: 4000 km, at 45 230 km.
	if !ok || len(wl.Points) != 2 || wl.Latest.Text != "45230" {
		t.Fatalf("the wear line is %+v, %v", wl, ok)
	}
	r.keys("V")
	r.both("wear")
}

var _ = show(
	state{"positions", func(t *testing.T) *run {
		f, now := toTurned(t)
		r := start(t, f, now)
		r.signIn(tarik)
		r.keys("Enter")
		r.goTo("Run-out of the fitted disc, left")
		r.keys("V")
		return r
	}},
	state{"idle", func(t *testing.T) *run { r := onVisit(t, tarik); r.wait(11 * time.Minute); return r }},
)

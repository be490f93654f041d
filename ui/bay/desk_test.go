package bay

import (
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/store"
)

// deskFile is a workshop with a finished job and a backup folder, the clock some days later.
func deskFile(t testing.TB) (*store.File, *time.Time) {
	t.Helper()
	f, now := workshop(t)
	walked(t, f, now)
	w, _ := f.Workshop()
	w.Backup = t.TempDir()
	must(t, f.SaveWorkshop(w))
	*now = now.Add(72 * time.Hour)
	return f, now
}

// atDesk is the desk as the foreman sees it.
func atDesk(t testing.TB) *run {
	t.Helper()
	f, now := deskFile(t)
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("D")
	return r
}

var _ = show(
	state{"desk", func(t *testing.T) *run { return atDesk(t) }},
	state{"desk, search", func(t *testing.T) *run { r := atDesk(t); r.keys("1"); return r }},
	state{"desk, filters", func(t *testing.T) *run { r := atDesk(t); r.keys("1 Right"); return r }},
	state{"desk, questions", func(t *testing.T) *run { r := atDesk(t); r.keys("2"); return r }},
	state{"desk, question", func(t *testing.T) *run { r := atDesk(t); r.keys("2 1 Enter"); return r }},
	state{"desk, answer", func(t *testing.T) *run { r := atDesk(t); r.keys("2 2 4 Enter Enter Enter"); return r }},
	state{"desk, recalls", func(t *testing.T) *run { r := atDesk(t); r.keys("3"); return r }},
	state{"desk, certificate", func(t *testing.T) *run { r := atDesk(t); r.keys("3 N 1"); return r }},
	state{"desk, recall", func(t *testing.T) *run { r := atDesk(t); recalledW1(t, r); return r }},
	state{"desk, which vehicle", func(t *testing.T) *run { r := atDesk(t); r.keys("4"); return r }},
	state{"desk, history", func(t *testing.T) *run { r := atDesk(t); r.keys("4 Enter"); return r }},
	state{"desk, work", func(t *testing.T) *run { r := atDesk(t); r.keys("5"); return r }},
	state{"desk, care", func(t *testing.T) *run { r := atDesk(t); r.keys("6 1"); return r }},
	state{"record, print", func(t *testing.T) *run { r := atDesk(t); r.keys("1 Enter P"); return r }},
)

// recalledW1 enters a certificate that found the wrench W1 off.
func recalledW1(t testing.TB, r *run) {
	t.Helper()
	r.keys("3 N 1")
	r.keys("3 Enter")
	for _, text := range []string{"C-77", "2026-03-04", "", "2027-03-03", "-25 %"} {
		r.type_(text)
		r.keys("Enter")
	}
	r.keys("Enter Enter")
	r.sees("Personal code")
	r.type_(codes["fh"])
	r.keys("Enter")
	r.sees("Recall 1: W1 was found off by -25 %")
}

// TestDeskSearch finds a job as somebody types, narrows it down, and opens its record.
func TestDeskSearch(t *testing.T) {
	r := atDesk(t)
	r.both("desk")
	r.keys("1")
	r.sees("1 job of 1 searched, 0 not judged")
	r.both("desk-search")
	r.type_("laundry w1")
	r.sees("1 job of 1 searched")
	r.type_(" zzz")
	r.sees("None found: none of the 1 record has all of that in it")
	r.keys("Esc")
	r.sees("1 job of 1 searched")
	r.keys("Right")
	r.type_("2027-01-01")
	r.keys("Enter Enter Enter Enter")
	r.sees("0 jobs of 1 searched, 0 not judged; from 2027-01-01")
	r.keys("Left")
	r.sees("1 job of 1 searched")
	r.burst("B-2231")
	r.sees("1 job of 1 searched")
	r.keys("Enter")
	r.sees("record of job 1")
	// What is typed faster than the file answers counts all the same.
	r.keys("Esc Esc")
	r.hold = true
	r.type_("zzz")
	r.answer()
	r.sees("None found")
}

// TestDeskWho lets apprentices do without the desk.
func TestDeskWho(t *testing.T) {
	f, now := deskFile(t)
	r := start(t, f, now)
	r.signIn(nils)
	r.keys("D")
	r.sees("The desk is read by mechanics")
}

// TestDeskQuestions asks questions with and without parameters; each answer says what was searched.
func TestDeskQuestions(t *testing.T) {
	r := atDesk(t)
	r.keys("2")
	r.both("desk-questions")
	r.type_("open-states")
	r.keys("Enter")
	r.sees("searched ")
	r.sees("not judged 0")
	r.both("desk-answer-none")
	r.keys("Esc")
	r.type_("wrench-actions")
	r.keys("Enter")
	r.both("desk-question")
	r.type_("W99")
	r.keys("Enter")
	r.sees("is not on the register")
	r.keys("Backspace Backspace Backspace")
	r.type_("W1")
	r.keys("Enter Enter Enter")
	r.both("desk-answer")
	r.keys("Left")
	r.sees("The first column is in view")
	r.keys("Right Right Right Right Right Right Right")
	r.sees("The last column is in view")
	r.sees("Verdict")
	r.keys("Down Enter")
	r.sees("record of job 1")
	r.keys("Esc N")
	r.sees("Every record searched was judged")
	r.keys("P")
	r.sees("Written for the printer")
	for _, end := range []string{"txt", "html", "csv"} {
		paths, err := filepath.Glob(filepath.Join(r.f.Path()+".prints", "answer-wrench-actions-*."+end))
		must(t, err)
		if len(paths) != 1 {
			t.Errorf("%d files end in %s", len(paths), end)
		}
	}
}

// TestDeskRecall enters a certificate with an error, reads what was judged again, and works the
// vehicle off.
func TestDeskRecall(t *testing.T) {
	r := atDesk(t)
	r.keys("3")
	r.sees("No recall was ever opened")
	r.keys("Esc")
	recalledW1(t, r)
	r.sees("TO BE CALLED")
	r.both("desk-recall")
	r.keys("J")
	r.sees("In truth")
	r.sees("outside")
	r.both("desk-judged-again")
	r.keys("Esc Y")
	r.sees("History of vehicle V-7")
	r.keys("Esc V")
	r.sees("Nothing was done for it yet")
	r.keys("Esc Enter 4")
	r.type_("all tightened again with W2 in job 2")
	r.keys("Enter")
	r.type_(codes["fh"])
	r.keys("Enter")
	r.sees("All 1 vehicle dealt with")
	r.sees("put right")
	r.keys("Enter")
	r.sees("is done with: put right")
	r.keys("Esc Esc")
	r.sees("1 recall, 0 vehicles left to deal with")
	r.keys("3")
	r.both("desk-recalls")
	all, err := r.f.Recalls()
	must(t, err)
	if len(all) != 1 || len(all[0].Lines) != 1 || all[0].Left() != 0 {
		t.Errorf("recalls: %+v", all)
	}
	// A batch that nobody has: a recall without a vehicle stays on the list too.
	r.keys("N 2")
	r.type_("B-404")
	r.keys("Enter Enter")
	r.type_(codes["fh"])
	r.keys("Enter")
	r.sees("None of what was judged again calls a vehicle in")
}

// TestDeskRecallByForeman opens recalls in the foreman's name only.
func TestDeskRecallByForeman(t *testing.T) {
	f, now := deskFile(t)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("D 3 N")
	r.sees("Only a foreman opens a recall")
}

// TestDeskHistory shows a vehicle's history with its visits.
func TestDeskHistory(t *testing.T) {
	r := atDesk(t)
	r.keys("4")
	r.type_("laundry")
	r.keys("Enter")
	r.sees("Visits: 1")
	r.both("desk-history")
	r.sees("below: Up and Down scroll")
	r.keys("PageDown")
	r.sees("Promised")
}

// TestDeskWorkshop says that it is for training, and gives no percentage under ten.
func TestDeskWorkshop(t *testing.T) {
	r := atDesk(t)
	r.keys("5")
	r.sees("For training and for better tools")
	r.both("desk-work")
	all := ""
	for range 12 {
		all += r.frame()
		r.keys("PageDown")
	}
	if strings.Contains(all, "100 %") || strings.Contains(all, "100%") {
		t.Errorf("a percentage of one job:\n%s", all)
	}
	for range 12 {
		r.frame()
		r.keys("Left")
	}
	r.sees("It begins here")
	r.keys("Right")
	r.seesNot("For training and for better tools")
	r.keys("S")
	r.type_("2020-01-01")
	r.keys("Enter")
	r.type_("2020-12-31")
	r.keys("Enter")
	r.sees("2020-01-01 to 2020-12-31")
	r.sees("None found")
}

// TestDeskCare verifies, checks a printed seal, backs up, and rehearses a restore.
func TestDeskCare(t *testing.T) {
	r := atDesk(t)
	r.keys("6 6")
	r.sees("There is no backup in")
	r.keys("1")
	r.sees("Everything fits: none changed, none missing")
	r.both("desk-care")
	short, err := r.f.ShortSeal(1)
	must(t, err)
	if short == "" {
		t.Fatal("the finished job is not sealed")
	}
	r.keys("2")
	r.type_(strings.ToLower(short))
	r.keys("Enter")
	r.sees("The seal is of job 1")
	r.keys("2")
	r.type_("nonsense")
	r.keys("Enter")
	r.sees("SEAL: NOT DONE")
	r.keys("3")
	r.sees("pawl seals of the workshop set up")
	r.keys("4")
	r.sees("Copied, opened and checked")
	r.keys("6")
	r.sees("The restore works")
	w, _ := r.f.Workshop()
	must(t, os.WriteFile(filepath.Join(w.Backup, "pawl-backup-20250101-000000.pawl"), []byte("no workshop"), 0o600))
	r.keys("5")
	r.sees("NO GOOD: pawl-backup-20250101-000000.pawl")
	r.sees("Good: ")
}

// TestPrintFromRecord prints pages of a finished job beside the workshop file and elsewhere, each
// with the seal of the job.
func TestPrintFromRecord(t *testing.T) {
	r := atDesk(t)
	r.keys("1 Enter P")
	r.both("record-print")
	r.keys("1 Enter")
	r.sees("Written for the printer")
	short, err := r.f.ShortSeal(1)
	must(t, err)
	for _, end := range []string{"txt", "html"} {
		paths, err := filepath.Glob(filepath.Join(r.f.Path()+".prints", "job-1-customer-*."+end))
		must(t, err)
		if len(paths) != 1 {
			t.Fatalf("%d files end in %s", len(paths), end)
		}
		data, err := os.ReadFile(paths[0])
		must(t, err)
		if !strings.Contains(string(data), short) {
			t.Errorf("the %s page does not bear the seal %s", end, short)
		}
	}
	dir := t.TempDir()
	r.keys("Esc P 8")
	r.type_("not/whole")
	r.keys("Enter")
	r.sees("not a whole path")
	for range "not/whole" {
		r.keys("Backspace")
	}
	r.type_(dir)
	r.keys("Enter")
	r.sees("Written for the printer")
	paths, err := filepath.Glob(filepath.Join(dir, "job-1-data-*.json"))
	must(t, err)
	if len(paths) != 1 {
		t.Errorf("%d exports in the folder", len(paths))
	}
}

// TestWearDrawn draws the wear of a part since it was new, with the forecast the reckoning gives.
func TestWearDrawn(t *testing.T) {
	q := quantity.MustParse
	at := func(km, mm string, new bool) job.PastValue {
		return job.PastValue{Figure: "disc/left", Odometer: q(km), Value: q(mm), New: new, Within: q("0.02 mm")}
	}
	l := questions.WearLine{Figure: "disc/left", Limit: q("16.00 mm"), Visits: []job.PastValue{at("20000 km", "16.4 mm", false), at("20000 km", "17.98 mm", true), at("40000 km", "17.40 mm", false), at("61000 km", "16.90 mm", false)}}
	var visits []brakes.Visit
	for _, v := range l.Visits {
		visits = append(visits, brakes.Visit{Thickness: v.Value, Odometer: v.Odometer, Uncertainty: v.Within, Renewed: v.New})
	}
	f, err := brakes.ForecastWear(visits, l.Limit)
	must(t, err)
	l.Forecast = &f
	r := atDesk(t)
	r.keys("4 Enter")
	page := r.m.top().(*reading)
	h := page.value.(questions.History)
	h.Wear = []questions.WearLine{l}
	page.value = h
	r.sees("Disc, left: 16.90 mm at 61000 km, limit 16.00 mm. Left: ")
	r.frame()
	r.keys("Right")
	r.both("desk-wear")
	r.sees("limit 16.00 mm")
	r.seesNot("16.4 ") // it belongs to the disc before
}

// TestDriftDrawn marks the checks beyond the limits of a wrench's control chart.
func TestDriftDrawn(t *testing.T) {
	points := map[string][]questions.DriftPoint{}
	for i, p := range []int64{1, 2, 1, 0, 1, 2, 1, 1, 0, 1, 25} {
		points["W2"] = append(points["W2"], questions.DriftPoint{Job: uint64(i + 1), When: time.Date(2026, 1, i+1, 9, 0, 0, 0, time.UTC), By: "W10", Percent: big.NewRat(p, 1)})
	}
	r := atDesk(t)
	got := accents.Off(strings.Join(driftLines(&r.m.env, questions.DriftsOf(points)[0], 78), "\n"))
	if strings.Count(got, "BEYOND") != 1 || strings.Count(got, "\n") < 11 {
		t.Errorf("the drift of one wrench:\n%s", got)
	}
}

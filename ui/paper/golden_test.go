package paper

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/procedures"
)

// lang is the one place of a page that says its language.
var lang = regexp.MustCompile(` lang="[^"]*"`)

// golden compares bytes with their file; PAWL_UPDATE=1 writes the file instead.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	got = []byte(accents.Off(string(got)))
	path := filepath.Join("testdata", name)
	if os.Getenv("PAWL_UPDATE") == "1" {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("read golden file (PAWL_UPDATE=1 writes it): %v", err)
	}
	if accents.On() {
		want, got = lang.ReplaceAll(want, nil), lang.ReplaceAll(got, nil)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s", name, diff)
	}
}

// papers are the documents of the played job and of the moments before its end.
func papers(t testing.TB) map[string]Document {
	t.Helper()
	if drawn == nil {
		drawn = draft(t)
	}
	return drawn
}

var drawn map[string]Document // made once; documents do not change

func draft(t testing.TB) map[string]Document {
	t.Helper()
	full := played(t)
	out := map[string]Document{"record": Record(full.card, printInfo), "customer": Customer(full.card, printInfo), "handover": HandOver(full.card, printInfo),
		"blank": Blank(full.plan, printInfo)}
	stopped := openBay(t, false)
	stopped.walk("caliper-on/right")
	stopped.must("M04", job.Pause{Kind: job.StopStands, Note: "end of the shift", PartsAt: "tray 4, bay 2", KeyAt: "foreman's box", Call: "Quill, inside line 12 (invented)"})
	unsealed := printInfo
	unsealed.Seal = ""
	out["stop"] = Stop(stopped.card, unsealed)
	out["labels"] = labels(t, stopped.card, unsealed)
	out["label-retorque"] = labels(t, full.card, printInfo)
	held := openBay(t, true)
	held.w.Choose = func(c *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item string) string {
		if at.String() == "discs-checked/left" && pc.ID == "thickness" {
			return "20.02" // the disc of another axle, trade example
		}
		return choices(c, at, pc, item)
	}
	held.walk("discs-checked/left")
	for range 8 { // part, both points, the rest: up to the signature that is refused
		m, more, err := held.w.Next(held.card, job.Context{At: held.now, Station: "bay 2", By: held.w.Crew.Doer, Register: held.reg})
		if err != nil || !more {
			t.Fatal(err)
		}
		if _, sign := m.Want.(job.Sign); sign {
			break
		}
		held.must(m.By.ID, m.Want)
	}
	held.must("F02", job.Withhold{Class: "below minimum", Words: "right disc 16.415 mm, refit limit 16.50 mm, no other disc to be had", Told: "brake desk by telephone: it stays here"})
	notice, err := NotRoadworthy(held.card, unsealed)
	if err != nil {
		t.Fatal(err)
	}
	out["notice"] = notice
	out["labels-held"] = labels(t, held.card, unsealed)
	cards := []*job.Card{full.card, held.card}
	out["period"] = Period(full.person("A11"), cards, "2026-03-01", "2026-03-31", printInfo)
	out["practice"] = Practice(full.person("A11"), cards, printInfo)
	return out
}

func labels(t testing.TB, c *job.Card, in Info) Document {
	t.Helper()
	d, err := Labels(c, in)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestGoldenPapers(t *testing.T) {
	all := papers(t)
	for name, d := range all {
		golden(t, name+".txt", d.Text(false))
	}
	for _, name := range []string{"record", "labels"} {
		golden(t, name+".html", all[name].HTML())
	}
	c := played(t).card
	for _, table := range []string{"torque", "states", "exceptions"} {
		data, err := CSV(table, c)
		if err != nil {
			t.Fatal(err)
		}
		golden(t, table+".csv", data)
	}
}

// TestGoldenFilesAllUsed finds golden files that no document writes any more.
func TestGoldenFilesAllUsed(t *testing.T) {
	files, err := filepath.Glob("testdata/*.*")
	if err != nil || len(files) == 0 {
		t.Fatalf("no golden files: %v", err)
	}
	known := map[string]bool{"record.html": true, "labels.html": true, "torque.csv": true, "states.csv": true, "exceptions.csv": true}
	for name := range papers(t) {
		known[name+".txt"] = true
	}
	for _, f := range files {
		if !known[filepath.Base(f)] {
			t.Errorf("%s belongs to nothing", f)
		}
	}
}

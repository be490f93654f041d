package paper

import (
	"strings"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/procedures"
)

// flat is a print in one line, for looking for sentences.
func flat(d Document) string {
	return strings.Join(strings.Fields(accents.Off(string(d.Text(false)))), " ")
}

func TestNoticeAndLabelsOnlyWhereThereIsCause(t *testing.T) {
	c := openBay(t, false).card
	if _, err := NotRoadworthy(c, printInfo); err == nil || !strings.Contains(accents.Off(err.Error()), "not withheld") {
		t.Errorf("a notice for a vehicle nobody withheld: %v", err)
	}
	if _, err := Labels(c, printInfo); err == nil {
		t.Error("labels though nothing stands open")
	}
}

func TestOneLabelForEachStandingState(t *testing.T) {
	b := openBay(t, false)
	b.walk("caliper-on/right")
	text := accents.Off(string(labels(t, b.card, printInfo).HTML()))
	if n := strings.Count(text, `<div class="label">`); n != len(b.card.Open) || n < 8 {
		t.Errorf("%d labels for %d standing states", n, len(b.card.Open))
	}
	for _, want := range []string{"NO BRAKES - pump the pedal first", "NO PARKING BRAKE - do not touch the switch", "HEIGHT CONTROL OFF"} {
		if !strings.Contains(text, want) {
			t.Errorf("no label says %q", want)
		}
	}
}

func TestLabelsOfAWithheldVehicleAndARefusedPart(t *testing.T) {
	text := accents.Off(string(papers(t)["labels-held"].HTML()))
	for _, want := range []string{"NOT ROADWORTHY", "QUARANTINED PART", "20.02 mm, outside, nominal 18.00 ± 0.10 mm", "batch B-2231", "PRACTICE"} {
		if !strings.Contains(text, want) {
			t.Errorf("the labels do not say %q", want)
		}
	}
}

func TestNoticeTakesThePlaceOfARelease(t *testing.T) {
	text := flat(papers(t)["notice"])
	for _, want := range []string{"NOT ROADWORTHY", "It has not been released", "recovery vehicle only", "right disc 16.415 mm", "refused to sign, witness", "20.02 mm 18.00 ± 0.10 mm OUTSIDE"} {
		if !strings.Contains(text, want) {
			t.Errorf("the notice does not say %q", want)
		}
	}
}

func TestStopSheetSaysWhatMustBeKnown(t *testing.T) {
	text := flat(papers(t)["stop"])
	for _, want := range []string{"STOPPED ON STANDS", "foreman's box", "tray 4, bay 2", "Quill, inside line 12", "NOT SIGNED", "[ ] Vehicle raised", "Guide bolts, right: off or loose", "not sealed"} {
		if !strings.Contains(text, want) {
			t.Errorf("the stop sheet does not say %q", want)
		}
	}
}

func TestLaterEntryFromPaperIsMarked(t *testing.T) {
	b := openBay(t, false)
	b.walk("carrier-bolts/left")
	ref := procedures.ParseRef("carrier-bolts/left")
	b.must("M04", job.Enter{Stage: ref, Check: "bolts", Item: procedures.ItemNew, Value: "2", Source: job.SourcePaper})
	b.must("M04", job.Enter{Stage: ref, Check: "bolts", Item: "upper bolt", Value: "95", With: "W8", Source: job.SourcePaper})
	rows := Torques(b.card)
	last := rows[len(rows)-1]
	if last.Evidence != "D" || last.Clicked || last.Source != job.SourcePaper || last.Set.Number != "95" {
		t.Errorf("an entry from paper is written down as %+v", last)
	}
	text := flat(Record(b.card, printInfo))
	for _, want := range []string{"click told", "entered later", "weak evidence"} {
		if !strings.Contains(text, want) {
			t.Errorf("the record does not say %q", want)
		}
	}
}

func TestBlankHasEveryStageWithItsWindows(t *testing.T) {
	b := openBay(t, false)
	text := flat(papers(t)["blank"])
	for i := range b.plan.Nodes {
		n := &b.plan.Nodes[i]
		if !strings.Contains(text, strings.Join(strings.Fields(accents.Off(job.Title(n))), " ")) {
			t.Errorf("the stage %s is missing", n.Ref)
		}
		for _, pc := range n.Checks {
			if pc.Window != nil && !strings.Contains(text, strings.Join(strings.Fields(pc.Window.Window.String()), " ")) {
				t.Errorf("%s.%s: the window %s is missing", n.Ref, pc.ID, pc.Window.Window)
			}
		}
	}
	if !strings.Contains(text, "marked as entered from paper") {
		t.Error("nothing says that a later entry is marked")
	}
}

func TestPeriodHoldsOnlyItsDaysAndItsPerson(t *testing.T) {
	b := played(t)
	cards := []*job.Card{b.card}
	if text := flat(Period(b.person("A11"), cards, "2026-03-04", "2026-03-04", printInfo)); !strings.Contains(text, "final pass") || strings.Contains(text, "Guide bolts") {
		t.Errorf("the day of the apprentice reads %s", text)
	}
	if text := flat(Period(b.person("A11"), cards, "2026-03-05", "2026-03-31", printInfo)); !strings.Contains(text, "Nothing was signed") {
		t.Errorf("an empty time reads %s", text)
	}
}

func TestMarksOfManyJobs(t *testing.T) {
	demo, practice := openBay(t, false).card, openBay(t, true).card
	realWork := openBay(t, false).card
	realWork.Opened.Demo = false
	sheet, plan := *realWork.Plan.Sheet, *realWork.Plan
	sheet.Demo = false
	plan.Sheet, realWork.Plan = &sheet, &plan
	for _, c := range []struct {
		want  string
		cards []*job.Card
	}{{"", nil}, {"", []*job.Card{realWork}}, {"DEMO", []*job.Card{demo, practice}}, {"PRACTICE / DEMO", []*job.Card{practice}}, {markPartly, []*job.Card{realWork, demo}}} {
		if got := commonMark(c.cards); got != c.want {
			t.Errorf("%d jobs are marked %q, want %q", len(c.cards), got, c.want)
		}
	}
}

// TestUnfinishedAndEmptyJobsPrint walks through the job and prints at many moments.
func TestUnfinishedAndEmptyJobsPrint(t *testing.T) {
	b := played(t)
	for n := 1; n <= len(b.card.Events); n += 23 {
		c, err := job.Fold(b.plan, b.card.Events[:n])
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range []Document{Record(c, Info{}), Stop(c, Info{}), HandOver(c, Info{})} {
			checkText(t, d.Title, d, accents.Off(string(d.Text(false))))
			if _, err := elements(d.HTML()); err != nil {
				t.Errorf("after event %d, %s: %v", n, d.Title, err)
			}
		}
	}
}

func BenchmarkRecordText(b *testing.B) {
	c := played(b).card
	for b.Loop() {
		Record(c, printInfo).Text(false)
	}
}

func BenchmarkRecordHTML(b *testing.B) {
	c := played(b).card
	for b.Loop() {
		Record(c, printInfo).HTML()
	}
}

func BenchmarkJSON(b *testing.B) {
	c := played(b).card
	for b.Loop() {
		if _, err := JSON(c, printInfo); err != nil {
			b.Fatal(err)
		}
	}
}

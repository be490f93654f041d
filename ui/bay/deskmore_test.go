package bay

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/store"
)

// TestDeskFilters fills the filter page in; days the wrong way round are named.
func TestDeskFilters(t *testing.T) {
	r := atDesk(t)
	r.keys("1 Right")
	r.sees("Narrow the search down")
	r.both("desk-filters")
	r.type_("2026-04-01")
	r.keys("Enter")
	r.type_("2026-03-01")
	r.keys("Enter Right Right")
	r.sees("released")
	r.keys("Enter Enter")
	r.sees("The first day 2026-04-01 lies after the last day 2026-03-01; go up and")
	r.both("desk-filters-wrong")
}

// TestDeskCertificate fills the page of a certificate in, up to the code that signs it.
func TestDeskCertificate(t *testing.T) {
	r := atDesk(t)
	r.keys("3 N 1")
	r.both("desk-certificate")
	r.keys("3 Enter")
	for _, text := range []string{"C-77", "2026-03-04", "", "2027-03-03"} {
		r.type_(text)
		r.keys("Enter")
	}
	r.type_("-25 %")
	r.both("desk-certificate-filled")
	r.keys("Enter Enter Enter")
	r.sees("Found off by -25 %: a recall is opened.")
	r.both("desk-certificate-code")
}

// TestDeskVehicleChoice offers the vehicles whose history can be read, and says when none fits.
func TestDeskVehicleChoice(t *testing.T) {
	r := atDesk(t)
	r.keys("4")
	r.sees("Van of the laundry")
	r.both("desk-vehicles")
	r.type_("zzz")
	r.seesNot("Van of the laundry")
	r.both("desk-vehicles-none")
}

// TestDeskVerifyFails changes one letter of an entry behind the program's back: verify names the job
// and the event, and the job cannot be read any more.
func TestDeskVerifyFails(t *testing.T) {
	f, now := deskFile(t)
	c, err := f.OpenJob(store.Actor{Person: frida}, store.NewJob{Vehicle: "V-7", Complaint: "it grinds", Odometer: "99000", Procedure: f.Procedures()[0].ID})
	must(t, err)
	_, _, err = f.Do(c.Number(), store.Actor{Person: frida, CodeGiven: true}, job.Advise{Text: "front hoses cracked", Urgency: "soon"})
	must(t, err)
	must(t, f.Close())
	data, err := os.ReadFile(f.Path())
	must(t, err)
	changed := bytes.ReplaceAll(data, []byte("front hoses cracked"), []byte("front hoses cracker"))
	if bytes.Equal(data, changed) {
		t.Fatal("the advice is not in the file")
	}
	must(t, os.WriteFile(f.Path(), changed, 0o600))
	f = open(t, f.Path(), now)
	t.Cleanup(func() { must(t, f.Close()) })
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("D 6 1")
	r.sees("NOT WHOLE: 1 fault")
	r.sees("2 jobs, ")
	r.sees("event 2 of job 2")
	r.seesNot("Everything fits")
	said := r.m.top().(*care).said
	for i := range said { // the folder of the test has another name every time
		said[i].text = strings.ReplaceAll(said[i].text, f.Path(), "/srv/bay/workshop.pawl")
	}
	r.both("desk-verify-fails")
}

// TestDeskRecallSheet finds a revision of a spec sheet wrong: what was recorded under it is judged
// again by the one in use, both verdicts stand beside each other, and the vehicle is worked off.
func TestDeskRecallSheet(t *testing.T) {
	r := atDesk(t)
	card, err := r.f.Load(1)
	must(t, err)
	was := card.Opened.Sheet.Revision
	s := r.f.Sheets()[0]
	old := ""
	for i, w := range s.Windows {
		x, err := quantity.ParseWindow(w.Value)
		must(t, err)
		if x.Unit() == quantity.NewtonMetre && !x.High.IsZero() {
			old = w.Value
			s.Windows[i].Value = "200..210 N·m" // the right figure, nowhere near what was tightened
		}
	}
	if old == "" {
		t.Fatal("the sheet of the test has no torque window")
	}
	s.Revision = was + "b"
	must(t, r.f.InstallSheet(frida, s))
	r.keys("3 N 3")
	r.sees("Recall of a revision of a spec sheet")
	r.both("desk-recall-sheet-form")
	r.type_("test-van")
	r.keys("Enter")
	r.type_(was)
	r.keys("Enter")
	r.sees("Revision " + was + " of test-van")
	r.type_(codes["fh"])
	r.keys("Enter")
	r.sees("TO BE CALLED")
	r.both("desk-recall-sheet")
	r.keys("J")
	r.sees("Only what a wrench did is listed action by action")
	r.keys("Esc V")
	r.sees("outside")
	r.both("desk-recall-sheet-why")
	r.keys("Esc Enter 4")
	r.type_("tightened again by revision " + s.Revision)
	r.keys("Enter")
	r.type_(codes["fh"])
	r.keys("Enter")
	r.sees("All 1 vehicle dealt with")
	all, err := r.f.Recalls()
	must(t, err)
	if len(all) != 1 || all[0].Kind != questions.RecallSheet || all[0].Left() != 0 || all[0].Judged.Records == 0 {
		t.Errorf("recalls: %+v", all)
	}
	r.keys("Esc Esc 2")
	r.type_("spec-revision")
	r.keys("Enter")
	r.type_("test-van")
	r.keys("Enter Enter Enter Enter Enter")
	r.sees("searched ")
	r.sees(old)
}

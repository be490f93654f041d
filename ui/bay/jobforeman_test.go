package bay

import (
	"strings"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// card reads the job of a test.
func (r *run) card() *job.Card {
	r.t.Helper()
	c, err := r.f.Load(1)
	must(r.t, err)
	return c
}

// last is what was recorded last.
func (r *run) last() job.Body {
	r.t.Helper()
	return r.card().Last().Body
}

// TestDeviationIsGrantedByTheForemanOnly: the mechanic stays signed in while the foreman types the
// code; the reason is asked, and what nobody may grant stands beside the list.
func TestDeviationIsGrantedByTheForemanOnly(t *testing.T) {
	r := onVisit(t, tarik)
	r.keys("M 8")
	r.both("foreman-menu")
	r.keys("1")
	r.sees("Nobody grants, with any code")
	r.both("deviation")
	r.keys("1 1")
	r.keys("Enter")
	r.sees("A deviation needs a reason")
	r.fill("disc was cut up before it came to the bay")
	r.sees("It stands on every print")
	r.both("deviation-code")
	before := events(t, r)
	r.fill("fh", "2002")
	if events(t, r) != before {
		t.Error("the mechanic's code granted a deviation")
	}
	r.code(frida)
	d, ok := r.last().(job.Deviated)
	if !ok || d.OwnWork || d.Stage.Side != procedures.Left {
		t.Errorf("recorded %+v", r.last())
	}
	if r.m.env.Person.ID != tarik.ID {
		t.Error("the mechanic is not signed in any more")
	}
	r.sees("Ready to sign")
}

// TestTraitAndSheet corrects a trait and goes on by another revision of the sheet.
func TestTraitAndSheet(t *testing.T) {
	r := onVisit(t, frida)
	r.keys("M 8 3 1 1")
	r.fill("one nut needs a key")
	r.both("trait-code")
	r.code(frida)
	if b, ok := r.last().(job.TraitChanged); !ok || b.Value != "yes" {
		t.Errorf("recorded %+v", r.last())
	}
	r.keys("M 8 4")
	r.sees("The register has no other revision")
	putSheet(t, r.f, "150..170", "140..160")
	r.keys("Enter M 8 4")
	r.sees("revision 2")
	r.keys("1")
	r.fill("the maker's correction of February")
	r.code(frida)
	if b, ok := r.last().(job.SheetAdopted); !ok || b.Sheet.Revision != "2" {
		t.Errorf("recorded %+v", r.last())
	}
	r.sees("by revision 2")
}

// TestSendBack begins a stage again from the foreman's menu.
func TestSendBack(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	doer{t, f}.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("Enter M 8 5")
	r.keys("Left Left Enter")
	r.fill("measured at the rim")
	r.both("send-back")
	r.code(frida)
	r.sees("ATTEMPT 2")
	// The workshop's own mistake is told at that stage of the next job.
	m, err := ownMistakes(f, "Wheel refitted, with its re-torque visit (invented)", "look")
	must(t, err)
	if m.text != "" {
		t.Errorf("a job that is not finished counts: %q", m.text)
	}
}

// TestOwnMistake takes the reason for a stage done again from the finished jobs of the workshop.
func TestOwnMistake(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	d := doer{t, f}
	d.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	at := procedures.Ref{Stage: "look", Side: procedures.Left}
	d.do(tarik, job.Again{Stage: at, Reason: "measured at the rim"})
	for i, item := range []string{"1", "2", "3", "4"} {
		d.enter(tarik, at, "disc", item, []string{"10.41", "10.40", "10.42", "10.44"}[i], "M1")
	}
	d.do(tarik, job.Sign{Stage: at})
	d.wheels(tarik)
	free := procedures.Ref{Stage: "free"}
	d.enter(frida, free, "read", "", "yes", "")
	d.do(frida, job.Sign{Stage: free})
	r := start(t, f, now)
	r.signIn(nils)
	r.keys("Enter")
	r.goTo("Disc looked at, left")
	r.keys("W")
	r.sees("In this workshop")
	r.sees("Done again in 1 of the last 1 job: measured at the rim")
	r.both("why-own")
	// After the release only an addendum.
	r.keys("Esc M 5 1")
	r.sees("The vehicle has been released: add an addendum")
	r.keys("3")
	r.fill("customer rang: no noise")
	r.sees("Added to the record")
	if a := r.card().Addenda; len(a) != 1 {
		t.Errorf("addenda %v", a)
	}
}

// TestAdvice gives advice and takes the customer's answer in his words.
func TestAdvice(t *testing.T) {
	r := onVisit(t, tarik)
	r.keys("M 5")
	r.both("words-menu")
	r.keys("1 2")
	r.fill("front pads at 3.5 mm")
	r.sees("answer is owed before the release")
	r.keys("M 5 2 1 3")
	r.both("advice-answer")
	r.fill("not before the summer", "the dairy, by telephone")
	r.sees("The customer's answer is written down: refused")
	r.keys("M 5 4")
	r.sees("not before the summer")
	if a := r.card().Advice[0]; a.Decided == nil || a.Decided.Answer != "refused" {
		t.Errorf("advice %+v", a)
	}
}

// TestCancelBeforeWork cancels a job nothing was done in.
func TestCancelBeforeWork(t *testing.T) {
	r := onVisit(t, tarik)
	r.keys("M 7 6")
	r.fill("the driver took it back")
	r.code(tarik)
	r.sees("CANCELLED")
	if r.card().Outcome() != job.OutcomeCancelled {
		t.Errorf("outcome %q", r.card().Outcome())
	}
}

// TestLift lifts a withholding by the stage that cured it.
func TestLift(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	d := doer{t, f}
	d.do(tarik, job.Withhold{Class: "below minimum", Words: "disc seems thin", Told: "the dairy, at the counter"})
	d.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	r := start(t, f, now)
	r.signIn(ylva)
	r.keys("Enter M 7 2")
	r.sees("Disc looked at, left")
	r.both("lift")
	r.keys("2")
	r.fill("measured: inside")
	r.by(tarik)
	r.sees("Lifted: the cause was cured")
	if r.card().Withheld != nil {
		t.Error("still withheld")
	}
}

// TestFiguresAsk: a disc thicker than at the visit before makes the figures ask; the question shows
// on the stage and is answered by its number.
func TestFiguresAsk(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter")
	r.fill("10.42")
	r.keys("1")
	r.fill("10.42", "10.42", "11.90")
	r.sees("the figures raise")
	r.both("figures-ask")
	r.keys("S")
	r.sees("What blocks")
	r.keys("Esc R")
	r.both("figures")
	r.keys("1")
	r.fill("measured again: point 4 has a ridge")
	r.sees("The answer stands in the record")
	r.keys("V")
	r.both("picture")
	r.keys("Esc R")
	r.sees("measured again: point 4 has a ridge")
}

// TestSwapSides exchanges a set typed on the wrong side.
func TestSwapSides(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	d := doer{t, f}
	for i, item := range []string{"1", "2", "3", "4"} {
		d.enter(tarik, procedures.Ref{Stage: "look", Side: procedures.Left}, "disc", item, []string{"10.42", "10.40", "10.41", "10.44"}[i], "M1")
		d.enter(tarik, procedures.Ref{Stage: "look", Side: procedures.Right}, "disc", item, "11.00", "M1")
	}
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter M 4 1")
	r.fill("stood behind the vehicle")
	r.sees("Left and right are exchanged")
	if v := r.card().Stage(procedures.Ref{Stage: "look", Side: procedures.Right}).Current().Entry("disc", "2").Value.String(); v != "10.40 mm" {
		t.Errorf("the right side has %s", v)
	}
}

// TestCoverage says before stripping which windows no wrench can prove.
func TestCoverage(t *testing.T) {
	f, now := visitShop(t)
	for _, in := range f.Register().Instruments {
		if in.ID == "W2" || in.ID == "W6" {
			in.Status = register.Dropped
			must(t, f.PutInstrument(frida, in))
		}
	}
	openVisit(t, f, false)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter")
	r.sees("NO WRENCH for 4 torque windows")
	r.keys("M 9 2")
	r.sees("dropped")
	r.both("coverage")
}

// TestTwoScales takes bare numbers in the other scale of the wrench in hand, and shows decimals with
// a comma where the workshop does, also in the gauge and the big digits.
func TestTwoScales(t *testing.T) {
	f, now := visitShop(t)
	w, _ := f.Workshop()
	w.DecimalComma, w.TorqueUnit = true, "lbf·ft"
	must(t, f.SaveWorkshop(w))
	openVisit(t, f, false)
	d := doer{t, f}
	d.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	d.enter(tarik, procedures.Ref{Stage: "wheel-on", Side: procedures.Left}, "by-hand", "", "yes", "")
	d.do(tarik, job.Sign{Stage: procedures.Ref{Stage: "wheel-on", Side: procedures.Left}})
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter")
	r.goTo("Final pass, left")
	r.keys("T 2 U")
	r.sees("Numbers are taken in lbf·ft now")
	r.type_("118")
	r.sees("= 159,99 N·m")
	r.sees("about 110,6 to 125,4 lbf·ft")
	r.keys("Enter")
	r.sees("118 lbf·ft")
	r.sees("= 159,99 N·m")
	b, ok := r.last().(job.Entered)
	if !ok || b.Value.Unit != quantity.MustParse("1 lbf·ft").Unit || b.Verdict != quantity.Inside {
		t.Errorf("recorded %+v", r.last())
	}
	r.keys("U U")
	r.type_("160.5")
	r.both("two-scales")
	r.keys("Enter")
	r.sees("160,5 N·m")
	r.seesNot("160.5")
	r.keys("Enter")
	r.goTo("Disc looked at, left")
	r.sees("10,42 mm")
}

var _ = show(
	state{"more", func(t *testing.T) *run { r := onVisit(t, tarik); r.keys("M"); return r }},
	state{"not sure", func(t *testing.T) *run { r := onVisit(t, nils); r.keys("N"); return r }},
	state{"remarks", func(t *testing.T) *run { r := onVisit(t, nils); r.keys("R"); return r }},
	state{"picture", func(t *testing.T) *run { r := onVisit(t, nils); r.keys("V"); return r }},
	state{"ending", func(t *testing.T) *run { r := onVisit(t, tarik); r.keys("M 7"); return r }},
	state{"foreman", func(t *testing.T) *run { r := onVisit(t, frida); r.keys("M 8"); return r }},
	state{"to read", func(t *testing.T) *run { r := onVisit(t, frida); r.keys("M 9"); return r }},
	state{"follow-ups", func(t *testing.T) *run { r := onVisit(t, frida); r.keys("Esc Esc U"); return r }},
	state{"who waits", func(t *testing.T) *run { r := onVisit(t, frida); r.keys("Esc W"); return r }},
	state{"progress", func(t *testing.T) *run { r := onVisit(t, frida); r.keys("Esc P"); return r }},
	state{"practice job", func(t *testing.T) *run { r := onVisit(t, frida); r.keys("Esc P N"); return r }},
)

// finishVisit releases the job through the store.
func finishVisit(t testing.TB, f *store.File) {
	t.Helper()
	d := doer{t, f}
	d.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	d.wheels(tarik)
	d.enter(frida, procedures.Ref{Stage: "free"}, "read", "", "yes", "")
	d.do(frida, job.Sign{Stage: procedures.Ref{Stage: "free"}})
}

// TestPrintsNeverOverwrite prints twice: each print is a file of its own.
func TestPrintsNeverOverwrite(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	finishVisit(t, f)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter Esc M 9 7")
	r.sees("Written for the printer")
	first := strings.Count(r.frame(), "job-1-record")
	r.keys("Enter M 9 7")
	if first == 0 || !strings.Contains(r.frame(), "Written for the printer") {
		t.Errorf("the second print:\n%s", r.frame())
	}
}

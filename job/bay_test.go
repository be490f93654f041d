package job_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// A small invented procedure with everything the rules turn on: both sides, a decision, a finding
// that adds a stage, a state per side and one of the vehicle, a hold, single-use bolts.
const smallProcedure = `
format = 1
id = "small"
title = "Small procedure for tests (invented)"
revision = "1"
demo = true

[[phase]]
id = "start"
title = "start"
[[phase]]
id = "work"
title = "work"
[[phase]]
id = "end"
title = "end"

[[trait]]
id = "screws"
title = "disc screws"
values = ["0", "2"]

[[decision]]
id = "scope"
title = "scope of the work"
values = ["replace", "measure only"]

[[finding]]
id = "pins"
title = "slide pins"
values = ["free", "seized"]

[[state]]
id = "raised"
title = "vehicle raised"
danger = "it can fall"
label = "raised"
if_stopped = "load on the stands"

[[state]]
id = "hung"
title = "caliper hung"
danger = "the hose is strained"
label = "do not touch the pedal"
if_stopped = "leave it on its hook"
sided = true

[[stage]]
id = "reception"
title = "Reception"
phase = "start"
why = "Know the vehicle. Know the wish."
good = "The complaint is in the customer's words."
who = "mechanic"
[[stage.check]]
id = "seen"
kind = "confirm"
title = "vehicle identified"

[[stage]]
id = "raise"
title = "Raise the vehicle"
phase = "start"
why = "Work safely. Nothing falls."
good = "It stands firm."
after = ["reception"]
sets = ["raised"]
who = "apprentice"
[[stage.check]]
id = "stands"
kind = "count"
title = "stands under the vehicle"

[[stage]]
id = "pads"
title = "Pads measured"
phase = "start"
why = "Wear tells the cause. It is the basis of the decision."
good = "Four points per side."
after = ["raise"]
sided = true
early = true
who = "apprentice"
second = "never"
[[stage.check]]
id = "thickness"
kind = "thickness"
title = "pad thickness"
points = ["inner leading", "inner trailing", "outer leading", "outer trailing"]
unit = "mm"
tools = ["pad gauge"]
[[stage.check]]
id = "pins"
kind = "choice"
title = "slide pins by hand"
options = ["free", "seized"]
finding = "pins"

[[stage]]
id = "decide"
title = "Decision"
phase = "start"
why = "Agree the work. Axle sets only."
good = "One answer."
after = ["pads"]
who = "foreman"
hold = true
[[stage.check]]
id = "scope"
kind = "choice"
title = "scope"
options = ["replace", "measure only"]
decision = "scope"

[[stage]]
id = "caliper-off"
title = "Caliper off and hung"
phase = "work"
why = "Reach the disc. The hose carries nothing."
good = "It hangs on a hook."
after = ["decide"]
when = [{ decision = "scope", is = ["replace"] }]
sided = true
sets = ["hung"]
disturbs = ["disc", "bolts", "look", "lower"]
who = "apprentice"
[[stage.check]]
id = "hook"
kind = "confirm"
title = "hung on a hook"

[[stage]]
id = "pins-service"
title = "Slide pins serviced"
phase = "work"
why = "The caliper must float. A seized pin eats the inner pad."
good = "They move by hand."
after = ["caliper-off"]
when = [{ decision = "scope", is = ["replace"] }, { finding = "pins", is = ["seized"] }]
sided = true
who = "mechanic"
[[stage.check]]
id = "moves"
kind = "confirm"
title = "pins move by hand"

[[stage]]
id = "disc"
title = "New disc on"
phase = "work"
why = "A true seat. Else it judders."
good = "It does not rock."
after = ["pins-service"]
when = [{ decision = "scope", is = ["replace"] }]
disturbs = ["bolts", "look"]
sided = true
who = "mechanic"
[[stage.check]]
id = "nominal"
kind = "thickness"
title = "thickness of the new disc"
num_points = 2
nominal = "disc-new"
compare = "disc-pair"
tools = ["micrometer"]
[[stage.check]]
id = "run-out"
kind = "run-out"
title = "run-out"
num_points = 8
window = "run-out"
spread = "return"
tools = ["dial gauge"]
[[stage.rework]]
id = "index"
title = "turned to another stud position"
again = ["disc"]

[[stage]]
id = "bolts"
title = "Guide bolts"
phase = "work"
why = "They carry the brake. Too loose is deadly."
good = "Both click once."
after = ["disc"]
when = [{ decision = "scope", is = ["replace"] }]
sided = true
disturbs = ["look"]
clears = [{ state = "hung", proof = ["torque"] }]
who = "apprentice"
way_out = "new bolts and a new attempt"
[[stage.check]]
id = "torque"
kind = "torque"
title = "guide bolts"
group = "guide"
window = "guide"
tools = ["setting wrench", "dial wrench", "electronic wrench"]

[[stage]]
id = "look"
title = "Second-person look"
phase = "work"
why = "A second pair of eyes. The last moment it can be seen."
good = "Every mark seen."
after = ["bolts"]
when = [{ decision = "scope", is = ["replace"] }]
who = "mechanic"
hold = true
independent_of = ["bolts"]
[[stage.check]]
id = "marks"
kind = "confirm"
title = "paint marks seen"

[[stage]]
id = "lower"
title = "Lower the vehicle"
phase = "end"
why = "Weight on the wheels. Stands counted."
good = "As many stands as before."
after = ["look", "decide"]
needs_shut = ["hung"]
clears = [{ state = "raised", proof = ["stands"] }]
who = "apprentice"
[[stage.check]]
id = "stands"
kind = "count"
title = "stands back"
same = "raise.stands"

[[stage]]
id = "pedal"
title = "Pedal check"
phase = "end"
why = "It must stop before it moves. Two feet try it."
good = "Firm, no sink."
after = ["lower"]
who = "mechanic"
hold = true
second = "always"
[[stage.check]]
id = "firm"
kind = "confirm"
title = "pedal firm"

[[stage]]
id = "release"
title = "Release"
phase = "end"
why = "One person answers. It is not the one who did it."
good = "Nothing stands open."
after = ["pedal"]
who = "foreman"
hold = true
independent_of = ["all"]
act = "release"
[[stage.check]]
id = "read"
kind = "confirm"
title = "exceptions read"

[[stage]]
id = "hand-over"
title = "Hand-over"
phase = "end"
why = "The driver knows. The note travels with the vehicle."
good = "The driver tried the pedal."
after = ["release"]
who = "mechanic"
second = "never"
act = "hand-over"
[[stage.check]]
id = "to"
kind = "text"
title = "handed to"
`

const smallSheet = `
format = 1
id = "small-sheet"
title = "Small sheet for tests (invented)"
revision = "4"
author = "test"
date = "2026-01-01"
demo = true
[traits]
screws = "2"
[[source]]
id = "doc"
document = "Invented sheet"
revision = "4"
[[window]]
id = "disc-new"
value = "18.00 ± 0.10 mm"
source = "doc"
[[window]]
id = "disc-pair"
value = "<= 0.05 mm"
source = "doc"
[[window]]
id = "run-out"
value = "<= 0.08 mm"
source = "doc"
[[window]]
id = "return"
value = "<= 0.01 mm"
source = "doc"
[[window]]
id = "guide"
value = "30..36 N·m"
source = "doc"
[[group]]
id = "guide"
title = "guide bolts"
names = ["upper", "lower"]
single_use = true
source = "doc"
`

var (
	ninna = register.Person{ID: "M04", Name: "Ninna", Role: procedures.Mechanic}
	tavo  = register.Person{ID: "M07", Name: "Tavo", Role: procedures.Mechanic}
	jory  = register.Person{ID: "A11", Name: "Jory", Role: procedures.Apprentice}
	quill = register.Person{ID: "F02", Name: "Quill", Role: procedures.Foreman}
	esk   = register.Person{ID: "Q01", Name: "Esk", Role: procedures.Auditor}
)

func q(text string) quantity.Quantity { return quantity.MustParse(text) }

func instrument(id, kind, low, high, res, errLimit string) register.Instrument {
	return register.Instrument{ID: id, Kind: kind, Serial: "S-" + id, Scales: []quantity.Unit{q(low).Unit}, Low: q(low), High: q(high),
		Resolution: q(res), Error: q(errLimit), Certificate: "C-" + id, Calibrated: "2026-01-10", Due: "2027-01-09", Status: register.InUse}
}

func depot() register.Register {
	late := instrument("W7", register.SettingWrench, "20 N·m", "200 N·m", "1 N·m", "4 %")
	late.Due = "2026-03-01"
	return register.Register{
		People: []register.Person{ninna, tavo, jory, quill, esk},
		Instruments: []register.Instrument{
			instrument("W3", register.SettingWrench, "10 N·m", "50 N·m", "0.5 N·m", "4 %"),
			late,
			instrument("W8", register.DialWrench, "40 N·m", "200 N·m", "1 N·m", "4 %"),
			instrument("W4", register.DialWrench, "10 N·m", "60 N·m", "0.5 N·m", "3 %"),
			instrument("MIC1", register.Micrometer, "0 mm", "25 mm", "0.001 mm", "0.004 mm"),
			instrument("DG1", register.DialGauge, "0 mm", "10 mm", "0.01 mm", "0.002 mm"),
			instrument("PG1", register.PadGauge, "0 mm", "20 mm", "0.1 mm", "0.2 mm"),
		},
	}
}

// bay is a job being done in a test.
type bay struct {
	t    testing.TB
	plan *procedures.Plan
	card *job.Card
	reg  register.Register
	now  time.Time
}

func smallPlan(t testing.TB) *procedures.Plan {
	t.Helper()
	p, err := procedures.LoadProcedure("small.toml", []byte(smallProcedure))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Check(); err != nil {
		t.Fatal(err)
	}
	s, err := procedures.LoadSheet("sheet.toml", []byte(smallSheet))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Check(); err != nil {
		t.Fatal(err)
	}
	if err := procedures.CheckPair(p, s); err != nil {
		t.Fatal(err)
	}
	plan, err := procedures.Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func openBay(t testing.TB) *bay {
	t.Helper()
	b := &bay{t: t, plan: smallPlan(t), reg: depot(), now: time.Date(2026, 3, 3, 8, 0, 0, 0, time.FixedZone("", 3600))}
	b.must(quill, job.Open{Number: 7, Vehicle: register.Vehicle{ID: "9", Name: "Tarnholt 9 (invented)", Demo: true},
		Complaint: "squeal", Odometer: "61430", Plan: b.plan})
	return b
}

func (b *bay) context(p register.Person) job.Context {
	b.now = b.now.Add(time.Minute)
	return job.Context{At: b.now, Station: "bay 2", By: p, CodeGiven: true, Register: b.reg}
}

// try decides and, when allowed, folds the new events in.
func (b *bay) try(p register.Person, want job.Intent) error {
	b.t.Helper()
	events, err := job.Decide(b.card, want, b.context(p))
	if err != nil {
		return err
	}
	var card *job.Card
	if b.card == nil {
		card, err = job.Fold(b.plan, events)
	} else {
		card, err = b.card.With(events)
	}
	if err != nil {
		b.t.Fatalf("Decide wrote what the card refuses: %v", err)
	}
	b.card = card
	return nil
}

func (b *bay) must(p register.Person, want job.Intent) {
	b.t.Helper()
	if err := b.try(p, want); err != nil {
		b.t.Fatalf("%s: %+v refused: %v", p.Name, want, err)
	}
}

// refused asserts that the intent is refused with that code and that the reasons hold the words.
func (b *bay) refused(p register.Person, want job.Intent, code job.Code, words ...string) {
	b.t.Helper()
	err := b.try(p, want)
	var r job.Refused
	if !errors.As(err, &r) {
		b.t.Fatalf("%s: %+v gave %v, want a refusal", p.Name, want, err)
	}
	found := false
	text := ""
	for _, x := range r {
		found = found || x.Code == code
		text += x.Text + " | " + x.WayOut + "\n"
		if x.Text == "" || x.WayOut == "" {
			b.t.Errorf("blocker without words or way out: %+v", x)
		}
	}
	if !found {
		b.t.Errorf("%s: %+v refused without %q:\n%s", p.Name, want, code, text)
	}
	for _, w := range words {
		if !strings.Contains(text, w) {
			b.t.Errorf("%s: %+v: the reasons do not say %q:\n%s", p.Name, want, w, text)
		}
	}
}

func ref(text string) procedures.Ref { return procedures.ParseRef(text) }

func (b *bay) enter(p register.Person, stage, check, item, value, with string) {
	b.t.Helper()
	b.must(p, job.Enter{Stage: ref(stage), Check: check, Item: item, Value: value, With: with})
}

func (b *bay) sign(p register.Person, stage string) {
	b.t.Helper()
	b.must(p, job.Sign{Stage: ref(stage)})
}

func (b *bay) toDecision(scope string) {
	b.t.Helper()
	b.enter(ninna, "reception", "seen", "", "yes", "")
	b.sign(ninna, "reception")
	b.enter(ninna, "raise", "stands", "", "2", "")
	b.sign(ninna, "raise")
	for _, side := range []string{"/left", "/right"} {
		for _, p := range []string{"inner leading", "inner trailing", "outer leading", "outer trailing"} {
			b.enter(ninna, "pads"+side, "thickness", p, "6.1", "PG1")
		}
		b.enter(ninna, "pads"+side, "pins", "", "free", "")
		b.sign(ninna, "pads"+side)
	}
	b.enter(quill, "decide", "scope", "", scope, "")
	b.sign(quill, "decide")
}

// build does one side from caliper off to the guide bolts.
func (b *bay) build(side string) {
	b.t.Helper()
	b.enter(ninna, "caliper-off/"+side, "hook", "", "yes", "")
	b.sign(ninna, "caliper-off/"+side)
	b.disc(side)
	b.bolts(side)
}

func (b *bay) disc(side string) {
	b.t.Helper()
	b.enter(ninna, "disc/"+side, "nominal", "1", "17.98", "MIC1")
	b.enter(ninna, "disc/"+side, "nominal", "2", "17.99", "MIC1")
	for i, v := range []string{"0", "0.01", "0.02", "0.03", "0.04", "0.03", "0.02", "0.01"} {
		b.enter(ninna, "disc/"+side, "run-out", string(rune('1'+i)), v, "DG1")
	}
	b.enter(ninna, "disc/"+side, "run-out", procedures.ItemReturn, "0.00", "DG1")
	b.sign(ninna, "disc/"+side)
}

func (b *bay) bolts(side string) {
	b.t.Helper()
	b.enter(ninna, "bolts/"+side, "torque", procedures.ItemNew, "2", "")
	b.enter(ninna, "bolts/"+side, "torque", "upper", "33", "W3")
	b.must(ninna, job.Enter{Stage: ref("bolts/" + side), Check: "torque", Item: "lower", With: "W3", Clicked: true})
	b.sign(ninna, "bolts/"+side)
}

// toRelease finishes everything up to the release stage.
func (b *bay) toRelease() {
	b.t.Helper()
	b.toDecision("replace")
	b.build("left")
	b.build("right")
	b.enter(tavo, "look", "marks", "", "yes", "")
	b.sign(tavo, "look")
	b.enter(ninna, "lower", "stands", "", "2", "")
	b.sign(ninna, "lower")
	b.enter(ninna, "pedal", "firm", "", "yes", "")
	b.sign(ninna, "pedal")
	b.must(tavo, job.Countersign{Stage: ref("pedal")})
	b.enter(quill, "release", "read", "", "yes", "")
}

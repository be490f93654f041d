package questions

import (
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
)

// History is everything the record says of one vehicle, over all its visits but practice.
type History struct {
	Vehicle register.Vehicle `json:"vehicle"`
	Visits  []Visit          `json:"visits"` // newest first
	Parts   []FittedPart     `json:"parts"`  // newest first
	Wear    []WearLine       `json:"wear"`
	Roller  []RollerTest     `json:"roller"` // oldest first
	Advice  []OpenAdvice     `json:"advice"` // not accepted, or without an answer
	Owed    []Owed           `json:"owed"`   // what was promised, ended ones too, newest first
	Lost    []Unjudged       `json:"lost"`   // jobs that could not be read
}

// Visit is one job in short.
type Visit struct {
	Job        uint64            `json:"job"`
	Opened     time.Time         `json:"opened"`
	Ended      time.Time         `json:"ended,omitzero"`
	Odometer   quantity.Quantity `json:"odometer"`
	Work       string            `json:"work"`
	Complaint  string            `json:"complaint"`
	Outcome    string            `json:"outcome"` // empty while it goes on
	Exceptions int               `json:"exceptions"`
}

// FittedPart is a part with whether it is still on.
type FittedPart struct {
	PartUse
	Replaced uint64 // the later job that put another one in its place; 0: still on, as far as this file knows
}

// RollerTest is one roller test of a visit.
type RollerTest struct {
	Job         uint64            `json:"job"`
	When        time.Time         `json:"when"`
	Stage       string            `json:"stage"`
	Before      bool              `json:"before"` // before the work
	Left, Right quantity.Quantity // service brake
	ParkLeft    quantity.Quantity
	ParkRight   quantity.Quantity
	Mass        quantity.Quantity
	Imbalance   string // per cent, one decimal; empty where it cannot be worked out
	Parking     string // efficiency in per cent
}

// OpenAdvice is advice the customer has not taken.
type OpenAdvice struct {
	Job uint64
	job.AdviceLine
}

// Owed is a promise with where it stands.
type Owed struct {
	Job   uint64
	State job.FollowUpState
	job.Promise
}

// HistoryOf puts together the history of a vehicle from its jobs, oldest first.
func HistoryOf(v register.Vehicle, cs []*job.Card, now time.Time) History {
	h := History{Vehicle: v}
	cs = slices.DeleteFunc(slices.Clone(cs), func(c *job.Card) bool { return c.Opened.Practice })
	var uses []PartUse
	for _, c := range cs {
		uses = append(uses, PartsOf(c)...)
		h.visit(c)
		h.rollers(c)
		for _, a := range c.Advice {
			if a.Decided == nil || a.Decided.Answer != "accepted" {
				h.Advice = append(h.Advice, OpenAdvice{c.Number(), a})
			}
		}
		odometer := c.Odometer()
		if last, ok := v.LastOdometer(); ok {
			odometer = last.Value
		}
		for _, p := range c.Promises() {
			h.Owed = append(h.Owed, Owed{c.Number(), p.State(now, odometer), p})
		}
	}
	for i, u := range uses {
		f := FittedPart{PartUse: u}
		for _, x := range uses[i+1:] {
			if f.Replaced == 0 && x.Place() == u.Place() && x.Job != u.Job {
				f.Replaced = x.Job
			}
		}
		h.Parts = append(h.Parts, f)
	}
	h.Wear = WearLines(cs)
	slices.Reverse(h.Visits)
	slices.Reverse(h.Parts)
	slices.Reverse(h.Owed)
	return h
}

func (h *History) visit(c *job.Card) {
	v := Visit{Job: c.Number(), Opened: c.OpenedAt, Odometer: c.Odometer(), Work: c.Opened.Procedure.Title, Complaint: c.Opened.Complaint,
		Outcome: c.Outcome(), Exceptions: len(c.Exceptions())}
	if v.Outcome != "" {
		v.Ended = ended(c)
	}
	h.Visits = append(h.Visits, v)
}

func (h *History) rollers(c *job.Card) {
	first := true
	for i := range c.Stages {
		s := &c.Stages[i]
		v, seq := rollerValues(s)
		if seq == 0 {
			continue
		}
		t := RollerTest{Job: c.Number(), When: eventAt(c, seq), Stage: job.Title(s.Node), Before: first, Left: v[0], Right: v[1], ParkLeft: v[2], ParkRight: v[3], Mass: v[4]}
		if r, err := brakes.Imbalance(v[0], v[1]); err == nil {
			t.Imbalance = r.FloatString(1)
		}
		if r, err := brakes.Efficiency([]quantity.Quantity{v[2], v[3]}, v[4]); err == nil {
			t.Parking = r.FloatString(1)
		}
		h.Roller = append(h.Roller, t)
		first = false
	}
}

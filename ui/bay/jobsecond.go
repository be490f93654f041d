package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// Names of the dialogs of a second person's check.
const (
	checkerName = "checker"
	checkName   = "own wrench"
)

// countersign asks for the second person: who, where it is owed the check with the own wrench, and
// the code.
func (s *jobScreen) countersign(e *Env) Action {
	st := s.stage()
	people := s.others(e)
	if len(people) == 0 {
		return Say{Text: "Nobody on the register may look here: a mechanic or the foreman without a hand in it", Role: draw.Warn}
	}
	text := []line{{text: fmt.Sprintf("Look at the work itself, then sign: %s, done by %s.", job.Title(st.Node), doers(st.Current()))},
		{role: draw.Faint, text: "The one who works stays signed in."}}
	if q := st.Node.Stage.Question; q != "" && len(st.Current().Questions) == 0 && slices.ContainsFunc(st.Current().Doers(), func(w job.Who) bool { return w.Role == procedures.Apprentice }) {
		text = append(text, line{role: draw.Title, text: "Ask aloud first (M 3 1): " + q, indent: 2})
	}
	if s.pulls(people) == 0 {
		return Ask{Name: secondName, Dialog: newWho("Countersign: "+job.Title(st.Node), text, people, s.countersigning(nil))}
	}
	var opts []option
	for _, p := range people {
		opts = append(opts, option{text: p.Name + ", " + string(p.Role)})
	}
	s.checkers = people
	text[0].text += " The second person puts the own wrench on every fastener first."
	return Ask{Name: checkerName, Dialog: newChooser("Countersign: who looks?", text, opts)}
}

// pulls is the most fasteners one of these people still has to check.
func (s *jobScreen) pulls(people []register.Person) int {
	n := 0
	for _, p := range people {
		n = max(n, len(s.card.Unchecked(s.at, p.ID)))
	}
	return n
}

// others lists the qualified people without a hand in the present attempt.
func (s *jobScreen) others(e *Env) []register.Person {
	did := s.stage().Current().Doers()
	var out []register.Person
	for _, p := range working(e.Register, "") {
		if p.Qualified() && !slices.ContainsFunc(did, func(w job.Who) bool { return w.ID == p.ID }) {
			out = append(out, p)
		}
	}
	return out
}

// countersigning records the checks and then the signature.
func (s *jobScreen) countersigning(checks []job.Recheck) func(*store.File, store.Actor) (any, error) {
	n, at := s.number, s.at
	return func(f *store.File, who store.Actor) (any, error) {
		for _, want := range checks {
			if c, ev, err := f.Do(n, who, want); err != nil {
				return recorded{c, ev}, err
			}
		}
		c, ev, err := f.Do(n, who, job.Countersign{Stage: at})
		return recorded{c, ev}, err
	}
}

// checkerChosen asks for what the wrench of the second person says.
func (s *jobScreen) checkerChosen(e *Env, i int) Action {
	p := s.checkers[i]
	s.checkers = []register.Person{p}
	owed := s.card.Unchecked(s.at, p.ID)
	if len(owed) == 0 {
		return s.checkerSigns(p, nil)
	}
	pc := s.stage().Node.Check(owed[0].Check)
	var ids, names []string
	for _, in := range e.Register.Instruments {
		if unfit(e, pc, in) == "" {
			ids = append(ids, in.ID)
		}
	}
	for _, o := range owed {
		names = append(names, o.Item)
	}
	return Ask{Name: checkName, Dialog: newForm("The own wrench of "+p.Name, []line{{text: fmt.Sprintf("%d fasteners: %s. Window %s.", len(owed), strings.Join(names, ", "), e.decimals(windowWords(pc.Window.Window)))}}, []formField{
		{label: "wrench", hint: "one of " + strings.Join(ids, ", "), check: func(text string) error {
			if !slices.Contains(ids, text) {
				return fmt.Errorf("%q cannot check here; expected one of %s", text, strings.Join(ids, ", "))
			}
			return nil
		}},
		{label: "set to or read", hint: "in " + string(pc.Window.Window.Unit())},
		{label: "which one turned", optional: true, hint: "fasteners that turned before the value was reached, with commas between; empty: none", check: func(text string) error {
			for name := range strings.SplitSeq(text, ",") {
				if !slices.Contains(names, strings.TrimSpace(name)) {
					return fmt.Errorf("%q is none of the fasteners; expected one of %s", strings.TrimSpace(name), strings.Join(names, ", "))
				}
			}
			return nil
		}},
	})}
}

// checked goes on to the code with the checks that were told.
func (s *jobScreen) checked(_ *Env, v []string) Action {
	p := s.checkers[0]
	var checks []job.Recheck
	seen := map[string]bool{}
	for name := range strings.SplitSeq(v[2], ",") {
		for _, o := range s.card.Unchecked(s.at, p.ID) {
			if o.Item == strings.TrimSpace(name) {
				checks = append(checks, job.Recheck{Stage: s.at, Check: o.Check, Item: o.Item, Value: v[1], With: v[0], Moved: true})
				seen[o.Check+"/"+o.Item] = true
			}
		}
	}
	for _, o := range s.card.Unchecked(s.at, p.ID) {
		if !seen[o.Check+"/"+o.Item] {
			checks = append(checks, job.Recheck{Stage: s.at, Check: o.Check, Item: o.Item, Value: v[1], With: v[0]})
		}
	}
	return s.checkerSigns(p, checks)
}

// checkerSigns asks the second person for the code.
func (s *jobScreen) checkerSigns(p register.Person, checks []job.Recheck) Action {
	text := []line{{text: fmt.Sprintf("%s countersigns %s, done by %s.", p.Name, s.title(s.at), doers(s.stage().Current()))}}
	if len(checks) > 0 {
		text = append(text, line{text: fmt.Sprintf("%d fasteners checked with %s at %s.", len(checks), checks[0].With, checks[0].Value)})
	}
	return Ask{Name: secondName, Dialog: newCode("Countersign: "+s.title(s.at), text, p, s.countersigning(checks))}
}

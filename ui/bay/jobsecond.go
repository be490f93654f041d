package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// Names of the dialogs of a second person's check.
const (
	checkerName = "checker"
	checkName   = "own-wrench"
)

// countersign asks for the second person: who, where it is owed the check with the own wrench, and
// the code.
func (s *jobScreen) countersign(e *Env) Action {
	st := s.stage()
	people := s.others(e)
	if len(people) == 0 {
		return Say{Text: phrase.Of("bay.jobsecond.nobody-on-the-register-may-look-here"), Role: draw.Warn}
	}
	text := []line{{text: phrase.Of("bay.jobsecond.look-at-the-work-itself-then-sign", job.Title(st.Node), doers(st.Current()))},
		{role: draw.Faint, text: phrase.Of("bay.jobsecond.the-one-who-works-stays-signed-in")}}
	if q := st.Node.Stage.Question; q != "" && len(st.Current().Questions) == 0 && slices.ContainsFunc(st.Current().Doers(), func(w job.Who) bool { return w.Role == procedures.Apprentice }) {
		text = append(text, line{role: draw.Title, text: phrase.Of("bay.jobsecond.ask-aloud-first-m-3-1", q), indent: 2})
	}
	if s.pulls(people) == 0 {
		return Ask{Name: secondName, Dialog: newWho(phrase.Of("bay.jobsecond.countersign", job.Title(st.Node)), text, people, s.countersigning(nil))}
	}
	var opts []option
	for _, p := range people {
		opts = append(opts, option{text: p.Name + ", " + phrase.Word(p.Role)})
	}
	s.checkers = people
	text[0].text += phrase.Of("bay.jobsecond.the-second-person-puts-the-own-wrench")
	return Ask{Name: checkerName, Dialog: newChooser(phrase.Of("bay.jobsecond.countersign-who-looks"), text, opts)}
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
	s.checkers, s.rechecks = []register.Person{s.checkers[i]}, nil
	return s.checkNext(e)
}

// owedPulls are the fasteners of the next torque check the second person has said nothing of yet.
func (s *jobScreen) owedPulls(p register.Person) []job.Pull {
	var out []job.Pull
	for _, o := range s.card.Unchecked(s.at, p.ID) {
		told := slices.ContainsFunc(s.rechecks, func(r job.Recheck) bool { return r.Check == o.Check })
		if !told && (len(out) == 0 || out[0].Check == o.Check) {
			out = append(out, o)
		}
	}
	return out
}

// checkNext asks for one torque check after the other, each with its own window, then for the code.
func (s *jobScreen) checkNext(e *Env) Action {
	p := s.checkers[0]
	owed := s.owedPulls(p)
	if len(owed) == 0 {
		return s.checkerSigns(p, s.rechecks)
	}
	pc := s.stage().Node.Check(owed[0].Check)
	var ids, names []string
	for _, in := range e.Register.Instruments {
		if unfit(e, pc, in, nil) == "" {
			ids = append(ids, in.ID)
		}
	}
	for _, o := range owed {
		names = append(names, o.Item)
	}
	return Ask{Name: checkName, Dialog: newForm(phrase.Of("bay.jobsecond.the-own-wrench-of", p.Name), []line{{text: phrase.Of("bay.jobsecond.window", pc.Title, phrase.Count("count.fastener", len(owed)), strings.Join(names, ", "), e.decimals(windowWords(pc.Window.Window)))}}, []formField{
		{label: phrase.Of("bay.jobsecond.wrench"), hint: phrase.Of("bay.jobsecond.one-of", strings.Join(ids, ", ")), check: func(text string) error {
			if !slices.Contains(ids, text) {
				return phrase.Error("bay.jobsecond.cannot-check-here-expected-one-of", text, strings.Join(ids, ", "))
			}
			return nil
		}},
		{label: phrase.Of("bay.jobsecond.set-to-or-read"), hint: "in " + string(pc.Window.Window.Unit())},
		{label: phrase.Of("bay.jobsecond.which-one-turned"), optional: true, hint: phrase.Of("bay.jobsecond.fasteners-that-turned-before-the-value-was"), check: func(text string) error {
			for name := range strings.SplitSeq(text, ",") {
				if !slices.Contains(names, strings.TrimSpace(name)) {
					return phrase.Error("bay.jobsecond.is-none-of-the-fasteners-expected-one", strings.TrimSpace(name), strings.Join(names, ", "))
				}
			}
			return nil
		}},
	})}
}

// checked keeps what was told of one torque check and goes on. Those that turned come first.
func (s *jobScreen) checked(e *Env, v []string) Action {
	var turned []string
	for name := range strings.SplitSeq(v[2], ",") {
		turned = append(turned, strings.TrimSpace(name))
	}
	owed := s.owedPulls(s.checkers[0])
	for _, moved := range []bool{true, false} {
		for _, o := range owed {
			if slices.Contains(turned, o.Item) == moved {
				s.rechecks = append(s.rechecks, job.Recheck{Stage: s.at, Check: o.Check, Item: o.Item, Value: v[1], With: v[0], Moved: moved})
			}
		}
	}
	return s.checkNext(e)
}

// checkerSigns asks the second person for the code.
func (s *jobScreen) checkerSigns(p register.Person, checks []job.Recheck) Action {
	text := []line{{text: phrase.Of("bay.jobsecond.countersigns-done-by", p.Name, s.title(s.at), doers(s.stage().Current()))}}
	for i, k := range checks {
		if i == 0 || checks[i-1].Check != k.Check {
			n := 0
			for _, x := range checks {
				if x.Check == k.Check {
					n++
				}
			}
			text = append(text, line{text: phrase.Of("bay.jobsecond.checked-with-at", phrase.Count("count.fastener", n), k.With, k.Value)})
		}
	}
	return Ask{Name: secondName, Dialog: newCode(phrase.Of("bay.jobsecond.countersign", s.title(s.at)), text, p, s.countersigning(checks))}
}

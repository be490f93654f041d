package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// Names of the dialogs of signing.
const (
	signName   = "sign"
	secondName = "countersign"
	againName  = "again"
	wordsName  = "again-own-words"
	kindName   = "kind-of-stop"
	pauseName  = "pause"
	resumeName = "resume"
	stageName  = "stage"
)

// answer takes what a dialog ended with.
func (s *jobScreen) answer(e *Env, a Answer) Action {
	switch a.Name {
	case handOverName:
		s.want = nil
		return handedOver(a)
	case thenName:
		if s.goOn != nil {
			return s.goOn(e, a.Value)
		}
	case stageName:
		if r, ok := a.Value.(procedures.Ref); ok {
			s.goStage(r)
		}
		return nil
	case toolName:
		return s.toolChosen(e, a.Value.(string))
	case adapterName:
		return s.adapterTyped(e, a.Value.([]string))
	case reasonName:
		n := a.Value.(int)
		if n == len(slipReasons) {
			return Ask{Name: ownName, Dialog: newWords(phrase.Of("bay.jobenter.why-is-it-corrected"), nil, phrase.Of("bay.jobsign.type-the-reason-in-a-few-words"))}
		}
		return s.reasoned(e, slipReasons[n])
	case ownName:
		return s.reasoned(e, a.Value.(string))
	case doubtName:
		return s.doubted(e, a.Value.(int))
	case allClickName:
		if it, ok := s.current(); ok && s.want != nil {
			return s.prepare(e, it, *s.want)
		}
	case againName:
		return s.againChosen(e, a.Value.(int))
	case wordsName:
		return s.do(e, job.Again{Stage: s.at, Reason: a.Value.(string)})
	case kindName:
		s.stopKind = job.StopKinds()[a.Value.(int)]
		return Ask{Name: pauseName, Dialog: newForm(phrase.Of("bay.jobsign.stop", phrase.Word(s.stopKind)), s.stopLines(), stopFields(s.stopKind))}
	case pauseName:
		return s.do(e, stopped(s.stopKind, a.Value.([]string)))
	case resumeName:
		return s.do(e, job.Resume{Read: s.card.ReadBack()})
	case isTextName:
		return s.commit(e, strings.TrimSpace(s.field.text), job.SourceTyped)
	case checkerName:
		return s.checkerChosen(e, a.Value.(int))
	case checkName:
		return s.checked(e, a.Value.([]string))
	case signName, secondName, slipName, vouchName:
		return s.vouchedFor(e, a)
	}
	return nil
}

// vouchedFor takes what was done with a code.
func (s *jobScreen) vouchedFor(e *Env, a Answer) Action {
	v, _ := a.Value.(vouched)
	r, ok := v.Value.(recorded)
	if !ok {
		return Say{Text: phrase.Of("bay.jobsign.not-signed", fmt.Sprint(a.Err)), Role: draw.Bad}
	}
	return s.result(e, Result{Name: a.Name, Value: r, Err: a.Err})
}

// do asks the store for something that takes no code.
func (s *jobScreen) do(e *Env, want job.Intent) Action {
	n, who := s.number, e.Actor()
	return Call{Name: "do", Do: func(f *store.File) (any, error) {
		c, ev, err := f.Do(n, who, want)
		return recorded{c, ev}, err
	}}
}

func (s *jobScreen) reasoned(e *Env, reason string) Action {
	it, ok := s.current()
	if !ok || s.want == nil {
		return nil
	}
	want := *s.want
	want.Reason = reason
	return s.prepare(e, it, want)
}

// doubted goes on after the question about a value outside. That it is real is recorded, so that it
// cannot pass for a slip of the keys later.
func (s *jobScreen) doubted(e *Env, n int) Action {
	if n == 0 {
		s.leaveField()
		s.reason = job.ReasonSlip
		return Say{Text: phrase.Of("bay.jobsign.type-the-value-again-the-one-before"), Role: draw.Warn}
	}
	it, ok := s.current()
	if !ok {
		return nil
	}
	return s.do(e, job.CallReal{Stage: s.at, Check: it.check.ID, Item: it.name})
}

// sign shows what blocks, or asks for the code.
func (s *jobScreen) sign(e *Env) Action {
	if len(s.card.Blockers(s.at, e.Context())) > 0 {
		return Ask{Name: "blocks", Dialog: s.blocksPane(e)}
	}
	if act := s.readFirst(e); act != nil {
		return act
	}
	st := s.stage()
	return Ask{Name: signName, Dialog: newCode(phrase.Of("bay.jobsign.sign", job.Title(st.Node)), s.whatIsSigned(e), e.Person, s.doing(job.Sign{Stage: s.at}))}
}

// whatIsSigned says in words what the signature stands for.
func (s *jobScreen) whatIsSigned(e *Env) []line {
	st := s.stage()
	in, of, judged := 0, 0, 0
	var tools []string
	for _, it := range s.items() {
		of++
		if it.entry == nil {
			continue
		}
		in++
		if it.entry.Window != nil {
			judged++
		}
		if x := it.entry.Instrument; x != nil && !strings.Contains(strings.Join(tools, ", "), x.ID) {
			tools = append(tools, x.ID)
		}
	}
	text := phrase.Of("bay.jobsign.signs-of-values", e.Person.Name, job.Title(st.Node), in, of)
	switch judged {
	case 0:
		text += phrase.Of("bay.jobsign.no-window-judges-any-of-them")
	case in:
		text += phrase.Of("bay.jobsign.none-outside")
	default:
		text += phrase.Of("bay.jobsign.have-a-window-none-outside", judged)
	}
	if len(tools) > 0 {
		text += phrase.Of("bay.jobsign.instruments", strings.Join(tools, ", "))
	}
	out := append([]line{{text: text}}, s.decidedLines()...)
	for _, cl := range st.Node.Clears {
		out = append(out, line{role: draw.Good, text: phrase.Of("bay.jobsign.puts-back", s.stateTitle(cl.State))})
	}
	if job.SecondOwedBy(st.Node, e.Person) {
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.jobsign.a-second-person-has-to-look-and")})
	}
	if st.Node.Stage.Act == procedures.Release {
		out = append(out, line{role: draw.Title, text: phrase.Of("bay.jobsign.with-this-signature-the-vehicle-leaves", phrase.Word(s.leavesAs()))})
	}
	return out
}

func (s *jobScreen) stateTitle(r procedures.StateRef) string {
	t := r.State
	if st := s.card.Plan.Procedure.State(r.State); st != nil {
		t = st.Title
	}
	if r.Side != procedures.NoSide {
		t += ", " + phrase.Word(r.Side)
	}
	return t
}

// signed goes on after a signature.
func (s *jobScreen) signed(b job.Signed) Action {
	if st := s.card.Stage(b.Stage); st.Status == job.SecondOwed {
		return Say{Text: phrase.Of("bay.jobsign.signed-a-second-person-has-to-look"), Role: draw.Warn}
	}
	was := s.card.Stage(b.Stage).Node
	s.goStage(s.present())
	return Say{Text: phrase.Of("bay.jobsign.signed", job.Title(was)), Role: draw.Good}
}

func doers(a *job.Attempt) string {
	var names []string
	for _, w := range a.Doers() {
		names = append(names, w.Name)
	}
	return strings.Join(names, phrase.Of("bay.jobsign.and"))
}

// again asks which way out is taken.
func (s *jobScreen) again(*Env) Action {
	st := s.stage()
	var opts []option
	for _, rw := range st.Node.Stage.Reworks {
		var titles []string
		for _, id := range rw.Again {
			if x := s.card.Plan.Procedure.Stage(id); x != nil {
				titles = append(titles, x.Title)
			}
		}
		opts = append(opts, option{text: rw.Title, note: phrase.Of("bay.jobsign.done-again", strings.Join(titles, ", "))})
	}
	opts = append(opts, option{text: phrase.Of("bay.jobsign.only-this-stage-again-in-own-words")})
	return Ask{Name: againName, Dialog: newChooser(phrase.Of("bay.jobsign.a-new-attempt"), []line{{text: phrase.Of("bay.jobsign.what-was-entered-so-far-is-kept")}}, opts)}
}

func (s *jobScreen) againChosen(e *Env, n int) Action {
	rw := s.stage().Node.Stage.Reworks
	if n < len(rw) {
		return s.do(e, job.Again{Stage: s.at, Rework: rw[n].ID})
	}
	return Ask{Name: wordsName, Dialog: newWords(phrase.Of("bay.jobsign.why-is-it-done-again"), []line{{text: job.Title(s.stage().Node)}}, phrase.Of("bay.jobsign.type-in-a-few-words-why-it"))}
}

// broken is the torque pass that was broken off and has to start again, on the stage shown.
func (s *jobScreen) broken() *job.Broken {
	return s.brokenAt
}

// interrupted lists the passes that were begun before this start of the program or by somebody
// else, and not finished.
func (s *jobScreen) interrupted(e *Env) []job.Broken {
	if s.card == nil || s.card.Paused != nil {
		return nil
	}
	var out []job.Broken
	for _, b := range s.card.HalfDone() {
		x := s.card.Stage(b.Stage).Current().Entry(b.Check, b.Last)
		if x != nil && (x.At.Before(e.Started) || x.By.ID != e.Person.ID) {
			out = append(out, b)
		}
	}
	return out
}

// restartPass records that the pass was broken off.
func (s *jobScreen) restartPass(e *Env) Action {
	b := s.broken()
	return s.do(e, job.Interrupted{Stage: b.Stage, Check: b.Check})
}

// brokenWords says what was broken off and where it starts again.
func (s *jobScreen) brokenWords(b *job.Broken) string {
	pc := s.stage().Node.Check(b.Check)
	n, of, first := 0, 0, ""
	for _, name := range pc.Items {
		if name == procedures.ItemNew {
			continue
		}
		of++
		if first == "" {
			first = name
		}
		if name == b.Last {
			n = of
		}
	}
	return phrase.Of("bay.jobsign.interrupted-after-of-the-pass-starts-again", b.Last, n, of, first)
}

package job

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// decidePeople decides what happens when the job does not go straight.
func (c *Card) decidePeople(want Intent, ctx Context) ([]Body, error) {
	switch w := want.(type) {
	case Deviate:
		return c.decideDeviate(w, ctx)
	case Withhold:
		return c.decideWithhold(w, ctx)
	case Lift:
		return c.decideLift(w, ctx)
	case Abandon:
		return c.decideAbandon(w, ctx)
	case Declare:
		return c.decideDeclare(w, ctx)
	case Cancel:
		return c.decideCancel(w, ctx)
	case SignSafe:
		return c.decideSafe(ctx)
	case SwapSides:
		return c.decideSwap(w, ctx)
	case Recheck:
		return c.decideRecheck(w, ctx)
	case Ask:
		return c.decideAsk(w, ctx)
	case NotSure:
		return c.decideNotSure(w)
	case Help:
		return c.decideHelp(w, ctx)
	case CallReal:
		return c.decideReal(w)
	case MeasureBlind:
		return c.decideBlind(w, ctx)
	}
	return c.decideWords(want, ctx)
}

// decideWords decides what is said rather than done.
func (c *Card) decideWords(want Intent, ctx Context) ([]Body, error) {
	switch w := want.(type) {
	case Advise:
		return c.decideAdvise(w)
	case DecideAdvice:
		return c.decideAdviceAnswer(w, ctx)
	case Append:
		if c.Released == nil {
			return nil, refuse(CodeReleased, procedures.Ref{}, phrase.Of("job.decidepeople.an-addendum-is-for-after-the-release"), phrase.Of("job.decidepeople.correct-the-entry-or-begin-a-new"))
		}
		if out := words(procedures.Ref{}, w.Text, phrase.Of("job.decidepeople.an-addendum-needs-words")); len(out) > 0 {
			return nil, out
		}
		return []Body{Addendum{strings.TrimSpace(w.Text)}}, nil
	case Follow:
		return c.decideFollow(w, ctx)
	case AnswerQuestion:
		return c.decideAnswer(w, ctx)
	case ChangeTrait:
		return c.decideTrait(w, ctx)
	case AdoptSheet:
		return c.decideAdopt(w, ctx)
	case FindFault:
		if !c.Opened.Practice {
			return nil, refuse(CodeUnknown, procedures.Ref{}, phrase.Of("job.decidepeople.this-is-no-practice-job-a-fault"), phrase.Of("job.decidepeople.record-it-at-its-stage"))
		}
		if out := words(procedures.Ref{}, w.Fault, phrase.Of("job.decidepeople.say-what-is-wrong")); len(out) > 0 {
			return nil, out
		}
		return []Body{Found{strings.TrimSpace(w.Fault)}}, nil
	}
	return nil, phrase.Error("job.decidepeople.unknown-intent", want)
}

func (c *Card) decideSwap(w SwapSides, ctx Context) ([]Body, error) {
	var out Refused
	at := procedures.Ref{Stage: w.Stage}
	values := 0
	for _, side := range []procedures.Side{procedures.Left, procedures.Right} {
		s := c.Stage(procedures.Ref{Stage: w.Stage, Side: side})
		if s == nil || s.Node.Check(w.Check) == nil {
			return nil, refuse(CodeUnknown, at, phrase.Of("job.decidepeople.has-no-check-on-both-sides", w.Stage, w.Check), phrase.Of("job.decidepeople.choose-a-check-done-left-and-right"))
		}
		out = append(out, c.mayWork(s, ctx)...)
		if a := s.Current(); a != nil && a.Signed == nil && !a.stale {
			for _, e := range a.Entries {
				if e.Check == w.Check && e.Counts() {
					values++
				}
			}
		} else if a == nil || a.stale {
			out = append(out, Blocker{Code: CodeMissing, Stage: s.Node.Ref, Text: phrase.Of("job.decidepeople.has-no-attempt-to-exchange-with", c.title(s.Node.Ref)), WayOut: phrase.Of("job.decidepeople.enter-the-values-on-their-side")})
		}
	}
	if values == 0 && len(out) == 0 {
		out = append(out, Blocker{Code: CodeMissing, Stage: at, Text: phrase.Of("job.decidepeople.there-are-no-values-to-exchange"), WayOut: phrase.Of("job.decidepeople.enter-them")})
	}
	out = append(out, words(at, w.Reason, phrase.Of("job.decidepeople.an-exchange-of-sides-needs-a-reason"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Swapped{w.Stage, w.Check, strings.TrimSpace(w.Reason)}}, nil
}

// decideRecheck records a second person's tool on a fastener. The value must be inside the window;
// whether the fastener moved is what the check is for.
func (c *Card) decideRecheck(w Recheck, ctx Context) ([]Body, error) {
	s := c.Stage(w.Stage)
	if s == nil {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decide.this-vehicle-has-no-stage", w.Stage), phrase.Of("job.decide.choose-a-stage-from-the-list"))
	}
	pc := s.Node.Check(w.Check)
	if pc == nil || pc.Kind != procedures.Torque || (!w.All && (!slices.Contains(pc.Items, w.Item) || w.Item == procedures.ItemNew)) {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decidepeople.has-no-fastener-at", c.title(w.Stage), w.Item, w.Check), phrase.Of("job.decidepeople.choose-one-of-its-fasteners"))
	}
	if s.Status != SecondOwed {
		return nil, refuse(CodeNotSigned, w.Stage, phrase.Of("job.decidepeople.is-a-check-comes-between-the-doers", c.title(w.Stage), s.Status), phrase.Of("job.decidepeople.the-doer-signs-first"))
	}
	for _, d := range s.Current().Doers() {
		if d.ID == ctx.By.ID {
			return nil, refuse(CodeSamePerson, w.Stage, phrase.Of("job.decidepeople.did-himself-and-cannot-check-himself", d.Name, c.title(w.Stage)), phrase.Of("job.decidepeople.another-mechanic-or-the-foreman-puts-his"))
		}
	}
	if !ctx.By.Qualified() {
		return nil, refuse(CodeRole, w.Stage, phrase.Of("job.decidepeople.is-a-mechanic-or-the-foreman-checks", nameOf(ctx.By.Name), roleWords(ctx)), phrase.Of("job.decidepeople.fetch-one-of-them"))
	}
	a := &asking{card: c, stage: s, check: pc, ctx: ctx, intent: Enter{Stage: w.Stage, Check: w.Check, Item: w.Item, Value: w.Value, With: w.With}}
	if err := a.reading(); err != nil {
		return nil, err
	}
	if in := a.entry.Instrument; in.Wrench() {
		a.intent.Adapter = s.Current().adapterOf(w.Check) // the check goes through the same adapter
		if err := a.proof(); err != nil {
			return nil, err
		}
	}
	if a.entry.Verdict == quantity.Outside {
		return nil, a.refuse(CodeOutside, phrase.Of("job.decidepeople.check-at-the-figure-of-the-sheet"), "%s", phrase.Of("job.decidepeople.is-outside-a-check-is-made-at", a.entry.Value, pc.Window.Window))
	}
	items := []string{w.Item}
	if w.All {
		items = nil
		for _, p := range c.unchecked(s, ctx.By.ID) {
			if p.Check == w.Check {
				items = append(items, p.Item)
			}
		}
	}
	var bodies []Body
	for _, item := range items {
		bodies = append(bodies, Checked{Stage: w.Stage, Attempt: s.Current().No, Check: w.Check, Item: item, Raw: w.Value,
			Value: a.entry.Value, Instrument: a.entry.Instrument, Moved: w.Moved, AllAtOnce: w.All})
	}
	if len(bodies) == 0 {
		return nil, refuse(CodeFilled, w.Stage, phrase.Of("job.decidepeople.every-fastener-has-been-checked"), "countersign")
	}
	return bodies, nil
}

func (c *Card) decideAsk(w Ask, ctx Context) ([]Body, error) {
	s := c.Stage(w.Stage)
	if s == nil {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decide.this-vehicle-has-no-stage", w.Stage), phrase.Of("job.decide.choose-a-stage-from-the-list"))
	}
	var out Refused
	p, ok := ctx.Register.Person(w.Whom)
	switch {
	case !ok:
		out = append(out, Blocker{Code: CodeUnknown, Stage: w.Stage, Text: phrase.Of("job.decidepeople.is-nobody-on-the-register", w.Whom), WayOut: phrase.Of("job.decidepeople.name-who-was-asked")})
	case p.ID == ctx.By.ID:
		out = append(out, Blocker{Code: CodeSamePerson, Stage: w.Stage, Text: phrase.Of("job.decidepeople.nobody-asks-himself"), WayOut: phrase.Of("job.decidepeople.the-supervisor-asks")})
	}
	if !slices.Contains([]string{AskedKnew, AskedHelp, AskedExplained}, w.Result) {
		out = append(out, Blocker{Code: CodeValue, Stage: w.Stage, Text: phrase.Of("job.decidepeople.is-no-result-expected-knew-with-help", w.Result), WayOut: phrase.Of("job.decidepeople.choose-one-of-them")})
	}
	if s.Node.Stage.Question == "" {
		out = append(out, Blocker{Code: CodeUnknown, Stage: w.Stage, Text: phrase.Of("job.decidepeople.has-no-question-to-ask", c.title(w.Stage)), WayOut: phrase.Of("job.decidepeople.go-on")})
	}
	if !ctx.By.Qualified() {
		out = append(out, Blocker{Code: CodeRole, Stage: w.Stage, Text: phrase.Of("job.decidepeople.a-mechanic-or-the-foreman-asks"), WayOut: phrase.Of("job.decidepeople.fetch-one-of-them")})
	}
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Asked{w.Stage, Who{p.ID, p.Name, p.Role}, w.Result}}, nil
}

func (c *Card) decideNotSure(w NotSure) ([]Body, error) {
	s := c.Stage(w.Stage)
	if s == nil || s.Status == LeftOut || s.Status == Complete || c.Released != nil {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decidepeople.there-is-nothing-open-at-that-stage"), phrase.Of("job.decidepeople.choose-the-stage-you-are-at"))
	}
	if err := plainText(w.Note); err != nil {
		return nil, refuse(CodeValue, w.Stage, err.Error(), phrase.Of("job.decidepeople.type-it-again"))
	}
	return []Body{Unsure{w.Stage, strings.TrimSpace(w.Note)}}, nil
}

func (c *Card) decideHelp(w Help, ctx Context) ([]Body, error) {
	s := c.Stage(w.Stage)
	if s == nil || s.Current() == nil || s.Current().Unsure == nil {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decidepeople.nobody-asked-for-help-at-that-stage"), phrase.Of("job.decidepeople.go-on"))
	}
	var out Refused
	if !ctx.By.Qualified() || s.Current().Unsure.By.ID == ctx.By.ID {
		out = append(out, Blocker{Code: CodeRole, Stage: w.Stage, Text: phrase.Of("job.decidepeople.another-mechanic-or-the-foreman-answers"), WayOut: phrase.Of("job.decidepeople.fetch-one-of-them")})
	}
	out = append(out, words(w.Stage, w.Note, phrase.Of("job.decidepeople.say-what-was-made-clear"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Helped{w.Stage, strings.TrimSpace(w.Note)}}, nil
}

func (c *Card) decideBlind(w MeasureBlind, ctx Context) ([]Body, error) {
	s := c.Stage(w.Stage)
	if s == nil || s.Node.Check(w.Check) == nil || !slices.Contains(s.Node.Check(w.Check).Items, w.Item) {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decidepeople.there-is-no-such-measurement"), phrase.Of("job.decidepeople.choose-a-check-and-a-point-of"))
	}
	pc := s.Node.Check(w.Check)
	first := s.Current().Entry(w.Check, w.Item)
	switch {
	case pc.Kind != procedures.Thickness && pc.Kind != procedures.RunOut && pc.Kind != procedures.Reading:
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decidepeople.is-not-measured", pc.Title), phrase.Of("job.decidepeople.choose-a-measurement"))
	case first == nil:
		return nil, refuse(CodeMissing, w.Stage, phrase.Of("job.decidepeople.the-first-measurement-has-not-been-made"), phrase.Of("job.decidepeople.measure-first"))
	case first.By.ID == ctx.By.ID:
		return nil, refuse(CodeSamePerson, w.Stage, phrase.Of("job.decidepeople.the-second-measurement-is-for-somebody-else"), phrase.Of("job.decidepeople.hand-the-gauge-over"))
	}
	a := &asking{card: c, stage: s, check: pc, ctx: ctx, intent: Enter{Stage: w.Stage, Check: w.Check, Item: w.Item, Value: w.Value, With: w.With}}
	if err := a.reading(); err != nil {
		return nil, err
	}
	return []Body{Blind{w.Stage, w.Check, w.Item, w.Value, a.entry.Value, a.entry.Instrument}}, nil
}

// Agreement is the difference of a blind second measurement from the first, and whether the two
// instruments' errors together explain it.
func (c *Card) Agreement(b BlindValue) (difference quantity.Quantity, agree bool) {
	s := c.Stage(b.Stage)
	if s == nil {
		return difference, false
	}
	first := s.Current().Entry(b.Check, b.Item)
	if first == nil {
		return difference, false
	}
	d, err := first.Value.Sub(b.Value)
	if err != nil {
		return difference, false
	}
	difference = abs(d)
	if first.Instrument == nil || b.Instrument == nil {
		return difference, difference.Rat().Sign() == 0
	}
	both, err := first.Instrument.Uncertainty(first.Value).Add(b.Instrument.Uncertainty(b.Value))
	if err != nil {
		return difference, false
	}
	cmp, err := difference.Cmp(both)
	return difference, err == nil && cmp <= 0
}

func (c *Card) decideAdvise(w Advise) ([]Body, error) {
	out := words(procedures.Ref{}, w.Text, phrase.Of("job.decidepeople.advice-needs-words"))
	if !slices.Contains(Urgencies(), w.Urgency) {
		out = append(out, Blocker{Code: CodeValue, Text: phrase.Of("job.decidepeople.is-no-urgency-expected-one-of", w.Urgency, strings.Join(phrase.Words(Urgencies()), ", ")), WayOut: phrase.Of("job.decide.choose-one-by-its-number")})
	}
	if c.Released != nil {
		out = append(out, Blocker{Code: CodeReleased, Text: phrase.Of("job.adopt.the-vehicle-has-been-released"), WayOut: phrase.Of("job.decidepeople.add-an-addendum")})
	}
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Advised{strings.TrimSpace(w.Text), w.Urgency}}, nil
}

func (c *Card) decideAdviceAnswer(w DecideAdvice, ctx Context) ([]Body, error) {
	var out Refused
	i := slices.IndexFunc(c.Advice, func(a AdviceLine) bool { return a.Seq == w.Advice })
	switch {
	case i < 0:
		out = append(out, Blocker{Code: CodeUnknown, Text: phrase.Of("job.decidepeople.no-advice-has-the-number", w.Advice), WayOut: phrase.Of("job.decidepeople.choose-a-line-of-advice")})
	case c.Advice[i].Decided != nil:
		out = append(out, Blocker{Code: CodeFilled, Text: phrase.Of("job.decidepeople.that-line-is-decided", c.Advice[i].Decided.Answer), WayOut: phrase.Of("job.decidepeople.give-the-advice-anew-when-the-customer")})
	}
	if !slices.Contains(AdviceAnswers(), w.Answer) {
		out = append(out, Blocker{Code: CodeValue, Text: phrase.Of("job.decidepeople.is-no-answer-expected-accepted-later-or", w.Answer), WayOut: phrase.Of("job.decidepeople.choose-one-of-them")})
	}
	if !ctx.By.Qualified() {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.decidepeople.a-mechanic-or-the-foreman-records-the"), WayOut: phrase.Of("job.decidepeople.fetch-one-of-them")})
	}
	out = append(out, words(procedures.Ref{}, w.Words, phrase.Of("job.decidepeople.write-it-in-the-customers-own-words"))...)
	out = append(out, words(procedures.Ref{}, w.ByWhom, phrase.Of("job.decidepeople.say-who-decided-and-how-he-was"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{AdviceDecided{w.Advice, w.Answer, strings.TrimSpace(w.Words), strings.TrimSpace(w.ByWhom)}}, nil
}

// wordsOwed is what the release waits for besides the work: a withholding not lifted, advice not
// decided.
func (c *Card) wordsOwed(r procedures.Ref) Refused {
	var out Refused
	if c.Withheld != nil && c.Abandoned == nil {
		out = append(out, Blocker{Code: CodeWithheld, Stage: r, Text: phrase.Of("job.decidepeople.the-vehicle-is-withheld", phrase.Word(c.Withheld.Class), c.Withheld.Words), WayOut: phrase.Of("job.decidepeople.cure-the-cause-and-have-it-lifted")})
	}
	for _, a := range c.Advice {
		if a.Decided == nil {
			out = append(out, Blocker{Code: CodeAdvice, Stage: r, Item: fmt.Sprint(a.Seq), Text: phrase.Of("job.decidepeople.the-advice-is-not-decided", a.Text), WayOut: phrase.Of("job.decidepeople.ask-the-customer-accepted-later-or-refused")})
		}
	}
	return out
}

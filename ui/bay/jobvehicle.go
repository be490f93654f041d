package bay

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// endMenu is for a vehicle that must not be driven, and for work that ends unfinished.
func (s *jobScreen) endMenu(e *Env) Action {
	c := s.card
	withhold, lift, end, safe, declare, cancel := "", "", "", "", "", ""
	if c.Withheld != nil {
		withhold = phrase.Of("bay.jobvehicle.it-is-withheld-already", phrase.Word(c.Withheld.Class), c.Withheld.Words)
	} else {
		lift = phrase.Of("bay.jobmenu.the-vehicle-is-not-withheld")
	}
	if !e.Person.Qualified() && withhold == "" {
		withhold = phrase.Of("bay.jobvehicle.a-mechanic-or-the-foreman-withholds-a")
	}
	if c.Abandoned != nil {
		end = phrase.Of("bay.jobvehicle.the-work-has-been-ended-already-make")
	} else {
		safe = phrase.Of("bay.jobvehicle.the-work-has-not-been-ended")
	}
	switch {
	case c.Withheld == nil || c.Abandoned == nil:
		declare = phrase.Of("bay.jobvehicle.only-on-a-withheld-vehicle-whose-work")
	case len(c.Open) == 0:
		declare = phrase.Of("bay.jobvehicle.nothing-stands-open")
	}
	if c.Released != nil {
		end, cancel = phrase.Of("bay.jobforeman.the-vehicle-has-been-released"), phrase.Of("bay.jobforeman.the-vehicle-has-been-released")
	}
	if c.Cancelled != nil {
		end, cancel = phrase.Of("bay.jobvehicle.the-job-is-cancelled"), phrase.Of("bay.jobvehicle.the-job-is-cancelled-already")
	}
	return s.menu(phrase.Of("bay.jobvehicle.the-vehicle-stays-or-the-work-ends"), nil, []choice{
		{option{text: phrase.Of("bay.jobvehicle.withhold-the-vehicle-it-must-not-be"), off: withhold}, s.withhold},
		{option{text: phrase.Of("bay.jobvehicle.lift-the-withholding-the-cause-was-cured"), off: lift}, s.lift},
		{option{text: phrase.Of("bay.jobvehicle.end-the-work-unfinished-and-make-the"), off: end}, s.abandon},
		{option{text: phrase.Of("bay.jobvehicle.what-is-still-to-do-to-make"), off: safe}, func(*Env) Action { return s.makeSafePane() }},
		{option{text: phrase.Of("bay.jobvehicle.declare-open-what-cannot-be-put-back"), off: declare}, s.declare},
		{option{text: phrase.Of("bay.jobvehicle.cancel-the-job-nothing-was-done-to"), off: cancel}, s.cancel},
	})
}

// withhold asks for the class, what was measured or seen, and who was told.
func (s *jobScreen) withhold(*Env) Action {
	return s.pick(phrase.Of("bay.jobvehicle.withhold-the-vehicle-why"), nil, job.WithheldClasses(), func(_ *Env, class string) Action {
		form := newForm(phrase.Of("bay.jobvehicle.withhold", phrase.Word(class)), []line{{text: phrase.Of("bay.jobvehicle.the-release-is-shut-until-the-cause")}}, []formField{
			{label: phrase.Of("bay.jobvehicle.measured-or-seen"), hint: phrase.Of("bay.jobvehicle.the-figures-or-what-one-sees")},
			{label: phrase.Of("bay.jobvehicle.told"), hint: phrase.Of("bay.jobvehicle.who-was-told-in-what-words")},
		})
		return s.then(form, func(e *Env, v any) Action {
			f := v.([]string)
			return s.do(e, job.Withhold{Class: class, Words: f[0], Told: f[1]})
		})
	})
}

// lift asks at which stage the cause was cured. Only stages signed after the withholding cure.
func (s *jobScreen) lift(*Env) Action {
	held := s.card.Withheld
	var at []procedures.Ref
	var titles []string
	for i := range s.card.Stages {
		st := &s.card.Stages[i]
		if a := st.Current(); st.Status == job.Complete && a.Signed.Seq > held.Seq {
			at, titles = append(at, st.Node.Ref), append(titles, job.Title(st.Node))
		}
	}
	why := line{text: phrase.Of("bay.jobvehicle.withheld-by", held.By.Name, phrase.Word(held.Class), held.Words)}
	if len(at) == 0 {
		return Ask{Name: "lift", Dialog: newPane(phrase.Of("bay.jobvehicle.lift-the-withholding"), why, line{role: draw.Warn, text: phrase.Of("bay.jobvehicle.nothing-has-been-signed-since-cure-the")})}
	}
	opts := make([]option, len(at))
	for i := range at {
		opts[i].text = titles[i]
	}
	return s.then(newChooser(phrase.Of("bay.jobvehicle.at-which-stage-was-the-cause-cured"), []line{why}, opts), func(_ *Env, v any) Action {
		cure := at[v.(int)]
		return s.words(phrase.Of("bay.jobvehicle.how-was-it-cured"), []line{why, {text: phrase.Of("bay.jobvehicle.cured-at", s.title(cure))}}, phrase.Of("bay.jobvehicle.say-how-the-cause-was-cured"), func(e *Env, w string) Action {
			may := func(p register.Person) bool { return isForeman(p) || p.ID == held.By.ID }
			return s.vouch(e, phrase.Of("bay.jobvehicle.lift-the-withholding"), []line{why, {text: phrase.Of("bay.jobvehicle.cured", w)}}, job.Lift{Cure: cure, Words: w}, may, phrase.Of("bay.jobvehicle.only-or-the-foreman-lifts-it", held.By.Name))
		})
	})
}

// abandon ends the work; what it leaves to do is shown before and after.
func (s *jobScreen) abandon(*Env) Action {
	text := s.stopLines()
	return s.words(phrase.Of("bay.jobvehicle.end-the-work-unfinished-why"), text, phrase.Of("bay.jobvehicle.say-why-the-work-ends-here"), func(e *Env, w string) Action {
		about := []line{{text: phrase.Of("bay.jobvehicle.why", w)}, {role: draw.Warn, text: phrase.Of("bay.jobvehicle.this-is-for-good-what-is-left")}}
		return s.byForeman(e, phrase.Of("bay.jobvehicle.end-the-work"), about, job.Abandon{Reason: w})
	})
}

// makeSafePane lists the branch still to do; its stages are gone through like any other.
func (s *jobScreen) makeSafePane() Action {
	refs := s.card.MakeSafe()
	if len(refs) == 0 {
		return Say{Text: phrase.Of("bay.jobvehicle.nothing-is-left-to-make-safe"), Role: draw.Good}
	}
	var opts []option
	for _, r := range refs {
		st := s.card.Stage(r)
		o := option{text: job.Title(st.Node), note: phrase.Word(st.Status.String())}
		for _, cl := range st.Node.Clears {
			for _, open := range s.card.Open {
				if open.Ref == cl.State {
					o.note += phrase.Of("bay.jobvehicle.puts-back", s.stateTitle(cl.State))
				}
			}
		}
		opts = append(opts, o)
	}
	text := []line{{text: phrase.Of("bay.jobvehicle.in-this-order-then-the-vehicle-leaves", phrase.Word(s.leavesAs()))}}
	return s.then(newChooser(phrase.Of("bay.jobvehicle.to-make-it-safe", phrase.Count("count.stage", len(refs))), text, opts), func(_ *Env, v any) Action {
		s.goStage(refs[v.(int)])
		return nil
	})
}

// leavesAs is what the signature of the release would say now.
func (s *jobScreen) leavesAs() string {
	switch {
	case s.card.Withheld != nil:
		return job.OutcomeRecovery
	case s.card.Abandoned != nil:
		return job.OutcomeMadeSafe
	}
	return job.OutcomeReleased
}

// declare names a state that cannot be put back.
func (s *jobScreen) declare(*Env) Action {
	var titles []string
	for _, o := range s.card.Open {
		titles = append(titles, s.stateTitle(o.Ref))
	}
	opts := make([]option, len(titles))
	for i := range titles {
		opts[i] = option{text: titles[i], note: s.card.Open[i].State.Danger}
	}
	open := s.card.Open
	return s.then(newChooser(phrase.Of("bay.jobvehicle.what-cannot-be-put-back"), []line{{text: phrase.Of("bay.jobvehicle.it-is-named-on-the-notice-the")}}, opts), func(_ *Env, v any) Action {
		st := open[v.(int)].Ref
		return s.words(phrase.Of("bay.jobvehicle.why-can-it-not-be-put-back"), []line{{text: s.stateTitle(st)}}, phrase.Of("bay.jobvehicle.say-why-it-cannot-be-put-back"), func(e *Env, w string) Action {
			return s.byForeman(e, phrase.Of("bay.jobvehicle.declare-open", s.stateTitle(st)), []line{{text: w}}, job.Declare{State: st, Words: w})
		})
	})
}

func (s *jobScreen) cancel(*Env) Action {
	return s.words(phrase.Of("bay.jobvehicle.cancel-the-job-why"), []line{{text: phrase.Of("bay.jobvehicle.only-while-nothing-was-done-to-the")}}, phrase.Of("bay.jobvehicle.say-why-the-job-is-cancelled"), func(e *Env, w string) Action {
		return s.byQualified(e, phrase.Of("bay.jobvehicle.cancel-the-job"), []line{{text: phrase.Of("bay.jobvehicle.why", w)}}, job.Cancel{Reason: w})
	})
}

// stopMenu leads to the stop sheet.
func (s *jobScreen) stopMenu(*Env) Action {
	safe := ""
	switch {
	case s.card.Paused == nil:
		safe = phrase.Of("bay.jobvehicle.the-job-is-not-stopped-p-stops")
	case s.card.Safe != nil:
		safe = phrase.Of("bay.jobvehicle.signed-by-already", s.card.Safe.By.Name)
	}
	word := phrase.Of("bay.jobvehicle.stop-the-job")
	if s.card.Paused != nil {
		word = phrase.Of("bay.jobvehicle.go-on-read-the-stop-sheet-back")
	}
	return s.menu(phrase.Of("bay.jobvehicle.stop-sheet"), nil, []choice{
		{option{text: phrase.Of("bay.jobvehicle.read-the-stop-sheet")}, s.stopPane},
		{option{text: phrase.Of("bay.jobvehicle.print-the-stop-sheet")}, func(e *Env) Action { return s.print(e, printStop) }},
		{option{text: phrase.Of("bay.jobvehicle.sign-safe-to-leave-overnight"), off: safe}, s.signSafe},
		{option{text: word, note: phrase.Of("bay.jobvehicle.p-on-the-stage-does-the-same")}, s.pause},
	})
}

// stopPane is the stop sheet to be read in quiet.
func (s *jobScreen) stopPane(e *Env) Action {
	sheet := s.card.StopSheet()
	title := phrase.Of("bay.jobvehicle.stop-sheet")
	if s.card.Paused == nil {
		title += phrase.Of("bay.jobvehicle.as-it-would-be-now")
	}
	var out []line
	if sheet.Kind != "" {
		out = append(out, line{role: draw.Title, text: sentence(phrase.Word(sheet.Kind)) + ", " + sheet.By.Name + ", " + since(e.Now, sheet.At)})
	}
	for _, x := range [][2]string{{phrase.Of("bay.jobvehicle.why-2"), sheet.Note}, {phrase.Of("bay.jobvehicle.parts"), sheet.PartsAt}, {phrase.Of("bay.jobvehicle.key"), sheet.KeyAt}, {phrase.Of("bay.jobvehicle.call"), sheet.Call}, {phrase.Of("bay.jobvehicle.next"), sheet.Next}} {
		if x[1] != "" {
			out = append(out, line{head: x[0], indent: 8, text: x[1]})
		}
	}
	safe := line{role: draw.Warn, text: phrase.Of("bay.jobvehicle.nobody-has-signed-that-it-may-stand")}
	if sheet.Safe != nil {
		safe = line{role: draw.Good, text: phrase.Of("bay.jobvehicle.safe-to-leave-signed-by", sheet.Safe.By.Name, since(e.Now, sheet.Safe.At))}
	}
	out = append(out, safe, line{})
	if n := s.card.Nights(e.Now); n > 0 {
		out = append(out, line{role: draw.Caution, text: phrase.Of("bay.jobvehicle.it-has-stood-for-look-at-chocks", phrase.Count("count.night", n))})
	}
	return Ask{Name: "stop-sheet", Dialog: newPane(title, append(out, s.stopLines()...)...)}
}

func (s *jobScreen) signSafe(e *Env) Action {
	text := append([]line{{text: phrase.Of("bay.jobvehicle.load-on-stands-or-locks-chocks-no")}}, s.stopLines()...)
	return s.byQualified(e, phrase.Of("bay.jobvehicle.safe-to-leave-overnight"), text, job.SignSafe{})
}

package bay

import (
	"fmt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// endMenu is for a vehicle that must not be driven, and for work that ends unfinished.
func (s *jobScreen) endMenu(e *Env) Action {
	c := s.card
	withhold, lift, end, safe, declare, cancel := "", "", "", "", "", ""
	if c.Withheld != nil {
		withhold = "It is withheld already (" + c.Withheld.Class + "): " + c.Withheld.Words
	} else {
		lift = "The vehicle is not withheld"
	}
	if !e.Person.Qualified() && withhold == "" {
		withhold = "A mechanic or the foreman withholds a vehicle; N stops the stage and fetches somebody"
	}
	if c.Abandoned != nil {
		end = "The work has been ended already; make the vehicle safe"
	} else {
		safe = "The work has not been ended"
	}
	switch {
	case c.Withheld == nil || c.Abandoned == nil:
		declare = "Only on a withheld vehicle whose work has ended"
	case len(c.Open) == 0:
		declare = "Nothing stands open"
	}
	if c.Released != nil {
		end, cancel = "The vehicle has been released", "The vehicle has been released"
	}
	if c.Cancelled != nil {
		end, cancel = "The job is cancelled", "The job is cancelled already"
	}
	return s.menu("The vehicle stays, or the work ends", nil, []choice{
		{option{text: "withhold the vehicle: it must not be driven", off: withhold}, s.withhold},
		{option{text: "lift the withholding: the cause was cured", off: lift}, s.lift},
		{option{text: "end the work unfinished and make the vehicle safe (foreman)", off: end}, s.abandon},
		{option{text: "what is still to do to make it safe", off: safe}, func(*Env) Action { return s.makeSafePane() }},
		{option{text: "declare open what cannot be put back (foreman)", off: declare}, s.declare},
		{option{text: "cancel the job: nothing was done to the vehicle", off: cancel}, s.cancel},
	})
}

// withhold asks for the class, what was measured or seen, and who was told.
func (s *jobScreen) withhold(*Env) Action {
	return s.pick("Withhold the vehicle: why?", nil, job.WithheldClasses(), func(_ *Env, class string) Action {
		form := newForm("Withhold: "+class, []line{{text: "The release is shut until the cause is cured. The key goes to the foreman, a label on the wheel."}}, []formField{
			{label: "measured or seen", hint: "the figures, or what one sees"},
			{label: "told", hint: "who was told, in what words"},
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
	why := line{text: fmt.Sprintf("Withheld by %s (%s): %s", held.By.Name, held.Class, held.Words)}
	if len(at) == 0 {
		return Ask{Name: "lift", Dialog: newPane("Lift the withholding", why, line{role: draw.Warn, text: " Nothing has been signed since: cure the cause, do its stage again (A) and have it signed. "})}
	}
	opts := make([]option, len(at))
	for i := range at {
		opts[i].text = titles[i]
	}
	return s.then(newChooser("At which stage was the cause cured?", []line{why}, opts), func(_ *Env, v any) Action {
		cure := at[v.(int)]
		return s.words("How was it cured?", []line{why, {text: "Cured at: " + s.title(cure)}}, "Say how the cause was cured", func(e *Env, w string) Action {
			may := func(p register.Person) bool { return isForeman(p) || p.ID == held.By.ID }
			return s.vouch(e, "Lift the withholding", []line{why, {text: "Cured: " + w}}, job.Lift{Cure: cure, Words: w}, may, "Only "+held.By.Name+" or the foreman lifts it")
		})
	})
}

// abandon ends the work; what it leaves to do is shown before and after.
func (s *jobScreen) abandon(*Env) Action {
	text := s.stopLines()
	return s.words("End the work unfinished: why?", text, "Say why the work ends here", func(e *Env, w string) Action {
		about := []line{{text: "Why: " + w}, {role: draw.Warn, text: " This is for good. What is left is to make the vehicle safe: everything open is put back, every wheel that was off gets its final pass. "}}
		return s.byForeman(e, "End the work", about, job.Abandon{Reason: w})
	})
}

// makeSafePane lists the branch still to do; its stages are gone through like any other.
func (s *jobScreen) makeSafePane() Action {
	refs := s.card.MakeSafe()
	if len(refs) == 0 {
		return Say{Text: "Nothing is left to make safe", Role: draw.Good}
	}
	var opts []option
	for _, r := range refs {
		st := s.card.Stage(r)
		o := option{text: job.Title(st.Node), note: st.Status.String()}
		for _, cl := range st.Node.Clears {
			for _, open := range s.card.Open {
				if open.Ref == cl.State {
					o.note += "; puts back: " + s.stateTitle(cl.State)
				}
			}
		}
		opts = append(opts, o)
	}
	text := []line{{text: "In this order, then the vehicle leaves: " + s.leavesAs()}}
	return s.then(newChooser(fmt.Sprintf("To make it safe: %s", plural(len(refs), "stage")), text, opts), func(_ *Env, v any) Action {
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
	return s.then(newChooser("What cannot be put back?", []line{{text: "It is named on the notice; the vehicle leaves on a recovery vehicle only."}}, opts), func(_ *Env, v any) Action {
		st := open[v.(int)].Ref
		return s.words("Why can it not be put back?", []line{{text: s.stateTitle(st)}}, "Say why it cannot be put back", func(e *Env, w string) Action {
			return s.byForeman(e, "Declare open: "+s.stateTitle(st), []line{{text: w}}, job.Declare{State: st, Words: w})
		})
	})
}

func (s *jobScreen) cancel(*Env) Action {
	return s.words("Cancel the job: why?", []line{{text: "Only while nothing was done to the vehicle. The number is not used again."}}, "Say why the job is cancelled", func(e *Env, w string) Action {
		return s.byQualified(e, "Cancel the job", []line{{text: "Why: " + w}}, job.Cancel{Reason: w})
	})
}

// stopMenu leads to the stop sheet.
func (s *jobScreen) stopMenu(*Env) Action {
	safe := ""
	switch {
	case s.card.Paused == nil:
		safe = "The job is not stopped: P stops it, with what stands open"
	case s.card.Safe != nil:
		safe = "Signed by " + s.card.Safe.By.Name + " already"
	}
	word := "stop the job"
	if s.card.Paused != nil {
		word = "go on: read the stop sheet back at the vehicle"
	}
	return s.menu("Stop sheet", nil, []choice{
		{option{text: "read the stop sheet"}, s.stopPane},
		{option{text: "print the stop sheet"}, func(e *Env) Action { return s.print(e, printStop) }},
		{option{text: "sign: safe to leave overnight", off: safe}, s.signSafe},
		{option{text: word, note: "P on the stage does the same"}, s.pause},
	})
}

// stopPane is the stop sheet to be read in quiet.
func (s *jobScreen) stopPane(e *Env) Action {
	sheet := s.card.StopSheet()
	title := "Stop sheet"
	if s.card.Paused == nil {
		title += " as it would be now"
	}
	var out []line
	if sheet.Kind != "" {
		out = append(out, line{role: draw.Title, text: sentence(sheet.Kind) + ", " + sheet.By.Name + ", " + since(e.Now, sheet.At)})
	}
	for _, x := range [][2]string{{"why", sheet.Note}, {"parts", sheet.PartsAt}, {"key", sheet.KeyAt}, {"call", sheet.Call}, {"next", sheet.Next}} {
		if x[1] != "" {
			out = append(out, line{head: x[0], indent: 8, text: x[1]})
		}
	}
	safe := line{role: draw.Warn, text: " Nobody has signed that it may stand overnight. "}
	if sheet.Safe != nil {
		safe = line{role: draw.Good, text: "Safe to leave: signed by " + sheet.Safe.By.Name + ", " + since(e.Now, sheet.Safe.At)}
	}
	out = append(out, safe, line{})
	if n := s.card.Nights(e.Now); n > 0 {
		out = append(out, line{role: draw.Caution, text: " It has stood for " + plural(n, "night") + ": look at chocks, stands and supports first. "})
	}
	return Ask{Name: "stop sheet", Dialog: newPane(title, append(out, s.stopLines()...)...)}
}

func (s *jobScreen) signSafe(e *Env) Action {
	text := append([]line{{text: "Load on stands or locks, chocks, no circuit open without caps, no charger unattended, labels on."}}, s.stopLines()...)
	return s.byQualified(e, "Safe to leave overnight", text, job.SignSafe{})
}

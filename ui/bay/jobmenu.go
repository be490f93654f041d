package bay

import (
	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// more is the menu of everything a job may need that goes its way less often. Its numbers never
// change, so that hands learn them.
func (s *jobScreen) more(e *Env) Action {
	s.want = nil
	fetch := choice{option{text: "I am not sure: fetch somebody", note: "N on the stage does the same"}, s.fetch}
	if a := s.stage().Current(); a != nil && a.Unsure != nil {
		fetch.text = "Somebody came: say what was made clear"
	}
	return s.menu("More", nil, []choice{
		fetch,
		{option{text: "What the figures say, and the questions they raise", note: "R on the stage does the same"}, s.remarks},
		{option{text: "Learning: question aloud, second measurement" + s.practiceWords()}, s.learning},
		{option{text: "Left and right of a set were exchanged", off: s.swapOff()}, s.swap},
		{option{text: "Words: advice to the customer, his answer, addendum"}, s.wordsMenu},
		{option{text: "Stop sheet, safe to leave overnight"}, s.stopMenu},
		{option{text: "The vehicle stays, or the work ends: withhold, lift, end, declare, cancel"}, s.endMenu},
		{option{text: "Foreman: deviation, trait, spec sheet, send back"}, s.foremanMenu},
		{option{text: "To read and print: exceptions, wrenches, picture of the set"}, s.readMenu},
	})
}

func (s *jobScreen) practiceWords() string {
	if s.card.Opened.Practice {
		return ", planted faults"
	}
	return ""
}

// readMenu leads to what is only read.
func (s *jobScreen) readMenu(e *Env) Action {
	print := func(kind printKind) func(*Env) Action { return func(e *Env) Action { return s.print(e, kind) } }
	notice, labels := "", ""
	if s.card.Withheld == nil {
		notice = "The vehicle is not withheld"
	}
	if len(s.card.Open) == 0 && s.card.Withheld == nil && s.card.Released == nil {
		labels = "Nothing stands open, so no label is owed"
	}
	return s.menu("To read and print", nil, []choice{
		{option{text: "Exceptions of this job"}, s.exceptions},
		{option{text: "Wrenches: is every torque window covered?"}, s.coveragePane},
		{option{text: "Picture of the set, as large as the screen", off: s.pictureOff()}, s.picturePane},
		{option{text: "Print the stop sheet"}, print(printStop)},
		{option{text: "Print the notice: not roadworthy", off: notice}, print(printNotice)},
		{option{text: "Print the labels", off: labels}, print(printLabels)},
		{option{text: "Print the record of the job"}, print(printRecord)},
		{option{text: "Read the whole record; P there prints any page of it"}, func(*Env) Action { return Push{newRecord(s.number)} }},
	})
}

// exceptions shows the page and remembers that this person opened it.
func (s *jobScreen) exceptions(e *Env) Action {
	s.readBy[e.Person.ID] = len(s.card.Exceptions())
	return Ask{Name: "exceptions", Dialog: newPane("Exceptions of this job", s.exceptionText()...)}
}

// readFirst opens the exceptions page before anything is entered or signed at the release, unless
// this person has opened it as it stands now.
func (s *jobScreen) readFirst(e *Env) Action {
	n := len(s.card.Exceptions())
	if s.stage().Node.Stage.Act != procedures.Release || n == 0 || s.readBy[e.Person.ID] == n {
		return nil
	}
	return s.exceptions(e)
}

// fetch is "I am not sure": one number, no blame. Where somebody waits already, it takes the answer.
func (s *jobScreen) fetch(e *Env) Action {
	st := s.stage()
	a := st.Current()
	if a == nil || a.Unsure == nil {
		at := s.at
		return s.menu("I am not sure", []line{{text: "The stage waits until a mechanic or the foreman has come. Nobody is blamed for asking; it counts as good practice."}}, []choice{
			{option{text: "fetch somebody"}, func(e *Env) Action { return s.do(e, job.NotSure{Stage: at}) }},
			{option{text: "fetch somebody, and say what is not clear"}, func(*Env) Action {
				return s.words("What is not clear?", nil, "Type in a few words what is not clear", func(e *Env, w string) Action { return s.do(e, job.NotSure{Stage: at, Note: w}) })
			}},
		})
	}
	text := []line{{text: a.Unsure.By.Name + " fetched somebody at " + since(e.Now, a.Unsure.At) + ". " + a.UnsureNote}}
	return s.words("What was made clear?", text, "Say in a few words what was made clear", func(e *Env, w string) Action {
		want := job.Help{Stage: s.at, Note: w}
		if e.Person.Qualified() && e.Person.ID != a.Unsure.By.ID {
			return s.do(e, want)
		}
		return s.vouch(e, "Who came?", []line{{text: w}}, want, s.otherQualified(a.Unsure.By.ID), "A mechanic or the foreman answers, and there is none on the register")
	})
}

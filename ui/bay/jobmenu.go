package bay

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// more is the menu of everything a job may need that goes its way less often. Its numbers never
// change, so that hands learn them.
func (s *jobScreen) more(e *Env) Action {
	s.want = nil
	fetch := choice{option{text: phrase.Of("bay.jobmenu.i-am-not-sure-fetch-somebody"), note: phrase.Of("bay.jobmenu.n-on-the-stage-does-the-same")}, s.fetch}
	if a := s.stage().Current(); a != nil && a.Unsure != nil {
		fetch.text = phrase.Of("bay.jobmenu.somebody-came-say-what-was-made-clear")
	}
	return s.menu(phrase.Of("bay.jobmenu.more"), nil, []choice{
		fetch,
		{option{text: phrase.Of("bay.jobmenu.what-the-figures-say-and-the-questions"), note: phrase.Of("bay.jobmenu.r-on-the-stage-does-the-same")}, s.remarks},
		{option{text: phrase.Of("bay.jobmenu.learning-question-aloud-second-measurement", s.practiceWords())}, s.learning},
		{option{text: phrase.Of("bay.jobmenu.left-and-right-of-a-set-were"), off: s.swapOff()}, s.swap},
		{option{text: phrase.Of("bay.jobmenu.words-advice-to-the-customer-his-answer")}, s.wordsMenu},
		{option{text: phrase.Of("bay.jobmenu.stop-sheet-safe-to-leave-overnight")}, s.stopMenu},
		{option{text: phrase.Of("bay.jobmenu.the-vehicle-stays-or-the-work-ends")}, s.endMenu},
		{option{text: phrase.Of("bay.jobmenu.foreman-deviation-trait-spec-sheet-send-back")}, s.foremanMenu},
		{option{text: phrase.Of("bay.jobmenu.to-read-and-print-exceptions-wrenches-picture")}, s.readMenu},
	})
}

func (s *jobScreen) practiceWords() string {
	if s.card.Opened.Practice {
		return phrase.Of("bay.jobmenu.planted-faults")
	}
	return ""
}

// readMenu leads to what is only read.
func (s *jobScreen) readMenu(e *Env) Action {
	print := func(kind printKind) func(*Env) Action { return func(e *Env) Action { return s.print(e, kind) } }
	notice, labels := "", ""
	if s.card.Withheld == nil {
		notice = phrase.Of("bay.jobmenu.the-vehicle-is-not-withheld")
	}
	if len(s.card.Open) == 0 && s.card.Withheld == nil && s.card.Released == nil {
		labels = phrase.Of("bay.jobmenu.nothing-stands-open-so-no-label-is")
	}
	return s.menu(phrase.Of("bay.jobmenu.to-read-and-print"), nil, []choice{
		{option{text: phrase.Of("bay.jobmenu.exceptions-of-this-job")}, s.exceptions},
		{option{text: phrase.Of("bay.jobmenu.wrenches-is-every-torque-window-covered")}, s.coveragePane},
		{option{text: phrase.Of("bay.jobmenu.picture-of-the-set-as-large-as"), off: s.pictureOff()}, s.picturePane},
		{option{text: phrase.Of("bay.jobmenu.print-the-stop-sheet")}, print(printStop)},
		{option{text: phrase.Of("bay.jobmenu.print-the-notice-not-roadworthy"), off: notice}, print(printNotice)},
		{option{text: phrase.Of("bay.jobmenu.print-the-labels"), off: labels}, print(printLabels)},
		{option{text: phrase.Of("bay.jobmenu.print-the-record-of-the-job")}, print(printRecord)},
		{option{text: phrase.Of("bay.jobmenu.read-the-whole-record-p-there-prints")}, func(*Env) Action { return Push{newRecord(s.number)} }},
	})
}

// exceptions shows the page and remembers that this person opened it.
func (s *jobScreen) exceptions(e *Env) Action {
	s.readBy[e.Person.ID] = len(s.card.Exceptions())
	return Ask{Name: "exceptions", Dialog: newPane(phrase.Of("bay.jobmenu.exceptions-of-this-job"), s.exceptionText()...)}
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
		return s.menu(phrase.Of("bay.jobmenu.i-am-not-sure"), []line{{text: phrase.Of("bay.jobmenu.the-stage-waits-until-a-mechanic-or")}}, []choice{
			{option{text: phrase.Of("bay.jobmenu.fetch-somebody")}, func(e *Env) Action { return s.do(e, job.NotSure{Stage: at}) }},
			{option{text: phrase.Of("bay.jobmenu.fetch-somebody-and-say-what-is-not")}, func(*Env) Action {
				return s.words(phrase.Of("bay.jobmenu.what-is-not-clear"), nil, phrase.Of("bay.jobmenu.type-in-a-few-words-what-is"), func(e *Env, w string) Action { return s.do(e, job.NotSure{Stage: at, Note: w}) })
			}},
		})
	}
	text := []line{{text: phrase.Of("bay.jobmenu.fetched-somebody-at", a.Unsure.By.Name, since(e.Now, a.Unsure.At), a.UnsureNote)}}
	return s.words(phrase.Of("bay.jobmenu.what-was-made-clear"), text, phrase.Of("bay.jobmenu.say-in-a-few-words-what-was"), func(e *Env, w string) Action {
		want := job.Help{Stage: s.at, Note: w}
		if e.Person.Qualified() && e.Person.ID != a.Unsure.By.ID {
			return s.do(e, want)
		}
		return s.vouch(e, phrase.Of("bay.jobmenu.who-came"), []line{{text: w}}, want, s.otherQualified(a.Unsure.By.ID), phrase.Of("bay.jobmenu.a-mechanic-or-the-foreman-answers-and"))
	})
}

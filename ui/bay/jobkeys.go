package bay

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// Keys are the commands of the stage shown.
func (s *jobScreen) Keys(e *Env) []Binding {
	if s.card == nil {
		return []Binding{{Key: "Esc", Word: phrase.Of("bay.jobkeys.jobs"), Bar: true}}
	}
	if s.Focus() == FocusText {
		return []Binding{{Key: "Enter", Word: phrase.Of("bay.jobkeys.record"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.jobkeys.commands"), Bar: true},
			{Key: "Up Down", Word: phrase.Of("bay.jobkeys.other-item"), Bar: true}, {Key: "Left Right", Word: phrase.Of("bay.jobkeys.other-stage-when-the-field-is-empty")}, {Key: "Backspace", Word: phrase.Of("bay.jobkeys.erase")}}
	}
	st := s.stage()
	signOff, secondOff, againOff := "", "", ""
	switch {
	case st.Status == job.SecondOwed:
		signOff = phrase.Of("bay.jobkeys.it-is-signed-a-second-person-countersigns")
	case st.Status == job.Complete:
		signOff = phrase.Of("bay.jobkeys.it-is-signed-the-next-stage-is")
	}
	if st.Status != job.SecondOwed {
		secondOff = phrase.Of("bay.jobkeys.no-second-person-is-asked-for-here")
	}
	if st.Current() == nil {
		againOff = phrase.Of("bay.jobkeys.nothing-has-been-entered-here-there-is")
	}
	out := []Binding{{Key: "Enter", Word: s.enterWord(), Bar: true}}
	if st.Status == job.SecondOwed {
		out = append(out, Binding{Key: "C", Word: phrase.Of("bay.jobkeys.countersign"), Bar: true}, Binding{Key: "S", Word: phrase.Of("bay.jobkeys.sign"), Off: signOff})
	} else {
		out = append(out, Binding{Key: "S", Word: phrase.Of("bay.jobkeys.sign"), Off: signOff, Bar: signOff == ""}, Binding{Key: "C", Word: phrase.Of("bay.jobkeys.countersign"), Off: secondOff})
	}
	pause := phrase.Of("bay.jobkeys.pause")
	if s.card.Paused != nil {
		pause = phrase.Of("bay.jobkeys.resume")
	}
	out = append(out, Binding{Key: "B", Word: phrase.Of("bay.jobkeys.blocks"), Bar: true}, Binding{Key: "N", Word: s.fetchWord(), Bar: true}, Binding{Key: "M", Word: phrase.Of("bay.jobkeys.more"), Bar: true},
		Binding{Key: "O", Word: phrase.Of("bay.jobkeys.open"), Bar: true})
	out = append(out, s.itemKeys(e)...)
	if st.Node.Stage.Act == procedures.Release {
		out = append(out, Binding{Key: "E", Word: phrase.Of("bay.jobkeys.exceptions"), Bar: true})
	}
	return append(out, Binding{Key: "W", Word: phrase.Of("bay.jobkeys.why"), Bar: true}, Binding{Key: "L", Word: phrase.Of("bay.jobkeys.stages"), Bar: true}, Binding{Key: "A", Word: phrase.Of("bay.jobkeys.again"), Off: againOff, Bar: true},
		Binding{Key: "P", Word: pause, Bar: true}, Binding{Key: "H", Word: phrase.Of("bay.jobkeys.hand-over"), Bar: true},
		Binding{Key: "R", Word: phrase.Of("bay.jobkeys.what-the-figures-say")}, Binding{Key: "V", Word: phrase.Of("bay.jobkeys.picture-of-the-set"), Off: s.pictureOff()},
		Binding{Key: "Up Down", Word: phrase.Of("bay.jobkeys.other-item")}, Binding{Key: "Left Right", Word: phrase.Of("bay.jobkeys.other-stage-when-the-field-is-empty")},
		Binding{Key: "Esc", Word: phrase.Of("bay.jobkeys.out-of-the-field-then-the-jobs")})
}

// itemKeys are those that depend on the item in focus.
func (s *jobScreen) itemKeys(e *Env) []Binding {
	it, ok := s.current()
	if !ok || s.closed() != "" || s.broken() != nil {
		return nil
	}
	tool := ""
	if len(it.check.Tools) == 0 {
		tool = phrase.Of("bay.jobkeys.this-value-is-taken-without-an-instrument")
	}
	out := []Binding{{Key: "T", Word: phrase.Of("bay.jobkeys.tool"), Off: tool, Bar: tool == ""}, {Key: "U", Word: phrase.Of("bay.jobkeys.other-scale-of-the-tool"), Off: s.scaleOff(e, it)}}
	switch it.check.Kind {
	case procedures.Confirm:
		return append(out, Binding{Key: "1", Word: phrase.Of("bay.jobkeys.yes")}, Binding{Key: "2", Word: phrase.Of("bay.jobkeys.no")})
	case procedures.Choice:
		for i, o := range it.check.Options[:min(len(it.check.Options), 9)] {
			out = append(out, Binding{Key: strconv.Itoa(i + 1), Word: o})
		}
		return out
	case procedures.Text, procedures.Part:
		return out
	}
	out = append(out, Binding{Key: "0 1 2 3 4 5 6 7 8 9 . , - Backspace", Word: phrase.Of("bay.jobkeys.the-value")})
	if it.check.Kind == procedures.Torque {
		off := s.clickOff(e, it)
		return append(out, Binding{Key: "+", Word: phrase.Of("bay.jobkeys.clicked-at-the-value-set"), Off: off}, Binding{Key: "K", Word: phrase.Of("bay.jobkeys.the-same-and-enter-records-it"), Off: off},
			Binding{Key: "*", Word: phrase.Of("bay.jobkeys.every-fastener-left-clicked"), Off: off})
	}
	return append(out, Binding{Key: "+", Word: phrase.Of("bay.jobkeys.sign-of-the-value")})
}

// clickOff says why nothing clicks here: the tool in hand is read. The record would refuse it too.
func (s *jobScreen) clickOff(e *Env, it item) string {
	in, ok := e.Register.Instrument(s.tool(e, it.check))
	if !ok || in.Kind == register.SettingWrench {
		return ""
	}
	return phrase.Of("bay.jobkeys.is-read-it-does-not-click", in.ID, phrase.Word(in.Kind))
}

// fetchWord is what N does here: fetch somebody, or answer who was fetched.
func (s *jobScreen) fetchWord() string {
	if a := s.stage().Current(); a != nil && a.Unsure != nil {
		return phrase.Of("bay.jobkeys.answer")
	}
	return phrase.Of("bay.jobkeys.not-sure")
}

func (s *jobScreen) enterWord() string {
	if s.broken() != nil {
		return phrase.Of("bay.jobkeys.start-the-pass-again")
	}
	if s.closed() != "" {
		return phrase.Of("bay.jobkeys.next-stage")
	}
	if s.field.text != "" || s.click {
		return phrase.Of("bay.jobkeys.record")
	}
	if s.out {
		return phrase.Of("bay.jobkeys.back-into-the-field")
	}
	return phrase.Of("bay.jobkeys.next")
}

// key takes one key.
func (s *jobScreen) key(e *Env, k Key) Action {
	focus := s.Focus()
	if k.Sym == Enter {
		return s.enter(e)
	}
	if focus == FocusNone && s.out && (k.Digit() >= 0 || k.Rune == '.' || k.Rune == ',') {
		// A digit goes back into a number field.
		s.out = false
		if focus = s.Focus(); focus != FocusNumber {
			s.out, focus = true, FocusNone
		}
	}
	if act, done := s.move(k); done {
		return act
	}
	if it, ok := s.current(); ok && focus == FocusNumber && it.check.Kind == procedures.Torque && s.field.text == "" {
		switch k.Letter() {
		case '+':
			return s.clicked(e, false)
		case '*':
			return s.clicked(e, true)
		case 'K':
			s.click = true
			return Say{Text: phrase.Of("bay.jobkeys.clicked-at-the-value-set-enter-records")}
		}
	}
	if focus == FocusText || focus == FocusNumber {
		if k.Sym == Erase {
			s.click = false
		}
		before := s.field.text
		if s.field.take(k, focus) {
			if s.field.text != before {
				s.click = false
			}
			return nil
		}
	}
	if act, done := s.digit(e, k); done {
		return act
	}
	return s.letter(e, k)
}

// digit answers a confirm or a choice.
func (s *jobScreen) digit(e *Env, k Key) (Action, bool) {
	it, ok := s.current()
	n := k.Digit()
	if !ok || n < 1 || s.closed() != "" || s.broken() != nil || k.Again {
		return nil, k.Again && n > 0
	}
	switch it.check.Kind {
	case procedures.Confirm:
		if n == 1 {
			return s.commit(e, job.Yes, job.SourceTyped), true
		}
		if n == 2 {
			return s.commit(e, job.No, job.SourceTyped), true
		}
	case procedures.Choice:
		if n <= len(it.check.Options) {
			return s.commit(e, it.check.Options[n-1], job.SourceTyped), true
		}
		return Say{Text: phrase.Of("bay.jobkeys.there-are-only-answers-press-the-number", strconv.Itoa(len(it.check.Options))), Role: draw.Warn}, true
	}
	return nil, false
}

// move handles the keys that go somewhere else.
func (s *jobScreen) move(k Key) (Action, bool) {
	switch k.Sym {
	case Esc:
		if s.Focus() != FocusNone && (s.field.text != "" || s.Focus() == FocusText) {
			s.out = true
			return Say{Text: phrase.Of("bay.jobkeys.out-of-the-field-text-kept-letters")}, true
		}
		return Pop{}, true
	case Up, Down:
		step := 1
		if k.Sym == Up {
			step = -1
		}
		n := len(s.items())
		if to := s.item + step; to >= 0 && to < n {
			if s.field.text != "" {
				return Say{Text: phrase.Of("bay.jobkeys.something-is-half-typed-here-enter-records"), Role: draw.Warn}, true
			}
			s.leaveField()
			s.item = to
		}
		return nil, true
	case Left, Right:
		if s.field.text != "" {
			return Say{Text: phrase.Of("bay.jobkeys.something-is-half-typed-here-enter-records"), Role: draw.Warn}, true
		}
		step := 1
		if k.Sym == Left {
			step = -1
		}
		return s.step(step), true
	}
	return nil, false
}

// step goes to the stage before or after this one that is part of the job.
func (s *jobScreen) step(by int) Action {
	for i := s.card.Plan.Index(s.at) + by; i >= 0 && i < len(s.card.Stages); i += by {
		if s.card.Stages[i].Status != job.LeftOut {
			s.goStage(s.card.Stages[i].Node.Ref)
			return nil
		}
	}
	return Say{Text: phrase.Of("bay.jobkeys.there-is-no-stage-further-that-way")}
}

// letter runs a command.
func (s *jobScreen) letter(e *Env, k Key) Action {
	switch k.Letter() {
	case 'S':
		return s.sign(e)
	case 'C':
		return s.countersign(e)
	case 'B':
		return Ask{Name: "blocks", Dialog: s.blocksPane(e)}
	case 'W':
		return s.why()
	case 'O':
		return Ask{Name: "open", Dialog: s.openPane(e)}
	case 'T':
		s.want = nil // what waited for a tool before and was given up
		return s.askTool(e)
	case 'A':
		return s.again(e)
	case 'L':
		return Ask{Name: stageName, Dialog: newStageList(s.card, s.at)}
	case 'P':
		return s.pause(e)
	case 'H':
		return handOver(e)
	case 'E':
		if s.stage().Node.Stage.Act == procedures.Release {
			return s.exceptions(e)
		}
	case 'M':
		return s.more(e)
	case 'N':
		s.want = nil
		return s.fetch(e)
	case 'R':
		return s.remarks(e)
	case 'V':
		return s.picturePane(e)
	case 'U':
		return s.otherScale(e)
	}
	if unicode.IsLetter(k.Rune) {
		if why := s.closed(); why != "" {
			return Say{Text: why, Role: draw.Warn}
		}
	}
	return Unknown{}
}

// likeACode is what a text field holds when somebody meant to sign and was in the field: it must not
// stand in the record unasked.
var likeACode = regexp.MustCompile(`^[SCHsch][0-9]{4,12}$`)

const isTextName = "is-it-text"

// enter takes what is typed, or goes on.
func (s *jobScreen) enter(e *Env) Action {
	switch {
	case s.broken() != nil:
		return s.restartPass(e)
	case s.closed() != "":
		if s.card.Paused != nil {
			return Say{Text: s.closed(), Role: draw.Warn}
		}
		return s.step(1)
	case s.out:
		s.out = false
		return nil
	case s.click:
		s.click = false
		return s.clicked(e, false)
	case s.Focus() == FocusText && likeACode.MatchString(strings.TrimSpace(s.field.text)):
		return Ask{Name: isTextName, Dialog: newYesNo(phrase.Of("bay.jobkeys.is-this-really-the-text"), phrase.Of("bay.jobkeys.a-letter-and-digits-look-like-a"))}
	case strings.TrimSpace(s.field.text) != "":
		return s.commit(e, strings.TrimSpace(s.field.text), job.SourceTyped)
	}
	if e.Now.Sub(s.lastEntry) < quietTime {
		return nil // a second Enter for the value just recorded: the next point is not skipped by it
	}
	s.next()
	if len(s.items()) > 0 && s.allIn() {
		return Say{Text: phrase.Of("bay.jobkeys.every-item-has-its-value-s-signs")}
	}
	if it, ok := s.current(); ok && (it.check.Kind == procedures.Confirm || it.check.Kind == procedures.Choice) {
		return Say{Text: phrase.Of("bay.jobkeys.press-the-number-of-the-answer")}
	}
	return nil
}

// next goes to the next item that is owed, then to one that may stay empty, else one further.
func (s *jobScreen) next() {
	items := s.items()
	s.leaveField()
	now, _ := s.current()
	for _, fits := range []func(item) bool{
		func(it item) bool { return it.entry == nil && now.check != nil && it.check.ID == now.check.ID },
		func(it item) bool { return it.entry == nil && !it.check.Optional },
		func(it item) bool { return it.entry == nil },
	} {
		for i := 1; i < len(items); i++ {
			if k := (s.item + i) % len(items); fits(items[k]) {
				s.item = k
				return
			}
		}
	}
	if len(items) > 0 && items[s.item].entry == nil {
		return
	}
	s.item = min(s.item+1, max(len(items)-1, 0))
	// Every item has its value: the letters are for what comes now, not for the text field.
	s.out = s.Focus() == FocusText
}

func (s *jobScreen) allIn() bool {
	for _, it := range s.items() {
		if it.entry == nil && !it.check.Optional {
			return false
		}
	}
	return true
}

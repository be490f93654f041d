package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// promised is one thing promised to a customer, with its job.
type promised struct {
	job.Promise
	card *job.Card
}

// followUps lists what was promised at hand-over over all jobs: due, late, not yet, ended. Nothing
// is ever taken off it.
type followUps struct {
	list     []promised
	loaded   bool
	at       int
	odometer map[string]quantity.Quantity // vehicle: what was read today
	goOn     func(e *Env, v any) Action
}

func newFollowUps() Screen { return &followUps{odometer: map[string]quantity.Quantity{}} }

// Head says what this is.
func (s *followUps) Head(*Env) string { return phrase.Of("bay.followups.follow-ups") }

// Focus is nowhere.
func (s *followUps) Focus() Focus { return FocusNone }

// Keys move, and act on the marked line.
func (s *followUps) Keys(*Env) []Binding {
	none := ""
	if len(s.list) == 0 {
		none = phrase.Of("bay.followups.nothing-has-been-promised")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.followups.visit-move-end"), Off: none, Bar: true}, {Key: "O", Word: phrase.Of("bay.followups.odometer-today"), Off: none, Bar: true},
		{Key: "W", Word: phrase.Of("bay.followups.what-happened"), Off: none, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.followups.move-2"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.followups.jobs"), Bar: true}}
}

// readPromises reads the promises of every job that was released, practice left out.
func readPromises(f *store.File) ([]promised, error) {
	all, err := f.Jobs()
	if err != nil {
		return nil, err
	}
	var out []promised
	for _, j := range all {
		if j.Practice || j.Outcome == "" || j.Outcome == job.OutcomeCancelled {
			continue
		}
		c, err := f.Load(j.Number)
		if err != nil {
			return nil, err
		}
		for _, p := range c.Promises() {
			out = append(out, promised{p, c})
		}
	}
	return out, nil
}

// state is where a promise stands now, by the odometer reading of today where one was typed.
func (s *followUps) state(e *Env, p promised) job.FollowUpState {
	return p.State(e.Now, s.odometer[p.card.Opened.Vehicle.ID])
}

// sort puts the late ones first, then by date.
func (s *followUps) sort(e *Env) {
	order := []job.FollowUpState{job.FollowLate, job.FollowDue, job.FollowNotYet, job.FollowEnded}
	slices.SortStableFunc(s.list, func(a, b promised) int {
		if d := slices.Index(order, s.state(e, a)) - slices.Index(order, s.state(e, b)); d != 0 {
			return d
		}
		return strings.Compare(a.DueDate, b.DueDate)
	})
}

// Update moves and acts.
func (s *followUps) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "promises", Do: func(f *store.File) (any, error) { return readPromises(f) }}
	case Result:
		return s.result(e, in)
	case Answer:
		if s.goOn != nil {
			return s.goOn(e, in.Value)
		}
		return nil
	case Key:
		return s.key(e, in)
	}
	return ignore(in)
}

func (s *followUps) result(e *Env, r Result) Action {
	if list, ok := r.Value.([]promised); ok && r.Err == nil {
		s.list, s.loaded = list, true
		s.sort(e)
		s.at = max(min(s.at, len(list)-1), 0)
		return nil
	}
	if v, ok := r.Value.(recorded); ok && v.card != nil {
		return Many{s.Update(e, Shown{}), Say{Text: phrase.Of("bay.followups.written-down-the-line-stays-on-the"), Role: draw.Good}}
	}
	if r.Err != nil {
		return Say{Text: phrase.Of("bay.followups.not-recorded", sentence(r.Err.Error())), Role: draw.Warn}
	}
	return nil
}

func (s *followUps) key(e *Env, k Key) Action {
	switch k.Sym {
	case Esc:
		return Pop{}
	case Up:
		s.at = max(s.at-1, 0)
		return nil
	case Down:
		s.at = max(min(s.at+1, len(s.list)-1), 0)
		return nil
	case Enter:
		return s.act(e, s.list[s.at])
	}
	switch k.Letter() {
	case 'O':
		return s.askOdometer(s.list[s.at])
	case 'W':
		return s.story(e, s.list[s.at])
	}
	return Unknown{}
}

func (s *followUps) then(d Dialog, next func(e *Env, v any) Action) Action {
	s.goOn = next
	return Ask{Name: thenName, Dialog: d}
}

// askOdometer takes what the instrument shows today: distance counts as well as the date.
func (s *followUps) askOdometer(p promised) Action {
	text := []line{{text: phrase.Of("bay.followups.vehicle", p.card.Opened.Vehicle.ID, p.What)}}
	if !p.DueAt.IsZero() {
		text = append(text, line{text: phrase.Of("bay.followups.due-at-late-after", p.DueAt, p.LateAt)})
	}
	field := formField{label: phrase.Of("bay.followups.odometer"), hint: phrase.Of("bay.followups.km-as-the-instrument-shows-it-today"), check: func(text string) error {
		_, err := odometerToday(text)
		return err
	}}
	return s.then(newForm(phrase.Of("bay.followups.odometer-today-2"), text, []formField{field}), func(e *Env, v any) Action {
		q, err := odometerToday(v.([]string)[0])
		if err != nil {
			return Say{Text: err.Error(), Role: draw.Warn}
		}
		s.odometer[p.card.Opened.Vehicle.ID] = q
		st := p.State(e.Now, q)
		s.sort(e)
		return Say{Text: phrase.Of("bay.followups.at", q, st), Role: draw.Warn}
	})
}

func odometerToday(text string) (quantity.Quantity, error) {
	q, err := quantity.Parse(text, quantity.Kilometre)
	if err == nil && q.Unit.Dimension() != quantity.Kilometre.Dimension() {
		err = phrase.Error("bay.followups.is-no-distance-expected-kilometres-such-as", text)
	}
	return q, err
}

// act goes to the visit, or moves or ends the promise.
func (s *followUps) act(e *Env, p promised) Action {
	number := p.card.Number()
	ended := ""
	if p.Ended != "" {
		ended = phrase.Of("bay.followups.it-is-ended", p.LastWord)
	}
	visit := phrase.Of("bay.followups.open-the-job")
	if p.Key == job.KeyRetorque {
		visit = phrase.Of("bay.followups.the-vehicle-is-here-its-re-torque")
	}
	rows := []option{{text: visit}, {text: phrase.Of("bay.followups.move-it-to-another-day"), off: ended}, {text: phrase.Of("bay.followups.done-with-the-proof"), off: ended},
		{text: phrase.Of("bay.followups.done-elsewhere-with-the-proof"), off: ended}, {text: phrase.Of("bay.followups.not-shown-the-customer-does-not-come"), off: ended}}
	if rows[4].off == "" {
		rows[4].off = mayDo(e, procedures.Foreman, phrase.Of("bay.followups.ends-a-promise-as-not-shown"))
	}
	return s.then(newChooser(phrase.Of("bay.followups.vehicle-2", p.card.Opened.Vehicle.ID, p.What), []line{{text: s.dueWords(e, p)}}, rows), func(e *Env, v any) Action {
		switch v.(int) {
		case 0:
			return Push{newJobScreen(number)}
		case 1:
			return s.move(p)
		}
		return s.end(p, job.FollowUpActs()[v.(int)-1])
	})
}

func (s *followUps) move(p promised) Action {
	form := newForm(phrase.Of("bay.followups.move", p.What), []line{{text: phrase.Of("bay.followups.until-now-who-moved-it-stays-on", p.DueDate)}}, []formField{
		{label: phrase.Of("bay.followups.new-day"), hint: phrase.Of("bay.followups.year-month-day-such-as-2026-03"), check: isDay}, {label: phrase.Of("bay.followups.why"), hint: phrase.Of("bay.followups.and-who-was-spoken-to")}})
	return s.then(form, func(e *Env, v any) Action {
		f := v.([]string)
		return s.write(e, p, job.Follow{Key: p.Key, Act: job.FollowMoved, Until: f[0], Words: f[1]})
	})
}

// end asks for the odometer with the proof, since distance is what counts for a wheel.
func (s *followUps) end(p promised, act string) Action {
	fields := []formField{{label: phrase.Of("bay.followups.reason-or-proof"), hint: phrase.Of("bay.followups.who-did-it-what-was-shown")}}
	if !p.DueAt.IsZero() {
		fields = append(fields, formField{label: phrase.Of("bay.followups.odometer"), optional: true, hint: phrase.Of("bay.followups.km-at-that-time-may-stay-empty")})
	}
	return s.then(newForm(sentence(act)+": "+p.What, nil, fields), func(e *Env, v any) Action {
		f := v.([]string)
		words := f[0]
		if len(f) > 1 && f[1] != "" {
			q, err := odometerToday(f[1])
			if err != nil {
				return Say{Text: err.Error(), Role: draw.Warn}
			}
			words += phrase.Of("bay.followups.at-2", q.String())
		}
		return s.write(e, p, job.Follow{Key: p.Key, Act: act, Words: words})
	})
}

func (s *followUps) write(e *Env, p promised, want job.Follow) Action {
	n, who := p.card.Number(), e.Actor()
	return Call{Name: "follow", Do: func(f *store.File) (any, error) {
		c, ev, err := f.Do(n, who, want)
		return recorded{c, ev}, err
	}}
}

func (s *followUps) dueWords(e *Env, p promised) string {
	words := phrase.Of("bay.followups.due", p.DueDate)
	if !p.DueAt.IsZero() {
		words += phrase.Of("bay.followups.or-at-late-after", e.number(p.DueAt), e.number(p.LateAt))
	}
	return words
}

// story is everything that was done with a promise, by whom.
func (s *followUps) story(e *Env, p promised) Action {
	out := []line{{role: draw.Title, text: phrase.Of("bay.followups.job-vehicle", p.card.Number(), p.card.Opened.Vehicle.ID, p.card.Opened.Vehicle.Name)},
		{text: phrase.Of("bay.followups.released-by", p.card.Released.By.Name, today(p.card.Released.At))}, {text: sentence(s.dueWords(e, p))}}
	for _, a := range p.Acts {
		text := fmt.Sprintf("%s %s: %s", a.By.Name, phrase.Word(a.Act), a.Words)
		if a.Until != "" {
			text += phrase.Of("bay.followups.to", a.Until)
		}
		out = append(out, line{head: today(a.At), indent: 12, text: text})
	}
	if p.Ended != "" {
		out = append(out, line{role: draw.Good, text: phrase.Of("bay.followups.ended", p.LastWord)})
	}
	return s.then(newPane(p.What, out...), nil)
}

// View shows the table and the marked line in full.
func (s *followUps) View(e *Env, w, h int) string {
	if !s.loaded {
		return ""
	}
	t := e.Theme
	tb := draw.Table{Selected: s.at, Empty: phrase.Of("bay.followups.nothing-has-been-promised-yet-a-promise"),
		Headings: []draw.Heading{{Title: phrase.Of("bay.followups.state")}, {Title: phrase.Of("bay.followups.due-2")}, {Title: phrase.Of("bay.followups.at-3"), Right: true}, {Title: phrase.Of("bay.followups.vehicle-3")}, {Title: phrase.Of("bay.followups.what")}, {Title: phrase.Of("bay.followups.last-word")}}}
	count := map[job.FollowUpState]int{}
	for _, p := range s.list {
		st := s.state(e, p)
		count[st]++
		at := ""
		if !p.DueAt.IsZero() {
			at = e.number(p.DueAt)
		}
		tb.Rows = append(tb.Rows, cells(strings.ToUpper(phrase.Word(st)), p.DueDate, at, p.card.Opened.Vehicle.ID, p.What, p.LastWord))
	}
	title := t.Style(draw.Title, phrase.Of("bay.followups.follow-ups-late-due-not-yet-ended", count[job.FollowLate], count[job.FollowDue], count[job.FollowNotYet], count[job.FollowEnded]))
	if len(s.list) == 0 {
		return title + "\n\n" + indent(strings.Split(tb.Draw(t, w-2, h-2), "\n"))
	}
	p := s.list[s.at]
	about := []line{{role: draw.Title, text: phrase.Of("bay.followups.job", p.card.Number(), p.card.Opened.Vehicle.ID, p.card.Opened.Vehicle.Name, p.What)}, {text: sentence(s.dueWords(e, p))}}
	if q, ok := s.odometer[p.card.Opened.Vehicle.ID]; ok {
		about = append(about, line{text: phrase.Of("bay.followups.odometer-today-3", e.number(q))})
	} else if !p.DueAt.IsZero() && p.Ended == "" {
		about = append(about, line{role: draw.Caution, text: phrase.Of("bay.followups.the-odometer-of-today-is-not-known")})
	}
	if p.LastWord != "" {
		about = append(about, line{text: sentence(p.LastWord)})
	}
	foot := drawLines(t, about, w-2)
	list := tb.Draw(t, w-2, max(h-3-len(foot), 4))
	return title + "\n\n" + indent(append(append(strings.Split(list, "\n"), t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, w-2))), foot...))
}

package bay

import (
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// pause asks what kind of stop it is, or has the stop sheet read back before the job goes on.
func (s *jobScreen) pause(*Env) Action {
	if s.card.Paused == nil {
		var opts []option
		for _, k := range job.StopKinds() {
			opts = append(opts, option{text: phrase.Word(k)})
		}
		return Ask{Name: kindName, Dialog: newChooser(phrase.Of("bay.jobstop.why-does-the-job-stop"), s.stopLines(), opts)}
	}
	who := phrase.Of("bay.jobstop.stopped-by", s.card.Paused.By.Name, s.card.PauseFor)
	if s.card.ReadBack() > 0 {
		return Ask{Name: resumeName, Dialog: &readBack{who: who, sheet: s.card.StopSheet()}}
	}
	d := newYesNo(phrase.Of("bay.jobstop.go-on-with-the-job"), who)
	d.lines = s.stopLines()
	return Ask{Name: resumeName, Dialog: d}
}

// stopFields are what is written down with a stop of that kind.
func stopFields(kind string) []formField {
	out := []formField{{label: phrase.Of("bay.jobstop.in-a-few-words"), hint: phrase.Of("bay.jobstop.what-the-next-one-has-to-know")}}
	if kind == job.StopPause {
		return out
	}
	return append(out, formField{label: phrase.Of("bay.jobstop.parts-lie-at"), optional: true, hint: phrase.Of("bay.jobstop.may-stay-empty")},
		formField{label: phrase.Of("bay.jobstop.key-is-at"), optional: true, hint: phrase.Of("bay.jobstop.may-stay-empty")},
		formField{label: phrase.Of("bay.jobstop.call"), optional: true, hint: phrase.Of("bay.jobstop.whom-to-call-may-stay-empty")})
}

// stopped is the stop with what was written down.
func stopped(kind string, v []string) job.Pause {
	p := job.Pause{Kind: kind, Note: v[0]}
	if len(v) == 4 {
		p.PartsAt, p.KeyAt, p.Call = v[1], v[2], v[3]
	}
	return p
}

// stopLines is the stop sheet as it would be now.
func (s *jobScreen) stopLines() []line {
	sheet := s.card.StopSheet()
	if len(sheet.Lines) == 0 {
		return []line{{role: draw.Good, text: phrase.Of("bay.jobstop.nothing-stands-open")}}
	}
	out := []line{{role: draw.Title, text: phrase.Of("bay.jobstop.as-the-vehicle-stands")}}
	for _, l := range sheet.Lines {
		out = append(out, line{head: "-", indent: 3, text: sentence(l.What) + " " + sentence(l.Do)})
	}
	return out
}

// readBack has every line of the stop sheet confirmed at the vehicle, one by one.
type readBack struct {
	who   string
	sheet job.StopSheet
	at    int
}

// Head counts the lines.
func (d *readBack) Head(*Env) string {
	return phrase.Of("bay.jobstop.read-at-the-vehicle-of", d.at+1, len(d.sheet.Lines))
}

// Focus is nowhere.
func (d *readBack) Focus() Focus { return FocusNone }

// Keys confirm one line.
func (d *readBack) Keys(*Env) []Binding {
	return []Binding{{Key: "1", Word: phrase.Of("bay.jobstop.it-is-so"), Bar: true}, {Key: "2 Esc", Word: phrase.Of("bay.jobstop.it-is-not-the-job-stays-stopped"), Bar: true}}
}

// Update takes the answer to one line.
func (d *readBack) Update(_ *Env, in Input) Action {
	k, ok := in.(Key)
	switch {
	case !ok:
		return ignore(in)
	case k.Again:
		return nil
	case k.Sym == Esc, k.Digit() == 2:
		return Cancel{}
	case k.Digit() != 1:
		return Unknown{}
	}
	if d.at++; d.at < len(d.sheet.Lines) {
		return nil
	}
	return Done{Value: true}
}

func (d *readBack) lines(t *draw.Theme, w int) []string {
	l := d.sheet.Lines[min(d.at, len(d.sheet.Lines)-1)]
	text := []line{{text: d.who}}
	for _, x := range [][2]string{{phrase.Of("bay.jobstop.parts"), d.sheet.PartsAt}, {phrase.Of("bay.jobstop.key"), d.sheet.KeyAt}, {phrase.Of("bay.jobstop.call"), d.sheet.Call}} {
		if x[1] != "" {
			text = append(text, line{head: x[0], indent: 8, text: x[1]})
		}
	}
	text = append(text, line{}, line{role: draw.Title, text: sentence(l.What)}, line{text: sentence(l.Do)}, line{})
	return append(drawLines(t, text, w), t.Style(draw.Key, " 1 ")+t.Style(draw.Text, phrase.Of("bay.jobstop.it-is-so-2"))+t.Style(draw.Key, " 2 ")+t.Style(draw.Text, phrase.Of("bay.jobstop.it-is-not")))
}

// Height is the line with its answers.
func (d *readBack) Height(e *Env, w int) int { return len(d.lines(e.Theme, w)) }

// View shows the line.
func (d *readBack) View(e *Env, w, _ int) string { return strings.Join(d.lines(e.Theme, w), "\n") }

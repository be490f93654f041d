package bay

import (
	"context"
	"fmt"
	"math/big"
	"strings"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// historyChoice asks for the vehicle whose history is read.
type historyChoice struct {
	find   finder
	loaded bool
	ids    []string
}

// newHistoryChoice asks for a vehicle.
func newHistoryChoice() Screen {
	return &historyChoice{find: finder{field: field{most: 40}, what: phrase.Of("bay.deskhistory.number-vehicle-number-name-or-owner"), empty: phrase.Of("bay.deskhistory.no-vehicle-is-on-the-register"),
		headings: []draw.Heading{{Title: phrase.Of("bay.deskhistory.nr")}, {Title: phrase.Of("bay.deskhistory.name")}, {Title: phrase.Of("bay.deskhistory.owner-2")}}}}
}

// Head says what this is.
func (s *historyChoice) Head(*Env) string { return phrase.Of("bay.deskhistory.desk-which-vehicle") }

// Focus is the search field.
func (s *historyChoice) Focus() Focus { return FocusText }

// Keys are those of the list.
func (s *historyChoice) Keys(*Env) []Binding {
	return s.find.keys(phrase.Of("bay.deskhistory.its-history"))
}

// Update chooses.
func (s *historyChoice) Update(_ *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "stock", Doing: phrase.Of("bay.deskhistory.reading"), Do: readStock}
	case Result:
		v, ok := in.Value.(stock)
		if in.Err != nil || !ok {
			return Say{Text: phrase.Of("bay.deskhistory.the-vehicles-cannot-be-read", in.Err), Role: draw.Bad}
		}
		s.find.rows, s.ids, s.loaded = nil, vehicleIDs(v.vehicles), true
		for _, x := range v.vehicles {
			s.find.rows = append(s.find.rows, findRow{cells: []string{x.ID, x.Name, x.Owner}, exact: []string{x.ID, x.VIN}, match: x.Name + " " + x.Owner})
		}
		return nil
	case Key:
		if in.Sym == Esc && s.find.field.text != "" {
			s.find.field.clear()
			return nil
		}
		if in.Sym == Esc {
			return Pop{}
		}
	}
	i, act := s.find.take(in)
	if i < 0 {
		return act
	}
	return Push{newHistory(s.ids[i])}
}

// View shows the list.
func (s *historyChoice) View(e *Env, w, h int) string {
	if !s.loaded {
		return ""
	}
	return indent(s.find.view(e.Theme, w-2, h))
}

// newHistory shows everything the record says of a vehicle.
func newHistory(id string) Screen {
	return &reading{head: phrase.Of("bay.deskhistory.history-of-vehicle", id),
		load:  func(f *store.File) (any, error) { return f.VehicleHistory(context.Background(), id) },
		lines: func(e *Env, v any, w int) ([]string, []int) { return historyLines(e, v.(questions.History), w) }}
}

// historyLines writes a history out.
func historyLines(e *Env, h questions.History, w int) (out []string, parts []int) {
	t, v := e.Theme, h.Vehicle
	out = drawLines(t, []line{{role: draw.Title, text: strings.TrimSpace(v.ID + "  " + v.Name)}, {text: ownerWords(v)}}, w)
	if len(h.Lost) > 0 {
		out = append(out, drawLines(t, []line{{role: draw.Bad, text: phrase.Of("bay.deskhistory.cannot-be-read-what-follows-is-not", phrase.Count("count.job", len(h.Lost)))}}, w)...)
	}
	part := func(title, none string, rows []line) {
		parts = append(parts, len(out)+1)
		out = append(out, "", t.Style(draw.Title, title))
		if len(rows) == 0 {
			rows = []line{{role: draw.Faint, text: none}}
		}
		out = append(out, drawLines(t, rows, w)...)
	}
	var rows []line
	for _, x := range h.Visits {
		end := phrase.Of("bay.deskhistory.goes-on")
		if x.Outcome != "" {
			end = x.Outcome
		}
		rows = append(rows, line{head: x.Opened.Format("2006-01-02"), indent: 12, text: phrase.Of("bay.deskhistory.job-at", x.Job, e.number(x.Odometer), x.Work, x.Complaint, end, phrase.Count("count.exception", x.Exceptions))})
	}
	part(phrase.Of("bay.deskhistory.visits", fmt.Sprint(len(h.Visits))), phrase.Of("bay.deskhistory.no-visit-is-on-record"), rows)
	rows = nil
	for _, x := range h.Wear {
		rows = append(rows, line{text: wearWords(e, x)})
	}
	part(phrase.Of("bay.deskhistory.wear"), phrase.Of("bay.deskhistory.nothing-was-measured-in-a-visit-that"), rows)
	for _, x := range h.Wear {
		if l, ok := wearPicture(e, x); ok {
			out = append(out, "", t.Style(draw.Title, figureWords(x.Figure)))
			out = append(out, strings.Split(l.Draw(t, min(w, 100), 9), "\n")...)
		}
	}
	part(phrase.Of("bay.deskhistory.parts-fitted"), phrase.Of("bay.deskhistory.no-part-is-on-record"), partLines(h.Parts))
	part(phrase.Of("bay.deskhistory.roller-tests"), phrase.Of("bay.deskhistory.no-roller-test-is-on-record"), rollerLines(e, h.Roller))
	rows = nil
	for _, x := range h.Advice {
		answer := phrase.Of("bay.deskhistory.no-answer-yet")
		if x.Decided != nil {
			answer = phrase.Of("bay.deskhistory.by", phrase.Word(x.Decided.Answer), x.Decided.ByWhom, x.Decided.Words)
		}
		rows = append(rows, line{head: x.At.Format("2006-01-02"), indent: 12, text: phrase.Of("bay.deskhistory.job", x.Job, phrase.Word(x.Urgency), x.Text, answer)})
	}
	part(phrase.Of("bay.deskhistory.advice-not-taken"), phrase.Of("bay.deskhistory.none-is-open"), rows)
	rows = nil
	for _, x := range h.Owed {
		due := x.DueDate
		if !x.DueAt.IsZero() {
			due += phrase.Of("bay.deskhistory.or-at", e.number(x.DueAt))
		}
		rows = append(rows, line{head: strings.ToUpper(string(x.State)), indent: 12, text: phrase.Of("bay.deskhistory.due", due, x.What, x.LastWord)})
	}
	part(phrase.Of("bay.deskhistory.promised"), phrase.Of("bay.deskhistory.nothing-was-promised"), rows)
	rows = nil
	for _, x := range h.Lost {
		rows = append(rows, line{head: phrase.Of("bay.deskhistory.job-2", x.Job), indent: 12, text: sentence(x.Why)})
	}
	if len(rows) > 0 {
		part(phrase.Of("bay.deskhistory.cannot-be-read"), "", rows)
	}
	return out, parts
}

// ownerWords says whose vehicle it is, as far as the register does.
func ownerWords(v register.Vehicle) string {
	owner, number := phrase.Of("bay.deskhistory.nobody-is-noted-as-its-owner"), phrase.Of("bay.deskhistory.no-vehicle-number-is-noted")
	if v.Owner != "" {
		owner = phrase.Of("bay.deskhistory.owner", v.Owner)
	}
	if v.VIN != "" {
		number = phrase.Of("bay.deskhistory.vehicle-number", v.VIN)
	}
	return owner + "; " + number
}

func partLines(parts []questions.FittedPart) []line {
	var rows []line
	for _, x := range parts {
		still, role := phrase.Of("bay.deskhistory.still-on-as-far-as-this-file"), draw.Text
		if x.Replaced != 0 {
			still, role = phrase.Of("bay.deskhistory.replaced-in-job", x.Replaced), draw.Faint
		}
		side := ""
		if x.At.Side != "" {
			side = ", " + phrase.Word(x.At.Side)
		}
		rows = append(rows, line{role: role, head: x.When.Format("2006-01-02"), indent: 12, text: phrase.Of("bay.deskhistory.batch-job", x.Title, side, x.Number, x.Batch, x.Job, still)})
	}
	return rows
}

func rollerLines(e *Env, tests []questions.RollerTest) []line {
	or := func(s, unit string) string {
		if s == "" {
			return phrase.Of("bay.deskhistory.cannot-be-worked-out")
		}
		return e.decimals(s) + unit
	}
	var rows []line
	for _, x := range tests {
		word := phrase.Of("bay.deskhistory.after")
		if x.Before {
			word = phrase.Of("bay.deskhistory.before")
		}
		rows = append(rows, line{head: x.When.Format("2006-01-02"), indent: 12, text: phrase.Of("bay.deskhistory.job-the-work-left-right-imbalance-parking", x.Job, word, e.number(x.Left), e.number(x.Right), or(x.Imbalance, " %"), e.number(x.ParkLeft), e.number(x.ParkRight), or(x.Parking, " %"))})
	}
	return rows
}

// figureWords is "disc/left" in words.
func figureWords(figure string) string {
	return sentence(strings.Replace(figure, "/", ", ", 1))
}

// wearWords says what was measured and how far it goes.
func wearWords(e *Env, l questions.WearLine) string {
	last := l.Visits[len(l.Visits)-1]
	text := phrase.Of("bay.deskhistory.at-limit", figureWords(l.Figure), e.number(last.Value), e.number(last.Odometer), e.number(l.Limit))
	if l.Limit.IsZero() {
		text = phrase.Of("bay.deskhistory.at", figureWords(l.Figure), e.number(last.Value), e.number(last.Odometer))
	}
	if l.Forecast == nil {
		return phrase.Of("bay.deskhistory.no-forecast", text, l.Why)
	}
	left := brakes.TwoFigures(l.Forecast.CautiousRemaining)
	if plain := brakes.TwoFigures(l.Forecast.Remaining); plain != left {
		left += phrase.Of("bay.deskhistory.cautiously-to", plain)
	}
	return phrase.Of("bay.deskhistory.left", text, left)
}

// wearPicture draws a part since it was new; false with fewer than two readings of it.
func wearPicture(e *Env, l questions.WearLine) (draw.WearLine, bool) {
	out := draw.WearLine{Limit: amount(e, l.Limit)}
	for _, v := range l.Visits {
		if v.New {
			out.Points = nil
		}
		out.Points = append(out.Points, draw.WearPoint{Km: amount(e, v.Odometer), Thickness: amount(e, v.Value)})
		out.Uncertainty, out.Unit = v.Within.Float(), string(v.Value.Unit)
	}
	if len(out.Points) < 2 {
		return out, false
	}
	if l.Forecast == nil {
		out.Note = sentence(l.Why)
		return out, true
	}
	last := l.Visits[len(l.Visits)-1].Odometer.Rat()
	at := func(left *big.Rat) draw.Amount {
		return amount(e, quantity.FromRat(new(big.Rat).Add(last, left), quantity.Kilometre, 0))
	}
	out.Soonest, out.Latest = at(l.Forecast.CautiousRemaining), at(l.Forecast.Remaining)
	out.Note = l.Forecast.Advice()
	return out, true
}

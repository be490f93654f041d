package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// World is what questions need besides the jobs.
type World struct {
	Now          time.Time
	Revision     string // of the data, in words
	Register     register.Register
	Vehicles     []register.Vehicle
	Cycles       map[string]int // torque actions per instrument since its calibration
	Certificates []register.Certificate
	Sheets       []*procedures.Sheet                     // in use
	Recalled     func(vehicle, instrument string) string // where a recall stands; empty: none
}

func (w *World) vehicle(id string) register.Vehicle {
	for _, v := range w.Vehicles {
		if v.ID == id {
			return v
		}
	}
	return register.Vehicle{ID: id}
}

// Line is what is known of a job without reading it.
type Line struct {
	Number   uint64
	Vehicle  string
	Opened   time.Time
	Last     time.Time
	Outcome  string
	Practice bool
	Standing int   // open states
	Tags     *Tags // nil: not known
}

// Args are the values of a question's parameters, all of them read and checked.
type Args struct {
	text     map[string]string
	From, To string // ISO dates; From may be empty
}

// Text is a parameter as text.
func (a Args) Text(name string) string { return a.text[name] }

// Int is a number, which was checked when it was given.
func (a Args) Int(name string) int {
	n, err := strconv.Atoi(a.text[name])
	if err != nil {
		return 0 // an optional one that is empty
	}
	return n
}

func (a Args) inSpan(at time.Time) bool {
	day := at.Format(time.DateOnly)
	return day >= a.From && day <= a.To
}

// question is how an answer is worked out: job by job, or vehicle by vehicle where one visit explains
// another, or from the register alone. finish adds up the lines of all.
type question struct {
	Question
	always     bool // not bounded by dates: what stands now
	practice   bool // practice jobs count too
	wants      func(a Args, l Line) bool
	perJob     func(p *pass, c *job.Card)
	perVehicle func(p *pass, cs []*job.Card)
	register   func(p *pass)
	finish     func(p *pass)
}

// pass gathers the lines of one question.
type pass struct {
	*World
	Args
	rows     []Row
	unjudged []Unjudged
	notes    []string
}

func (p *pass) row(job uint64, seq uint32, cells ...string) { p.carry(job, seq, nil, cells...) }

func (p *pass) carry(job uint64, seq uint32, carry any, cells ...string) {
	p.rows = append(p.rows, Row{Job: job, Seq: seq, Cells: cells, carry: carry})
}

func (p *pass) cannot(job uint64, format string, args ...any) {
	p.unjudged = append(p.unjudged, Unjudged{job, fmt.Sprintf(format, args...)})
}

func (p *pass) note(format string, args ...any) {
	p.notes = append(p.notes, fmt.Sprintf(format, args...))
}

// Asked is a question with its parameters, ready to look at jobs. Its methods may be called from
// several goroutines.
type Asked struct {
	q     *question
	args  Args
	world *World
}

// Piece is what one job or vehicle adds to an answer.
type Piece struct {
	rows     []Row
	unjudged []Unjudged
}

// List returns every question in order.
func List() []Question {
	out := make([]Question, len(all))
	for i, q := range all {
		out[i] = q.Question
	}
	return out
}

// Ask prepares a question. The error is one sentence that says what is wrong with the name or a
// parameter and what is expected.
func Ask(name string, args map[string]string, w World) (*Asked, error) {
	i := slices.IndexFunc(all, func(q *question) bool { return q.Name == name })
	if i < 0 {
		return nil, phrase.Error("questions.ask.no-question-is-called-choose-one-from", name)
	}
	q := all[i]
	read, err := q.read(args, &w)
	if err != nil {
		return nil, err
	}
	return &Asked{q, read, &w}, nil
}

// NeedsJobs reports whether jobs are looked at at all.
func (a *Asked) NeedsJobs() bool { return a.q.register == nil }

// ByVehicle reports whether the jobs of a vehicle are looked at together: Vehicle is called then,
// with all of them, and else Job.
func (a *Asked) ByVehicle() bool { return a.q.perVehicle != nil }

// Wants reports whether a job can have to do with the question at all. For a question by vehicle
// every job of the vehicle belongs to it as soon as one is wanted.
func (a *Asked) Wants(l Line) bool {
	return a.Covers(l) && (a.q.wants == nil || a.q.wants(a.args, l))
}

// Covers reports whether a job lies in the span of the question: it counts as searched, by what is
// known of it in short or by reading it.
func (a *Asked) Covers(l Line) bool {
	switch {
	case l.Practice && !a.q.practice,
		!a.q.always && (l.Last.Format(time.DateOnly) < a.args.From || l.Opened.Format(time.DateOnly) > a.args.To):
		return false
	}
	return true
}

// Job looks at one job.
func (a *Asked) Job(c *job.Card) Piece {
	p := &pass{World: a.world, Args: a.args}
	a.q.perJob(p, c)
	return Piece{p.rows, p.unjudged}
}

// Vehicle looks at all jobs of one vehicle, oldest first.
func (a *Asked) Vehicle(cs []*job.Card) Piece {
	p := &pass{World: a.world, Args: a.args}
	if !a.q.practice {
		cs = slices.DeleteFunc(slices.Clone(cs), func(c *job.Card) bool { return c.Opened.Practice })
	}
	a.q.perVehicle(p, cs)
	return Piece{p.rows, p.unjudged}
}

// Lost is a job that could not be read: it counts as not judged.
func Lost(number uint64, err error) Piece {
	return Piece{unjudged: []Unjudged{{number, err.Error()}}}
}

// Answer puts the parts together, in the order they are given; covered is how many jobs the span
// holds.
func (a *Asked) Answer(parts []Piece, covered int) Answer {
	p := &pass{World: a.world, Args: a.args}
	out := Answer{Question: a.q.Name, Title: a.q.Title, Args: a.args.text, From: a.args.From, To: a.args.To, AsOf: a.world.Now,
		Revision: a.world.Revision, Columns: a.q.Columns, Searched: covered}
	if a.q.always {
		out.From = ""
	}
	for _, x := range parts {
		p.rows, p.unjudged = append(p.rows, x.rows...), append(p.unjudged, x.unjudged...)
	}
	if a.q.register != nil {
		a.q.register(p)
		out.Searched = len(a.world.Register.Instruments)
	}
	if a.q.finish != nil {
		a.q.finish(p)
	}
	out.Rows, out.Unjudged, out.Notes = p.rows, p.unjudged, p.notes
	return out
}

// Over asks a question over cards in memory, oldest first.
func (a *Asked) Over(cards []*job.Card) Answer {
	var parts []Piece
	byVehicle := map[string][]*job.Card{}
	var order []string
	wanted := map[string]bool{}
	covered := 0
	for _, c := range cards {
		l := LineOf(c)
		v := l.Vehicle
		if byVehicle[v] == nil {
			order = append(order, v)
		}
		byVehicle[v] = append(byVehicle[v], c)
		if a.Covers(l) {
			covered++
		}
		if !a.NeedsJobs() || !a.Wants(l) {
			continue
		}
		wanted[v] = true
		if !a.ByVehicle() {
			parts = append(parts, a.Job(c))
		}
	}
	if a.NeedsJobs() && a.ByVehicle() {
		for _, v := range order {
			if wanted[v] {
				parts = append(parts, a.Vehicle(byVehicle[v]))
			}
		}
	}
	return a.Answer(parts, covered)
}

// LineOf is what is known of a job in short.
func LineOf(c *job.Card) Line {
	t := TagsOf(c)
	return Line{Number: c.Number(), Vehicle: c.Opened.Vehicle.ID, Opened: c.OpenedAt, Last: c.Last().At, Outcome: c.Outcome(),
		Practice: c.Opened.Practice, Standing: len(c.Open), Tags: &t}
}

// read checks the parameters and fills in what is not given.
func (q *question) read(given map[string]string, w *World) (Args, error) {
	a := Args{text: map[string]string{}, To: w.Now.Format(time.DateOnly)}
	if !q.always {
		a.From = w.Now.AddDate(-1, 0, 0).Format(time.DateOnly)
	}
	for name := range given {
		if !slices.ContainsFunc(q.Params, func(p Param) bool { return p.Name == name }) {
			return a, phrase.Error("questions.ask.has-no-parameter-expected", q.Name, name, q.paramNames())
		}
	}
	for _, p := range q.Params {
		v := cmp.Or(strings.TrimSpace(given[p.Name]), p.Default)
		if v == "" {
			if !p.Optional {
				return a, phrase.Error("questions.ask.needs", q.Name, p.Name, p.Title)
			}
			continue
		}
		if err := p.check(v); err != nil {
			return a, err
		}
		a.text[p.Name] = v
		switch p.Name {
		case "from":
			a.From = v
		case "to":
			a.To = v
		}
	}
	if a.From > a.To {
		return a, phrase.Error("questions.ask.the-first-day-lies-after-the-last", a.From, a.To)
	}
	return a, nil
}

func (q *question) paramNames() string {
	if len(q.Params) == 0 {
		return "none"
	}
	names := make([]string, len(q.Params))
	for i, p := range q.Params {
		names[i] = p.Name
	}
	return strings.Join(names, ", ")
}

func (p Param) check(v string) error {
	var err error
	expected := ""
	switch p.Kind {
	case Day:
		_, err = time.Parse(time.DateOnly, v)
		expected = phrase.Of("questions.ask.year-month-day-such-as-2026-03")
	case Moment:
		_, err = time.Parse(momentForm, v)
		expected = phrase.Of("questions.ask.a-day-and-a-time-such-as")
	case Clock:
		_, err = time.Parse("15:04", v)
		expected = phrase.Of("questions.ask.a-time-such-as-06-00")
	case Number, JobNumber:
		var n uint64
		if n, err = strconv.ParseUint(v, 10, 31); err == nil && n == 0 && p.Kind == JobNumber {
			err = strconv.ErrRange
		}
		expected = phrase.Of("questions.ask.a-whole-number")
	case Choice:
		if !slices.Contains(p.Options, v) {
			err = strconv.ErrSyntax
		}
		expected = phrase.Of("questions.ask.one-of", strings.Join(p.Options, ", "))
	}
	if err != nil {
		return phrase.Error("questions.ask.is-expected", p.Name, v, expected)
	}
	return nil
}

const momentForm = "2006-01-02 15:04"

func shown(q quantity.Quantity) string {
	if q.IsZero() {
		return ""
	}
	return q.String()
}

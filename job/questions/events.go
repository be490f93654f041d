package questions

import (
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

const (
	dayForm  = time.DateOnly
	timeForm = "2006-01-02 15:04"
)

// Columns that many answers share.
var (
	colVehicle = Column{Name: "vehicle", Title: phrase.Of("questions.events.vehicle")}
	colOwner   = Column{Name: "owner", Title: phrase.Of("questions.events.owner")}
	colJob     = Column{Name: "job", Title: phrase.Of("questions.events.job"), Numeric: true}
	colDate    = Column{Name: "date", Title: phrase.Of("questions.events.date")}
	colTime    = Column{Name: "time", Title: phrase.Of("questions.events.time")}
	colStage   = Column{Name: "stage", Title: phrase.Of("questions.events.stage")}
	colWho     = Column{Name: "who", Title: phrase.Of("questions.events.who")}
	colWords   = Column{Name: "words", Title: phrase.Of("questions.events.words")}
	colKm      = Column{Name: "odometer", Title: phrase.Of("questions.events.odometer")}
)

func column(name, title string) Column  { return Column{Name: name, Title: title} }
func figures(name, title string) Column { return Column{Name: name, Title: title, Numeric: true} }

// Parameters that many questions share.
var (
	fromParam       = Param{Name: "from", Title: phrase.Of("questions.events.first-day"), Kind: Day, Optional: true}
	toParam         = Param{Name: "to", Title: phrase.Of("questions.events.last-day"), Kind: Day, Optional: true}
	spanParams      = []Param{fromParam, toParam}
	jobParam        = Param{Name: "job", Title: phrase.Of("questions.events.number-of-the-job"), Kind: JobNumber}
	vehicleParam    = Param{Name: "vehicle", Title: phrase.Of("questions.events.number-of-the-vehicle"), Kind: Vehicle}
	maybeVehicle    = Param{Name: "vehicle", Title: phrase.Of("questions.events.only-this-vehicle"), Kind: Vehicle, Optional: true}
	instrumentParam = Param{Name: "wrench", Title: phrase.Of("questions.events.number-of-the-wrench"), Kind: Instrument}
)

func withSpan(p ...Param) []Param { return append(p, spanParams...) }

// ofJob wants one job.
func ofJob(a Args, l Line) bool { return int(l.Number) == a.Int("job") }

// ofVehicle wants the jobs of the vehicle named, or all where none is.
func ofVehicle(a Args, l Line) bool { return a.Text("vehicle") == "" || l.Vehicle == a.Text("vehicle") }

// stillOpen wants the jobs whose work goes on.
func stillOpen(_ Args, l Line) bool { return l.Outcome == "" }

// withException wants jobs that have an exception of one of those kinds.
func withException(kinds ...string) func(Args, Line) bool {
	return func(_ Args, l Line) bool {
		return l.Tags == nil || slices.ContainsFunc(kinds, func(k string) bool { return slices.Contains(l.Tags.Exceptions, k) })
	}
}

// measuring wants jobs that recorded values with one of those meanings.
func measuring(words ...string) func(Args, Line) bool {
	return func(a Args, l Line) bool {
		return ofVehicle(a, l) && (l.Tags == nil || slices.ContainsFunc(words, func(k string) bool { return slices.Contains(l.Tags.Reckoned, k) }))
	}
}

// eventAt is the time of an event of the job.
func eventAt(c *job.Card, seq uint32) time.Time { return c.Events[seq-1].At }

// begun is the first thing done in an attempt.
func begun(a *job.Attempt) (job.Mark, bool) {
	if len(a.Entries) > 0 {
		return a.Entries[0].Mark, true
	}
	if a.Signed != nil {
		return *a.Signed, true
	}
	return job.Mark{}, false
}

func stageTitle(c *job.Card, r procedures.Ref) string {
	if s := c.Stage(r); s != nil {
		return job.Title(s.Node)
	}
	return r.String()
}

// ended is when the work ended, or the newest event where it goes on.
func ended(c *job.Card) time.Time {
	switch {
	case c.Released != nil:
		return c.Released.At
	case c.Cancelled != nil:
		return c.Cancelled.At
	}
	return c.Last().At
}

func whoWords(w job.Who) string { return w.Name + " (" + phrase.Word(w.Role) + ")" }

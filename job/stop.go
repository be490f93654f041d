package job

import (
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// StopSheet is what must be known about a vehicle that stands with the work unfinished.
type StopSheet struct {
	Kind    string         `json:"kind"`
	Note    string         `json:"note"`
	By      Who            `json:"by"`
	At      time.Time      `json:"at"`
	Safe    *Mark          `json:"safe_to_leave"` // nil: nobody signed that it may stand overnight
	Lines   []StopLine     `json:"lines"`
	Next    string         `json:"next"`
	NextRef procedures.Ref `json:"next_stage"`
	PartsAt string         `json:"parts_at"`
	KeyAt   string         `json:"key_at"`
	Call    string         `json:"call"`
}

// StopLine is one thing to be read back at the vehicle.
type StopLine struct {
	What string `json:"what"`
	Do   string `json:"do"`
}

// StopSheet draws up the stop sheet of the job as it stands: every standing state with what to do
// while it stands, every torque group that is loose or only begun, and the next stage.
func (c *Card) StopSheet() StopSheet {
	sheet := StopSheet{Kind: c.Stop.Kind, Note: c.PauseFor, Safe: c.Safe, PartsAt: c.Stop.PartsAt, KeyAt: c.Stop.KeyAt, Call: c.Stop.Call}
	if c.Paused != nil {
		sheet.By, sheet.At = c.Paused.By, c.Paused.At
	} else {
		sheet.By, sheet.At = c.Last().By, c.Last().At
	}
	for _, st := range c.Open {
		what := st.State.Title
		if st.Ref.Side != procedures.NoSide {
			what += ", " + phrase.Word(st.Ref.Side)
		}
		sheet.Lines = append(sheet.Lines, StopLine{what + ": " + st.State.Danger, st.State.IfStopped})
	}
	for i := range c.Stages {
		sheet.Lines = append(sheet.Lines, c.looseOn(&c.Stages[i])...)
	}
	if next := c.Next(); next != (procedures.Ref{}) {
		sheet.Next, sheet.NextRef = c.title(next), next
	}
	return sheet
}

// looseOn lists the torque groups of a stage that were loosened or begun and are not at their torque.
func (c *Card) looseOn(s *StageCard) []StopLine {
	if s.Status == LeftOut || s.Status == Complete || s.Status == Undecided {
		return nil
	}
	var out []StopLine
	a := s.Current()
	for i := range s.Node.Checks {
		pc := &s.Node.Checks[i]
		if pc.Kind != procedures.Torque {
			continue
		}
		pulled, broken := 0, false
		if a != nil && !a.stale {
			for _, e := range a.Entries {
				if e.Check == pc.ID && e.Item != procedures.ItemNew {
					if e.Counts() {
						pulled++
					}
					broken = broken || e.Broken
				}
			}
		}
		where := ""
		if s.Node.Ref.Side != procedures.NoSide {
			where = ", " + phrase.Word(s.Node.Ref.Side)
		}
		switch n := len(pc.Group.Names); {
		case broken && pulled < n:
			out = append(out, StopLine{phrase.Of("job.stop.pass-broken-off-hand-tight-at-best", pc.Group.Title, where), phrase.Of("job.stop.begin-the-pass-again-from-the-first")})
		case pulled > 0 && pulled < n:
			out = append(out, StopLine{phrase.Of("job.stop.of-tightened", pc.Group.Title, where, pulled, n), phrase.Of("job.stop.begin-the-pass-again-from-the-first")})
		case s.Status == Stale || (a != nil && a.No > 1 && pulled == 0):
			out = append(out, StopLine{phrase.Of("job.stop.loosened-not-tightened-again", pc.Group.Title, where), phrase.Of("job.stop.tighten-it-at-its-stage")})
		case pulled == 0 && c.offNow(s):
			out = append(out, StopLine{phrase.Of("job.stop.off-or-loose", pc.Group.Title, where), phrase.Of("job.stop.tighten-it-at-its-stage")})
		}
	}
	return out
}

// offNow reports whether the fasteners of a stage are off: it puts back a state that stands open.
func (c *Card) offNow(s *StageCard) bool {
	for _, cl := range s.Node.Clears {
		for _, st := range c.Open {
			if st.Ref == cl.State {
				return true
			}
		}
	}
	return false
}

// SignSafe signs that the stopped vehicle may stand overnight as the stop sheet says.
type SignSafe struct{}

func (c *Card) decideSafe(ctx Context) ([]Body, error) {
	var out Refused
	if c.Paused == nil {
		out = append(out, Blocker{Code: CodeNotPaused, Text: phrase.Of("job.stop.the-job-is-not-stopped"), WayOut: phrase.Of("job.stop.stop-it-first-with-what-stands-open")})
	}
	if !ctx.By.Qualified() {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.stop.is-a-mechanic-or-the-foreman-signs", nameOf(ctx.By.Name), roleWords(ctx)), WayOut: phrase.Of("job.decidepeople.fetch-one-of-them")})
	}
	if !ctx.CodeGiven {
		out = append(out, Blocker{Code: CodeCode, Text: phrase.Of("job.stop.safe-to-leave-takes-the-personal-code"), WayOut: phrase.Of("job.stop.type-your-code")})
	}
	if len(out) > 0 {
		return nil, out
	}
	return []Body{SafeToLeave{}}, nil
}

// ReadBack is the number of lines of the stop sheet that must be read back before the job goes on;
// none after a short pause by the same person.
func (c *Card) ReadBack() int {
	if c.Paused == nil || c.Stop.Kind == StopUnknown || c.Stop.Kind == StopPause {
		return 0
	}
	return len(c.StopSheet().Lines)
}

func (c *Card) decideResume(w Resume, ctx Context) ([]Body, error) {
	if owed := c.ReadBack(); w.Read < owed {
		return nil, Refused{{Code: CodeReadBack, Text: phrase.Of("job.stop.of-lines-of-the-stop-sheet-were", w.Read, owed), WayOut: phrase.Of("job.stop.read-every-line-back-at-the-vehicle")}}
	}
	return []Body{Resumed{Lines: w.Read, TakenOver: ctx.By.ID != c.Paused.By.ID}}, nil
}

// whilePaused are the few things that may be recorded while a job is stopped.
func whilePaused(want Intent) bool {
	switch want.(type) {
	case SignSafe, Withhold, Lift, Abandon, Cancel, Advise, DecideAdvice, Append, Follow:
		return true
	}
	return false
}

// Nights is how many nights the vehicle has stood, from the stop to the moment given.
func (c *Card) Nights(at time.Time) int {
	if c.Paused == nil {
		return 0
	}
	from := c.Paused.At
	day := func(t time.Time) time.Time { return time.Date(t.Year(), t.Month(), t.Day(), 12, 0, 0, 0, time.UTC) }
	return int(day(at.In(from.Location())).Sub(day(from)).Hours() / 24)
}

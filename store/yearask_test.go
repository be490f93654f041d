package store

import (
	"context"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/procedures"
)

// A year of the depot: every question answered and held against plain loops over the events, a recall
// worked off, a tampered copy found, a backup restored.
func TestYear(t *testing.T) {
	t.Parallel()
	y := newYear(t, 20260105)
	y.fill(yearVisits)
	y.c.at = time.Date(2026, 12, 30, 12, 0, 0, 0, y.c.at.Location())
	y.after()
	cards := y.cards()
	t.Run("questions", func(t *testing.T) { y.questions(t, cards) })
	t.Run("views", func(t *testing.T) { y.views(t, cards) })
	t.Run("recall", y.recall)
	t.Run("tampered", y.tampered)
	t.Run("backup", y.backup)
	t.Run("rebuild", func(t *testing.T) {
		before := dump(t, y.f)
		r, err := y.f.Rebuild(context.Background())
		must(t, err)
		if d := cmp.Diff(before, dump(t, y.f)); d != "" || r.Changed != 0 {
			t.Errorf("%d rows changed", r.Changed)
		}
	})
}

// after is what the office does at the end of the year: a licence that had run out in spring is
// entered, and revision 4 of a sheet narrows the wheel fasteners.
func (y *depotYear) after() {
	must(y.t, y.f.SetQualification(chief, "M04", "driving licence", "2026-03-31"))
	ss, err := procedures.Sheets()
	must(y.t, err)
	s := ss[slices.IndexFunc(ss, func(s *procedures.Sheet) bool { return s.ID == "demo-minibus" })]
	s.Revision += "+1"
	for i := range s.Windows {
		if s.Windows[i].ID == "wheel-nut-final" {
			w, err := quantity.ParseWindow(s.Windows[i].Value)
			must(y.t, err)
			above := new(big.Rat).Add(w.Low.Rat(), big.NewRat(1, 100)) // finer than a wrench reads: only the lower limit is right
			s.Windows[i].Value = fmt.Sprintf("%s..%s", w.Low.Number, quantity.FromRat(above, w.Low.Unit, 2))
		}
	}
	must(y.t, y.f.InstallSheet(chief, s))
}

func (y *depotYear) ask(t testing.TB, name string, args map[string]string) questions.Answer {
	t.Helper()
	a, err := y.f.Ask(context.Background(), name, args)
	must(t, err)
	if a.Revision == "" || a.To == "" || !a.AsOf.Equal(y.c.at) || len(a.Columns) == 0 {
		t.Errorf("%s: the answer does not say what it covers: %+v", name, a)
	}
	t.Logf("%s: %s; %s", name, a.Found(), a.Span())
	for _, r := range a.Rows {
		if len(r.Cells) != len(a.Columns) {
			t.Fatalf("%s: %d cells in %d columns", name, len(r.Cells), len(a.Columns))
		}
	}
	return a
}

// marks are the jobs and events an answer names, sorted.
func marks(a questions.Answer) []string {
	var out []string
	for _, r := range a.Rows {
		out = append(out, fmt.Sprintf("%d/%d", r.Job, r.Seq))
	}
	slices.Sort(out)
	return out
}

// events are the marks of the events of real jobs that a plain loop picks.
func events(cards []*job.Card, pick func(c *job.Card, e job.Event) bool) []string {
	var out []string
	for _, c := range cards {
		for _, e := range c.Events {
			if !c.Opened.Practice && pick(c, e) {
				out = append(out, fmt.Sprintf("%d/%d", c.Number(), e.Seq))
			}
		}
	}
	slices.Sort(out)
	return out
}

func is[T job.Body](_ *job.Card, e job.Event) bool { _, ok := e.Body.(T); return ok }

// torque reports whether an event tightens a fastener.
func torque(c *job.Card, e job.Event) (job.Entered, bool) {
	b, ok := e.Body.(job.Entered)
	if !ok || b.Instrument == nil || b.Item == procedures.ItemNew {
		return b, false
	}
	pc := c.Plan.Node(b.Stage).Check(b.Check)
	return b, pc.Kind == procedures.Torque
}

// replaced are the events of a job that a later one corrects or breaks off.
func replaced(c *job.Card) map[uint32]bool {
	out := map[uint32]bool{}
	for _, e := range c.Events {
		switch b := e.Body.(type) {
		case job.Entered:
			out[b.Replaces] = true
		case job.Broken:
			for _, x := range c.Events[:e.Seq-1] {
				if v, ok := x.Body.(job.Entered); ok && v.Stage == b.Stage && v.Attempt == b.Attempt && v.Check == b.Check {
					out[x.Seq] = true
				}
			}
		}
	}
	return out
}

func signedMarks(c *job.Card, e job.Event) (procedures.Ref, bool) {
	switch b := e.Body.(type) {
	case job.Signed:
		return b.Stage, true
	case job.Countersigned:
		return b.Stage, true
	}
	return procedures.Ref{}, false
}

func (y *depotYear) questions(t *testing.T, cards []*job.Card) {
	asked := map[string]bool{}
	check := func(name string, args map[string]string, want []string) questions.Answer {
		t.Helper()
		asked[name] = true
		a := y.ask(t, name, args)
		if d := cmp.Diff(want, marks(a)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		return a
	}
	real := slices.DeleteFunc(slices.Clone(cards), func(c *job.Card) bool { return c.Opened.Practice })
	last := real[len(real)-1]
	check("wrench-actions", map[string]string{"wrench": "W10"}, events(cards, func(c *job.Card, e job.Event) bool {
		b, ok := torque(c, e)
		return ok && b.Instrument.ID == "W10"
	}))
	check("outside-to-inside", nil, events(cards, func(c *job.Card, e job.Event) bool {
		b, ok := e.Body.(job.Entered)
		if !ok || b.Replaces == 0 {
			return false
		}
		old := c.Events[b.Replaces-1].Body.(job.Entered)
		return old.Verdict == quantity.Outside && b.Verdict == quantity.Inside
	}))
	check("deviations", nil, events(cards, is[job.Deviated]))
	check("withheld", nil, events(cards, is[job.Withheld]))
	check("interrupted-groups", nil, events(cards, is[job.Broken]))
	check("refused-advice", nil, events(cards, func(c *job.Card, e job.Event) bool {
		_, ok := e.Body.(job.Advised)
		return ok && slices.ContainsFunc(c.Events, func(x job.Event) bool {
			d, ok := x.Body.(job.AdviceDecided)
			return ok && d.Advice == e.Seq && d.Answer != "accepted"
		})
	}))
	check("without-second", nil, events(cards, func(c *job.Card, e job.Event) bool {
		r, ok := e.Body.(job.Released)
		s, signed := e.Body.(job.Signed)
		return ok && !r.Independent || signed && s.NoSecond
	}))
	check("weak-evidence", nil, events(cards, func(c *job.Card, e job.Event) bool {
		b, ok := torque(c, e)
		return ok && c.Plan.Node(b.Stage).Stage.Hold && (b.Evidence == job.ClickHeard || b.Evidence == job.ToldLater) && !replaced(c)[e.Seq]
	}))
	check("replaced-new", nil, events(cards, func(c *job.Card, e job.Event) bool {
		b, ok := e.Body.(job.Entered)
		return ok && b.Item == procedures.ItemNew && !replaced(c)[e.Seq]
	}))
	check("quarantined", nil, events(cards, func(c *job.Card, e job.Event) bool {
		b, ok := e.Body.(job.Entered)
		if !ok || b.Value.IsZero() {
			return false
		}
		pc := c.Plan.Node(b.Stage).Check(b.Check)
		if pc.Nominal == nil {
			return false
		}
		v, err := pc.Nominal.Window.Judge(b.Value)
		return err == nil && v == quantity.Outside
	}))
	check("odd-hours", map[string]string{"begin": "08:00", "end": "17:00"}, events(cards, func(c *job.Card, e job.Event) bool {
		_, ok := signedMarks(c, e)
		at := e.At.Format("15:04")
		return ok && (at < "08:00" || at > "17:00")
	}))
	check("expired-qualifications", nil, events(cards, func(c *job.Card, e job.Event) bool {
		s, ok := e.Body.(job.Signed)
		return ok && e.By.ID == "M04" && c.Plan.Node(s.Stage).Stage.Qualification != "" && e.At.Format(time.DateOnly) > "2026-03-31"
	}))
	signed := func(c *job.Card, e job.Event) bool { return c == last && is[job.Signed](c, e) }
	check("signatures", map[string]string{"job": fmt.Sprint(last.Number())}, events([]*job.Card{last}, signed))
	ended := real[slices.IndexFunc(real, func(c *job.Card) bool { return c.Outcome() != "" })]
	check("as-released", map[string]string{"job": fmt.Sprint(ended.Number())}, events([]*job.Card{ended}, func(*job.Card, job.Event) bool { return true }))
	day := last.OpenedAt.Format(time.DateOnly)
	check("tightened", map[string]string{"vehicle": last.Opened.Vehicle.ID, "day": day}, events(cards, func(c *job.Card, e job.Event) bool {
		if c.Opened.Vehicle.ID != last.Opened.Vehicle.ID || e.At.Format(time.DateOnly) != day {
			return false
		}
		_, ok := torque(c, e)
		return ok || is[job.Checked](c, e)
	}))
	whole := check("whole", map[string]string{"job": fmt.Sprint(last.Number())}, []string{fmt.Sprintf("%d/%d", last.Number(), last.Seq())})
	if !strings.Contains(whole.Rows[0].Cells[4], "whole") {
		t.Errorf("whole: %v", whole.Rows)
	}
	y.sums(t, cards, asked)
	y.lists(t, cards, asked)
	for _, q := range questions.List() {
		if !asked[q.Name] {
			t.Errorf("question %d, %s, was not asked", q.Number, q.Name)
		}
	}
	if n := len(questions.List()); n != 38 {
		t.Errorf("%d questions", n)
	}
}

// sums checks the questions that add up.
func (y *depotYear) sums(t *testing.T, cards []*job.Card, asked map[string]bool) {
	ask := func(name string, args map[string]string) questions.Answer {
		t.Helper()
		asked[name] = true
		return y.ask(t, name, args)
	}
	cells := func(a questions.Answer, at ...int) map[string]string {
		out := map[string]string{}
		for _, r := range a.Rows {
			var v []string
			for _, i := range at {
				v = append(v, r.Cells[i])
			}
			out[r.Cells[0]] = strings.Join(v, " ")
		}
		return out
	}
	first, again, done := map[string]string{}, map[string]string{}, map[string]string{}
	counts := map[string]*[4]int{} // by title: right, of, new attempts, last attempts signed
	for _, c := range cards {
		if c.Opened.Practice {
			continue
		}
		began, reopened, lastSigned := map[procedures.Ref]bool{}, map[procedures.Ref]int{}, map[procedures.Ref]int{}
		signedFirst := map[procedures.Ref]bool{}
		for _, e := range c.Events {
			switch b := e.Body.(type) {
			case job.Entered:
				began[b.Stage] = true
			case job.Signed:
				began[b.Stage] = true
				signedFirst[b.Stage] = signedFirst[b.Stage] || b.Attempt == 1
				lastSigned[b.Stage] = b.Attempt
			case job.Reopened:
				reopened[b.Stage]++
			}
		}
		for ref := range began {
			title := c.Plan.Node(ref).Stage.Title
			if counts[title] == nil {
				counts[title] = new([4]int)
			}
			n := counts[title]
			if signedFirst[ref] || reopened[ref] > 0 {
				n[1]++
				if reopened[ref] == 0 {
					n[0]++
				}
			}
			n[2] += reopened[ref]
			if lastSigned[ref] == reopened[ref]+1 {
				n[3]++
			}
		}
	}
	for title, n := range counts {
		if n[1] > 0 {
			first[title] = fmt.Sprint(n[0], " ", n[1])
		}
		if n[2] > 0 {
			again[title] = fmt.Sprint(n[2])
		}
		if n[3] > 0 {
			done[title] = fmt.Sprint(n[3])
		}
	}
	if d := cmp.Diff(first, cells(ask("first-time-right", nil), 1, 2)); d != "" {
		t.Error("first-time-right:", d)
	}
	if d := cmp.Diff(again, cells(ask("repeated-stages", nil), 1)); d != "" {
		t.Error("repeated-stages:", d)
	}
	if d := cmp.Diff(done, cells(ask("stage-times", nil), 1)); d != "" {
		t.Error("stage-times:", d)
	}
	for _, r := range ask("first-time-right", map[string]string{"by": "apprentice"}).Rows {
		if r.Cells[0] != "Jory" {
			t.Errorf("the only apprentice is Jory, not %s", r.Cells[0])
		}
	}
	total, want := 0, 0
	for _, r := range ask("person-did", map[string]string{"person": "A11"}).Rows {
		n := 0
		fmt.Sscan(r.Cells[2], &n)
		total += n
	}
	for _, c := range cards {
		hand := map[string]bool{}
		for _, e := range c.Events {
			switch b := e.Body.(type) {
			case job.Entered:
				if e.By.ID == "A11" {
					hand[fmt.Sprint(b.Stage, b.Attempt)] = true
				}
			case job.Signed:
				if e.By.ID == "A11" || hand[fmt.Sprint(b.Stage, b.Attempt)] {
					want++
				}
			}
		}
	}
	if total != want {
		t.Errorf("person-did: %d stages, want %d", total, want)
	}
}

// lists checks the questions about vehicles, parts, states and the register.
func (y *depotYear) lists(t *testing.T, cards []*job.Card, asked map[string]bool) {
	ask := func(name string, args map[string]string) questions.Answer {
		t.Helper()
		asked[name] = true
		return y.ask(t, name, args)
	}
	jobsOf := func(a questions.Answer) []string {
		var out []string
		for _, r := range a.Rows {
			if n := fmt.Sprint(r.Job); !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
		slices.Sort(out)
		return out
	}
	pick := func(keep func(c *job.Card) bool) []string {
		var out []string
		for _, c := range cards {
			if !c.Opened.Practice && keep(c) {
				out = append(out, fmt.Sprint(c.Number()))
			}
		}
		slices.Sort(out)
		return out
	}
	same := func(name string, want, got []string) {
		t.Helper()
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
	entered := func(c *job.Card, want func(pc *procedures.PlanCheck, b job.Entered) bool) bool {
		return slices.ContainsFunc(c.Events, func(e job.Event) bool {
			b, ok := e.Body.(job.Entered)
			return ok && c.Stage(b.Stage).Status != job.LeftOut && want(c.Plan.Node(b.Stage).Check(b.Check), b)
		})
	}
	same("batch", pick(func(c *job.Card) bool {
		return entered(c, func(_ *procedures.PlanCheck, b job.Entered) bool { return b.Answer == "B-2217" })
	}), jobsOf(ask("batch", map[string]string{"batch": "b-2217"})))
	real := 0 // every job of the year that was no practice counts as searched
	for _, c := range cards {
		if day := c.Last().At.Format(time.DateOnly); !c.Opened.Practice && day >= y.f.Now().AddDate(-1, 0, 0).Format(time.DateOnly) {
			real++
		}
	}
	if a := ask("batch", map[string]string{"batch": "B-0000"}); real == 0 || a.Found() != fmt.Sprintf("none found in %d records", real) {
		t.Errorf("a batch that never was: %s", a.Found())
	}
	list, err := y.f.Jobs()
	must(t, err)
	standing := 0
	for _, s := range list {
		standing += len(s.Open)
	}
	if a := ask("open-states", nil); len(a.Rows) != standing {
		t.Errorf("open-states: %d, the list of jobs has %d", len(a.Rows), standing)
	}
	raised := 0
	for _, s := range list {
		if s.Outcome == "" && slices.ContainsFunc(s.Open, func(title string) bool { return strings.Contains(title, "aised") }) {
			raised++
		}
	}
	if a := ask("on-stands", nil); len(a.Rows) != raised || raised == 0 {
		t.Errorf("on-stands: %d, the list of jobs has %d", len(a.Rows), raised)
	}
	states := 0
	for _, c := range cards {
		seen := map[procedures.StateRef]bool{}
		for _, e := range c.Events {
			if b, ok := e.Body.(job.Entered); ok && !c.Opened.Practice {
				for _, s := range c.Plan.Node(b.Stage).Sets {
					seen[s] = true
				}
			}
		}
		states += len(seen)
	}
	if a := ask("longest-states", map[string]string{"most": "100000"}); len(a.Rows) != states {
		t.Errorf("longest-states: %d, the events set %d", len(a.Rows), states)
	}
	retorque := func(c *job.Card) (owed, done int) {
		for i := range c.Plan.Nodes {
			n := &c.Plan.Nodes[i]
			if n.Stage.Task == "re-torque" && slices.ContainsFunc(n.Checks, func(pc procedures.PlanCheck) bool { return pc.Kind == procedures.Torque }) && c.Stage(n.Ref).Status != job.LeftOut {
				owed++
				if slices.ContainsFunc(c.Events, func(e job.Event) bool { s, ok := e.Body.(job.Signed); return ok && s.Stage == n.Ref }) {
					done++
				}
			}
		}
		return owed, done
	}
	same("re-torques", pick(func(c *job.Card) bool {
		owed, done := retorque(c)
		return c.Outcome() == job.OutcomeReleased && owed > 0 && done < owed
	}), jobsOf(ask("re-torques", nil)))
	wheels, moved := 0, 0
	for _, c := range cards {
		for _, e := range c.Events {
			if b, ok := e.Body.(job.Entered); ok && !c.Opened.Practice && strings.HasPrefix(b.Answer, "one, by less") {
				moved++
			}
		}
		if _, done := retorque(c); !c.Opened.Practice && c.Outcome() != "" {
			wheels += done
		}
	}
	if a := ask("re-torque-moved", nil); len(a.Rows) != moved || !strings.HasPrefix(a.Notes[0], fmt.Sprintf("a fastener moved on %d of %d wheels", moved, wheels)) {
		t.Errorf("re-torque-moved: %v, want %d of %d wheels", a.Notes, moved, wheels)
	}
	same("spec-revision", pick(func(c *job.Card) bool {
		return c.Opened.Sheet.ID == "demo-minibus" && entered(c, func(pc *procedures.PlanCheck, b job.Entered) bool {
			return b.Window != nil && b.Window.ID == "wheel-nut-final" && pc.Kind == procedures.Torque
		})
	}), jobsOf(ask("spec-revision", map[string]string{"sheet": "demo-minibus"})))
	if a := ask("wrenches-due", map[string]string{"days": "3000"}); len(a.Rows) != len(yearTools()) {
		t.Errorf("wrenches-due: %d", len(a.Rows))
	}
	if a := ask("wrenches-due", nil); len(a.Rows) != 0 || a.Found() != fmt.Sprintf("none found in %d records", len(yearTools())) {
		t.Errorf("wrenches-due in 30 days: %s", a.Found())
	}
	if a := ask("in-calibration", map[string]string{"wrench": "W10", "moment": "2026-03-03 10:12"}); len(a.Rows) != 1 || a.Rows[0].Cells[5] != "in calibration" {
		t.Errorf("in-calibration: %+v", a.Rows)
	}
	if a := ask("in-calibration", map[string]string{"wrench": "W10", "moment": "2025-03-03 10:12"}); !strings.HasPrefix(a.Found(), "1 line found") || len(a.Unjudged) != 1 {
		t.Errorf("in-calibration before the first certificate: %s", a.Found())
	}
	y.measures(t, cards, ask, same, pick, entered)
}

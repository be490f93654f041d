package command

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/paper"
)

// asker asks the questions of a year and holds the answers against what plain loops pick out of the
// exported JSON. What a stage or a check is for stands in the text of its procedure.
type asker struct {
	*testing.T
	*playedYear
	asked map[string]bool
}

// TestYearAnswers asks all named questions over a year of the invented depot, through the program, and
// holds every answer against an independent computation over the JSON that pawl export writes.
func TestYearAnswers(t *testing.T) {
	t.Parallel()
	a := &asker{t, playYear(t), map[string]bool{}}
	a.ofEvents()
	a.ofSignatures()
	a.ofStages()
	a.ofStates()
	a.ofVehicles()
	a.ofParts()
	a.ofWrenches()
	a.ofWear()
	a.ofFigures()
	for _, q := range questions.List() {
		if !a.asked[q.Name] {
			t.Errorf("question %d, %s, was not asked", q.Number, q.Name)
		}
	}
	if len(a.asked) != 38 {
		t.Errorf("%d questions were asked", len(a.asked))
	}
}

// question asks and notes that it was asked. Something could not be judged only where doubt says so.
func (a *asker) question(doubt bool, name string, args ...string) questions.Answer {
	a.Helper()
	a.asked[name] = true
	x, found := a.ask(a, name, args...)
	if (len(x.Unjudged) > 0) != doubt || found != x.Found() {
		a.Errorf("%s: %s: %v", name, found, x.Unjudged)
	}
	return x
}

// same compares two lists in any order. A list that is empty shows nothing, so it must not be.
func (a *asker) same(name string, want, got []string) {
	a.Helper()
	if len(want) == 0 {
		a.Errorf("%s: the year has none", name)
	}
	slices.Sort(want)
	slices.Sort(got)
	if d := gocmp.Diff(want, got); d != "" {
		a.Errorf("%s (-loops +answer):\n%s", name, d)
	}
}

// cellsOf are some cells of every row in one string each.
func cellsOf(x questions.Answer, at ...int) []string {
	var out []string
	for _, r := range x.Rows {
		var v []string
		for _, i := range at {
			v = append(v, accents.Off(r.Cells[i]))
		}
		out = append(out, strings.Join(v, "|"))
	}
	return out
}

func mark(number uint64, seq uint32) string { return fmt.Sprintf("%d/%d", number, seq) }

// marks are the jobs and events an answer names.
func marks(x questions.Answer) []string {
	var out []string
	for _, r := range x.Rows {
		out = append(out, mark(r.Job, r.Seq))
	}
	return out
}

// real are the jobs that are no practice.
func (a *asker) real() []paper.Export {
	return slices.DeleteFunc(slices.Clone(a.jobs), func(x paper.Export) bool { return x.Job.Practice })
}

// eventMarks are the events with one of these names in real jobs.
func (a *asker) eventMarks(names ...string) []string {
	var out []string
	for _, x := range a.real() {
		for _, e := range x.Events {
			if slices.Contains(names, e.Event) {
				out = append(out, mark(x.Job.Number, e.Seq))
			}
		}
	}
	return out
}

// stage is a stage in the text of the procedure of a job.
func (a *asker) stage(x paper.Export, ref string) *procedures.Stage {
	id, _, _ := strings.Cut(ref, "/")
	p := a.library[x.Job.Procedure.ID]
	i := slices.IndexFunc(p.Stages, func(s procedures.Stage) bool { return s.ID == id })
	if i < 0 {
		a.Fatalf("%s has no stage %s", p.ID, ref)
	}
	return &p.Stages[i]
}

// check is a check in the text of the procedure of a job.
func (a *asker) check(x paper.Export, stage, check string) procedures.Check {
	s := a.stage(x, stage)
	i := slices.IndexFunc(s.Checks, func(c procedures.Check) bool { return c.ID == check })
	if i < 0 {
		a.Fatalf("%s has no check %s", stage, check)
	}
	return s.Checks[i]
}

// standing is the stage of a row as it stands.
func standing(x paper.Export, w paper.Where) paper.StageFacts {
	ref := strings.TrimSuffix(w.Stage+"/"+w.Side, "/")
	i := slices.IndexFunc(x.Stages, func(s paper.StageFacts) bool { return s.Stage == ref })
	return x.Stages[i]
}

// current reports whether a row belongs to the attempt that counts of a stage that is not left out.
func current(x paper.Export, w paper.Where) bool {
	s := standing(x, w)
	return s.Attempts == w.Attempt && s.Status != job.LeftOut.String()
}

// reckoned are the values of a job that mean something, as they stand now.
func (a *asker) reckoned(x paper.Export, word string) []paper.ReadingRow {
	return slices.DeleteFunc(slices.Clone(x.Readings), func(r paper.ReadingRow) bool {
		return !r.Counts || !current(x, r.Where) || a.check(x, r.Stage, r.Check).Reckon != word
	})
}

// ofEvents checks the questions that list what happened.
func (a *asker) ofEvents() {
	a.same("deviations", a.eventMarks("deviated"), marks(a.question(false, "deviations")))
	a.same("withheld", a.eventMarks("withheld"), marks(a.question(false, "withheld")))
	a.same("interrupted-groups", a.eventMarks("broken"), marks(a.question(false, "interrupted-groups")))
	var refused, turned []string
	for _, x := range a.real() {
		for _, v := range x.Advice {
			if v.Answer != "accepted" && v.Answer != "" {
				refused = append(refused, mark(x.Job.Number, v.Seq))
			}
		}
		verdict := map[uint32]string{}
		replaces := map[uint32]uint32{}
		for _, r := range x.Readings {
			verdict[r.Seq], replaces[r.Seq] = r.Verdict, r.Replaces
		}
		for _, r := range x.Torque {
			verdict[r.Seq], replaces[r.Seq] = r.Verdict, r.Replaces
		}
		for seq, old := range replaces {
			if old != 0 && verdict[old] == "outside" && verdict[seq] == "inside" {
				turned = append(turned, mark(x.Job.Number, seq))
			}
		}
	}
	a.same("refused-advice", refused, marks(a.question(false, "refused-advice")))
	a.same("outside-to-inside", turned, marks(a.question(false, "outside-to-inside")))
	x := a.jobs[0]
	var released []string
	at, end := job.Origin(x.Job.Number), uint32(0)
	for _, e := range x.Events {
		if e.Event == "released" {
			end = e.Seq
		}
	}
	for _, e := range x.Events {
		at = job.Link(at, e.Bytes)
		released = append(released, fmt.Sprintf("%d|%s", e.Seq, map[bool]string{true: "added later", false: "the release"}[e.Seq > end]))
	}
	a.same("as-released", released, cellsOf(a.question(false, "as-released", "job=1"), 1, 8))
	a.same("whole", []string{fmt.Sprintf("%d|%s|released|whole: every event fits the digest of the one after it", len(x.Events), at)},
		cellsOf(a.question(false, "whole", "job=1"), 1, 2, 3, 4))
}

// ofSignatures checks the questions about who signed.
func (a *asker) ofSignatures() {
	var alone, odd, expired, one []string
	did := 0
	for _, x := range a.jobs {
		hand := map[paper.Where]bool{}
		for _, r := range x.Readings {
			hand[r.Where] = hand[r.Where] || r.ByID == "A11"
		}
		for _, r := range x.Torque {
			hand[r.Where] = hand[r.Where] || r.ByID == "A11"
		}
		for _, s := range x.Signatures {
			m := mark(x.Job.Number, s.Seq)
			if s.Kind == "signed" && (s.ByID == "A11" || hand[s.Where]) {
				did++
			}
			if x.Job.Number == 1 && s.Kind == "signed" {
				one = append(one, m+"|"+s.At.Format("2006-01-02 15:04"))
			}
			if x.Job.Practice {
				continue
			}
			if s.NoSecond {
				alone = append(alone, m)
			}
			if clock := s.At.Format("15:04"); s.Kind != "released" && (clock < "08:00" || clock > "11:30") {
				odd = append(odd, m)
			}
			if s.Kind == "signed" && s.ByID == "M04" && a.stage(x, s.Stage).Qualification != "" && s.At.Format(time.DateOnly) > "2026-04-01" {
				expired = append(expired, m)
			}
		}
	}
	a.same("without-second", alone, marks(a.question(false, "without-second")))
	a.same("odd-hours", odd, marks(a.question(false, "odd-hours", "begin=08:00", "end=11:30")))
	a.same("expired-qualifications", expired, marks(a.question(false, "expired-qualifications")))
	answer := a.question(false, "signatures", "job=1")
	got := marks(answer)
	for i, c := range cellsOf(answer, 4) {
		got[i] += "|" + c
	}
	a.same("signatures", one, got)
	sum := 0
	for _, c := range cellsOf(a.question(false, "person-did", "person=A11"), 2) {
		n := 0
		fmt.Sscan(c, &n)
		sum += n
	}
	if did == 0 || sum != did {
		a.Errorf("person-did: %d stages, want %d", sum, did)
	}
	a.late()
}

// late checks that no countersign came after its stage was covered: the rules refuse the next stage
// until then, so none is found, which is not the same as that nobody can tell.
func (a *asker) late() {
	late, of := []string{}, 0
	for _, x := range a.real() {
		signed := map[paper.Where]uint32{}
		for _, s := range x.Signatures {
			if s.Kind == "signed" {
				signed[s.Where] = s.Seq
			}
			if s.Kind != "countersigned" {
				continue
			}
			of++
			for _, e := range x.Events {
				ref, _ := e.Facts["stage"].(string)
				id, side, _ := strings.Cut(ref, "/")
				if e.Event != "entered" || e.Seq < signed[s.Where] || e.Seq > s.Seq || side != "" && s.Side != "" && side != s.Side {
					continue
				}
				if next := a.stage(x, id); !next.Early && slices.ContainsFunc(next.After, func(r string) bool { return strings.TrimSuffix(r, "?") == s.Stage }) {
					late = append(late, mark(x.Job.Number, s.Seq))
				}
			}
		}
	}
	answer := a.question(false, "late-countersigns")
	if of == 0 || len(late) != 0 || len(answer.Rows) != 0 || accents.Off(answer.Found()) != fmt.Sprintf("none found in %d records", len(a.real())) {
		a.Errorf("late-countersigns: %v of %d, %s", late, of, answer.Found())
	}
}

// ofStages checks the questions that add stages up.
func (a *asker) ofStages() {
	right, of, again, times, stops := map[string]int{}, map[string]int{}, map[string]int{}, map[string][]float64{}, map[string]float64{}
	for _, x := range a.real() {
		begun, reopened := map[string]bool{}, map[string]int{}
		firstSigned := map[string]bool{}
		first := map[paper.Where]time.Time{}
		begin := func(w paper.Where, at time.Time) {
			if old, ok := first[w]; !ok || at.Before(old) {
				first[w] = at
			}
		}
		for _, r := range x.Readings {
			begin(r.Where, r.At)
		}
		for _, r := range x.Torque {
			begin(r.Where, r.At)
		}
		for _, e := range x.Events {
			ref, _ := e.Facts["stage"].(string)
			switch e.Event {
			case "entered":
				begun[ref] = true
			case "signed":
				begun[ref] = true
				firstSigned[ref] = firstSigned[ref] || e.Facts["attempt"].(float64) == 1
			case "reopened":
				reopened[ref]++
			}
		}
		for ref := range begun {
			title := a.stage(x, ref).Title
			again[title] += reopened[ref]
			if firstSigned[ref] || reopened[ref] > 0 {
				of[title]++
				if reopened[ref] == 0 {
					right[title]++
				}
			}
		}
		for _, s := range x.Signatures {
			if s.Kind != "signed" || standing(x, s.Where).Attempts != s.Attempt {
				continue
			}
			if _, ok := first[s.Where]; !ok {
				first[s.Where] = s.At
			}
			stop := stopped(x, first[s.Where], s.At)
			stops[s.Title] += stop.Hours()
			times[s.Title] = append(times[s.Title], (s.At.Sub(first[s.Where]) - stop).Minutes())
		}
	}
	var rights, agains, worked []string
	for title := range of {
		rights = append(rights, fmt.Sprintf("%s|%d|%d", title, right[title], of[title]))
	}
	for title, n := range again {
		if n > 0 {
			agains = append(agains, fmt.Sprintf("%s|%d", title, n))
		}
	}
	for title, m := range times {
		slices.Sort(m)
		middle := (m[(len(m)-1)/2] + m[len(m)/2]) / 2
		worked = append(worked, fmt.Sprintf("%s|%d|%.1f|%.1f", title, len(m), middle, stops[title]))
	}
	a.same("first-time-right", rights, cellsOf(a.question(false, "first-time-right"), 0, 1, 2))
	a.same("repeated-stages", agains, cellsOf(a.question(false, "repeated-stages"), 0, 1))
	a.same("stage-times", worked, cellsOf(a.question(false, "stage-times"), 0, 1, 2, 5))
}

// stopped is how long the job was stopped between two moments.
func stopped(x paper.Export, from, to time.Time) (sum time.Duration) {
	var since time.Time
	for _, e := range x.Events {
		switch e.Event {
		case "paused":
			since = e.At
		case "resumed":
			begin, end := slices.MaxFunc([]time.Time{since, from}, time.Time.Compare), slices.MinFunc([]time.Time{e.At, to}, time.Time.Compare)
			sum += max(0, end.Sub(begin))
		}
	}
	return sum
}

// ofStates checks the questions about what was opened.
func (a *asker) ofStates() {
	var raised, open, every []string
	for _, x := range a.jobs {
		first := map[string]uint32{}
		for _, s := range x.States {
			if s.Open {
				open = append(open, mark(x.Job.Number, s.OpenedSeq))
				if s.State == "raised" && x.Job.Outcome == "" {
					raised = append(raised, fmt.Sprint(x.Job.Number))
				}
			}
			if key := s.State + "/" + s.Side; first[key] == 0 && !x.Job.Practice {
				first[key] = s.OpenedSeq
				every = append(every, mark(x.Job.Number, s.OpenedSeq))
			}
		}
	}
	a.same("on-stands", raised, cellsOf(a.question(false, "on-stands"), 1))
	a.same("open-states", open, marks(a.question(false, "open-states")))
	answer := a.question(false, "longest-states", "most=100000")
	a.same("longest-states", every, marks(answer))
	if !slices.IsSortedFunc(answer.Rows, func(x, y questions.Row) int { return cmp.Compare(figure(y.Cells[5]), figure(x.Cells[5])) }) {
		a.Error("longest-states: the longest do not come first")
	}
}

// figure reads a figure of a cell.
func figure(text string) float64 {
	n := 0.0
	fmt.Sscan(strings.Fields(text + " 0")[0], &n)
	return n
}

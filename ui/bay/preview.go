package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// preview is a job as it would be opened: its stages, and the states it is going to open.
type preview struct {
	pane  scrollPane
	lines []line
}

// newPreview works it out from what the page says.
func newPreview(s *jobPage) (*preview, error) {
	sheet := s.stock.sheet(s.vehicle.Sheet)
	plan, err := procedures.Resolve(s.stock.procedure(s.page.value("procedure")), sheet, s.chosen())
	if err != nil {
		return nil, err
	}
	applies := plan.Applicability(func(procedures.Ref, string) (string, bool) { return "", false })
	p := &preview{}
	p.facts(s, sheet)
	p.stages(plan, applies)
	p.states(plan, applies)
	return p, nil
}

func (p *preview) add(role draw.Role, indent int, format string, args ...any) {
	p.lines = append(p.lines, line{role: role, text: fmt.Sprintf(format, args...), indent: indent})
}

func (p *preview) facts(s *jobPage, sheet *procedures.Sheet) {
	if s.vehicle.Demo || sheet.Demo {
		p.add(draw.Warn, 0, "%s", phrase.Of("bay.preview.demo-the-figures-of-this-job-are"))
	}
	if s.page.value("kind") == practiceKind {
		p.add(draw.Warn, 0, "%s", phrase.Of("bay.preview.practice-an-exercise-no-work-on-a"))
	}
	p.add(draw.Text, 2, "%s", phrase.Of("bay.preview.vehicle", s.vehicle.ID, s.vehicle.Name))
	p.add(draw.Text, 2, "%s", phrase.Of("bay.preview.complaint", s.page.value("complaint")))
	if by := s.page.value("customer"); by != "" {
		p.add(draw.Text, 2, "%s", phrase.Of("bay.preview.ordered-by", by))
	}
	odo := s.page.value("odometer")
	if strings.Trim(odo, "0123456789") == "" {
		odo += " km"
	}
	p.add(draw.Text, 2, "%s", phrase.Of("bay.preview.odometer", odo))
	if why := s.page.value(whyRow); why != "" {
		p.add(draw.Text, 2, "%s", phrase.Of("bay.preview.it-reads-lower-than-last-time", why))
	}
	p.add(draw.Text, 2, "%s", phrase.Of("bay.preview.procedure", procedureWords(s.stock.procedure(s.page.value("procedure")))))
	p.add(draw.Text, 2, "%s", phrase.Of("bay.preview.spec-sheet-revision", sheet.Title, sheet.Revision))
	for _, o := range s.doubts(s.page.value("odometer")) {
		p.add(draw.Warn, 0, "%s", sentence(o.Text))
	}
}

// stages counts the stages by phase, and apart those that hang on what is found or decided.
func (p *preview) stages(plan *procedures.Plan, applies []procedures.Applies) {
	sure, maybe, holds, second := 0, 0, 0, 0
	byPhase := map[string][2]int{}
	for i := range plan.Nodes {
		n := &plan.Nodes[i]
		c := byPhase[n.Phase.ID]
		switch applies[i] {
		case procedures.NotApplicable:
			continue
		case procedures.Applicable:
			sure, c[0] = sure+1, c[0]+1
		default:
			maybe, c[1] = maybe+1, c[1]+1
		}
		byPhase[n.Phase.ID] = c
		if n.Stage.Hold {
			holds++
		}
		if n.Stage.Second == procedures.SecondAlways {
			second++
		}
	}
	p.add(draw.Title, 0, "")
	p.add(draw.Title, 0, "%s", phrase.Of("bay.preview.and-more-that-depend-on-what-is", phrase.Count("count.stage", sure), maybe))
	p.add(draw.Text, 0, "%s", phrase.Of("bay.preview.with-the-signature-of-a-second-person", phrase.Count("count.hold-point", holds), second))
	var parts []string
	for _, ph := range plan.Procedure.Phases {
		c := byPhase[ph.ID]
		switch {
		case c[0]+c[1] == 0:
		case c[1] == 0:
			parts = append(parts, fmt.Sprintf("%s %d", ph.Title, c[0]))
		default:
			parts = append(parts, phrase.Of("bay.preview.to", ph.Title, c[0], c[0]+c[1]))
		}
	}
	p.add(draw.Faint, 0, "%s", strings.Join(parts, ", "))
}

// states lists what the job opens and where it is put back, in the order of the stages.
func (p *preview) states(plan *procedures.Plan, applies []procedures.Applies) {
	back := map[procedures.StateRef]string{}
	for i := range plan.Nodes {
		for _, c := range plan.Nodes[i].Clears {
			if applies[i] != procedures.NotApplicable && back[c.State] == "" {
				back[c.State] = job.Title(&plan.Nodes[i])
			}
		}
	}
	seen := map[procedures.StateRef]bool{}
	var lines []line
	for i := range plan.Nodes {
		n := &plan.Nodes[i]
		for _, ref := range n.Sets {
			if applies[i] == procedures.NotApplicable || seen[ref] {
				continue
			}
			seen[ref] = true
			may := ""
			if applies[i] == procedures.Undecided {
				may = phrase.Of("bay.preview.perhaps")
			}
			lines = append(lines, line{text: phrase.Of("bay.preview.from-to", stateWords(plan.Procedure, ref), may, n.Stage.Title, back[ref]), indent: 2})
		}
	}
	p.add(draw.Title, 0, "")
	if len(lines) == 0 {
		p.add(draw.Title, 0, "%s", phrase.Of("bay.preview.it-opens-nothing-that-has-to-be"))
		return
	}
	p.add(draw.Title, 0, "%s", phrase.Of("bay.preview.it-opens-and-each-is-put-back", phrase.Count("count.state", len(lines))))
	p.lines = append(p.lines, lines...)
	for i := range plan.Nodes {
		if applies[i] != procedures.NotApplicable && len(plan.Nodes[i].Stage.OtherShut) > 0 {
			p.add(draw.Text, 0, "%s", phrase.Of("bay.preview.one-side-at-a-time-from", plan.Nodes[i].Stage.Title))
			break
		}
	}
}

// stateWords is a standing state with its side in capital words.
func stateWords(p *procedures.Procedure, ref procedures.StateRef) string {
	title := ref.State
	if st := p.State(ref.State); st != nil {
		title = st.Title
	}
	if ref.Side != procedures.NoSide {
		title += ", " + strings.ToUpper(phrase.Word(ref.Side))
	}
	return title
}

// view draws the job ahead, w by h cells.
func (p *preview) view(e *Env, w, h int) string {
	t := e.Theme
	out := []string{t.Style(draw.Title, phrase.Of("bay.preview.the-job-as-it-will-be-opened")), ""}
	return indent(append(out, p.pane.window(t, drawLines(t, p.lines, min(w-2, 100)), h-2)...))
}

package procedures

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
)

// Report says what Check proved of a procedure.
type Report struct {
	Procedure    string `json:"procedure"`
	Stages       int    `json:"stages"` // texts in the file
	Nodes        int    `json:"nodes"`  // stages side by side
	States       int    `json:"states"`
	Combinations int    `json:"combinations"` // cases tried: for each claim, the combinations of the traits and answers that bear on it
	Sheets       int    `json:"sheets"`
}

// String is one line for the author.
func (r Report) String() string {
	return phrase.Of("procedures.check.stages-with-both-sides-no-loop-every", r.Procedure, r.Stages, r.Nodes, r.States, r.Combinations)
}

// figuresForm is the prefix of an axle's figures.
var figuresForm = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*-$`)

var idForm = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// Check proves a procedure sound, or returns every Fault it found: a loop, an unknown or repeated
// name, a stage nothing can reach, a condition on a finding not yet made, a state that some
// combination of traits and answers leaves standing at release or puts back before it is set, a
// clearing without proof, a check with no window where one is needed, an impossible role.
func (p *Procedure) Check() (Report, error) {
	c := &checker{p: p}
	c.names()
	c.stages()
	c.deviations()
	rep := Report{Procedure: p.ID, Stages: len(p.Stages), States: len(p.States)}
	if len(c.faults) > 0 {
		return rep, c.faults.sorted() // the graph means nothing while names are wrong
	}
	g, err := buildGraph(p)
	if err != nil {
		return rep, err
	}
	c.g = g
	rep.Nodes = len(g.nodes)
	c.release()
	c.last()
	c.recorded()
	if len(c.faults) == 0 {
		c.reachable()
		c.states()
		c.needs()
		c.beside()
		c.oneSide()
		c.disturbs()
		c.looksBack()
		c.passes()
	}
	rep.Combinations = c.tried
	if len(c.faults) > 0 {
		return rep, c.faults.sorted()
	}
	return rep, nil
}

type checker struct {
	p      *Procedure
	g      *graph
	faults Faults
	tried  int // combinations
	work   int // conditions weighed and pairs compared

	witnesses map[string][]witness
	hearing   map[asked][]witness
	known     map[int]bool // what applies in the present world
	touched   map[StateRef][2][]int
}

// maxFaults bounds the list: behind so many the rest follows from the first.
const maxFaults = 50

func (c *checker) add(key, stage, path, format string, args ...any) {
	at := c.p.at(key)
	f := Fault{File: at.file, Line: at.line, Stage: stage, Path: at.path(c.p, path), Text: fmt.Sprintf(format, args...)}
	// What is wrong on the left is mostly wrong on the right in the same words.
	if len(c.faults) < maxFaults && !slices.Contains(c.faults, f) {
		c.faults = append(c.faults, f)
	}
}

// at is where something stands; what has no line of its own stands in the procedure's file.
func (p *Procedure) at(key string) place {
	if at, ok := p.places[key]; ok {
		return at
	}
	return place{file: p.file}
}

func (c *checker) stage(s *Stage, format string, args ...any) {
	c.add("stage:"+s.ID, s.ID, "", format, args...)
}

func (c *checker) ids(table string, ids []string) {
	seen := map[string]string{} // by look
	for i, id := range ids {
		key, look := table+":"+id, lookOf(id)
		switch other, ok := seen[look]; {
		case !idForm.MatchString(id):
			c.add(key, "", "", "%s", phrase.Of("procedures.check.number-has-the-id-an-id-is", table, i+1, id))
		case ok && other == id:
			c.add(key, "", "", "%s", phrase.Of("procedures.check.stands-twice", table, id))
		case ok:
			c.add(key, "", "", "%s", phrase.Of("procedures.check.looks-like-on-a-screen-give-one", table, id, other))
		default:
			seen[look] = id
		}
	}
}

// lookOf folds the characters of an id that many fonts draw alike.
func lookOf(id string) string { return strings.NewReplacer("0", "o", "1", "l", "rn", "m").Replace(id) }

func (c *checker) names() {
	p := c.p
	if !idForm.MatchString(p.ID) {
		c.add("key:id", "", "", "%s", phrase.Of("procedures.check.the-procedures-id-is-an-id-is", p.ID))
	}
	if p.Figures != "" && !figuresForm.MatchString(p.Figures) {
		c.add("key:figures", "", "", "%s", phrase.Of("procedures.checkstage.figures-is", p.Figures))
	}
	if _, err := time.Parse(time.DateOnly, p.Date); p.Date != "" && err != nil {
		c.add("key:date", "", "", "%s", phrase.Of("procedures.check.the-procedures-date-is-expected-year-month", shown(p.Date)))
	}
	for _, f := range []struct{ name, value string }{{"title", p.Title}, {"revision", p.Revision}} {
		if strings.TrimSpace(f.value) == "" {
			c.add("key:"+f.name, "", "", "%s", phrase.Of("procedures.check.the-procedure-has-no", f.name))
		}
	}
	var phases, traits, decisions, findings, states, deviations, stages []string
	for _, x := range p.Phases {
		phases = append(phases, x.ID)
		c.phase(x)
	}
	for _, x := range p.Traits {
		traits = append(traits, x.ID)
		c.values("trait", x.ID, x.Values)
	}
	for _, x := range p.Decisions {
		decisions = append(decisions, x.ID)
		c.values("decision", x.ID, x.Values)
		if len(x.Values) > 0 && !slices.ContainsFunc(x.Values, func(v string) bool { return !slices.Contains(x.Withholds, v) }) {
			c.add("decision:"+x.ID, "", "", "%s", phrase.Of("procedures.check.decision-withholds-at-every-value", x.ID))
		}
		for _, v := range x.Withholds {
			if !slices.Contains(x.Values, v) {
				c.add("decision:"+x.ID, "", "", "%s", phrase.Of("procedures.check.decision-withholds-at-which-is-not-one", x.ID, shown(v)))
			}
		}
	}
	for _, x := range p.Findings {
		findings = append(findings, x.ID)
		c.values("finding", x.ID, x.Values)
		if len(x.Withholds) > 0 {
			c.add("finding:"+x.ID, "", "", "%s", phrase.Of("procedures.check.finding-withholds-which-only-a-decision-does", x.ID))
		}
		if slices.Contains(decisions, x.ID) {
			c.add("finding:"+x.ID, "", "", "%s", phrase.Of("procedures.check.is-a-decision-and-a-finding-give", x.ID))
		}
	}
	for _, x := range p.States {
		states = append(states, x.ID)
		if x.Title == "" || x.Danger == "" || x.Label == "" || x.IfStopped == "" {
			c.add("state:"+x.ID, "", "", "%s", phrase.Of("procedures.check.state-needs-a-title-a-danger-a", x.ID))
		}
	}
	for _, x := range p.Deviations {
		deviations = append(deviations, x.ID)
	}
	for _, x := range p.Stages {
		stages = append(stages, x.ID)
	}
	c.ids("phase", phases)
	c.ids("trait", traits)
	c.ids("decision", decisions)
	c.ids("finding", findings)
	c.ids("state", states)
	c.ids("deviation", deviations)
	c.ids("stage", stages)
	if len(stages) == 0 {
		c.add("", "", "", "%s", phrase.Of("procedures.check.the-procedure-has-no-stages"))
	}
}

func (c *checker) values(table, id string, values []string) {
	if len(values) < 2 {
		c.add(table+":"+id, "", "", "%s", phrase.Of("procedures.check.has-values-it-needs-at-least-two", table, id, len(values)))
	}
	for i, v := range values {
		if strings.TrimSpace(v) == "" || slices.Contains(values[:i], v) {
			c.add(table+":"+id, "", "", "%s", phrase.Of("procedures.check.lists-the-value-twice-or-empty", table, id, shown(v)))
		} else if other, ok := alike(values, i); ok {
			c.add(table+":"+id, "", "", "%s", phrase.Of("procedures.check.two-values-look-alike", table, id, shown(other), shown(v)))
		}
	}
}

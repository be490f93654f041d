package job

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// excused reports whether a granted deviation takes a check off what is owed on that stage.
func (c *Card) excused(r procedures.Ref, check string) bool {
	for _, d := range c.Deviations {
		if d.Stage != r {
			continue
		}
		for _, def := range c.Plan.Procedure.Deviations {
			if def.ID == d.Deviation && slices.Contains(def.Excuses, r.Stage+"."+check) {
				return true
			}
		}
	}
	return false
}

// Deviate grants a deviation of the procedure's closed list for one stage of this job.
type Deviate struct {
	Deviation string
	Stage     procedures.Ref
	Reason    string
}

// decideDeviate lets the foreman grant what the procedure lists, not on own work where another
// foreman is on duty.
func (c *Card) decideDeviate(w Deviate, ctx Context) ([]Body, error) {
	var out Refused
	add := func(code Code, wayOut, format string, args ...any) {
		out = append(out, Blocker{Code: code, Stage: w.Stage, Text: fmt.Sprintf(format, args...), WayOut: wayOut})
	}
	s := c.Stage(w.Stage)
	if s == nil {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decide.this-vehicle-has-no-stage", w.Stage), phrase.Of("job.decide.choose-a-stage-from-the-list"))
	}
	i := slices.IndexFunc(c.Plan.Procedure.Deviations, func(d procedures.Deviation) bool { return d.ID == w.Deviation })
	title := ""
	if i < 0 {
		add(CodeDeviation, phrase.Of("job.deviation.only-what-the-list-names-may-be"), "%s", phrase.Of("job.deviation.is-not-on-the-list-of-deviations", w.Deviation))
	} else {
		title = c.Plan.Procedure.Deviations[i].Title
		if !slices.ContainsFunc(c.Plan.Procedure.Deviations[i].Excuses, func(x string) bool { return strings.HasPrefix(x, w.Stage.Stage+".") }) {
			add(CodeDeviation, phrase.Of("job.deviation.choose-a-stage-it-names"), "%s", phrase.Of("job.deviation.has-nothing-to-do-with", title, c.title(w.Stage)))
		}
	}
	if !ctx.By.MayDo(procedures.Foreman) {
		add(CodeRole, phrase.Of("job.deviation.fetch-the-foreman"), "%s", phrase.Of("job.deviation.only-the-foreman-grants-a-deviation-is", nameOf(ctx.By.Name), roleWords(ctx)))
	}
	if !ctx.CodeGiven {
		add(CodeCode, phrase.Of("job.deviation.type-your-code"), "%s", phrase.Of("job.deviation.a-deviation-takes-the-personal-code"))
	}
	own := false
	if a := s.Current(); a != nil {
		own = slices.ContainsFunc(a.Doers(), func(x Who) bool { return x.ID == ctx.By.ID })
	}
	if own && slices.ContainsFunc(ctx.Register.People, func(p register.Person) bool { return p.ID != ctx.By.ID && p.OnDuty() && p.MayDo(procedures.Foreman) }) {
		add(CodeSamePerson, phrase.Of("job.deviation.the-other-foreman-grants-it"), "%s", phrase.Of("job.deviation.did-himself-and-another-foreman-is-on", ctx.By.Name, c.title(w.Stage)))
	}
	if s.Status == Complete || s.Status == SecondOwed || s.Status == LeftOut || c.Released != nil {
		add(CodeSigned, phrase.Of("job.deviation.go-on"), "%s", phrase.Of("job.deviation.is-there-is-nothing-to-excuse", c.title(w.Stage), s.Status))
	}
	out = append(out, words(w.Stage, w.Reason, phrase.Of("job.deviation.a-deviation-needs-a-reason"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Deviated{Deviation: w.Deviation, Title: title, Stage: w.Stage, Reason: strings.TrimSpace(w.Reason), OwnWork: own}}, nil
}

// words refuses an empty or unprintable text.
func words(at procedures.Ref, text, empty string) Refused {
	if strings.TrimSpace(text) == "" {
		return refuse(CodeReason, at, empty, phrase.Of("job.deviation.say-it-in-a-few-words"))
	}
	if err := plainText(text); err != nil {
		return refuse(CodeReason, at, err.Error(), phrase.Of("job.deviation.type-it-again"))
	}
	return nil
}

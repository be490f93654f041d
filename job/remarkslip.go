package job

import (
	"fmt"
	"slices"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// unjudgedSet reports whether a check is a set of three or more measurements that no window judges:
// a slip among them shows only beside the others.
func unjudgedSet(pc *procedures.PlanCheck) bool {
	return (pc.Kind == procedures.Thickness || pc.Kind == procedures.Reading) && len(pc.Items) > 2 && pc.Window == nil && pc.Nominal == nil
}

// decimalSlips asks of every value that is about ten or a hundred times the middle one of its set, or
// that part of it. Points of one part do not differ so much; common practice, no source.
func (c *Card) decimalSlips() []Remark {
	var out []Remark
	for i := range c.Stages {
		s := &c.Stages[i]
		a := s.Current()
		if a == nil || a.stale || s.Status == LeftOut {
			continue
		}
		for k := range s.Node.Checks {
			if pc := &s.Node.Checks[k]; unjudgedSet(pc) {
				out = append(out, slipsIn(s.Node.Ref, pc, a)...)
			}
		}
	}
	return out
}

func slipsIn(at procedures.Ref, pc *procedures.PlanCheck, a *Attempt) []Remark {
	var values []quantity.Quantity
	for _, item := range pc.Items {
		e := a.Entry(pc.ID, item)
		if e == nil || e.Value.Rat().Sign() <= 0 {
			return nil
		}
		values = append(values, e.Value)
	}
	sorted := slices.Clone(values)
	slices.SortFunc(sorted, func(x, y quantity.Quantity) int { n, _ := x.Cmp(y); return n })
	middle := sorted[len(sorted)/2]
	var odd []brakes.Oddity
	for i, v := range values {
		in, err := v.Convert(middle.Unit, 6)
		if err != nil {
			return nil
		}
		ratio := in.Float() / middle.Float()
		if ratio < 1 {
			ratio = 1 / ratio
		}
		if ratio > 8 && ratio < 12.5 || ratio > 80 && ratio < 125 {
			odd = append(odd, brakes.Oddity{Code: "decimal-slip", Point: i + 1, Text: phrase.Of("job.remarkslip.looks-like-a-decimal-slip", pc.Title, pc.Items[i], v, middle)})
		}
	}
	return oddities(fmt.Sprintf("set/%s", pc.ID), at, odd)
}

package procedures

import (
	"slices"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Doubts holds the torque windows a procedure takes from a sheet against what the fasteners named
// there can carry, and returns a sentence for each that does not fit. It warns and never decides:
// friction is an assumption. Groups without thread and class, and angles, are passed over. An error
// is a thread, class or friction that cannot be read. Source: fastening.Plausible.
func Doubts(p *Procedure, s *Sheet) (Faults, error) {
	var out Faults
	seen := map[string]bool{}
	for _, st := range p.Stages {
		if !st.traitsAllow(s.Traits) {
			continue
		}
		for i := range st.Checks {
			k := &st.Checks[i]
			g, ok := s.Group(k.Group)
			key := k.Group + "\n" + k.Window
			if !ok || k.Kind != Torque || g.Thread == "" || g.Class == "" || seen[key] || !traitsAllow(k.When, s.Traits) {
				continue
			}
			seen[key] = true
			w, err := s.planWindow(k.Window)
			if err != nil || w.Window.Dimension() != quantity.Torque {
				continue
			}
			text, err := doubt(g, w.Window)
			if err != nil {
				return nil, Faults{{File: s.file, Line: s.lines["group:"+g.ID], Text: phrase.Of("procedures.doubt.group", g.ID, err)}}
			}
			f := Fault{File: s.file, Line: s.lines["window:"+k.Window], Text: phrase.Of("procedures.doubt.group-window", g.ID, k.Window, text)}
			if text != "" && !slices.Contains(out, f) {
				out = append(out, f)
			}
		}
	}
	return out.sorted(), nil
}

func doubt(g Group, w quantity.Window) (string, error) {
	t, err := fastening.ParseThread(g.Thread)
	if err != nil {
		return "", err
	}
	c, err := fastening.ParseClass(g.Class)
	if err != nil {
		return "", err
	}
	f := fastening.UsualFriction
	if g.Friction != "" {
		q, err := quantity.Parse(g.Friction, quantity.Count)
		if err != nil {
			return "", phrase.Error("procedures.doubt.friction", err)
		}
		f = fastening.Friction{Thread: q.Float(), Head: q.Float()}
	}
	return fastening.Plausible(w, t, c, f)
}

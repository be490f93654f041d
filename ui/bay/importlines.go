package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// names lists what is to be put in use.
func (im *imported) names() string {
	var out []string
	for _, p := range im.procedures {
		out = append(out, phrase.Of("bay.importlines.procedure-revision", p.ID, p.Revision))
	}
	for _, s := range im.sheets {
		out = append(out, phrase.Of("bay.importlines.sheet-revision", s.ID, s.Revision))
	}
	return strings.Join(out, ", ")
}

// off says why it cannot be put in use, or nothing.
func (im *imported) off() string {
	switch {
	case len(im.faults) > 0:
		return phrase.Of("bay.importlines.the-checker-found-nothing-is-put-in", phrase.Count("count.fault", len(im.faults)))
	case im.same:
		return phrase.Of("bay.importlines.it-is-in-use-already-word-for")
	}
	return ""
}

// lines is everything the checker says, to be scrolled.
func (im *imported) lines() []line {
	if len(im.faults) > 0 {
		return im.faultLines()
	}
	out := []line{{role: draw.Good, text: phrase.Of("bay.importlines.sound", im.names())}}
	for _, text := range im.warnings {
		out = append(out, line{role: draw.Warn, head: "!", indent: 3, text: text})
	}
	for _, c := range im.changes {
		out = append(out, line{}, line{role: draw.Title, text: sentence(c.title)})
		for _, x := range c.changes {
			out = append(out, line{head: "-", indent: 3, text: x.String()})
		}
	}
	out = append(out, line{}, line{role: draw.Title, text: phrase.Of("bay.importlines.what-was-proved")})
	for _, text := range im.proved {
		out = append(out, line{head: "-", indent: 3, text: text})
	}
	for _, a := range im.previews {
		out = append(out, line{}, line{role: draw.Title, text: a.title})
		for _, d := range a.stages {
			out = append(out, drawnLine(d))
		}
		for _, w := range a.words {
			out = append(out, line{head: "-", indent: 3, text: w})
		}
	}
	return out
}

// faultLines lists every fault: where it stands first, then what is wrong, then what shows it.
func (im *imported) faultLines() []line {
	var out []line
	for _, f := range im.faults {
		at := f.File
		if f.Line > 0 {
			at += phrase.Of("bay.importlines.line", f.Line)
		}
		if f.Procedure != "" {
			at += phrase.Of("bay.importlines.procedure", f.Procedure)
		}
		if f.Stage != "" {
			at += phrase.Of("bay.importlines.stage", f.Stage)
		}
		out = append(out, line{role: draw.Title, text: at}, line{head: " ", indent: 3, text: sentence(f.Text)})
		if f.Path != "" {
			out = append(out, line{role: draw.Faint, head: " ", indent: 3, text: phrase.Of("bay.importlines.shown-by", f.Path)})
		}
	}
	return out
}

// drawnLine is a stage of the preview: its layer, title, side, who, and what it still hangs on.
func drawnLine(d procedures.Drawn) line {
	text := d.Stage.Title
	if d.Ref.Side != procedures.NoSide {
		text += ", " + strings.ToUpper(phrase.Word(d.Ref.Side))
	}
	text += " (" + phrase.Word(d.Stage.Who)
	if d.Stage.Hold {
		text += phrase.Of("bay.importlines.hold-point")
	}
	if d.Stage.Second == procedures.SecondAlways {
		text += phrase.Of("bay.importlines.second-person")
	}
	if len(d.Stage.OtherShut) > 0 {
		text += phrase.Of("bay.importlines.one-side-at-a-time")
	}
	text += ")"
	if d.When != "" {
		text += phrase.Of("bay.importlines.when", d.When)
	}
	return line{head: fmt.Sprintf("%3d", d.Layer), indent: 5, text: text}
}

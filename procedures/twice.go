package procedures

import "bay.example/pawl/job/phrase"

// Twice finds what two files given together both claim to be, with different contents: a block's id,
// or the id and revision of a procedure or a sheet. A job could not say which of the two it means.
func Twice(bs []*Block, ps []*Procedure, ss []*Sheet) Faults {
	var out Faults
	type claim struct {
		file   string
		digest string
	}
	seen := map[string]claim{}
	look := func(name, file string, contents any) {
		_, digest, err := pin(contents)
		if err != nil {
			return // cannot be: it was read from a file
		}
		if first, ok := seen[name]; ok && first.digest != digest {
			out = append(out, Fault{File: file, Text: phrase.Of("procedures.twice.is-in-too-with-other-contents", name, first.file)})
		} else if !ok {
			seen[name] = claim{file, digest}
		}
	}
	for _, b := range bs {
		look(phrase.Of("procedures.twice.the-block", b.ID), b.file, b)
	}
	for _, p := range ps {
		look(phrase.Of("procedures.twice.the-procedure", p.ID, p.Revision), p.file, p)
	}
	for _, s := range ss {
		look(phrase.Of("procedures.twice.the-sheet", s.ID, s.Revision), s.file, s)
	}
	return out
}

package store

import (
	"slices"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/procedures"
)

// ProcedureRevisions returns every revision of a procedure that was ever put in use here, the newest
// date first. Jobs point at them, so none is ever thrown away.
func (f *File) ProcedureRevisions(id string) ([]*procedures.Procedure, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return revisionsOf(f, kindProcedure, f.procedure, func(p *procedures.Procedure) (string, string) { return p.ID, p.Date + " " + p.Revision }, id)
}

// SheetRevisions is ProcedureRevisions for a spec sheet.
func (f *File) SheetRevisions(id string) ([]*procedures.Sheet, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return revisionsOf(f, kindSheet, f.sheet, func(s *procedures.Sheet) (string, string) { return s.ID, s.Date + " " + s.Revision }, id)
}

func revisionsOf[T any](f *File, kind byte, load func(string) (*T, error), name func(*T) (id, order string), id string) ([]*T, error) {
	var digests []string
	err := f.view(func(tx *bolt.Tx) error {
		return pinned.each(tx, func(key, content []byte) error {
			if len(content) > 0 && content[0] == kind {
				digests = append(digests, string(key))
			}
			return nil
		})
	})
	if err != nil {
		return nil, err
	}
	var out []*T
	for _, d := range digests {
		v, err := load(d)
		if err != nil {
			return nil, err
		}
		if one, _ := name(v); one == id {
			out = append(out, v)
		}
	}
	slices.SortFunc(out, func(a, b *T) int {
		_, x := name(a)
		_, y := name(b)
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out, nil
}

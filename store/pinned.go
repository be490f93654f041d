package store

import (
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// The kind byte of a pinned file and of a name in use.
const (
	kindProcedure = 'p'
	kindSheet     = 's'
)

// Install puts a procedure in use under its id in place of the one before, which stays for the
// jobs that rest on it. It must pass Check. Installing what is in use already changes nothing.
func (f *File) Install(by register.Person, p *procedures.Procedure) error {
	return f.InstallAll(by, []*procedures.Procedure{p}, nil)
}

// InstallSheet puts a spec sheet in use, as Install does a procedure.
func (f *File) InstallSheet(by register.Person, s *procedures.Sheet) error {
	return f.InstallAll(by, nil, []*procedures.Sheet{s})
}

// InstallAll puts procedures and sheets in use together: all of them or, where one is refused, none.
func (f *File) InstallAll(by register.Person, ps []*procedures.Procedure, ss []*procedures.Sheet) error {
	var all []toPin
	for _, p := range ps {
		if _, err := p.Check(); err != nil {
			return err
		}
		data, digest, err := p.Pin()
		if err != nil {
			return err
		}
		again, err := procedures.LoadProcedure(p.ID, data)
		if err != nil {
			return phrase.Error("store.pinned.the-procedure-cannot-be-read-back-from", p.ID, err)
		}
		if _, d, err := again.Pin(); err != nil || d != digest {
			return phrase.Error("store.pinned.the-procedure-changes-when-it-is-written", p.ID)
		}
		all = append(all, toPin{kindProcedure, p.ID, digest, data})
	}
	for _, s := range ss {
		if err := s.Check(); err != nil {
			return err
		}
		data, digest, err := s.Pin()
		if err != nil {
			return err
		}
		again, err := procedures.LoadSheet(s.ID, data)
		if err != nil {
			return phrase.Error("store.pinned.the-sheet-cannot-be-read-back-from", s.ID, err)
		}
		if _, d, err := again.Pin(); err != nil || d != digest {
			return phrase.Error("store.pinned.the-sheet-changes-when-it-is-written", s.ID)
		}
		all = append(all, toPin{kindSheet, s.ID, digest, data})
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		by, err := mayChange(tx, by, procedures.Foreman, phrase.Of("store.pinned.puts-procedures-and-sheets-in-use"))
		if err != nil {
			return err
		}
		for _, x := range all {
			if err := f.install(tx, by, x); err != nil {
				return err
			}
		}
		return nil
	})
}

// toPin is a procedure or sheet in its canonical bytes.
type toPin struct {
	kind   byte
	id     string
	digest string
	data   []byte
}

func useKey(kind byte, id string) []byte { return append([]byte{kind}, id...) }

func (f *File) install(tx *bolt.Tx, by register.Person, x toPin) error {
	if err := checkID(phrase.Of("store.pinned.the-procedure-or-sheet"), x.id); err != nil {
		return err
	}
	key := useKey(x.kind, x.id)
	old, err := inUse.get(tx, key)
	if err != nil || string(old) == x.digest {
		return err
	}
	if err := pinned.put(tx, []byte(x.digest), append([]byte{x.kind}, x.data...)); err != nil {
		return err
	}
	if err := inUse.put(tx, key, []byte(x.digest)); err != nil {
		return err
	}
	after, err := encMode.Marshal(x.digest)
	if err != nil {
		return err
	}
	return f.log(tx, change{By: by, Act: "put in use", Table: inUse, Key: string(key)}, after)
}

// Procedures returns the procedures in use, sorted by id.
func (f *File) Procedures() []*procedures.Procedure {
	f.mu.Lock()
	defer f.mu.Unlock()
	return used(f, kindProcedure, f.procedure)
}

// Sheets returns the spec sheets in use, sorted by id.
func (f *File) Sheets() []*procedures.Sheet {
	f.mu.Lock()
	defer f.mu.Unlock()
	return used(f, kindSheet, f.sheet)
}

func used[T any](f *File, kind byte, load func(string) (*T, error)) []*T {
	var digests []string
	err := f.view(func(tx *bolt.Tx) error {
		return inUse.each(tx, func(key, content []byte) error {
			if len(key) > 0 && key[0] == kind {
				digests = append(digests, string(content))
			}
			return nil
		})
	})
	if err != nil {
		return nil
	}
	var out []*T
	for _, d := range digests {
		if v, err := load(d); err == nil {
			out = append(out, v)
		}
	}
	return out
}

// Procedure returns the procedure with that digest, whether in use or not.
func (f *File) Procedure(digest string) (*procedures.Procedure, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.procedure(digest)
}

// Sheet returns the spec sheet with that digest, whether in use or not.
func (f *File) Sheet(digest string) (*procedures.Sheet, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.sheet(digest)
}

func (f *File) procedure(digest string) (*procedures.Procedure, error) {
	return recall(f, f.procs, kindProcedure, digest, procedures.LoadProcedure)
}

func (f *File) sheet(digest string) (*procedures.Sheet, error) {
	return recall(f, f.sheets, kindSheet, digest, procedures.LoadSheet)
}

// recall reads a pinned file, holds its bytes against the digest and keeps the result.
func recall[T any](f *File, have map[string]*T, kind byte, digest string, load func(string, []byte) (*T, error)) (*T, error) {
	if v := have[digest]; v != nil {
		return v, nil
	}
	var data []byte
	err := f.view(func(tx *bolt.Tx) (err error) {
		data, err = pinned.get(tx, []byte(digest))
		return err
	})
	switch {
	case err != nil:
		return nil, err
	case data == nil:
		return nil, phrase.Error("store.pinned.no-procedure-or-sheet-with-the-digest", digest, f.path)
	case data[0] != kind || procedures.Digest(data[1:]) != digest:
		return nil, Damaged{f.path, phrase.Of("store.pinned.the-procedure-or-sheet-is-not-what", digest)}
	}
	v, err := load(phrase.Of("store.pinned.pinned", digest), data[1:])
	if err != nil {
		return nil, err
	}
	have[digest] = v
	return v, nil
}

// inUseProcedure finds the procedure in use under an id, with what a job pins of it.
func (f *File) inUseProcedure(id string) (*procedures.Procedure, job.Pinned, error) {
	digest, err := f.digestInUse(kindProcedure, "procedure", id)
	if err != nil {
		return nil, job.Pinned{}, err
	}
	p, err := f.procedure(digest)
	if err != nil {
		return nil, job.Pinned{}, err
	}
	return p, job.Pinned{ID: p.ID, Title: p.Title, Revision: p.Revision, Digest: digest}, nil
}

// inUseSheet finds the sheet in use under an id, with what a job pins of it.
func (f *File) inUseSheet(id string) (*procedures.Sheet, job.Pinned, error) {
	digest, err := f.digestInUse(kindSheet, phrase.Of("store.pinned.spec-sheet"), id)
	if err != nil {
		return nil, job.Pinned{}, err
	}
	s, err := f.sheet(digest)
	if err != nil {
		return nil, job.Pinned{}, err
	}
	return s, job.Pinned{ID: s.ID, Title: s.Title, Revision: s.Revision, Digest: digest}, nil
}

func (f *File) digestInUse(kind byte, what, id string) (string, error) {
	var digest []byte
	err := f.view(func(tx *bolt.Tx) (err error) {
		digest, err = inUse.get(tx, useKey(kind, id))
		return err
	})
	if err == nil && digest == nil {
		err = phrase.Error("store.pinned.no-is-in-use-choose-one-from", what, id)
	}
	return string(digest), err
}

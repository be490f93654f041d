package store

import (
	"context"
	"path/filepath"
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
)

// Ask answers a named question; questions.List has them all. It reads only the jobs that can have to
// do with it, on all processors. A job that cannot be read is counted as not judged.
func (f *File) Ask(ctx context.Context, name string, args map[string]string) (questions.Answer, error) {
	w, err := f.world()
	if err != nil {
		return questions.Answer{}, err
	}
	asked, err := questions.Ask(name, args, w)
	if err != nil {
		return questions.Answer{}, err
	}
	if !asked.NeedsJobs() {
		return asked.Answer(nil, 0), nil
	}
	if asked.ByVehicle() {
		return f.askByVehicle(ctx, asked)
	}
	a, err := f.askByJob(ctx, asked)
	if err == nil && name == "whole" {
		err = f.wholeNotes(&a)
	}
	return a, err
}

// wholeNotes adds what only the file knows of a job: its stored bytes, its seals, its backups.
func (f *File) wholeNotes(a *questions.Answer) error {
	for _, r := range a.Rows {
		if err := f.Verify(r.Job); err != nil {
			return err
		}
		own, err := f.SealsOf(r.Job)
		if err != nil {
			return err
		}
		for _, s := range own {
			if _, err := f.VerifyPaper(s.Short); err != nil {
				return err
			}
			a.Notes = append(a.Notes, phrase.Of("store.ask.sealed-as-events-1-to-seal-of", s.Short, s.Events, s.At.Format(time.RFC3339), s.Place))
		}
		if len(own) == 0 {
			a.Notes = append(a.Notes, phrase.Of("store.ask.not-sealed-its-work-goes-on"))
		}
		c, err := f.Load(r.Job)
		if err != nil {
			return err
		}
		a.Notes = append(a.Notes, f.backupNote(c.Last().At))
	}
	return nil
}

// backupNote names the newest backup and whether it was made after a moment.
func (f *File) backupNote(at time.Time) string {
	w, _ := f.Workshop()
	if w.Backup == "" {
		return phrase.Of("store.ask.no-backup-folder-is-set")
	}
	paths, err := backupPaths(w.Backup)
	if err != nil || len(paths) == 0 {
		return phrase.Of("store.ask.no-backup-lies-in", w.Backup)
	}
	made, err := time.Parse(backupForm, filepath.Base(paths[0]))
	if err != nil || made.Before(at.Truncate(time.Second)) {
		return phrase.Of("store.ask.the-newest-backup-is-older-than-the", paths[0])
	}
	return phrase.Of("store.ask.in-the-backup", paths[0])
}

func (f *File) askByJob(ctx context.Context, asked *questions.Asked) (questions.Answer, error) {
	lines, err := f.lines()
	if err != nil {
		return questions.Answer{}, err
	}
	var numbers []uint64
	covered := 0
	for _, l := range lines {
		if asked.Covers(l) {
			covered++
		}
		if asked.Wants(l) {
			numbers = append(numbers, l.Number)
		}
	}
	pieces := make([]questions.Piece, len(numbers))
	err = f.eachCard(ctx, numbers, func(i int, c *job.Card, err error) error {
		if err != nil {
			pieces[i] = questions.Lost(numbers[i], err)
			return nil
		}
		pieces[i] = asked.Job(c)
		return nil
	})
	if err != nil {
		return questions.Answer{}, err
	}
	return asked.Answer(pieces, covered), nil
}

func (f *File) askByVehicle(ctx context.Context, asked *questions.Asked) (questions.Answer, error) {
	covered := 0
	visits, err := f.visits(func(l questions.Line) bool {
		if asked.Covers(l) {
			covered++
		}
		return asked.Wants(l)
	})
	if err != nil {
		return questions.Answer{}, err
	}
	pieces := make([][]questions.Piece, len(visits))
	err = f.eachVisit(ctx, visits, func(i int, cs []*job.Card, lost []questions.Piece) error {
		if pieces[i] = lost; len(cs) > 0 {
			pieces[i] = append(pieces[i], asked.Vehicle(cs))
		}
		return nil
	})
	if err != nil {
		return questions.Answer{}, err
	}
	return asked.Answer(slices.Concat(pieces...), covered), nil
}

// world gathers what questions need besides the jobs.
func (f *File) world() (questions.World, error) {
	sheets, cars := f.Sheets(), f.Vehicles()
	f.mu.Lock()
	defer f.mu.Unlock()
	r, err := f.register()
	if err != nil {
		return questions.World{}, err
	}
	w := questions.World{Now: f.Now(), Register: r, Vehicles: cars, Sheets: sheets}
	if w.Cycles, err = f.cycles(r); err != nil {
		return w, err
	}
	if w.Certificates, err = f.certificates(""); err != nil {
		return w, err
	}
	all, err := f.recalls()
	if err != nil {
		return w, err
	}
	w.Recalled = questions.Standing(all)
	if err := f.readList(); err != nil {
		return w, err
	}
	n, err := f.sealsNow()
	w.Revision = phrase.Of("store.ask.jobs-seals", len(f.list), n)
	return w, err
}

// lines is what is known of every job without reading it, oldest first.
func (f *File) lines() ([]questions.Line, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.readTags(); err != nil {
		return nil, err
	}
	out := make([]questions.Line, len(f.list))
	for i, s := range f.list {
		out[i] = questions.Line{Number: s.Number, Vehicle: s.Vehicle.ID, Opened: s.Opened, Last: s.Last, Outcome: s.Outcome, Practice: s.Practice,
			Standing: len(s.Open), Tags: &f.tags[s.Number].Tags}
	}
	return out, nil
}

// vehicleVisits are all jobs of one vehicle, oldest first.
type vehicleVisits struct {
	vehicle string
	numbers []uint64
}

// visits returns, for every vehicle that has a job wanted, all its jobs.
func (f *File) visits(wants func(questions.Line) bool) ([]vehicleVisits, error) {
	lines, err := f.lines()
	if err != nil {
		return nil, err
	}
	at := map[string]int{}
	var all []vehicleVisits
	wanted := map[string]bool{}
	for _, l := range lines {
		i, ok := at[l.Vehicle]
		if !ok {
			i = len(all)
			at[l.Vehicle], all = i, append(all, vehicleVisits{vehicle: l.Vehicle})
		}
		all[i].numbers = append(all[i].numbers, l.Number)
		wanted[l.Vehicle] = wants(l) || wanted[l.Vehicle] // asked about every line
	}
	return slices.DeleteFunc(all, func(v vehicleVisits) bool { return !wanted[v.vehicle] }), nil
}

// eachVisit reads the jobs of vehicles on all processors and calls do with those of one vehicle at a
// time, oldest first, from several goroutines. Jobs that cannot be read come as lost.
func (f *File) eachVisit(ctx context.Context, visits []vehicleVisits, do func(i int, cs []*job.Card, lost []questions.Piece) error) error {
	return inParallel(ctx, len(visits), func(ctx context.Context, i int) error {
		var cs []*job.Card
		var lost []questions.Piece
		numbers := visits[i].numbers
		err := f.cardsOf(ctx, 0, numbers, func(k int, c *job.Card, err error) error {
			if err != nil {
				lost = append(lost, questions.Lost(numbers[k], err))
			} else {
				cs = append(cs, c)
			}
			return nil
		})
		if err != nil {
			return err
		}
		return do(i, cs, lost)
	})
}

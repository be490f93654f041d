package store

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// RecallBatch opens a recall of a part batch; part is a part number, or empty for every part of it.
func (f *File) RecallBatch(ctx context.Context, by register.Person, batch, part string) (*questions.Recall, error) {
	if err := cmp.Or(checkID(phrase.Of("store.recalls.the-batch"), batch), checkText(phrase.Of("store.recalls.the-part-number"), part)); err != nil {
		return nil, err
	}
	title := phrase.Of("store.recalls.parts-of-batch", batch)
	if part != "" {
		title = phrase.Of("store.recalls.of-batch", part, batch)
	}
	r := questions.Recall{Kind: questions.RecallBatch, Title: title, About: map[string]string{"batch": batch, "part": part}}
	return f.openRecall(ctx, by, r, func(l questions.Line) bool {
		return slices.ContainsFunc(l.Tags.Parts, func(p questions.Part) bool {
			return strings.EqualFold(p.Batch, batch) && (part == "" || strings.EqualFold(p.Number, part))
		})
	}, func(cs []*job.Card) questions.Share { return questions.BatchShare(cs, batch, part) })
}

// RecallSheet opens a recall of a revision of a spec sheet that was wrong. The sheet in use under
// that id has to be the right one.
func (f *File) RecallSheet(ctx context.Context, by register.Person, sheet, revision string) (*questions.Recall, error) {
	i := slices.IndexFunc(f.Sheets(), func(s *procedures.Sheet) bool { return s.ID == sheet })
	if i < 0 {
		return nil, phrase.Error("store.recalls.no-spec-sheet-is-in-use-choose", sheet)
	}
	right := f.Sheets()[i]
	if right.Revision == revision {
		return nil, phrase.Error("store.recalls.revision-of-is-the-one-in-use", revision, sheet)
	}
	r := questions.Recall{Kind: questions.RecallSheet, Title: phrase.Of("store.recalls.revision-of-judged-again-by-revision", revision, right.Title, right.Revision),
		About: map[string]string{"sheet": sheet, "revision": revision, "by": right.Revision}}
	return f.openRecall(ctx, by, r, nil, func(cs []*job.Card) questions.Share {
		return questions.SheetShare(cs, sheet, revision, right)
	})
}

// openRecall judges every vehicle that had such a job and keeps the recall. wants nil is every job.
func (f *File) openRecall(ctx context.Context, by register.Person, r questions.Recall, wants func(questions.Line) bool, judge func([]*job.Card) questions.Share) (*questions.Recall, error) {
	if who, ok := f.Register().Person(by.ID); !ok || !who.MayDo(procedures.Mechanic) {
		return nil, phrase.Error("store.recalls.only-a-mechanic-or-foreman-opens-a", cmp.Or(by.Name, "nobody"))
	}
	visits, err := f.visits(func(l questions.Line) bool { return !l.Practice && (wants == nil || wants(l)) })
	if err != nil {
		return nil, err
	}
	shares := make([]questions.Share, len(visits))
	err = f.eachVisit(ctx, visits, func(i int, cs []*job.Card, lost []questions.Piece) error {
		cs = slices.DeleteFunc(cs, func(c *job.Card) bool { return c.Opened.Practice })
		shares[i] = judge(cs)
		for range lost { // a job that cannot be read cannot be judged: the vehicle is called
			shares[i].Judged.Unjudged++
			shares[i].Line.Vehicle.ID = visits[i].vehicle
			shares[i].Line.Why = append(shares[i].Line.Why, phrase.Of("store.recalls.a-job-of-this-vehicle-cannot-be"))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for _, s := range shares {
		j, o := &r.Judged, s.Judged
		j.Jobs, j.Records, j.Inside, j.Healed, j.Unjudged = j.Jobs+o.Jobs, j.Records+o.Records, j.Inside+o.Inside, j.Healed+o.Healed, j.Unjudged+o.Unjudged
		if len(s.Line.Why) > 0 {
			r.Lines = append(r.Lines, s.Line)
		}
	}
	return f.keepRecall(by, r)
}

func (f *File) keepRecall(by register.Person, r questions.Recall) (*questions.Recall, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	err := f.update(func(tx *bolt.Tx) error {
		who, err := mayChange(tx, by, procedures.Mechanic, phrase.Of("store.recalls.opens-a-recall"))
		if err != nil {
			return err
		}
		n, err := recalls.tally(tx)
		if err != nil {
			return err
		}
		r.Number, r.Opened, r.By = uint64(n.rows)+1, f.Now(), whoIs(who)
		return f.keep(tx, change{By: who, Act: "opened recall", Table: recalls, Key: recallKey(r.Number)}, r)
	})
	if err != nil {
		return nil, err
	}
	return &r, nil
}

// recallKey sorts by number and reads as one in the register log.
func recallKey(n uint64) string { return fmt.Sprintf("%06d", n) }

func whoIs(p register.Person) job.Who { return job.Who{ID: p.ID, Name: p.Name, Role: p.Role} }

// Recalls returns every recall, oldest first. They stay when they are worked off.
func (f *File) Recalls() ([]questions.Recall, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.recalls()
}

func (f *File) recalls() ([]questions.Recall, error) {
	var all []questions.Recall
	err := f.view(func(tx *bolt.Tx) (err error) {
		all, err = allRows[questions.Recall](tx, recalls)
		return err
	})
	return all, err
}

// WorkOff adds what was done for one vehicle of a recall. A line ends only with words that say how it
// was proved; it never goes away.
func (f *File) WorkOff(by register.Person, recall uint64, vehicle, act, words string) error {
	words = strings.TrimSpace(words)
	if err := checkText(phrase.Of("store.recalls.the-words"), words); err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		who, err := mayChange(tx, by, procedures.Mechanic, phrase.Of("store.recalls.works-recalls-off"))
		if err != nil {
			return err
		}
		r, ok, err := getRow[questions.Recall](tx, recalls, []byte(recallKey(recall)))
		if err != nil {
			return err
		}
		if !ok {
			return phrase.Error("store.recalls.there-is-no-recall", recall)
		}
		if err := r.WorkOff(vehicle, questions.RecallAct{At: f.Now(), By: whoIs(who), Act: act, Words: words}); err != nil {
			return err
		}
		return f.keep(tx, change{By: who, Act: fmt.Sprintf("%s for %s", act, vehicle), Table: recalls, Key: recallKey(recall)}, r)
	})
}

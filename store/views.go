package store

import (
	"context"
	"sync"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
)

// VehicleHistory puts together everything the record says of one vehicle.
func (f *File) VehicleHistory(ctx context.Context, id string) (questions.History, error) {
	v, ok := f.Vehicle(id)
	if !ok {
		return questions.History{}, phrase.Error("store.views.no-vehicle-is-on-the-register", id)
	}
	numbers, err := f.allNumbers(func(s Summary) bool { return s.Vehicle.ID == id })
	if err != nil {
		return questions.History{}, err
	}
	var cs []*job.Card
	var lost []questions.Unjudged
	err = f.cardsOf(ctx, 0, numbers, func(i int, c *job.Card, err error) error {
		if err != nil {
			lost = append(lost, questions.Unjudged{Job: numbers[i], Why: err.Error()})
		} else {
			cs = append(cs, c)
		}
		return nil
	})
	if err != nil {
		return questions.History{}, err
	}
	h := questions.HistoryOf(v, cs, f.Now())
	h.Lost = lost
	return h, nil
}

// WorkshopView is how the work went in a span of time. It is meant for training, not for a board.
type WorkshopView struct {
	FirstTimeRight questions.Answer
	Repeated       questions.Answer
	Times          questions.Answer
	Retorques      questions.Answer
	Drift          []questions.Drift
	Delays         []questions.Delay
	Unjudged       []questions.Unjudged
}

// WorkshopView looks at the jobs of a span (ISO dates, both counting; empty: the last twelve months).
func (f *File) WorkshopView(ctx context.Context, from, to string) (WorkshopView, error) {
	var v WorkshopView
	args := map[string]string{"from": from, "to": to}
	for _, q := range []struct {
		name string
		into *questions.Answer
	}{{"first-time-right", &v.FirstTimeRight}, {"repeated-stages", &v.Repeated}, {"stage-times", &v.Times}, {"re-torque-moved", &v.Retorques}} {
		var err error
		if *q.into, err = f.Ask(ctx, q.name, args); err != nil {
			return v, err
		}
	}
	from, to = v.Times.From, v.Times.To
	numbers, err := f.allNumbers(func(s Summary) bool {
		return !s.Practice && s.Last.Format(time.DateOnly) >= from && s.Opened.Format(time.DateOnly) <= to
	})
	if err != nil {
		return v, err
	}
	points := map[string][]questions.DriftPoint{}
	var times []questions.StageTime
	var mu sync.Mutex
	err = f.eachCard(ctx, numbers, func(i int, c *job.Card, err error) error {
		if err != nil {
			mu.Lock()
			defer mu.Unlock()
			v.Unjudged = append(v.Unjudged, questions.Unjudged{Job: numbers[i], Why: err.Error()})
			return nil
		}
		drift, took := questions.DriftPoints(c), questions.TimesOf(c)
		mu.Lock()
		defer mu.Unlock()
		for id, ps := range drift {
			points[id] = append(points[id], ps...)
		}
		times = append(times, took...)
		return nil
	})
	v.Drift, v.Delays = questions.DriftsOf(points), questions.DelaysOf(times)
	return v, err
}

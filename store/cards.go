package store

import (
	"context"
	"runtime"
	"slices"
	"sync"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// cardsChunk is how many jobs are copied out of the file in one transaction.
const cardsChunk = 32

// eachCard reads jobs on all processors and calls do with each of them and its place in numbers,
// from several goroutines at once. Nothing else waits meanwhile for longer than a chunk is copied. A
// job that cannot be read is told with its error. It returns the first error of do, or that of ctx.
func (f *File) eachCard(ctx context.Context, numbers []uint64, do func(i int, c *job.Card, err error) error) error {
	chunks := (len(numbers) + cardsChunk - 1) / cardsChunk
	return inParallel(ctx, chunks, func(ctx context.Context, i int) error {
		start := i * cardsChunk
		return f.cardsOf(ctx, start, numbers[start:min(start+cardsChunk, len(numbers))], do)
	})
}

// inParallel calls do for 0 to n-1 on all processors, and returns the first error or that of ctx.
func inParallel(ctx context.Context, n int, do func(ctx context.Context, i int) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	next := make(chan int)
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for i := range next {
				if err := do(ctx, i); err != nil {
					stop(err)
				}
			}
		})
	}
	for i := 0; i < n && ctx.Err() == nil; i++ {
		next <- i
	}
	close(next)
	workers.Wait()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return nil
}

// cardsOf reads some jobs and calls do with each; start is the place of the first.
func (f *File) cardsOf(ctx context.Context, start int, chunk []uint64, do func(int, *job.Card, error) error) error {
	copies := make([]copied, len(chunk))
	cards := make([]*job.Card, len(chunk))
	f.mu.Lock()
	err := f.view(func(tx *bolt.Tx) error {
		for i, n := range chunk {
			if cards[i] = f.cards[n]; cards[i] == nil {
				copies[i].h, copies[i].value, copies[i].rows, copies[i].err = rawRows(tx, n)
			}
		}
		return nil
	})
	f.mu.Unlock()
	for i, n := range chunk {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		c := &copies[i]
		if c.err == nil {
			c.err = err
		}
		if c.err == nil && cards[i] == nil {
			if c.rows, c.err = joinRows(n, c.h, c.value, c.rows); c.err == nil {
				cards[i], c.err = f.fold(n, c.h, c.rows, true, f.planLocked)
			}
		}
		if err := do(start+i, cards[i], f.named(c.err)); err != nil {
			return err
		}
		*c = copied{}
	}
	return nil
}

// planLocked is plan for a goroutine that does not hold the file.
func (f *File) planLocked(o job.Opened) (*procedures.Plan, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.plan(o)
}

// allNumbers returns the numbers of the jobs a filter lets through, oldest first.
func (f *File) allNumbers(want func(Summary) bool) ([]uint64, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	all, err := f.jobs()
	if err != nil {
		return nil, err
	}
	var out []uint64
	for _, s := range slices.Backward(all) {
		if want == nil || want(s) {
			out = append(out, s.Number)
		}
	}
	return out, nil
}

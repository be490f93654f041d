package job

import (
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// Read decodes the stored bytes of a job's events and folds them. plan resolves what the job has
// pinned. Bytes that Encode would not have written are refused, unless they are vouched for: a caller
// that reads thousands of jobs, and has just held the bytes against the digest kept of them, saves a
// third of the time by not having them encoded again to compare. The error names the event.
func Read(stored [][]byte, vouched bool, plan func(Opened) (*procedures.Plan, error)) (*Card, error) {
	if len(stored) == 0 {
		return nil, phrase.Error("job.fold.a-job-without-events-is-no-job")
	}
	read := Decode
	if vouched {
		read = decode
	}
	events := make([]Event, len(stored))
	for i, data := range stored {
		var err error
		if events[i], err = read(data); err != nil {
			return nil, phrase.Error("job.read.event", i+1, err)
		}
	}
	opened, ok := events[0].Body.(Opened)
	if !ok {
		return nil, phrase.Error("job.fold.event-1-does-not-open-the-job")
	}
	p, err := plan(opened)
	if err != nil {
		return nil, err
	}
	return fold(p, events, stored)
}

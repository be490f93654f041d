package job

import (
	"errors"
	"fmt"

	"bay.example/pawl/procedures"
)

// Read decodes the stored bytes of a job's events and folds them. plan resolves what the job has
// pinned. Bytes that Encode would not have written are refused, unless they are vouched for: a caller
// that reads thousands of jobs, and has just held the bytes against the digest kept of them, saves a
// third of the time by not having them encoded again to compare. The error names the event.
func Read(stored [][]byte, vouched bool, plan func(Opened) (*procedures.Plan, error)) (*Card, error) {
	if len(stored) == 0 {
		return nil, errors.New("a job without events is no job")
	}
	read := Decode
	if vouched {
		read = decode
	}
	events := make([]Event, len(stored))
	for i, data := range stored {
		var err error
		if events[i], err = read(data); err != nil {
			return nil, fmt.Errorf("event %d: %w", i+1, err)
		}
	}
	opened, ok := events[0].Body.(Opened)
	if !ok {
		return nil, errors.New("event 1 does not open the job")
	}
	p, err := plan(opened)
	if err != nil {
		return nil, err
	}
	return fold(p, events, stored)
}

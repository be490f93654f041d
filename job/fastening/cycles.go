package fastening

import (
	"math"

	"bay.example/pawl/job/phrase"
)

// Line is a group of fasteners in a job's plan and the wrench meant for it.
type Line struct {
	Wrench    string
	Fasteners int // on one side or wheel
	Passes    int
	Sides     int // sides or wheels
}

// Cycles is what a wrench has done since its calibration and what a plan asks.
type Cycles struct {
	Wrench  string
	Since   int // pulls since the last calibration
	Limit   int // pulls between calibrations, RecalibrationCycles by default
	Planned int // pulls the plan needs
}

// PlannedPulls counts the pulls a plan needs from one wrench: fasteners × passes
// × sides, summed. Rework and a countersigner's checks come on top.
func PlannedPulls(wrench string, plan []Line) (int, error) {
	total := 0
	for _, line := range plan {
		if line.Fasteners < 1 || line.Passes < 1 || line.Sides < 1 ||
			line.Fasteners > mostFasteners || line.Passes > mostFasteners || line.Sides > mostFasteners {
			return 0, phrase.Error("fastening.cycles.fasteners-passes-sides-cannot-be-planned", line.Wrench, line.Fasteners, line.Passes, line.Sides, mostFasteners)
		}
		if line.Wrench == wrench {
			total += line.Fasteners * line.Passes * line.Sides
		}
	}
	return total, nil
}

// Valid refuses counts that cannot be.
func (c Cycles) Valid() error {
	switch {
	case c.Since < 0 || c.Planned < 0 || c.Since > math.MaxInt32 || c.Planned > math.MaxInt32:
		return phrase.Error("fastening.cycles.has-pulls-done-and-planned-expected-0", c.Wrench, c.Since, c.Planned)
	case c.Limit < 1:
		return phrase.Error("fastening.cycles.has-a-limit-of-pulls-between-calibrations", c.Wrench, c.Limit)
	}
	return nil
}

// Left is how many pulls the wrench has before its calibration falls due.
func (c Cycles) Left() int { return max(0, c.Limit-c.Since) }

// Enough reports whether the plan fits: the last allowed pull is the one that
// reaches the limit.
func (c Cycles) Enough() bool { return c.Planned <= c.Left() }

// Sentence says what to do before starting when the pulls do not suffice,
// naming another wrench if the caller knows one; empty when they do. Source:
// workshop paper (trade.md 4.5).
func (c Cycles) Sentence(another string) string {
	if c.Enough() {
		return ""
	}
	if another == "" {
		another = phrase.Of("fastening.cycles.another-wrench")
	}
	noun := "cycles"
	if c.Left() == 1 {
		noun = "cycle"
	}
	return phrase.Of("fastening.cycles.has-left-needed-take-or-calibrate-first", c.Wrench, c.Left(), noun, c.Planned, another)
}

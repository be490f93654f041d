package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// demoCost is the work put into the hash of the demo's codes. They are printed on the screen; there
// is nothing to protect.
var demoCost = store.Cost{Memory: 64, Passes: 1, Lanes: 1}

func (p *Program) demoCommand() *cobra.Command {
	var plainText, depotOnly bool
	c := &cobra.Command{
		Use:   "demo",
		Short: phrase.Of("command.demo.an-invented-depot-to-try-everything-on"),
		Long:  phrase.Of("command.demo.with-a-terminal-opens-an-invented-depot"),
		Args:  exactArgs(0, phrase.Of("command.demo.no-arguments")),
	}
	c.Flags().BoolVar(&plainText, "text", false, phrase.Of("command.demo.play-the-recorded-job-as-text-even"))
	c.Flags().BoolVar(&depotOnly, "depot-only", false, phrase.Of("command.demo.only-set-the-depot-up-in-file"))
	c.RunE = func(c *cobra.Command, _ []string) error {
		if depotOnly && p.path == "" {
			return misused("%s", phrase.Of("command.demo.depot-only-wants-file-f-the-file"))
		}
		return p.withScratch(func(path string) error {
			if depotOnly {
				return p.demoDepot(path)
			}
			if p.Terminal && !plainText {
				return p.demoScreen(c.Context(), path)
			}
			return p.demoText(path)
		})
	}
	return c
}

// withScratch hands on the path of --file, or of a file in a folder that is deleted afterwards.
func (p *Program) withScratch(do func(path string) error) (err error) {
	if p.path != "" {
		if _, statErr := os.Stat(p.path); !errors.Is(statErr, fs.ErrNotExist) {
			return phrase.Error("command.demo.is-there-already-the-demo-wants-a", p.path)
		}
		return do(p.path)
	}
	dir, err := scratchFolder()
	if err != nil {
		return phrase.Error("command.demo.no-scratch-folder-for-the-demo", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	return do(filepath.Join(dir, "demo.pawl"))
}

// scratchFolder makes a folder in memory where there is such a place: the demo's history is played
// entry by entry, and nothing of it has to outlast the power.
func scratchFolder() (string, error) {
	for _, parent := range []string{os.Getenv("XDG_RUNTIME_DIR"), "/dev/shm"} {
		if parent == "" {
			continue
		}
		if dir, err := os.MkdirTemp(parent, "pawl-demo-"); err == nil {
			return dir, nil
		}
	}
	return os.MkdirTemp("", "pawl-demo-")
}

// demoScreen sets the depot up, plays its history and shows the screen on it.
func (p *Program) demoScreen(ctx context.Context, path string) error {
	fmt.Fprintln(p.Err, phrase.Of("command.demo.pawl-setting-up-the-invented-depot"))
	if err := p.playDepot(path); err != nil {
		return err
	}
	f, err := store.Open(path, store.Options{Now: p.Now, HashCost: demoCost})
	if err != nil {
		return err
	}
	return errors.Join(p.Screen(ctx, f, depotNotice()), f.Close())
}

// demoDepot sets the depot up and tells the codes of its people.
func (p *Program) demoDepot(path string) error {
	f, err := store.Open(path, store.Options{Now: p.Now, HashCost: demoCost})
	if err != nil {
		return err
	}
	if err := errors.Join(setUpDepot(f, newDemoClock(p.Now()).day), f.Close()); err != nil {
		return err
	}
	_, err = io.WriteString(p.Out, wrap(phrase.Of("command.demo.demo-holds-an-invented-depot-without-any", path, depotNotice()), textWidth, "", ""))
	return err
}

// playDepot plays a finished job of last week and one that has stood in the bay since this morning.
func (p *Program) playDepot(path string) error {
	clock := newDemoClock(p.Now())
	f, err := store.Open(path, store.Options{Now: clock.now, Station: phrase.Of("command.demo.bay-2-demo"), HashCost: demoCost})
	if err != nil {
		return err
	}
	quiet := &player{file: f, clock: clock}
	err = setUpDepot(f, clock.day)
	for _, scripts := range [][]string{{scriptMain, scriptAfter}, {scriptPart}} {
		if err == nil {
			err = quiet.play(scripts)
		}
	}
	return errors.Join(err, f.Close())
}

// demoText plays the recorded job and prints it.
func (p *Program) demoText(path string) error {
	clock := newDemoClock(p.Now())
	f, err := store.Open(path, store.Options{Now: clock.now, Station: phrase.Of("command.demo.bay-2-demo"), HashCost: demoCost})
	if err != nil {
		return err
	}
	do := func() error {
		if err := setUpDepot(f, clock.day); err != nil {
			return err
		}
		pl := &player{file: f, clock: clock, out: p.Out}
		if err := pl.play([]string{scriptMain, scriptAfter}); err != nil {
			return err
		}
		return pl.finish()
	}
	return errors.Join(do(), f.Close())
}

// demoClock is the clock of the recorded jobs: it stands at the time of the line that is played.
type demoClock struct {
	day time.Time // morning of the first day of the recorded job
	at  time.Time
}

// demoPace is how long a line of the recorded jobs takes, about as long as a person needs for it.
const demoPace = 40 * time.Second

// newDemoClock puts the recorded job nine days back, so that everything in it lies behind the clock
// of the computer.
func newDemoClock(now time.Time) *demoClock {
	y, m, d := now.AddDate(0, 0, -9).Date()
	day := time.Date(y, m, d, 7, 30, 0, 0, now.Location())
	return &demoClock{day: day, at: day}
}

func (c *demoClock) now() time.Time { return c.at }

func (c *demoClock) tick() { c.at = c.at.Add(demoPace) }

// on moves to the morning of a later day of the recorded jobs.
func (c *demoClock) on(days int) {
	if next := c.day.AddDate(0, 0, days); next.After(c.at) {
		c.at = next
	}
}

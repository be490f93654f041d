package bay

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
	_ "bay.example/pawl/ui/draw/quiet" // the terminal is never asked for its colours
)

// Options are what the command line decides about the full-screen program.
type Options struct {
	Theme   string // a palette by name; empty: that of the workshop
	ASCII   bool
	NoColor bool
	Profile draw.Profile
	In      *os.File // the terminal; nil: standard input
	Out     *os.File // nil: standard output
	Notice  string   // shown where people sign in; the demo tells its codes there
}

// normalKeypad switches the keypad to plain digits; some terminals start with it in application mode.
const normalKeypad = "\x1b>"

// Run shows the program until its person leaves it, a signal ends it or the terminal is lost. The
// half-typed text is kept either way. It does not close the file.
func Run(ctx context.Context, f *store.File, o Options) error {
	if o.In == nil {
		o.In = os.Stdin
	}
	if o.Out == nil {
		o.Out = os.Stdout
	}
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	ctx, lost := context.WithCancel(ctx)
	defer lost()
	m, err := newModel(f, o)
	if err != nil {
		return err
	}
	if _, err := io.WriteString(o.Out, normalKeypad); err != nil {
		return phrase.Error("bay.signals.the-terminal-cannot-be-written-to", err)
	}
	p := tea.NewProgram(m, tea.WithContext(ctx), tea.WithoutSignalHandler(), tea.WithAltScreen(),
		tea.WithInput(&watched{File: o.In, lost: lost}), tea.WithOutput(o.Out))
	_, err = p.Run()
	if ctx.Err() != nil {
		err = nil // asked to end by a signal or a closed window: no failure of the program
	}
	return errors.Join(err, m.draft.last(m))
}

// watched is the terminal; a read that fails means the window was closed, and ends the program.
type watched struct {
	*os.File
	lost func()
}

// Read reads keys.
func (w *watched) Read(p []byte) (int, error) {
	n, err := w.File.Read(p)
	if err != nil {
		w.lost()
	}
	return n, err
}

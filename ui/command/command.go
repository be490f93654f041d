package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// Program is pawl as the command line sees it: its streams, its clock and its screen, all handed in.
type Program struct {
	In       io.Reader
	Out, Err io.Writer
	// Terminal says that In and Out are a terminal a full screen can be shown on.
	Terminal bool
	// Now is the clock.
	Now func() time.Time
	// Screen shows the full screen on an open file until its person leaves it. The notice is
	// shown where people sign in; it is empty but for the demo.
	Screen func(ctx context.Context, f *store.File, notice string) error
	// Cost is the work put into the hash of personal codes; zero is that of the store.
	Cost store.Cost

	path string // of --file
}

// Run does what the arguments say and returns the exit code: 0 fine, 1 refused by a rule or failed,
// 2 misuse, 3 file in use. Results go to Out, messages to Err.
func (p *Program) Run(ctx context.Context, args []string) int {
	root := p.root()
	root.SetArgs(guardNegatives(args))
	err := root.ExecuteContext(ctx)
	if err != nil && !errors.Is(err, errAnswered) {
		text := say(err)
		if !strings.HasPrefix(text, "pawl ") {
			text = phrase.Of("command.command.pawl", text)
		}
		fmt.Fprintln(p.Err, text)
	}
	return exitCode(err)
}

func (p *Program) root() *cobra.Command {
	c := &cobra.Command{
		Use:           "pawl",
		Short:         phrase.Of("command.command.a-bay-side-checklist-for-brake-work"),
		Long:          phrase.Of("command.command.pawl-walks-a-procedure-at-the-vehicle"),
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return misused("%s", phrase.Of("command.command.pawl-has-no-command-pawl-help-lists", args[0]))
			}
			return nil
		},
		RunE: func(c *cobra.Command, _ []string) error { return p.show(c.Context()) },
	}
	c.SetIn(p.In)
	c.SetOut(p.Out)
	c.SetErr(p.Err)
	c.SetVersionTemplate("pawl {{.Version}}\n")
	c.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return flagError(c.CommandPath(), err) })
	c.PersistentFlags().StringVar(&p.path, "file", "", phrase.Of("command.command.the-workshops-file-in-the-data-folder"))
	c.CompletionOptions.HiddenDefaultCmd = true
	c.AddCommand(p.enterCommand(), p.showCommand(), p.listCommand(), p.checkCommand(), p.graphCommand(), p.newCommand(), p.verifyCommand(), p.demoCommand(), p.reckonCommand())
	c.AddCommand(p.sealsCommand(), p.rebuildCommand(), p.printCommand(), p.exportCommand(), p.backupCommand(), p.restoreCommand(), p.rehearseCommand(), p.findCommand(), p.recallCommand(), p.historyCommand())
	c.SetHelpCommand(helpCommand())
	tidyHelp(c)
	return c
}

// tidyHelp wraps the help of every command.
func tidyHelp(c *cobra.Command) {
	c.Long = paragraphs(c.Long)
	for _, sub := range c.Commands() {
		tidyHelp(sub)
	}
}

// helpCommand is "pawl help", which knows its mistakes.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: phrase.Of("command.command.what-a-command-does"),
		RunE: func(c *cobra.Command, args []string) error {
			about, rest, err := c.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return misused("%s", phrase.Of("command.command.pawl-has-no-command-pawl-help-lists", strings.Join(args, " ")))
			}
			return about.Help()
		},
	}
}

// version is what the build says of itself.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return phrase.Of("command.command.of-unknown-build")
	}
	v := info.Main.Version
	if v == "" || v == "(devel)" {
		v = phrase.Of("command.command.from-source")
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && v == "from source" {
			v += " " + s.Value[:min(12, len(s.Value))]
		}
	}
	return v
}

// show is pawl without a command.
func (p *Program) show(ctx context.Context) error {
	if !p.Terminal {
		return misused("%s", phrase.Of("command.command.the-screen-needs-a-terminal-on-standard"))
	}
	f, err := p.open()
	if err != nil {
		return err
	}
	return errors.Join(p.Screen(ctx, f, ""), f.Close())
}

// open opens the file of --file, or the default one.
func (p *Program) open() (*store.File, error) {
	path := p.path
	if path == "" {
		var err error
		if path, err = store.DefaultPath(); err != nil {
			return nil, err
		}
	}
	f, err := store.Open(path, store.Options{Now: p.Now, HashCost: p.Cost})
	if err == nil {
		w, _ := f.Workshop()
		phrase.DecimalComma(w.DecimalComma)
	}
	return f, err
}

// with opens the file, which must be there already, hands it on and closes it.
func (p *Program) with(do func(*store.File) error) error {
	if err := p.mustExist(); err != nil {
		return err
	}
	f, err := p.open()
	if err != nil {
		return err
	}
	return errors.Join(do(f), f.Close())
}

// jobNumber reads the number of a job.
func jobNumber(text string) (uint64, error) {
	n, err := strconv.ParseUint(text, 10, 64)
	if err != nil || n == 0 {
		return 0, misused("%s", phrase.Of("command.command.is-no-number-of-a-job-pawl", text))
	}
	return n, nil
}

// The forms of --as.
const (
	formText = "text"
	formJSON = "json"
)

// form is the value of --as.
type form string

// String is the form.
func (f *form) String() string { return string(*f) }

// Set takes text or json.
func (f *form) Set(text string) error {
	if text != formText && text != formJSON {
		return phrase.Error("command.command.expected-text-or-json", text)
	}
	*f = form(text)
	return nil
}

// Type names the value in the help.
func (f *form) Type() string { return "text|json" }

var _ pflag.Value = (*form)(nil)

// formFlag gives a command the flag --as.
func formFlag(c *cobra.Command) *form {
	f := form(formText)
	c.Flags().Var(&f, "as", phrase.Of("command.command.how-the-result-is-written"))
	return &f
}

// Pawl is a bay-side checklist for brake work that refuses what is not proved.
package main

import (
	"context"
	"io"
	"os"
	"time"

	"golang.org/x/term"

	"bay.example/pawl/store"
	"bay.example/pawl/ui/bay"
	"bay.example/pawl/ui/command"
	"bay.example/pawl/ui/draw"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run wires the command line to the terminal and the screen.
func run(args []string, in, out *os.File, messages io.Writer) int {
	p := command.Program{In: in, Out: out, Err: messages, Now: time.Now, Terminal: screenable(in, out)}
	p.Screen = func(ctx context.Context, f *store.File, notice string) error {
		return bay.Run(ctx, f, bay.Options{
			Profile: draw.ProfileFor(os.Getenv("TERM"), os.Getenv("COLORTERM")), NoColor: os.Getenv("NO_COLOR") != "", In: in, Out: out, Notice: notice,
		})
	}
	return p.Run(context.Background(), args)
}

// screenable reports whether both streams are a terminal that can be drawn on.
func screenable(in, out *os.File) bool {
	name := os.Getenv("TERM")
	return term.IsTerminal(int(in.Fd())) && term.IsTerminal(int(out.Fd())) && name != "" && name != "dumb"
}

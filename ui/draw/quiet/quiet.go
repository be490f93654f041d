// Package quiet keeps the start of the program quiet: it stops bubbletea from
// asking the terminal for its background colour before main has begun.
//
// bubbletea v1 asks that question in a package init and waits up to five
// seconds for an answer; a terminal that gives none (a serial console, a
// recorder, a plain pty) makes every command of the program hang, --version
// included, and a late answer lands in the shell as stray text. The palette is
// chosen by name here, so the answer is of no use anyway.
//
// The package must import lipgloss and nothing else. Go initialises, of all
// packages whose imports are ready, the one with the smallest import path
// first. "bay.example/pawl/..." sorts before "github.com/charmbracelet/bubbletea",
// and with lipgloss as its only import this package is ready as soon as lipgloss
// is, which is before bubbletea can be. A further import, even from the
// standard library, could make it ready later and so bring the wait back.
// The test beside this file checks the order in a real binary.
package quiet

import "github.com/charmbracelet/lipgloss"

// Stating a background, whichever it is, is what makes the later question
// unnecessary; no style of pawl depends on the value.
func init() {
	lipgloss.SetHasDarkBackground(true)
}

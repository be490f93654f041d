package bay

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// TestTooSmallTakesNoKeys: in a window that shows nothing, nothing is recorded, corrected or chosen
// unseen, not even by a scan or a paste; Ctrl-C twice leaves.
func TestTooSmallTakesNoKeys(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("52")
	r.keys("Enter")
	r.sees("Slip of the keys, or real?")
	before, frame := events(t, r), r.frame()
	r.send(tea.WindowSizeMsg{Width: 40, Height: 10})
	r.sees("Until then no key")
	r.keys("8 Enter 1 3 4 Enter 1 Esc H")
	r.burst("W1")
	r.burst("3401234567")
	r.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("34"), Paste: true})
	r.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	if n := events(t, r) - before; n != 0 {
		t.Errorf("%d events were recorded unseen", n)
	}
	if r.frame() != frame {
		t.Errorf("keys in a window too small changed the screen:\n%s\n%s", frame, r.frame())
	}
	r.send(tea.WindowSizeMsg{Width: 40, Height: 10})
	r.keys("CtrlC CtrlC")
	if !r.ended {
		t.Error("Ctrl-C twice does not leave")
	}
}

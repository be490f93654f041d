package bay

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

func BenchmarkFrame(b *testing.B) {
	r := atBolts(b)
	r.inHand()
	r.send(tea.WindowSizeMsg{Width: 120, Height: 40})
	b.ReportAllocs()
	for b.Loop() {
		if r.m.View() == "" {
			b.Fatal("no frame")
		}
	}
}

// BenchmarkKeyToRecordedFrame is a gauge reading, from its bytes to the frame that shows it on disk.
func BenchmarkKeyToRecordedFrame(b *testing.B) {
	r := atBolts(b)
	r.inHand()
	for b.Loop() {
		s := r.m.top().(*jobScreen)
		s.item, s.reason = 1, "wrong unit"
		*r.now = r.now.Add(time.Second)
		r.press("33.5")
		r.press("Enter")
		if !strings.Contains(r.m.View(), "33.5") {
			b.Fatal("not recorded:\n" + r.m.View())
		}
	}
}

package procedures

import (
	"strings"
	"testing"
)

// No torque of a shipped sheet is more than its fastener carries, nor a tenth of it.
func TestShippedTorquesRaiseNoDoubt(t *testing.T) {
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	ss, err := Sheets()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range ss {
		for _, p := range ps {
			if !s.ServesProcedure(p.ID) {
				continue
			}
			if doubts, err := Doubts(p, s); err != nil || len(doubts) > 0 {
				t.Errorf("%s on %s: %v %v", p.ID, s.ID, doubts, err)
			}
		}
	}
}

// 95 N·m stands below the yield torque of an M12x1.25 bolt of class 10.9 in
// preload_torque_fine_thread.csv, ten times as much above it.
func TestSlippedDecimalRaisesADoubt(t *testing.T) {
	p, s := shippedPair(t, "demo-minibus")
	for i := range s.Windows {
		if s.Windows[i].ID == "carrier-bolt-torque" {
			s.Windows[i].Value = "900..1000 N·m"
		}
	}
	doubts, err := Doubts(p, s)
	if err != nil || len(doubts) != 1 || !strings.Contains(doubts[0].String(), `window "carrier-bolt-torque"`) || doubts[0].Line == 0 {
		t.Errorf("%v %v", doubts, err)
	}
	for i := range s.Groups {
		if s.Groups[i].ID == "carrier-bolts" {
			s.Groups[i].Thread = "M12by2"
		}
	}
	if _, err := Doubts(p, s); err == nil || !strings.Contains(err.Error(), `group "carrier-bolts"`) {
		t.Errorf("an unreadable thread says %v", err)
	}
}

package bay

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// TestCodeTypedAtTheJobsIsNotSaidAgain: a code typed in the wrong place is not repeated in a sentence.
func TestCodeTypedAtTheJobsIsNotSaidAgain(t *testing.T) {
	f, now := workshop(t)
	openJob(t, f)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("1 4 1 0 7 Enter")
	r.sees("No job in the bay has that number")
	r.seesNot("14107")
}

// TestKeyWithoutANameIsCalledThisKey: F5 is no "other".
func TestKeyWithoutANameIsCalledThisKey(t *testing.T) {
	f, now := workshop(t)
	r := start(t, f, now)
	r.signIn(tarik)
	r.send(tea.KeyMsg{Type: tea.KeyF5})
	r.sees("This key does nothing here")
}

// TestSecondEnterSkipsNoPoint: Enter pressed twice after a value records it once and leaves the next
// point in focus.
func TestSecondEnterSkipsNoPoint(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("33")
	at := r.m.top().(*jobScreen).item
	r.press("Enter")
	r.wait(150 * time.Millisecond)
	r.press("Enter")
	r.wait(450 * time.Millisecond)
	if got := r.m.top().(*jobScreen).item; got != at+1 {
		t.Errorf("the focus is on item %d, want %d", got, at+1)
	}
	r.keys("Enter")
	if got := r.m.top().(*jobScreen).item; got == at+1 {
		t.Error("a later Enter does not go on")
	}
}

// TestKeysAreNotCutInTheirList: every key of the record is spelled out.
func TestKeysAreNotCutInTheirList(t *testing.T) {
	f, now := toBolts(t)
	r := start(t, f, now)
	r.signIn(frida)
	r.m.stack = append(r.m.stack, newRecord(1))
	r.do(r.m.deliver(r.m.top(), Shown{}))
	r.keys("?")
	if frame := r.frame(); !strings.Contains(frame, "PageUp PageDown Home End") {
		t.Errorf("a key is cut:\n%s", frame)
	}
}

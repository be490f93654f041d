package bay

import (
	tea "github.com/charmbracelet/bubbletea"

	"bay.example/pawl/store"
)

// draftName names the calls that keep a draft; their results go to no screen.
const draftName = "draft"

// drafter is a screen with half-typed text worth keeping over a stop of the program.
type drafter interface {
	Screen
	// Draft says where the screen stands and what is half typed; false for nothing to keep.
	Draft() (store.Draft, bool)
}

// draftKeeper keeps the draft of the screen on top, a moment after the last change.
type draftKeeper struct {
	kept store.Draft // what the file has
	seen store.Draft // the newest state, waited for
}

// now is the draft as it stands.
func (d *draftKeeper) now(m *Model) (store.Draft, bool) {
	s, ok := m.top().(drafter)
	if !ok {
		return store.Draft{}, false
	}
	draft, ok := s.Draft()
	draft.Person = m.person().ID
	return draft, ok
}

// watch starts waiting when the draft has changed.
func (d *draftKeeper) watch(m *Model) tea.Cmd {
	draft, ok := d.now(m)
	if !ok || draft == d.seen {
		return nil
	}
	d.seen = draft
	return m.after(draftTime, draftMsg{draft})
}

// settled keeps a draft that has not changed since.
func (d *draftKeeper) settled(m *Model, draft store.Draft) tea.Cmd {
	if draft != d.seen || draft == d.kept {
		return nil
	}
	d.kept = draft
	return m.call(m.top(), Call{Name: draftName, Quiet: true, Do: func(f *store.File) (any, error) { return nil, f.SaveDraft(draft) }})
}

// leave keeps the draft of a screen that goes away, or forgets it when nothing is half typed. Who
// leaves the page of a new job has dropped it.
func (d *draftKeeper) leave(m *Model) tea.Cmd {
	draft, ok := d.now(m)
	if !ok {
		return nil
	}
	d.kept, d.seen = draft, draft
	return m.call(m.top(), Call{Name: draftName, Quiet: true, Do: func(f *store.File) (any, error) {
		if draft.Text == "" || draft.Vehicle != "" {
			return nil, f.ClearDraft()
		}
		return nil, f.SaveDraft(draft)
	}})
}

// last keeps the draft at the end of the program. The loop has ended: nothing else uses the file.
func (d *draftKeeper) last(m *Model) error {
	draft, ok := d.now(m)
	if !ok || draft == d.kept {
		return nil
	}
	d.kept = draft
	return m.file.SaveDraft(draft)
}

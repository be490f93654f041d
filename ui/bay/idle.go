package bay

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/ui/draw"
)

// lockName marks the dialog over a stage whose person was signed out.
const lockName = "lock"

// idleLock signs out whoever has not pressed a key for some minutes. The stage stays in view behind
// the question who goes on.
type idleLock struct {
	last time.Time       // newest key
	was  register.Person // who was signed out; the zero Person while nobody is
	kept *openDialog     // the dialog that was open, for the same person
}

// touched notes a key.
func (l *idleLock) touched(now time.Time) { l.last = now }

// due reports whether the person has been away long enough.
func (l *idleLock) due(m *Model) bool {
	return m.env.SignedIn() && m.pending == nil && m.env.Now.Sub(l.last) >= m.env.Workshop.Idle()
}

// lock signs the person out and asks who goes on.
func (l *idleLock) lock(m *Model) tea.Cmd {
	l.was, l.kept = m.env.Person, m.dialog
	m.env.Person = register.Person{}
	m.say = Say{}
	return l.ask(m)
}

// ask puts the question who goes on over the stage.
func (l *idleLock) ask(m *Model) tea.Cmd {
	m.dialog = &openDialog{name: lockName, owner: m.top(), Dialog: newWho(phrase.Of("bay.idle.signed-out"), []line{
		{text: phrase.Of("bay.idle.was-signed-out-after-without-a-key", l.was.Name, phrase.Count("count.minute", int(m.env.Workshop.Idle()/time.Minute)))}},
		working(m.env.Register, ""), nil)}
	return m.deliver(m.dialog.Dialog, Shown{})
}

// unlock signs in whoever typed the code; the dialog that was open comes back for the same person.
func (l *idleLock) unlock(m *Model, d Done) tea.Cmd {
	v, ok := d.Value.(vouched)
	if !ok || d.Err != nil {
		return m.speak(Say{Text: phrase.Of("bay.idle.nobody-is-signed-in-yet"), Role: draw.Warn})
	}
	same, kept := v.Person.ID == l.was.ID, l.kept
	l.was, l.kept, m.dialog = register.Person{}, nil, nil
	m.env.Person = v.Person
	l.touched(m.env.Now)
	if same && kept != nil {
		m.dialog = kept
		return nil
	}
	return tea.Batch(m.deliver(m.top(), Shown{}), m.speak(Say{Text: phrase.Of("bay.handover.is-signed-in-now", v.Person.Name), Role: draw.Good}))
}

// stay brings the question back after Esc, for as long as nobody is signed in.
func (l *idleLock) stay(m *Model) tea.Cmd {
	if l.was.ID == "" {
		return nil
	}
	return tea.Batch(l.ask(m), m.speak(Say{Text: phrase.Of("bay.idle.somebody-signs-in-before-anything-goes-on"), Role: draw.Warn}))
}

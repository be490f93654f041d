package bay

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"runtime/debug"
	"slices"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// call sends a question to the store and locks the keys until its answer is back.
func (m *Model) call(from Screen, c Call) tea.Cmd {
	m.calls++
	id, file, log := m.calls, m.file, m.log
	if !c.Quiet {
		m.pending = &pending{id: id, since: m.env.Now, doing: cmp.Or(c.Doing, phrase.Of("bay.call.writing"))}
	}
	do := func() (msg tea.Msg) {
		// The file is mapped into memory: a stick pulled out is a fault, not an error.
		debug.SetPanicOnFault(true)
		out := resultMsg{id: id, owner: from, quiet: c.Quiet, Result: Result{Name: c.Name}}
		defer func() {
			if p := recover(); p != nil {
				out.Value, out.Err = nil, log.panicked(c.Name, p, debug.Stack())
				msg = out
			}
		}()
		out.Value, out.Err = c.Do(file)
		out.facts = readFacts(file)
		return out
	}
	if c.Quiet {
		return do
	}
	return tea.Batch(do, m.after(slowTime, slowMsg{}))
}

// know takes over what the workshop file says now, with the decimal mark that texts are to show.
func (m *Model) know(f Facts) {
	m.env.Facts = f
	phrase.DecimalComma(f.Workshop.DecimalComma)
}

// result brings the answer of a call to the screen that asked, if it is still there, and then what
// was typed meanwhile.
func (m *Model) result(r resultMsg) tea.Cmd {
	if r.facts.Path != "" {
		m.know(r.facts)
	}
	if m.pending != nil && m.pending.id == r.id {
		m.pending = nil
	}
	if r.Name == draftName {
		if r.Err != nil {
			return m.speak(Say{Text: phrase.Of("bay.call.half-typed-text-cannot-be-kept", r.Err.Error()), Role: draw.Warn})
		}
		return nil
	}
	if !m.present(r.owner) {
		return nil
	}
	before := m.holder()
	cmds := []tea.Cmd{m.deliver(r.owner, r.Result)}
	if m.holder() != before && m.dialog != nil {
		m.dialog.quiet = m.env.Now.Add(quietTime)
	}
	if m.pending != nil || r.quiet {
		return tea.Batch(cmds...)
	}
	queue := m.queue
	m.queue = nil
	if m.holder() != before {
		return tea.Batch(cmds...) // what was typed was not meant for what is here now
	}
	return tea.Batch(append(cmds, m.inputs(queue))...)
}

// present reports whether a screen still stands on the stack or asks as the dialog.
func (m *Model) present(s Screen) bool {
	return m.dialog != nil && m.dialog.Dialog == s || slices.Contains(m.stack, s)
}

// logFile is the file beside the workshop file that takes what nobody at the bay can use.
type logFile struct {
	path string
	mu   sync.Mutex
}

// panicked writes down a panic with its stack and returns a sentence for the screen.
func (l *logFile) panicked(what string, p any, stack []byte) error {
	text := fmt.Sprintf("%s %s: %v\n%s\n", time.Now().Format(time.RFC3339), what, p, stack)
	if err := l.write(text); err != nil {
		return phrase.Error("bay.call.the-program-failed-in-and-its-log", what, p, err)
	}
	return phrase.Error("bay.call.the-program-failed-in-nothing-was-recorded", what, p, l.path)
}

func (l *logFile) write(text string) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	f, err := os.OpenFile(l.path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = f.WriteString(text)
	return errors.Join(err, f.Close())
}

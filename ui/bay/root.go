package bay

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// Times of the root.
const (
	quietTime = 400 * time.Millisecond // keys a dialog that opened by itself does not take
	slowTime  = 150 * time.Millisecond // a call that takes longer is said to be running
	draftTime = 300 * time.Millisecond // a draft is kept when nothing was typed for so long
)

// Model is the program on the screen: the stack of screens, at most one dialog, the person signed
// in. It routes and knows nothing of brakes.
type Model struct {
	file  *store.File
	log   *logFile
	clock func() time.Time
	after func(time.Duration, tea.Msg) tea.Cmd // a message later; tests put their own clock here

	look    draw.Options
	theme   *draw.Theme
	env     Env
	keys    layer
	stack   []Screen
	dialog  *openDialog
	say     Say
	pending *pending
	queue   []Input // what was typed while a call was out
	calls   uint64
	draft   draftKeeper
	resume  *store.Draft // where the program stood when it ended, until it is there again
	lock    idleLock
	quit    bool
}

// openDialog is a dialog with the screen that asked.
type openDialog struct {
	Dialog
	name  string
	owner Screen
	quiet time.Time // no key before this
}

// pending is the call that is out.
type pending struct {
	doing string
	id    uint64
	since time.Time
}

// newModel makes the program for an open file.
func newModel(f *store.File, o Options) (*Model, error) {
	m := &Model{file: f, log: &logFile{path: f.Path() + ".log"}, clock: f.Now, after: later,
		look: draw.Options{Palette: o.Theme, ASCII: o.ASCII, NoColor: o.NoColor, Profile: o.Profile}}
	m.know(readFacts(f))
	m.env.Notice = o.Notice
	m.env.Now = m.clock()
	m.env.Started = m.env.Now
	m.lock.touched(m.env.Now)
	if m.look.Palette == "" {
		m.look.Palette = m.env.Workshop.Palette
	}
	if m.look.Palette == "" {
		m.look.Palette = draw.Palettes()[0]
	}
	m.look.ASCII = m.look.ASCII || m.env.Workshop.ASCII
	theme, err := draw.NewTheme(m.look)
	if err != nil {
		return nil, err
	}
	m.theme, m.env.Theme = theme, theme
	if !m.env.Known {
		m.stack = []Screen{newFirstRun()}
		return m, nil
	}
	if d, ok := f.Draft(); ok {
		m.resume = &d
	}
	m.stack = []Screen{newSignIn(m.resume)}
	return m, nil
}

// Messages of the root itself.
type (
	settleMsg struct{}
	tickMsg   struct{}
	slowMsg   struct{}
	draftMsg  struct{ draft store.Draft }
	resultMsg struct {
		id    uint64
		owner Screen
		facts Facts
		quiet bool
		Result
	}
)

// Init starts the clock and shows the first screen.
func (m *Model) Init() tea.Cmd {
	return tea.Batch(m.after(time.Second, tickMsg{}), m.deliver(m.top(), Shown{}))
}

func later(d time.Duration, msg tea.Msg) tea.Cmd {
	return tea.Tick(d, func(time.Time) tea.Msg { return msg })
}

// Update is the loop of the program.
func (m *Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	m.env.Now = m.clock()
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.env.W, m.env.H = msg.Width, msg.Height
		cmd = m.deliver(m.holder(), Resize{msg.Width, msg.Height})
	case tea.KeyMsg:
		m.lock.touched(m.env.Now)
		cmd = m.inputs(m.keys.take(fromTea(msg), m.env.Now, m.focus()))
		if m.keys.waiting() {
			cmd = tea.Batch(cmd, m.after(burstGap+time.Millisecond, settleMsg{}))
		}
	case settleMsg:
		cmd = m.inputs(m.keys.settle(m.env.Now, m.focus()))
	case resultMsg:
		cmd = m.result(msg)
	case tickMsg:
		cmd = tea.Batch(m.after(time.Second, tickMsg{}), m.deliver(m.holder(), Tick{}))
		if m.lock.due(m) {
			cmd = tea.Batch(cmd, m.lock.lock(m))
		}
	case draftMsg:
		cmd = m.draft.settled(m, msg.draft)
	}
	if m.quit {
		return m, tea.Quit
	}
	return m, tea.Batch(cmd, m.draft.watch(m))
}

func (m *Model) top() Screen { return m.stack[len(m.stack)-1] }

// holder is what gets the keys: the dialog, or the screen on top.
func (m *Model) holder() Screen {
	if m.dialog != nil {
		return m.dialog.Dialog
	}
	return m.top()
}

func (m *Model) focus() Focus { return m.holder().Focus() }

// inputs hands on what the input layer gave out.
func (m *Model) inputs(ins []Input) tea.Cmd {
	var cmds []tea.Cmd
	for _, in := range ins {
		switch {
		case m.pending != nil:
			m.queue = append(m.queue, in)
		case m.dialog != nil && m.env.Now.Before(m.dialog.quiet):
			// Meant for the screen before the dialog opened by itself.
		default:
			cmds = append(cmds, m.input(in))
		}
	}
	return tea.Batch(cmds...)
}

// input hands one key, scan, reading or paste to what holds the focus.
func (m *Model) input(in Input) tea.Cmd {
	k, isKey := in.(Key)
	if m.tooSmall() && !(isKey && k.Sym == Break) {
		return nil // nobody sees what it would do
	}
	m.say = Say{}
	if isKey && k.Sym == Break {
		if m.dialog != nil && m.dialog.name == leaveName {
			return m.perform(m.top(), Quit{})
		}
		m.dialog = nil
		return m.perform(m.top(), leave())
	}
	h := m.holder()
	if isKey && (k.Sym != Rune || h.Focus() != FocusText) {
		if b, ok := bound(h.Keys(&m.env), k); ok && b.Off != "" {
			return m.perform(h, Say{Text: b.Off, Role: draw.Warn})
		}
	}
	if isKey && k.Rune == '?' && h.Focus() != FocusText {
		return m.allKeys(h)
	}
	act := h.Update(&m.env, in)
	if _, no := act.(Unknown); no {
		act = Say{Text: unknownWords(in, h.Focus()), Role: draw.Warn}
	}
	return m.perform(h, act)
}

// unknownWords says that an input did nothing.
func unknownWords(in Input, f Focus) string {
	switch in := in.(type) {
	case Key:
		if f == FocusNumber && in.Sym == Rune {
			return phrase.Of("bay.root.a-number-goes-here-does-nothing-here", in.String())
		}
		if f == FocusCode && in.Sym == Rune {
			return phrase.Of("bay.root.a-code-is-digits-only-does-nothing", in.String())
		}
		name := phrase.Word(in.String())
		if in.Sym == Other {
			name = phrase.Of("bay.root.this-key")
		}
		return phrase.Of("bay.root.does-nothing-here-the-keys-that-do", name)
	case Scan:
		return phrase.Of("bay.root.a-scan-is-not-asked-for-here", string(in))
	case Reading:
		return phrase.Of("bay.root.a-reading-is-not-asked-for-here", string(in))
	case Paste:
		return phrase.Of("bay.root.text-cannot-be-pasted-here")
	}
	return ""
}

// deliver gives a screen an input and does what it wants.
func (m *Model) deliver(s Screen, in Input) tea.Cmd { return m.perform(s, s.Update(&m.env, in)) }

// perform does what a screen wants.
func (m *Model) perform(from Screen, a Action) tea.Cmd {
	switch a := a.(type) {
	case nil, Unknown:
		return nil
	case Many:
		var cmds []tea.Cmd
		for _, one := range a {
			cmds = append(cmds, m.perform(from, one))
		}
		return tea.Batch(cmds...)
	case Push:
		m.dialog = nil
		m.stack = append(m.stack, a.Screen)
		return m.deliver(a.Screen, Shown{})
	case Replace:
		m.dialog = nil
		m.stack[len(m.stack)-1] = a.Screen
		return m.deliver(a.Screen, Shown{})
	case Restart:
		m.dialog = nil
		m.stack = []Screen{a.Screen}
		return m.deliver(a.Screen, Shown{})
	case Pop:
		if len(m.stack) == 1 {
			return m.perform(from, leave())
		}
		cmd := m.draft.leave(m)
		m.stack = m.stack[:len(m.stack)-1]
		m.dialog = nil
		return tea.Batch(cmd, m.deliver(m.top(), Shown{}))
	case SignIn:
		m.env.Person = a.Person
		return nil
	case Look:
		look := m.look
		look.Palette = a.Palette
		m.repaint(look)
		return nil
	case Letters:
		look := m.look
		look.ASCII = a.ASCII
		m.repaint(look)
		return nil
	case Call:
		return m.call(from, a)
	case Ask:
		m.dialog = &openDialog{Dialog: a.Dialog, name: a.Name, owner: m.top()}
		return m.deliver(a.Dialog, Shown{})
	case Done:
		return m.done(a)
	case Cancel:
		m.dialog = nil
		return m.lock.stay(m)
	case Say:
		return m.speak(a)
	case Quit:
		m.quit = true
		return nil
	}
	return nil
}

// done ends the dialog and brings its answer to the screen that asked.
func (m *Model) done(d Done) tea.Cmd {
	was := m.dialog
	if was == nil {
		return nil
	}
	if was.name == lockName {
		return m.lock.unlock(m, d)
	}
	m.dialog = nil
	if was.name == leaveName {
		return m.perform(m.top(), Quit{})
	}
	return m.deliver(was.owner, Answer{Name: was.name, Value: d.Value, Err: d.Err})
}

// speak shows a sentence; one longer than the line opens as a pane, so that none is cut.
func (m *Model) speak(s Say) tea.Cmd {
	m.say = s
	if m.env.W > 0 && draw.Width(m.theme.Plain(s.Text)) > m.env.W-2 && m.dialog == nil && (s.Role == draw.Warn || s.Role == draw.Bad) {
		m.dialog = &openDialog{Dialog: newNotice(phrase.Of("bay.root.please-read"), s.Text), owner: m.top()}
		m.say = Say{}
	}
	return nil
}

// allKeys shows every key that does something now, over a screen; over a dialog the bottom row has
// them all.
func (m *Model) allKeys(h Screen) tea.Cmd {
	if m.dialog != nil {
		return nil
	}
	var lines []line
	wide := 22
	for _, b := range h.Keys(&m.env) {
		wide = max(wide, min(draw.Width(m.theme.Plain(shortKeys(b.Key)))+2, 32))
	}
	for _, b := range h.Keys(&m.env) {
		text := b.Word
		if b.Off != "" {
			text += phrase.Of("bay.root.not-now", b.Off)
		}
		lines = append(lines, line{head: shortKeys(b.Key), text: text, indent: wide})
	}
	return m.perform(h, Ask{Name: "keys", Dialog: newPane(phrase.Of("bay.root.all-keys"), lines...)})
}

func (m *Model) repaint(look draw.Options) {
	if theme, err := draw.NewTheme(look); err == nil {
		m.look, m.theme, m.env.Theme = look, theme, theme
	}
}

// person is whose half-typed text the screen holds: who is signed in, or was until the lock.
func (m *Model) person() register.Person {
	if m.lock.was.ID != "" {
		return m.lock.was
	}
	return m.env.Person
}

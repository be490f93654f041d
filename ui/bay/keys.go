package bay

import (
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
)

// Sym names a key that is no character.
type Sym uint8

// The keys without a character.
const (
	Rune  Sym = iota // a character: see Key.Rune
	Enter            // enter, also that of the keypad
	Erase            // backspace
	Up
	Down
	Left
	Right
	PageUp
	PageDown
	Home
	End
	Esc
	Tab
	Break // Ctrl-C
	Other // anything else: it does nothing anywhere
)

var symWords = [...]string{Rune: "", Enter: "Enter", Erase: "Backspace", Up: "Up", Down: "Down", Left: "Left", Right: "Right",
	PageUp: "PageUp", PageDown: "PageDown", Home: "Home", End: "End", Esc: "Esc", Tab: "Tab", Break: "Ctrl-C", Other: "other"}

// Key is one key. Letters come as typed; Letter gives the command they stand for.
type Key struct {
	Sym   Sym
	Rune  rune
	Again bool // so soon after the same key that it was held down, not pressed again
}

// String is the name that bindings know the key by; the screen shows phrase.Word of it.
func (k Key) String() string {
	switch {
	case k.Sym != Rune:
		return symWords[k.Sym]
	case k.Rune == ' ':
		return "Space"
	}
	return string(unicode.ToUpper(k.Rune))
}

// Letter is the character in capitals, 0 for a key without one.
func (k Key) Letter() rune {
	if k.Sym != Rune {
		return 0
	}
	return unicode.ToUpper(k.Rune)
}

// Digit is the digit of the key, or -1.
func (k Key) Digit() int {
	if k.Sym == Rune && k.Rune >= '0' && k.Rune <= '9' {
		return int(k.Rune - '0')
	}
	return -1
}

// Binding is a declared key: the name String gives it, a word for the key bar, and a sentence when
// it would do nothing now. No two bindings of a screen share a key.
type Binding struct {
	Key  string
	Word string
	Off  string // why it does nothing now; the root says it. Empty: it works
	Bar  bool   // shown in the key bar
}

// raw is a key message before the input layer.
type raw struct {
	sym   Sym
	runes []rune
	alt   bool
	paste bool
}

var teaSyms = map[tea.KeyType]Sym{tea.KeyEnter: Enter, tea.KeyCtrlJ: Enter, tea.KeyBackspace: Erase, tea.KeyCtrlH: Erase,
	tea.KeyUp: Up, tea.KeyDown: Down, tea.KeyLeft: Left, tea.KeyRight: Right, tea.KeyPgUp: PageUp, tea.KeyPgDown: PageDown,
	tea.KeyHome: Home, tea.KeyEnd: End, tea.KeyEsc: Esc, tea.KeyTab: Tab, tea.KeyCtrlC: Break}

// fromTea is the one place that knows the key messages of the terminal library.
func fromTea(k tea.KeyMsg) raw {
	switch k.Type {
	case tea.KeyRunes:
		return raw{runes: k.Runes, alt: k.Alt, paste: k.Paste}
	case tea.KeySpace:
		return raw{runes: []rune{' '}, alt: k.Alt, paste: k.Paste}
	case tea.KeyCtrlCloseBracket:
		return raw{runes: []rune{groupSeparator}}
	}
	if s, ok := teaSyms[k.Type]; ok && !k.Alt {
		return raw{sym: s}
	}
	return raw{sym: Other}
}

// bound finds the binding of a key.
func bound(bs []Binding, k Key) (Binding, bool) {
	name := k.String()
	for _, b := range bs {
		for one := range strings.FieldsSeq(b.Key) {
			if one == name {
				return b, true
			}
		}
	}
	return Binding{}, false
}

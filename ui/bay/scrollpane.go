package bay

import (
	"strings"

	"github.com/charmbracelet/bubbles/viewport"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// scrollPane is a part of a screen that scrolls. The library's viewport keeps the place; the lines
// are cut here, because they are styled already and must not be styled again.
type scrollPane struct {
	port viewport.Model
}

// key scrolls.
func (p *scrollPane) key(k Key) Action {
	switch k.Sym {
	case Up:
		p.port.ScrollUp(1)
	case Down:
		p.port.ScrollDown(1)
	case PageUp:
		p.port.PageUp()
	case PageDown:
		p.port.PageDown()
	case Home:
		p.port.GotoTop()
	case End:
		p.port.GotoBottom()
	default:
		return Unknown{}
	}
	return nil
}

// more reports whether there are lines out of view.
func (p *scrollPane) more() bool { return p.port.TotalLineCount() > p.port.Height }

// jump puts a line at the top of the view, as far as there are lines below it.
func (p *scrollPane) jump(line int) { p.port.SetYOffset(line) }

// scrollKeys declares the keys of key.
func (p *scrollPane) scrollKeys() []Binding {
	return []Binding{{Key: "Up Down", Word: phrase.Of("bay.scrollpane.scroll"), Bar: true}, {Key: "PageUp PageDown Home End", Word: phrase.Of("bay.scrollpane.scroll-far")}}
}

// window is the part of the lines in view, at most h of them with a note where there are more.
func (p *scrollPane) window(t *draw.Theme, lines []string, h int) []string {
	p.port.Height = max(h, 1)
	if len(lines) > h {
		p.port.Height = max(h-1, 1) // the last row is for the note
	}
	p.port.SetContent(strings.Join(lines, "\n"))
	p.port.SetYOffset(p.port.YOffset) // holds the place inside the lines when they have become fewer
	top := p.port.YOffset
	if len(lines) <= h {
		return lines
	}
	end := min(top+p.port.Height, len(lines))
	return append(append([]string{}, lines[top:end]...), scrollNote(t, top, len(lines)-end))
}

package bay

import (
	"bay.example/pawl/ui/draw"
)

// scrollPane is a part of a screen that scrolls.
type scrollPane struct {
	top, page, rows int // the first line shown, lines shown, lines there are
}

// key scrolls.
func (p *scrollPane) key(k Key) Action {
	switch k.Sym {
	case Up:
		p.top--
	case Down:
		p.top++
	case PageUp:
		p.top -= max(p.page-1, 1)
	case PageDown:
		p.top += max(p.page-1, 1)
	case Home:
		p.top = 0
	case End:
		p.top = p.rows
	default:
		return Unknown{}
	}
	p.clamp()
	return nil
}

func (p *scrollPane) clamp() { p.top = max(min(p.top, p.rows-p.page), 0) }

// scrollKeys declares the keys of key.
func (p *scrollPane) scrollKeys() []Binding {
	return []Binding{{Key: "Up Down", Word: "scroll", Bar: true}, {Key: "PageUp PageDown Home End", Word: "scroll far"}}
}

// window is the part of the lines in view, at most h of them with a note where there are more.
func (p *scrollPane) window(t *draw.Theme, lines []string, h int) []string {
	p.rows, p.page = len(lines), max(h, 1)
	if len(lines) <= h {
		p.top = 0
		return lines
	}
	p.page = max(h-1, 1)
	p.clamp()
	end := min(p.top+p.page, len(lines))
	return append(append([]string{}, lines[p.top:end]...), scrollNote(t, p.top, len(lines)-end))
}

package bay

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

func (s *registry) workshopKeys(e *Env) []Binding {
	return []Binding{{Key: "E", Word: phrase.Of("bay.settings.change"), Off: mayDo(e, procedures.Foreman, phrase.Of("bay.settings.changes-the-settings-of-the-workshop")), Bar: true}}
}

func (s *registry) workshopKey(e *Env, k Key) Action {
	if k.Letter() == 'E' {
		return Push{newSettings(e)}
	}
	return Unknown{}
}

// workshopLines is what the workshop says of itself.
func (s *registry) workshopLines(e *Env) []line {
	w := e.Workshop
	comma := phrase.Of("bay.settings.with-a-decimal-point")
	if w.DecimalComma {
		comma = phrase.Of("bay.settings.with-a-decimal-comma")
	}
	out := []line{{role: draw.Title, text: w.Name}}
	if w.Demo {
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.settings.demo-people-vehicles-and-figures-of-this")})
	}
	letters := ""
	if w.ASCII {
		letters = phrase.Of("bay.settings.plain-ascii")
	}
	torque := ""
	if w.TorqueUnit != "" {
		torque = phrase.Of("bay.settings.torques-also-in", string(w.TorqueUnit))
	}
	out = append(out, line{text: phrase.Of("bay.settings.set-up-on", w.Created.In(e.Now.Location()).Format("2006-01-02"))}, line{text: phrase.Of("bay.settings.this-computer", e.Station)},
		line{text: phrase.Of("bay.settings.palette", paletteName(e.look()), letters)}, line{text: phrase.Of("bay.settings.values-are-shown-both-may-be-typed", comma, torque)}, line{text: phrase.Of("bay.settings.signed-out-after-without-a-key", phrase.Count("count.minute", int(w.Idle()/time.Minute)))}, line{text: phrase.Of("bay.settings.file", e.Path), indent: 2},
		line{}, line{text: phrase.Of("bay.settings.in-use-5-lists-them", phrase.Count("count.procedure", len(s.stock.procedures)), phrase.Count("count.spec-sheet", len(s.stock.sheets)))})
	return out
}

const noUnit = "none"

// torqueUnits are the units torques may also be shown in; the first is none.
var torqueUnits = []string{noUnit, string(quantity.NewtonMetre), string(quantity.PoundFoot)}

// settings changes what the workshop says of itself.
type settings struct {
	page  page
	begun string // the palette at the beginning
}

// newSettings begins with what is set now.
func newSettings(e *Env) *settings {
	w := e.Workshop
	palette := choiceRow("palette", phrase.Of("bay.settings.palette-2"), e.look(), draw.Palettes(), paletteWords(), phrase.Of("bay.settings.it-shows-at-once-esc-brings-the"))
	palette.changed = func(v string) Action { return Look{Palette: v} }
	comma := choiceRow("comma", phrase.Of("bay.settings.decimal-mark"), fmt.Sprint(w.DecimalComma), []string{"false", "true"}, []string{phrase.Of("bay.settings.point-6-1-mm"), phrase.Of("bay.settings.comma-6-1-mm")}, phrase.Of("bay.settings.how-values-are-shown-in-the-register"))
	now := int(w.Idle() / time.Minute)
	times := []int{3, 5, 10, 20, 30}
	if !slices.Contains(times, now) {
		times = append(times, now)
		slices.Sort(times)
	}
	var values, words []string
	for _, n := range times {
		values, words = append(values, strconv.Itoa(n)), append(words, phrase.Count("count.minute", n))
	}
	idle := choiceRow("idle", phrase.Of("bay.settings.signed-out-after"), strconv.Itoa(now), values, words, phrase.Of("bay.settings.without-a-key-for-so-long-somebody"))
	ascii := choiceRow("ascii", phrase.Of("bay.settings.characters"), fmt.Sprint(w.ASCII), []string{"false", "true"},
		[]string{phrase.Of("bay.settings.all-the-terminal-has-lines-marks-n"), phrase.Of("bay.settings.plain-ascii-for-a-terminal-or-a")}, phrase.Of("bay.settings.what-frames-marks-and-units-are-drawn"))
	ascii.changed = func(v string) Action { return Letters{ASCII: v == "true"} }
	torque := choiceRow("torque", phrase.Of("bay.settings.torque-also-in"), cmp.Or(string(w.TorqueUnit), noUnit), torqueUnits, []string{phrase.Of("bay.settings.no-other-unit-than-that-of-the"), phrase.Of("bay.settings.n-m-beside-the-windows-unit"), phrase.Of("bay.settings.lbf-ft-beside-the-windows-unit")},
		phrase.Of("bay.settings.shown-beside-the-window-for-a-wrench"))
	return &settings{begun: e.look(), page: page{title: phrase.Of("bay.settings.settings-of-the-workshop"), last: phrase.Of("bay.settings.write-it-down"),
		rows: []pageRow{textRow("name", phrase.Of("bay.firstrun.name-of-the-workshop"), w.Name, phrase.Of("bay.firstrun.as-it-stands-on-the-record-of")), palette, ascii, comma, torque, idle}}}
}

// Head says what this is.
func (s *settings) Head(*Env) string { return phrase.Of("bay.settings.register-workshop") }

// Focus is the row's.
func (s *settings) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *settings) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in and writes it.
func (s *settings) Update(e *Env, in Input) Action {
	if r, ok := in.(Result); ok {
		if r.Err != nil {
			return Say{Text: sentence(r.Err.Error()), Role: draw.Bad}
		}
		return Many{Pop{}, Say{Text: phrase.Of("bay.settings.the-settings-are-written-down"), Role: draw.Good}}
	}
	act, done := s.page.update(in)
	if _, leaves := act.(Pop); leaves {
		back := Many{Pop{}}
		if s.page.row("ascii").touched() {
			back = append(Many{Letters{ASCII: e.Workshop.ASCII}}, back...)
		}
		if s.page.row("palette").touched() {
			back = append(Many{Look{Palette: s.begun}}, back...)
		}
		return back
	}
	if !done {
		return act
	}
	w := e.Workshop
	idle, err := strconv.Atoi(s.page.value("idle"))
	if err != nil {
		return Say{Text: phrase.Of("bay.settings.choose-after-how-many-minutes-somebody-is"), Role: draw.Warn}
	}
	w.IdleMinutes = idle
	w.ASCII, w.TorqueUnit = s.page.value("ascii") == "true", ""
	if u := s.page.value("torque"); u != noUnit {
		w.TorqueUnit = quantity.Unit(u)
	}
	w.Name, w.Palette, w.DecimalComma = s.page.value("name"), s.page.value("palette"), s.page.value("comma") == "true"
	return Call{Name: "settings", Do: func(f *store.File) (any, error) { return nil, f.SaveWorkshop(w) }}
}

// View shows the page.
func (s *settings) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }

package bay

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"time"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

func (s *registry) workshopKeys(e *Env) []Binding {
	return []Binding{{Key: "E", Word: "change", Off: mayDo(e, procedures.Foreman, "changes the settings of the workshop"), Bar: true}}
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
	comma := "with a decimal point"
	if w.DecimalComma {
		comma = "with a decimal comma"
	}
	out := []line{{role: draw.Title, text: w.Name}}
	if w.Demo {
		out = append(out, line{role: draw.Warn, text: "DEMO: people, vehicles and figures of this file are invented. Never work to them."})
	}
	letters := ""
	if w.ASCII {
		letters = ", plain ASCII"
	}
	torque := ""
	if w.TorqueUnit != "" {
		torque = "; torques also in " + string(w.TorqueUnit)
	}
	out = append(out, line{text: "Set up on " + w.Created.In(e.Now.Location()).Format("2006-01-02")}, line{text: "This computer: " + e.Station},
		line{text: "Palette: " + e.look() + letters}, line{text: "Values are shown " + comma + "; both may be typed" + torque}, line{text: "Signed out after " + plural(int(w.Idle()/time.Minute), "minute") + " without a key"}, line{text: "File: " + e.Path, indent: 2},
		line{}, line{text: fmt.Sprintf("In use: %s, %s; 5 lists them", plural(len(s.stock.procedures), "procedure"), plural(len(s.stock.sheets), "spec sheet"))})
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
	palette := choiceRow("palette", "Palette", e.look(), draw.Palettes(), paletteWords(), "It shows at once; Esc brings the old one back.")
	palette.changed = func(v string) Action { return Look{Palette: v} }
	comma := choiceRow("comma", "Decimal mark", fmt.Sprint(w.DecimalComma), []string{"false", "true"}, []string{"point: 6.1 mm", "comma: 6,1 mm"}, "How values are shown in the register and the records. Both may be typed everywhere.")
	now := int(w.Idle() / time.Minute)
	times := []int{3, 5, 10, 20, 30}
	if !slices.Contains(times, now) {
		times = append(times, now)
		slices.Sort(times)
	}
	var values, words []string
	for _, n := range times {
		values, words = append(values, strconv.Itoa(n)), append(words, plural(n, "minute"))
	}
	idle := choiceRow("idle", "Signed out after", strconv.Itoa(now), values, words, "Without a key for so long somebody is signed out; the stage stays in view.")
	ascii := choiceRow("ascii", "Characters", fmt.Sprint(w.ASCII), []string{"false", "true"},
		[]string{"all the terminal has: lines, marks, N·m", "plain ASCII: for a terminal or a font that has no more"}, "What frames, marks and units are drawn with. It shows at once; Esc brings the old ones back.")
	ascii.changed = func(v string) Action { return Letters{ASCII: v == "true"} }
	torque := choiceRow("torque", "Torque also in", cmp.Or(string(w.TorqueUnit), noUnit), torqueUnits, []string{"no other unit than that of the window", "N·m beside the window's unit", "lbf·ft beside the window's unit"},
		"Shown beside the window for a wrench with that scale. What is judged is the window as the spec sheet has it.")
	return &settings{begun: e.look(), page: page{title: "Settings of the workshop", last: "write it down",
		rows: []pageRow{textRow("name", "Name of the workshop", w.Name, "As it stands on the record of every job."), palette, ascii, comma, torque, idle}}}
}

// Head says what this is.
func (s *settings) Head(*Env) string { return "Register: workshop" }

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
		return Many{Pop{}, Say{Text: "The settings are written down", Role: draw.Good}}
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
		return Say{Text: "Choose after how many minutes somebody is signed out", Role: draw.Warn}
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

package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// firstRun sets a new workshop up: its name, its first foreman, the look.
type firstRun struct {
	page page
}

const (
	startEmpty = "empty"
	startDemo  = "demo"
)

// newFirstRun asks what a new workshop file needs.
func newFirstRun() Screen {
	s := &firstRun{}
	again := codeRow("again", phrase.Of("bay.firstrun.the-code-again"), phrase.Of("bay.firstrun.the-same-digits-once-more"))
	code := codeRow("code", phrase.Of("bay.firstrun.personal-code"), phrase.Of("bay.firstrun.4-to-12-digits-it-tells-people"))
	code.check = codeForm
	again.check = func(text string) error { return sameCode(s.page.value("code"), text) }
	id := textRow("id", phrase.Of("bay.firstrun.short-id"), "", phrase.Of("bay.firstrun.a-few-letters-or-digits-typed-at"))
	id.check = idForm
	palette := choiceRow("palette", phrase.Of("bay.firstrun.palette"), "", draw.Palettes(), paletteWords(), phrase.Of("bay.firstrun.what-the-screen-looks-like-from-two"))
	palette.changed = func(v string) Action { return Look{Palette: v} }
	s.page = page{title: phrase.Of("bay.firstrun.a-new-workshop"), last: phrase.Of("bay.firstrun.set-it-up"), rows: []pageRow{
		textRow("name", phrase.Of("bay.firstrun.name-of-the-workshop"), "", phrase.Of("bay.firstrun.as-it-stands-on-the-record-of")),
		textRow("foreman", phrase.Of("bay.firstrun.name-of-the-foreman"), "", phrase.Of("bay.firstrun.the-first-person-is-a-foreman-all")),
		id, code, again, palette,
		choiceRow("start", phrase.Of("bay.firstrun.spec-sheets"), "", []string{startEmpty, startDemo},
			[]string{phrase.Of("bay.firstrun.none-the-workshop-puts-in-its-own"), phrase.Of("bay.firstrun.invented-ones-to-try-it-out-everything")},
			phrase.Of("bay.firstrun.procedures-come-with-the-program-figures-come")),
	}}
	return s
}

// paletteWords describes the palettes in the order of draw.Palettes.
func paletteWords() []string {
	about := map[string]string{"bright": phrase.Of("bay.firstrun.bright-dark-on-light-for-daylight"), "dark": phrase.Of("bay.firstrun.dark-light-on-dark"), "mono": phrase.Of("bay.firstrun.mono-no-colour-only-weight-and-words")}
	var out []string
	for _, p := range draw.Palettes() {
		if about[p] == "" {
			about[p] = p
		}
		out = append(out, about[p])
	}
	return out
}

// paletteName is the word a palette goes by on the screen.
func paletteName(palette string) string {
	i := slices.Index(draw.Palettes(), palette)
	if i < 0 {
		return palette
	}
	name, _, _ := strings.Cut(paletteWords()[i], ": ")
	return name
}

// codeForm says what is wrong with the form of a personal code.
func codeForm(text string) error {
	if len(text) < 4 || len(text) > 12 || strings.Trim(text, "0123456789") != "" {
		return phrase.Error("bay.firstrun.a-personal-code-is-4-to-12", len(text))
	}
	return nil
}

func sameCode(first, second string) error {
	if first != second {
		return phrase.Error("bay.firstrun.the-two-codes-are-not-the-same")
	}
	return nil
}

// idForm says what is wrong with a short id.
func idForm(text string) error {
	if strings.ContainsAny(text, " \t") {
		return phrase.Error("bay.firstrun.the-short-id-has-a-blank-in", text)
	}
	if len([]rune(text)) > 12 {
		return phrase.Error("bay.firstrun.the-short-id-has-characters-at-most", len([]rune(text)))
	}
	return nil
}

// Head says what this is.
func (s *firstRun) Head(*Env) string { return phrase.Of("bay.firstrun.first-start") }

// Focus is the row's.
func (s *firstRun) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *firstRun) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in and sets the workshop up.
func (s *firstRun) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		if r := s.page.row("palette"); r.at < 0 {
			*r = withChoice(*r, e.look())
		}
		return nil
	case Result:
		return s.result(e, in)
	}
	act, done := s.page.update(in)
	if _, leaves := act.(Pop); leaves {
		return leave()
	}
	if ask, ok := act.(Ask); ok && ask.Name == dropName {
		return Ask{Name: leaveName, Dialog: newYesNo(phrase.Of("bay.firstrun.leave-pawl"), phrase.Of("bay.firstrun.nothing-has-been-set-up-yet-what"))}
	}
	if done {
		return s.setUp()
	}
	return act
}

// withChoice is a choice that begins at a value.
func withChoice(r pageRow, value string) pageRow {
	out := choiceRow(r.id, r.label, value, r.values, r.words, r.hint)
	out.changed, out.check, out.from, out.remark = r.changed, r.check, r.from, r.remark
	return out
}

// look is the palette the workshop has chosen, or the first one.
func (e *Env) look() string {
	if e.Workshop.Palette != "" {
		return e.Workshop.Palette
	}
	return draw.Palettes()[0]
}

// setUp writes the workshop and puts the procedures in use that come with the program.
func (s *firstRun) setUp() Action {
	w := store.Workshop{Name: s.page.value("name"), Palette: s.page.value("palette"), Demo: s.page.value("start") == startDemo}
	p := register.Person{ID: s.page.value("id"), Name: s.page.value("foreman"), Role: procedures.Foreman}
	typed := s.page.value("code")
	return Call{Name: "set-up", Do: func(f *store.File) (any, error) {
		if err := f.SetUp(w, p, typed); err != nil {
			return nil, err
		}
		return true, putShipped(f, p, w.Demo)
	}}
}

// putShipped puts what comes with the program in use: the procedures, and for a demo the invented
// sheets.
func putShipped(f *store.File, by register.Person, demo bool) error {
	all, err := procedures.Library()
	if err != nil {
		return err
	}
	if !demo {
		return f.InstallAll(by, all, nil)
	}
	sheets, err := procedures.Sheets()
	if err != nil {
		return err
	}
	return f.InstallAll(by, all, sheets)
}

func (s *firstRun) result(e *Env, r Result) Action {
	set, _ := r.Value.(bool)
	if !set {
		return Say{Text: sentence(fmt.Sprint(r.Err)), Role: draw.Bad}
	}
	act := Many{Restart{newSignIn(nil)}}
	if r.Err != nil {
		return append(act, Say{Text: phrase.Of("bay.firstrun.the-workshop-is-set-up-but-not", r.Err.Error()), Role: draw.Bad})
	}
	return append(act, Say{Text: phrase.Of("bay.firstrun.the-workshop-is-set-up-sign-in"), Role: draw.Good})
}

// View shows the page.
func (s *firstRun) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }

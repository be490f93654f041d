package bay

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// run is a program under test: it owns the model, feeds keys, and runs every command to its end
// with a clock that moves only when the test moves it.
type run struct {
	t      testing.TB
	m      *Model
	f      *store.File
	now    *time.Time
	timers []timer
	seq    int
	ended  bool
	hold   bool // commands of the store are kept back
	held   []tea.Cmd
}

type timer struct {
	at  time.Time
	seq int
	msg tea.Msg
}

// later is what the model's timers give in a test: nothing runs, the harness keeps them.
type laterMsg struct {
	d   time.Duration
	msg tea.Msg
}

// The people of the test workshop (invented) and their codes.
var (
	frida = register.Person{ID: "fh", Name: "Frida Holm", Role: procedures.Foreman}
	tarik = register.Person{ID: "ts", Name: "Tarik Sand", Role: procedures.Mechanic}
	ylva  = register.Person{ID: "ym", Name: "Ylva Moor", Role: procedures.Mechanic}
	nils  = register.Person{ID: "nk", Name: "Nils Karg", Role: procedures.Apprentice}

	codes = map[string]string{"fh": "1001", "ts": "2002", "ym": "3003", "nk": "4004"}
)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// open makes or opens a workshop file with a clock of the test and cheap hashing.
func open(t testing.TB, path string, now *time.Time) *store.File {
	t.Helper()
	f, err := store.Open(path, store.Options{Now: func() time.Time { return *now }, Station: "bay 2", HashCost: store.Cost{Memory: 64, Passes: 1, Lanes: 1}})
	must(t, err)
	return f
}

// emptyFile is a workshop file nothing has been set up in.
func emptyFile(t testing.TB) (*store.File, *time.Time) {
	t.Helper()
	now := time.Date(2026, 3, 2, 8, 15, 0, 0, time.UTC)
	f := open(t, filepath.Join(t.TempDir(), "workshop.pawl"), &now)
	t.Cleanup(func() { _ = f.Close() })
	return f, &now
}

// workshop is a file with people, instruments, the small procedure, its sheet and a vehicle.
func workshop(t testing.TB) (*store.File, *time.Time) {
	t.Helper()
	return workshopOf(t, true)
}

// workshopOf is workshop, itself invented or not; its sheet and its vehicle always are.
func workshopOf(t testing.TB, demo bool) (*store.File, *time.Time) {
	t.Helper()
	f, now := emptyFile(t)
	must(t, f.SetUp(store.Workshop{Name: "Test workshop", Demo: demo, Palette: "mono"}, frida, codes["fh"]))
	for _, p := range []register.Person{tarik, ylva, nils} {
		must(t, f.AddPerson(frida, p, codes[p.ID]))
	}
	for _, i := range instruments() {
		must(t, f.PutInstrument(frida, i))
	}
	data, err := os.ReadFile("testdata/small-procedure.toml")
	must(t, err)
	p, err := procedures.LoadProcedure("small-procedure.toml", data)
	must(t, err)
	must(t, f.Install(frida, p))
	data, err = os.ReadFile("testdata/small-sheet.toml")
	must(t, err)
	s, err := procedures.LoadSheet("small-sheet.toml", data)
	must(t, err)
	must(t, f.InstallSheet(frida, s))
	must(t, f.PutVehicle(frida, register.Vehicle{ID: "V-7", Name: "Van of the laundry", Sheet: "test-van", Demo: true}))
	return f, now
}

// instruments are the tools of the test workshop, one of them out of date and one dropped.
func instruments() []register.Instrument {
	q := quantity.MustParse
	tool := func(id, kind, low, high, res, limit, due string, status register.Status) register.Instrument {
		return register.Instrument{ID: id, Kind: kind, Serial: "S-" + id, Scales: []quantity.Unit{q(low).Unit}, Low: q(low), High: q(high), Resolution: q(res),
			Error: q(limit), Certificate: "C-" + id, Calibrated: "2025-10-01", Due: due, Status: status}
	}
	return []register.Instrument{
		tool("W1", register.SettingWrench, "10 N·m", "60 N·m", "0.5 N·m", "4 %", "2026-10-01", register.InUse),
		tool("W2", register.SettingWrench, "40 N·m", "200 N·m", "1 N·m", "4 %", "2026-10-01", register.InUse),
		tool("W3", register.SettingWrench, "10 N·m", "60 N·m", "0.5 N·m", "4 %", "2026-02-01", register.InUse),
		tool("W4", register.DialWrench, "10 N·m", "60 N·m", "0.5 N·m", "4 %", "2026-10-01", register.Dropped),
		tool("P1", register.PadGauge, "1 mm", "25 mm", "0.1 mm", "0.1 mm", "2026-10-01", register.InUse),
		tool("D1", register.DialGauge, "0 mm", "10 mm", "0.01 mm", "0.01 mm", "2026-10-01", register.InUse),
	}
}

// start shows the program for a file at 80x24 in mono.
func start(t testing.TB, f *store.File, now *time.Time) *run {
	t.Helper()
	return startWith(t, f, now, Options{Theme: "mono"}, 80, 24)
}

func startWith(t testing.TB, f *store.File, now *time.Time, o Options, w, h int) *run {
	t.Helper()
	m, err := newModel(f, o)
	must(t, err)
	r := &run{t: t, m: m, f: f, now: now}
	m.after = func(d time.Duration, msg tea.Msg) tea.Cmd { return func() tea.Msg { return laterMsg{d, msg} } }
	r.do(m.Init())
	r.send(tea.WindowSizeMsg{Width: w, Height: h})
	return r
}

// send gives the model a message and runs what comes of it.
func (r *run) send(msg tea.Msg) {
	r.t.Helper()
	_, cmd := r.m.Update(msg)
	r.do(cmd)
}

// do runs a command to its end.
func (r *run) do(cmd tea.Cmd) {
	r.t.Helper()
	if cmd == nil {
		return
	}
	msg := cmd()
	switch msg := msg.(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			r.do(c)
		}
	case tea.QuitMsg:
		r.ended = true
	case laterMsg:
		r.seq++
		r.timers = append(r.timers, timer{r.now.Add(msg.d), r.seq, msg.msg})
	case resultMsg:
		if r.hold && !msg.quiet {
			r.held = append(r.held, func() tea.Msg { return msg })
			return
		}
		r.send(msg)
	default:
		if reflect.TypeOf(msg).String() == "tea.sequenceMsg" {
			r.t.Fatal("the harness runs no sequences")
		}
		r.send(msg)
	}
}

// answer lets the answers through that were kept back.
func (r *run) answer() {
	r.t.Helper()
	r.hold = false
	held := r.held
	r.held = nil
	for _, c := range held {
		r.send(c())
	}
}

// wait moves the clock and fires the timers that fall due, in order.
func (r *run) wait(d time.Duration) {
	r.t.Helper()
	end := r.now.Add(d)
	for {
		slices.SortStableFunc(r.timers, func(a, b timer) int {
			if c := a.at.Compare(b.at); c != 0 {
				return c
			}
			return a.seq - b.seq
		})
		if len(r.timers) == 0 || r.timers[0].at.After(end) {
			break
		}
		next := r.timers[0]
		r.timers = r.timers[1:]
		*r.now = next.at
		r.send(next.msg)
	}
	*r.now = end
}

var named = map[string]tea.KeyType{"Enter": tea.KeyEnter, "Esc": tea.KeyEsc, "Up": tea.KeyUp, "Down": tea.KeyDown, "Left": tea.KeyLeft,
	"Right": tea.KeyRight, "Backspace": tea.KeyBackspace, "Tab": tea.KeyTab, "PageDown": tea.KeyPgDown, "PageUp": tea.KeyPgUp, "CtrlC": tea.KeyCtrlC}

// press sends one key without letting time pass.
func (r *run) press(name string) {
	r.t.Helper()
	if k, ok := named[name]; ok {
		r.send(tea.KeyMsg{Type: k})
		return
	}
	if name == "Space" {
		r.send(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
		return
	}
	r.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)})
}

// keys presses keys separated by blanks, as slowly as a person does.
func (r *run) keys(names string) {
	r.t.Helper()
	for name := range strings.FieldsSeq(names) {
		r.press(name)
		r.wait(450 * time.Millisecond)
	}
}

// type_ types text one character at a time.
func (r *run) type_(text string) {
	r.t.Helper()
	for _, c := range text {
		r.press(string(c))
		r.wait(450 * time.Millisecond)
	}
}

// burst sends text and Enter at once, as scanners and gauges do.
func (r *run) burst(text string) {
	r.t.Helper()
	r.press(text)
	r.press("Enter")
	r.wait(450 * time.Millisecond)
}

// signIn goes from the list of people to the jobs.
func (r *run) signIn(p register.Person) {
	r.t.Helper()
	r.type_(p.ID)
	r.keys("Enter")
	r.type_(codes[p.ID])
	r.keys("Enter")
	if r.m.env.Person.ID != p.ID {
		r.t.Fatalf("%s is not signed in:\n%s", p.Name, r.frame())
	}
}

// frame is the screen as text.
func (r *run) frame() string { return accents.Off(r.m.View()) }

// sees fails unless the screen shows the text.
func (r *run) sees(text string) {
	r.t.Helper()
	if !strings.Contains(r.frame(), text) {
		r.t.Fatalf("%q is not on the screen:\n%s", text, r.frame())
	}
}

// seesNot fails if the screen shows the text.
func (r *run) seesNot(text string) {
	r.t.Helper()
	if strings.Contains(r.frame(), text) {
		r.t.Fatalf("%q is on the screen:\n%s", text, r.frame())
	}
}

// golden compares the screen with testdata/NAME.golden; PAWL_UPDATE=1 writes it. Escapes are
// spelled out and a bar ends each line, so that trailing blanks count.
func (r *run) golden(name string) {
	r.t.Helper()
	r.accented(name)
	got := strings.ReplaceAll(strings.ReplaceAll(r.frame(), "\x1b", "␛"), "\n", "|\n") + "|\n"
	path := filepath.Join("testdata", name+".golden")
	if os.Getenv("PAWL_UPDATE") == "1" {
		must(r.t, os.WriteFile(path, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		r.t.Fatalf("read golden file (PAWL_UPDATE=1 writes it): %v", err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		r.t.Errorf("%s differs (-want +got):\n%s", name, diff)
	}
}

// accented fails, in en-XA, where a word on the screen has no accents and is neither of the procedures
// and sheets of the tests nor of their people: it did not come from the catalogue. In ASCII no word has.
func (r *run) accented(name string) {
	r.t.Helper()
	view := r.m.View()
	if !accents.On() || accents.Off(view) == view {
		return
	}
	for _, w := range accents.Missing(view) {
		if !ofTheTests(r.t)[w] && !slices.Contains(asTyped, w) {
			r.t.Errorf("%s shows %q, which is not of the catalogue:\n%s", name, w, view)
		}
	}
}

// asTyped are words that the people of the tests are called by or type, and what is typed as it is in
// every language.
var asTyped = strings.Fields(`able adapter balance conform convert efficiency fluid index pads preload regress runout wear window
 been came dinner done drop frida holm friday home karg knocked moor nils phone rang sand seems tarik thin week ylva
 bakery bern board bridge dairy edda grinds braking laundry shelf cart wrong driving licence bench corner summer
 boom cheese document`)

var ofTests map[string]bool

// ofTheTests are the words of every procedure and sheet the tests use.
func ofTheTests(t testing.TB) map[string]bool {
	t.Helper()
	if ofTests != nil {
		return ofTests
	}
	ofTests = map[string]bool{}
	for _, pattern := range []string{"testdata/*.toml", "testdata/import/*.toml", "../../procedures/sheets/*.toml", "../../procedures/library/*.toml", "../../procedures/library/blocks/*.toml"} {
		names, err := filepath.Glob(pattern)
		must(t, err)
		for _, name := range names {
			data, err := os.ReadFile(name)
			must(t, err)
			for _, w := range fourLetters.FindAllString(string(data), -1) {
				ofTests[strings.ToLower(w)] = true
			}
		}
	}
	return ofTests
}

var fourLetters = regexp.MustCompile(`[A-Za-z]{4,}`)

// both compares the screen at the two sizes it is designed for.
func (r *run) both(name string) {
	r.t.Helper()
	w, h := r.m.env.W, r.m.env.H
	for _, size := range []struct {
		w, h int
		name string
	}{{80, 24, "80x24"}, {120, 40, "120x40"}} {
		r.send(tea.WindowSizeMsg{Width: size.w, Height: size.h})
		r.golden(name + "@" + size.name)
	}
	r.send(tea.WindowSizeMsg{Width: w, Height: h})
}

// coloured compares the screen with its escapes in a palette.
func (r *run) coloured(name, palette string) {
	r.t.Helper()
	before := r.m.theme
	theme, err := draw.NewTheme(draw.Options{Palette: palette, Profile: draw.TrueColour})
	must(r.t, err)
	r.m.theme, r.m.env.Theme = theme, theme
	r.golden(name + "." + palette)
	r.m.theme, r.m.env.Theme = before, before
}

package endtoend

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/procedures"
)

// codes are those of the depot's people, as the demo tells them.
var codes = map[string]string{"F02": "4102", "M04": "4104", "M07": "4107", "A11": "4111"}

var names = map[string]string{"F02": "Quill", "M04": "Ninna", "M07": "Tavo", "A11": "Jory"}

// worker is the hand at the keyboard: it reads the screen and presses keys until the screen says
// what a person would want to read there.
type worker struct {
	*terminal
	plan   *procedures.Plan // the stages and checks of the job, in their order
	person string           // signed in
	at     procedures.Ref   // the stage the screen shows, as far as the worker went there
	real   bool             // the value entered last was called real
}

// screenOn shows the screen on a file in a terminal and waits for the people to choose from.
func screenOn(t testing.TB, path string, columns, rows int) *worker {
	t.Helper()
	w := &worker{terminal: startTerminal(t, columns, rows, screenCommand(t, path))}
	w.awaitText("Who is working?")
	return w
}

func screenCommand(t testing.TB, path string) string {
	return "exec " + quoted(program(t)) + " --file " + quoted(path)
}

// signIn chooses a person at the first screen and types the code.
func (w *worker) signIn(id string) frame {
	w.t.Helper()
	w.awaitText("Number or short id:")
	w.chooses(id)
	w.code(id)
	w.person = id
	return w.await(names[id]+" signed in", func(f frame) bool {
		return strings.Contains(f.row(0), names[id]+",") && !f.has("Personal code of")
	})
}

// chooses types a short id into a list of people.
func (w *worker) chooses(id string) {
	w.t.Helper()
	w.chars(id)
	w.awaitText("Number or short id:  " + id + "_")
	w.keys("Enter")
	w.awaitText("Personal code of " + names[id] + ":")
}

// code types the personal code digit by digit, and Enter.
func (w *worker) code(id string) {
	w.t.Helper()
	w.awaitText("Personal code of " + names[id] + ":")
	for i, c := range codes[id] {
		w.chars(string(c))
		w.awaitText(" " + strings.Repeat("*", i+1) + "_")
	}
	w.keys("Enter")
}

// letter presses a command, stepping out of a text field first.
func (w *worker) letter(key string) {
	w.t.Helper()
	f := w.look()
	if strings.Contains(f.keyBar(), "Esc  commands") {
		w.keys("Escape")
		w.await("the letters to be commands", func(f frame) bool { return !strings.Contains(f.keyBar(), "Esc  commands") })
	}
	w.chars(key)
}

// handOver lets another person go on.
func (w *worker) handOver(id string) {
	w.t.Helper()
	if w.person == id {
		return
	}
	w.letter("h")
	w.await("the people to hand over to", func(f frame) bool { return f.titled("Hand over") })
	w.chooses(id)
	w.code(id)
	w.await(names[id]+" signed in", func(f frame) bool {
		return f.bare() && strings.HasPrefix(f.status(), names[id]+" is signed in now")
	})
	w.person = id
}

// stage finds a stage of the plan.
func (w *worker) stage(at procedures.Ref) *procedures.Node {
	w.t.Helper()
	i := w.plan.Index(at)
	if i < 0 {
		w.t.Fatalf("the plan has no stage %s", at)
	}
	return &w.plan.Nodes[i]
}

// shows reports whether a frame shows that stage: its title and side.
func (w *worker) shows(f frame, at procedures.Ref) bool {
	if !f.bare() {
		return false
	}
	side := " WHOLE VEHICLE "
	if at.Side != procedures.NoSide {
		side = " " + strings.ToUpper(string(at.Side)) + " "
	}
	return strings.Contains(f.row(3)+" ", side) && strings.HasPrefix(strings.TrimSpace(f.row(4)), w.stage(at).Stage.Title)
}

// goTo shows a stage: the next one by an arrow, any other by the list.
func (w *worker) goTo(at procedures.Ref) {
	w.t.Helper()
	f := w.look()
	if w.shows(f, at) {
		w.at = at
		return
	}
	if i := w.plan.Index(at); i > 0 && w.shows(f, w.plan.Nodes[i-1].Ref) && !strings.Contains(f.keyBar(), "Esc  commands") {
		w.keys("Right")
		f = w.await("another stage", func(g frame) bool { return !g.same(f) })
		if w.shows(f, at) {
			w.at = at
			return
		}
	}
	w.letter("l")
	w.await("the list of stages", func(f frame) bool { return f.titled("Stages of") })
	for tries := 0; ; tries++ {
		f := w.await("a marked stage", func(f frame) bool { return w.markedStage(f) >= 0 })
		by := w.plan.Index(at) - w.markedStage(f)
		if by == 0 {
			break
		}
		if tries > 8 {
			w.t.Fatalf("the list does not come to %s\n%s", at, f)
		}
		key := "Down"
		if by < 0 {
			key, by = "Up", -by
		}
		w.keys(slices.Repeat([]string{key}, by)...)
		w.await("the mark to move", func(g frame) bool { return !g.same(f) })
		w.await("the mark to come to rest", func(g frame) bool { return w.markedStage(g) == w.plan.Index(at) || tries > 0 })
	}
	w.keys("Enter")
	w.await("stage "+at.String(), func(f frame) bool { return w.shows(f, at) })
	w.at = at
}

// markedStage is the place in the plan of the marked row of the list, or -1.
func (w *worker) markedStage(f frame) int {
	_, rows, _ := f.dialog()
	for _, row := range rows {
		text, ok := strings.CutPrefix(row, "> ")
		if !ok {
			continue
		}
		_, text, _ = strings.Cut(text, " ") // the mark of its state
		for i, n := range w.plan.Nodes {
			name := n.Stage.Title
			if n.Ref.Side != procedures.NoSide {
				name = strings.ToUpper(string(n.Ref.Side)) + " " + name
			}
			if begins(text, name) {
				return i
			}
		}
	}
	return -1
}

// begins reports whether a row shows a name followed by blanks, or what is left of it after a cut.
func begins(row, name string) bool {
	shown, _, _ := strings.Cut(row, "  ")
	if head, tail, cut := strings.Cut(shown, "…"); cut {
		return len(head) > 4 && strings.HasPrefix(name, head) && (strings.HasSuffix(name, tail) || strings.HasPrefix(tail, " "))
	}
	return strings.HasPrefix(row+"  ", name+"  ")
}

// item is one value a stage asks for.
type item struct {
	check *procedures.PlanCheck
	name  string
	no    int
}

func (it item) label() string {
	switch it.name {
	case "":
		return it.check.Title
	case procedures.ItemNew:
		return "new ones of " + it.check.Title
	}
	return it.check.Title + ", " + it.name
}

// items are those of the stage shown, in their order.
func (w *worker) items() []item {
	var out []item
	n := w.stage(w.at)
	for i := range n.Checks {
		for k, name := range n.Checks[i].Items {
			out = append(out, item{&n.Checks[i], name, k + 1})
		}
	}
	return out
}

var ofRow = regexp.MustCompile(`^ .*\S   (\d+) of (\d+)(  |$)`)

// focus is the place among the items of the one that has the focus, or -1.
func (w *worker) focus(f frame) int {
	row := f.marked()
	n, of := 0, 0
	for _, line := range f.rows {
		if m := ofRow.FindStringSubmatch(line); m != nil {
			n, _ = strconv.Atoi(m[1])
			of, _ = strconv.Atoi(m[2])
		}
	}
	for i, it := range w.items() {
		if begins(row, it.label()) && (of == 0 || of == len(it.check.Items) && n == it.no) {
			return i
		}
	}
	return -1
}

// focused is the item that has the focus.
func (w *worker) focused() item {
	w.t.Helper()
	i := w.focus(w.await("an item of "+w.at.String()+" in focus", func(f frame) bool { return w.focus(f) >= 0 }))
	return w.items()[i]
}

// goItem puts the focus on an item of the stage shown.
func (w *worker) goItem(check, name string) item {
	w.t.Helper()
	items := w.items()
	to := slices.IndexFunc(items, func(it item) bool { return it.check.ID == check && it.name == name })
	if to < 0 {
		w.t.Fatalf("stage %s has no item %s %q", w.at, check, name)
	}
	for range 3 * len(items) {
		at := slices.Index(items, w.focused())
		if at == to {
			return items[to]
		}
		key := "Down"
		if at > to {
			key = "Up"
		}
		w.keys(key)
		w.await("the focus to move", func(g frame) bool { return w.focus(g) != at && w.focus(g) >= 0 })
	}
	w.t.Fatalf("the focus does not come to %s %q\n%s", check, name, w.look())
	return item{}
}

// take has that instrument in hand for the item in focus, with or without the adapter.
func (w *worker) take(id string, adapter *adapter) {
	w.t.Helper()
	has, on := w.look().tool()
	if has != id {
		w.letter("t")
		w.await("the tools", func(f frame) bool { return f.titled("Tool for") })
		w.pick(id)
		w.await(id+" in hand", func(f frame) bool { got, _ := f.tool(); return f.bare() && got == id })
	}
	if on == (adapter != nil) {
		return
	}
	w.letter("t")
	w.await("the tools", func(f frame) bool { return f.titled("Tool for") })
	if adapter == nil {
		w.pick("without the adapter")
		w.await("the wrench without the adapter", func(f frame) bool { _, on := f.tool(); return f.bare() && !on })
		return
	}
	w.pick("with an open-end or crow-foot adapter")
	w.await("the measures of the adapter", func(f frame) bool { return f.titled("Adapter on the wrench") })
	w.fill(adapter.Length, adapter.Offset, "")
	w.await("the adapter on the wrench", func(f frame) bool { _, on := f.tool(); return f.bare() && on })
}

// adapter is what stands on a wrench, in mm.
type adapter struct{ Length, Offset string }

// pick chooses a row of a numbered choice by the beginning of its text.
func (w *worker) pick(begins string) {
	w.t.Helper()
	f := w.await("the choice "+begins, func(f frame) bool { _, ok := f.option(begins); return ok })
	number, _ := f.option(begins)
	if len(number) == 1 {
		w.chars(number)
		return
	}
	for range 20 {
		_, rows, _ := f.dialog()
		if slices.ContainsFunc(rows, func(row string) bool { return strings.HasPrefix(row, "> "+number+"  ") }) {
			w.keys("Enter")
			return
		}
		w.keys("Down")
		f = w.await("the mark to move", func(g frame) bool { return !g.same(f) })
	}
	w.t.Fatalf("the mark does not come to %q\n%s", begins, f)
}

// fill types the lines of a form; an empty one is taken as it stands.
func (w *worker) fill(lines ...string) {
	w.t.Helper()
	for _, text := range lines {
		w.types(text)
		f := w.look()
		w.keys("Enter")
		w.await("the form to go on", func(g frame) bool { return !g.same(f) })
	}
}

// types types text into the field that has the focus and waits until it stands there. The
// characters come at once; the pause after them tells a person from a scanner.
func (w *worker) types(text string) {
	w.t.Helper()
	if text == "" {
		return
	}
	w.chars(text)
	time.Sleep(afterBurst)
	r := []rune(text)
	tail := string(r[max(len(r)-20, 0):]) + "_"
	w.awaitText(tail)
}

// reads reports whether rows hold a reason, without regard to line ends and capitals.
func reads(f []string, reason string) bool {
	return strings.Contains(strings.ToLower(squeeze(strings.Join(f, " "))), strings.TrimSuffix(strings.ToLower(squeeze(accents.Off(reason))), "."))
}

// paneText is the whole text of the pane that is open, read to its end.
func (w *worker) paneText() []string {
	w.t.Helper()
	var out []string
	f := w.await("a pane", func(f frame) bool { return !f.bare() })
	for range 200 {
		_, rows, _ := f.dialog()
		fresh := rows
		if len(fresh) > 0 && scrollNote.MatchString(fresh[len(fresh)-1]) {
			fresh = fresh[:len(fresh)-1]
		}
		out = overlap(out, fresh)
		if len(fresh) == len(rows) || strings.Contains(rows[len(rows)-1], ", 0 below") {
			return out
		}
		w.keys("Down")
		f = w.await("the pane to scroll", func(g frame) bool { return !g.same(f) })
	}
	w.t.Fatalf("the pane comes to no end\n%s", f)
	return nil
}

var scrollNote = regexp.MustCompile(`\d+ above, \d+ below`)

// overlap adds the rows that are new to those read before.
func overlap(read, now []string) []string {
	for n := min(len(read), len(now)); n > 0; n-- {
		if slices.Equal(read[len(read)-n:], now[:n]) {
			return append(read, now[n:]...)
		}
	}
	return append(read, now...)
}

// close closes the pane that is open.
func (w *worker) close() {
	w.t.Helper()
	w.sudden("close", func() { w.keys("Escape") })
	w.await("the pane to close", frame.bare)
}

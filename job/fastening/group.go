package fastening

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Group is a set of like fasteners tightened together, in passes.
type Group struct {
	// Noun is one of them: "wheel nut", "carrier bolt". Its plural takes an s.
	Noun string
	// Order is the tightening order, each of 1 to n once.
	Order []int
	// Names are the places by fastener number (Names[0] is fastener 1), for
	// example "front" and "rear"; nil means they go by number.
	Names []string
	// Passes is how many times every fastener is pulled, 1 or more.
	Passes int
	// AngleFrom is the first pass that turns by an angle, 2 or more; 0 means
	// torque only. The pass before it is the snug torque.
	AngleFrom int
}

// Act is what one line of a group's list says was done.
type Act string

const (
	// Tightened is a pull that counts towards its pass.
	Tightened Act = "tightened"
	// Checked is a deliberate second pull; it counts towards nothing.
	Checked Act = "checked"
	// Interrupted marks that work stopped here: telephone, power cut, take-over.
	Interrupted Act = "interrupted"
	// Renewed says a new fastener was put in at this place.
	Renewed Act = "renewed"
)

// Pull is one line of a group's list. Interrupted lines carry no fastener and
// no pass, Renewed lines no pass.
type Pull struct {
	Sequence int // running number; the list is walked in this order
	Act      Act
	Fastener int // 1 to n
	Pass     int // 1 to Passes
}

// FindingKind is what is wrong with a line of a group's list.
type FindingKind string

const (
	// NoSuchPull is a fastener, pass or act the group does not have, or a
	// running number used twice. The line does not count.
	NoSuchPull FindingKind = "no such pull"
	// SecondPull is a fastener pulled again in the same pass. Does not count.
	SecondPull FindingKind = "second pull"
	// EarlyPass is a pull of a later pass before the one before is complete.
	// Does not count.
	EarlyPass FindingKind = "early pass"
	// OutOfOrder is a pull that counts, but at another fastener than expected.
	OutOfOrder FindingKind = "out of order"
	// NeedsNew is a pull at a fastener that has to be replaced first. Does not
	// count.
	NeedsNew FindingKind = "needs new"
	// NothingToCheck is a check of a fastener not yet tightened in that pass.
	NothingToCheck FindingKind = "nothing to check"
)

// Finding is one thing wrong with a line, in words.
type Finding struct {
	Sequence int
	Kind     FindingKind
	Text     string
}

// Progress is where a group stands.
type Progress struct {
	// Pass is the pass in hand; when Complete, the last one.
	Pass int
	// Next is the fastener expected next, 0 when Complete.
	Next int
	// Missing are the fasteners still without a pull in the pass in hand, in
	// tightening order.
	Missing []int
	// Complete is true when every fastener has had every pass.
	Complete bool
	// Restarted is true after an interruption inside a pass, until the first
	// pull of that pass done again.
	Restarted bool
	// Renew are the fasteners that need a new bolt before the next pull: at
	// snug, and the angle unknown because work was interrupted. Ascending.
	Renew []int
	// Findings are what is wrong with the list, in its order.
	Findings []Finding
}

// Valid says what is wrong with the group itself.
func (g Group) Valid() error {
	n := len(g.Order)
	switch {
	case g.Noun == "":
		return phrase.Error("fastening.group.a-group-of-fasteners-has-no-name")
	case g.Passes < 1:
		return phrase.Error("fastening.group.has-passes-expected-1-or-more", g.Noun, g.Passes)
	case g.AngleFrom != 0 && (g.AngleFrom < 2 || g.AngleFrom > g.Passes):
		return phrase.Error("fastening.group.turns-by-angle-from-pass-expected-a", g.Noun, g.AngleFrom, g.Passes)
	case g.Names != nil && len(g.Names) != n:
		return phrase.Error("fastening.group.has-names-for-fasteners", g.Noun, len(g.Names), n)
	}
	sorted := slices.Sorted(slices.Values(g.Order))
	for i, f := range sorted {
		if f != i+1 {
			return phrase.Error("fastening.group.the-order-does-not-hold-each-of", g.Noun, FormatOrder(g.Order), n)
		}
	}
	if n == 0 || n > mostFasteners {
		return phrase.Error("fastening.group.has-fasteners-expected-1-to", g.Noun, n, mostFasteners)
	}
	return nil
}

// Check walks the list of pulls and says where the group stands. Rules: a pass
// starts only when the one before is complete; each fastener is pulled once in a
// pass; an interruption inside a pass starts that pass again from its first
// fastener (clicks without movement are harmless); with torque plus angle, an
// interruption leaves every fastener that was at snug without its full angle in
// need of a new bolt. Source: workshop paper (trade.md 4.3, 4.6, 5.7).
func (g Group) Check(pulls []Pull) (Progress, error) {
	if err := g.Valid(); err != nil {
		return Progress{}, err
	}
	w := walk{Group: g, done: make([]int, len(g.Order)+1), renew: make([]bool, len(g.Order)+1)}
	ordered := slices.Clone(pulls)
	slices.SortStableFunc(ordered, func(a, b Pull) int { return cmp.Compare(a.Sequence, b.Sequence) })
	for i, p := range ordered {
		if i > 0 && p.Sequence == ordered[i-1].Sequence {
			w.find(p, NoSuchPull, phrase.Of("fastening.group.running-number-is-used-twice", p.Sequence))
			continue
		}
		w.take(p)
	}
	return w.progress(), nil
}

// Name is how a fastener is called: "wheel nut 3", "carrier bolt rear right".
func (g Group) Name(fastener int) string { return g.Noun + " " + g.label(fastener) }

func (g Group) label(fastener int) string {
	if g.Names != nil && fastener >= 1 && fastener <= len(g.Names) {
		return g.Names[fastener-1]
	}
	return strconv.Itoa(fastener)
}

// Sentence says where the group stands and names what is missing.
func (g Group) Sentence(p Progress) string {
	n := len(g.Order)
	switch {
	case len(p.Renew) > 0:
		return phrase.Of("fastening.group.new-fasteners-needed-at-snug-when-work", g.list(p.Renew))
	case p.Complete:
		return phrase.Of("fastening.group.all-recorded-in-of-passes", n, g.Passes, g.Passes, g.list(g.Order))
	case p.Restarted:
		return phrase.Of("fastening.group.pass-was-interrupted-do-all-of-it", p.Pass, g.Name(p.Next))
	default:
		return phrase.Of("fastening.group.pass-of-recorded-missing", p.Pass, n-len(p.Missing), n, g.list(p.Missing))
	}
}

// list names fasteners together: "wheel nuts 1, 4 and 2".
func (g Group) list(fasteners []int) string {
	labels := make([]string, len(fasteners))
	for i, f := range fasteners {
		labels[i] = g.label(f)
	}
	last := len(labels) - 1
	if last == 0 {
		return g.Name(fasteners[0])
	}
	return phrase.Of("fastening.group.s-and", g.Noun, strings.Join(labels[:last], ", "), labels[last])
}

// walk is the state while a list is read.
type walk struct {
	Group
	done      []int  // passes each fastener has had; index 0 unused
	renew     []bool // fasteners that need a new bolt
	restarted bool
	findings  []Finding
}

func (w *walk) find(p Pull, kind FindingKind, text string) {
	w.findings = append(w.findings, Finding{Sequence: p.Sequence, Kind: kind, Text: text})
}

// pass is the lowest pass any fastener still lacks; Passes+1 when none does.
func (w *walk) pass() int { return slices.Min(w.done[1:]) + 1 }

// missing gives the fasteners that lack the pass, in tightening order.
func (w *walk) missing(pass int) []int {
	var left []int
	for _, f := range w.Order {
		if w.done[f] < pass {
			left = append(left, f)
		}
	}
	return left
}

func (w *walk) take(p Pull) {
	if p.Act == Interrupted {
		w.interrupt()
		return
	}
	n := len(w.Order)
	switch {
	case p.Act != Tightened && p.Act != Checked && p.Act != Renewed:
		w.find(p, NoSuchPull, phrase.Of("fastening.group.is-not-known-expected-tightened-checked", p.Act))
	case p.Fastener < 1 || p.Fastener > n:
		w.find(p, NoSuchPull, phrase.Of("fastening.group.there-is-no-expected-1-to", w.Name(p.Fastener), n))
	case p.Act == Renewed:
		w.done[p.Fastener], w.renew[p.Fastener] = 0, false
	case p.Pass < 1 || p.Pass > w.Passes:
		w.find(p, NoSuchPull, phrase.Of("fastening.group.there-is-no-pass-expected-1-to", p.Pass, w.Passes))
	case p.Act == Checked && w.done[p.Fastener] < p.Pass:
		w.find(p, NothingToCheck, phrase.Of("fastening.group.is-not-yet-tightened-in-pass-there", w.Name(p.Fastener), p.Pass))
	case p.Act == Tightened:
		w.tighten(p)
	}
}

func (w *walk) tighten(p Pull) {
	pass := w.pass()
	switch {
	case w.renew[p.Fastener]:
		w.find(p, NeedsNew, phrase.Of("fastening.group.was-at-snug-when-work-was-interrupted", w.Name(p.Fastener)))
		return
	case p.Pass <= w.done[p.Fastener]:
		w.find(p, SecondPull, phrase.Of("fastening.group.already-tightened-in-pass-second-pull-mark", w.Name(p.Fastener), p.Pass))
		return
	case p.Pass > pass:
		w.find(p, EarlyPass, phrase.Of("fastening.group.pass-before-pass-is-complete-missing", p.Pass, pass, w.list(w.missing(pass))))
		return
	}
	if next := w.missing(pass)[0]; p.Fastener != next {
		w.find(p, OutOfOrder, phrase.Of("fastening.group.tightened-where-was-expected", w.Name(p.Fastener), w.Name(next)))
	}
	w.done[p.Fastener] = p.Pass
	w.restarted = false
}

func (w *walk) interrupt() {
	pass := w.pass()
	if pass > w.Passes {
		return
	}
	snug := w.AngleFrom - 1
	begun := false
	for f := 1; f < len(w.done); f++ {
		switch {
		case w.AngleFrom != 0 && w.done[f] >= snug && w.done[f] < w.Passes:
			w.done[f], w.renew[f] = 0, true
		case w.done[f] == pass && (w.AngleFrom == 0 || pass < snug):
			w.done[f], begun = pass-1, true
		}
	}
	w.restarted = w.restarted || begun
}

func (w *walk) progress() Progress {
	p := Progress{Pass: w.pass(), Restarted: w.restarted, Findings: w.findings}
	for f := 1; f < len(w.renew); f++ {
		if w.renew[f] {
			p.Renew = append(p.Renew, f)
		}
	}
	if p.Pass > w.Passes {
		p.Pass, p.Complete = w.Passes, true
		return p
	}
	p.Missing = w.missing(p.Pass)
	p.Next = p.Missing[0]
	return p
}

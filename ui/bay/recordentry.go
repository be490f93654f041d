package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// check writes what was entered for one check in an attempt: the values, and once the window
// they were judged by.
func (b *recordText) check(s *job.StageCard, a *job.Attempt, pc *procedures.PlanCheck) {
	var es []*job.Entry
	for i := range a.Entries {
		if a.Entries[i].Check == pc.ID {
			es = append(es, &a.Entries[i])
		}
	}
	if len(es) == 0 {
		return
	}
	if x := es[0]; len(es) == 1 && b.answer(pc, x) {
		return
	}
	b.say(draw.Text, 4, "  %s", pc.Title)
	name := b.names(es)
	if a == s.Current() {
		for _, v := range b.worked(s, pc) {
			name = max(name, draw.Width(b.t.Plain(v.Name)))
		}
	}
	var windows []string
	common := commonEvidence(es)
	for _, x := range es {
		b.entry(a, x, name, common == "")
		if x.Window != nil {
			windows = appendNew(windows, b.windowWords(*x.Window))
		}
		if x.Instrument != nil {
			b.tools = appendNew(b.tools, toolWords(b.e, *x.Instrument))
		}
	}
	if a == s.Current() {
		windows = b.figures(s, pc, name, windows)
	}
	for _, text := range windows {
		b.say(draw.Faint, 6, "    %s", text)
	}
	if common != "" {
		b.say(draw.Faint, 6, "%s", phrase.Of("bay.recordentry.evidence", common))
	}
}

// answer writes a short answer in the line of its question, and reports whether there was room.
func (b *recordText) answer(pc *procedures.PlanCheck, x *job.Entry) bool {
	const question, reply = 34, 14
	value, title := b.t.Plain(b.value(x)), b.t.Plain(pc.Title)
	who := b.t.Plain(x.By.Name + " " + when(x.At))
	if x.Item != "" || x.Window != nil || x.Instrument != nil || x.Replaces != 0 || x.Verdict == quantity.Outside || x.Source != job.SourceTyped ||
		draw.Width(title) > question || draw.Width(value) > reply || question+reply+6+draw.Width(who) > b.w {
		return false
	}
	b.out = append(b.out, "  "+b.t.Style(draw.Text, draw.Pad(title, question+2))+b.t.Style(draw.Title, draw.Pad(value, reply+2))+b.t.Style(draw.Faint, who))
	return true
}

// value is what was entered, in the way of the workshop.
func (b *recordText) value(x *job.Entry) string {
	if x.Value.IsZero() {
		return shown(x)
	}
	return b.e.number(x.Value)
}

// commonEvidence is how well every value of a check is known, or nothing where they differ.
func commonEvidence(es []*job.Entry) string {
	text := ""
	for _, x := range es {
		switch now := evidenceWords(x); {
		case now == "" || now == text:
		case text == "":
			text = now
		default:
			return ""
		}
	}
	return text
}

func evidenceWords(x *job.Entry) string {
	text := x.Evidence.String()
	if x.AllAtOnce {
		text += phrase.Of("bay.recordentry.all-that-were-left-confirmed-at-once")
	}
	return text
}

// figures writes what was worked out of a set in the attempt that counts.
func (b *recordText) figures(s *job.StageCard, pc *procedures.PlanCheck, name int, windows []string) []string {
	for _, v := range b.worked(s, pc) {
		b.row(name, v.Name, b.e.number(v.Value), v.Verdict, phrase.Of("bay.recordentry.worked-out"))
		if v.Window != nil {
			windows = appendNew(windows, v.Name+": "+b.windowWords(*v.Window))
		}
	}
	return windows
}

// worked lists the figures worked out of a set in the attempt that counts.
func (b *recordText) worked(s *job.StageCard, pc *procedures.PlanCheck) []job.Valued {
	var out []job.Valued
	for _, res := range b.c.Results(s.Node.Ref) {
		for _, v := range res.Values {
			if res.Check.ID == pc.ID && v.Entry == nil {
				out = append(out, v)
			}
		}
	}
	return out
}

func appendNew(list []string, text string) []string {
	if slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}

// names is the width of the column of items.
func (b *recordText) names(es []*job.Entry) int {
	n := 8
	for _, x := range es {
		n = max(n, draw.Width(b.t.Plain(itemWords(x.Item))))
	}
	return min(n, max(b.w/4, 16))
}

// windowWords is a window with its document and revision, or what a part was compared with.
func (b *recordText) windowWords(w procedures.PlanWindow) string {
	from := w.Document
	if w.Revision != "" {
		from += ", " + w.Revision
	}
	if w.Window.IsZero() {
		return phrase.Of("bay.recordentry.compared-with", from)
	}
	return phrase.Of("bay.recordentry.window-from", b.e.decimals(windowWords(w.Window)), from)
}

// toolWords is an instrument with what vouches for it.
func toolWords(e *Env, in register.Instrument) string {
	text := phrase.Of("bay.recordentry.serial-number-error-certificate-valid-until", in.ID, phrase.Word(in.Kind), in.Serial, e.number(in.Error), in.Certificate, in.Due)
	if in.Title != "" && in.Title != in.Kind {
		text = in.ID + ", " + in.Title + text[len(in.ID):]
	}
	return text
}

// entry writes one value, and what became of it.
func (b *recordText) entry(a *job.Attempt, x *job.Entry, name int, evidence bool) {
	value := b.value(x)
	who := x.By.Name + " " + when(x.At)
	if x.Instrument != nil {
		who = x.Instrument.ID + "  " + who
	}
	verdict := x.Verdict
	if x.Window == nil && verdict == quantity.Inside {
		verdict = quantity.Unjudged // an answer that passes has no window to be inside of
	}
	b.row(name, itemWords(x.Item), value, verdict, who)
	if text := evidenceWords(x); evidence && text != "" {
		b.say(draw.Text, 8, "%s", phrase.Of("bay.recordentry.evidence-2", text))
	}
	for _, note := range b.entryNotes(a, x) {
		b.say(draw.Text, 8, "      %s", note)
	}
}

// entryNotes is what belongs to a value besides its verdict.
func (b *recordText) entryNotes(a *job.Attempt, x *job.Entry) []string {
	var out []string
	if x.Source != job.SourceTyped {
		out = append(out, phrase.Of("bay.recordentry.entered-from", x.Source))
	}
	if x.Adapter != nil {
		out = append(out, phrase.Of("bay.recordentry.with-an-adapter-of-on-a-wrench", b.e.number(x.Adapter.Offset), b.e.number(x.Adapter.Length), b.e.number(shortBolt(x))))
	}
	if !x.Value.IsZero() && x.Raw != "" && x.Raw != x.Value.Number && x.Raw != x.Value.String() {
		out = append(out, phrase.Of("bay.recordentry.typed", x.Raw))
	}
	if x.Real != nil {
		out = append(out, phrase.Of("bay.recordentry.called-real-by", markWords(*x.Real)))
	}
	if x.Broken {
		out = append(out, phrase.Of("bay.recordentry.the-pass-was-broken-off-here-evidence"))
	}
	if x.ReplacedBy != 0 {
		out = append(out, phrase.Of("bay.recordentry.replaced-by-entry", x.ReplacedBy))
	}
	if x.Replaces != 0 {
		was := phrase.Of("bay.recordentry.another-value")
		for i := range a.Entries {
			if old := &a.Entries[i]; old.Seq == x.Replaces {
				was = strings.TrimSpace(b.e.decimals(shown(old)) + " " + strings.ToUpper(verdictWord(old.Verdict)))
			}
		}
		text := phrase.Of("bay.recordentry.correction-of-entry-which-was", x.Replaces, was, phrase.Word(x.Reason))
		if x.Confirmed != nil {
			text += phrase.Of("bay.recordentry.confirmed-by", x.Confirmed.Name)
		}
		out = append(out, text)
	}
	return out
}

// row writes item, value, verdict and who in columns.
func (b *recordText) row(name int, item, value string, v quantity.Verdict, rest string) {
	t := b.t
	if item == "" {
		name = 0
	}
	left := "    "
	if name > 0 {
		left += draw.Pad(t.Truncate(t.Plain(item), name), name) + "  "
	}
	value = t.Plain(value)
	badge := ""
	if state := verdictState(v); state != draw.NoState {
		badge = t.Badge(state)
	}
	if draw.Width(value) > 14 { // words: they have the line to themselves
		for _, row := range t.Wrap(value, max(b.w-draw.Width(left), 20)) {
			b.out = append(b.out, t.Style(draw.Text, left)+t.Style(draw.Title, row))
			left = strings.Repeat(" ", draw.Width(left))
		}
		b.out = append(b.out, left+draw.Pad(badge, draw.Width(badge)+2)+t.Style(draw.Faint, rest))
		return
	}
	text := t.Style(draw.Text, left) + t.Style(draw.Title, draw.Pad(value, 14)) + draw.Pad(badge, 13)
	if draw.Width(text)+draw.Width(t.Plain(rest)) > b.w {
		b.out = append(b.out, text, strings.Repeat(" ", draw.Width(left))+t.Style(draw.Faint, t.Plain(rest)))
		return
	}
	b.out = append(b.out, text+t.Style(draw.Faint, t.Plain(rest)))
}

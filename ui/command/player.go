package command

import (
	"bytes"
	"embed"
	"fmt"
	"io"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// The recorded jobs are entry lines as pawl enter takes them, with comments that tell what happens.
//
//go:embed demo/*.jsonl
var scripts embed.FS

// The scripts of the recorded jobs.
const (
	scriptMain  = "main.jsonl"  // the main job from reception to hand-over
	scriptAfter = "after.jsonl" // the same vehicle two days later: re-torque, close
	scriptPart  = "part.jsonl"  // the other vehicle, left half done
)

// scriptDay is the day of the recorded jobs on which a script begins.
var scriptDay = map[string]int{scriptMain: 0, scriptAfter: 2, scriptPart: 8}

// player plays scripts through the line reader of pawl enter.
type player struct {
	file  *store.File
	clock *demoClock
	out   io.Writer // nil: nothing is printed
	job   *session
	stage string // heading printed last
	aside string // comment lines not printed yet
	shown int    // refusals printed
}

// play plays scripts into one new job. A line that does not come out as the script says ends it.
func (p *player) play(names []string) error {
	p.job = &session{file: p.file, told: map[string]string{}, quiet: p.out == nil}
	for _, name := range names {
		data, err := scripts.ReadFile("demo/" + name)
		if err != nil {
			return err
		}
		p.clock.on(scriptDay[name])
		err = eachLine(bytes.NewReader(data), func(n int, line []byte, _ bool) error {
			if blank(line) {
				p.tell(line)
				return nil
			}
			p.clock.tick()
			l, err := parseLine(line)
			if err != nil {
				return fmt.Errorf("%s:%d: %w", name, n, err)
			}
			r := p.job.do(l)
			if !r.asExpected() {
				return fmt.Errorf("%s:%d: %s", name, n, unexpected(r))
			}
			return p.print(r)
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func unexpected(r reply) string {
	switch {
	case r.err != nil:
		return r.err.Error()
	case len(r.refused) > 0:
		codes := make([]string, len(r.refused))
		for i, b := range r.refused {
			codes[i] = strings.TrimSpace(fmt.Sprintf("%s: %s %s", b.Code, b.Text, b.Item))
		}
		return phrase.Of("command.player.refused", strings.Join(codes, "; "))
	}
	return phrase.Of("command.player.recorded-although-a-refusal-was-expected", r.line.expect)
}

// tell gathers the comments of the script; print puts them before the line they belong to.
func (p *player) tell(line []byte) {
	text := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(string(line)), "#"))
	p.aside = strings.TrimSpace(p.aside + " " + text)
}

// print writes what became of a line.
func (p *player) print(r reply) error {
	if p.out == nil {
		return nil
	}
	var b strings.Builder
	if p.aside != "" {
		b.WriteString("\n" + wrap(p.aside, textWidth, "  ", "  "))
		p.aside = ""
	}
	if head := headingOf(r); head != "" && head != p.stage {
		p.stage = head
		b.WriteString("\n" + ruled(phrase.Of("command.player.demo", head)))
	}
	who := r.line.by
	if person, ok := p.file.Register().Person(who); ok {
		who = person.Name
	}
	lead := pad(who, 6) + " "
	for _, words := range merged(r.card, r.events) {
		b.WriteString(wrap(words, textWidth, "  "+lead, "         "))
	}
	for _, f := range r.figures() {
		b.WriteString(wrap(figureWords(f), textWidth, "         = ", "           "))
	}
	for _, h := range r.hints() {
		b.WriteString(wrap(phrase.Of("command.player.hint", h), textWidth, "         ? ", "           "))
	}
	for _, m := range r.remarks {
		b.WriteString(wrap(strings.TrimSpace(m.Text+" "+m.Ask), textWidth, "         ! ", "           "))
	}
	if len(r.refused) > 0 {
		p.shown++
		b.WriteString(wrap(phrase.Of("command.player.refused-2", deedWords(r)), textWidth, "  "+lead, "         "))
		for _, x := range r.refused {
			b.WriteString(wrap(phrase.Of("command.player.way-out", x.Code, sentence(x.Text), sentence(x.WayOut)), textWidth, "         - ", "           "))
		}
	}
	_, err := io.WriteString(p.out, b.String())
	return err
}

// headingOf is the stage a line is about.
func headingOf(r reply) string {
	if r.line.open != nil {
		return phrase.Of("command.player.a-new-job")
	}
	at := r.line.intent.FieldByName("Stage")
	if !at.IsValid() {
		return phrase.Of("command.player.job-as-a-whole")
	}
	if ref, ok := at.Interface().(interface{ String() string }); ok {
		for i := range r.card.Stages {
			if n := r.card.Stages[i].Node; n.Ref.String() == ref.String() {
				return n.Phase.Title + ": " + job.Title(n)
			}
		}
	}
	return phrase.Of("command.player.job-as-a-whole")
}

// deedWords says what was refused.
func deedWords(r reply) string {
	switch r.line.do {
	case "sign":
		return phrase.Of("command.player.the-signature")
	case "countersign":
		return phrase.Of("command.player.the-countersignature")
	case "enter":
		in := r.line.intent.Interface().(job.Enter)
		text := in.Value
		if in.With != "" {
			text += phrase.Of("command.player.with", in.With)
		}
		return strings.TrimSpace(in.Check + " " + in.Item + " " + text)
	}
	return strings.ReplaceAll(r.line.do, "_", " ")
}

// merged is what was recorded in words, the values of one check together.
func merged(c *job.Card, events []job.Event) []string {
	var out []string
	for i := 0; i < len(events); {
		first, ok := events[i].Body.(job.Entered)
		pc := checkOf(c, first)
		if !ok || pc == nil {
			out = append(out, shortWords(c, events[i]))
			i++
			continue
		}
		var list []worded
		for ; i < len(events); i++ {
			b, ok := events[i].Body.(job.Entered)
			if !ok || b.Check != first.Check || b.Stage != first.Stage {
				break
			}
			list = append(list, worded{entry: b, tail: valueTail(b)})
		}
		out = append(out, grouped(pc, list)...)
	}
	return out
}

// shortWords is an event without the stage that stands in the heading.
func shortWords(c *job.Card, e job.Event) string {
	switch b := e.Body.(type) {
	case job.Signed:
		return phrase.Of("command.player.signed") + attemptWords(b.Attempt)
	case job.Countersigned:
		return phrase.Of("command.player.countersigned") + attemptWords(b.Attempt)
	}
	return eventWords(c, e)
}

func figureWords(v job.Valued) string {
	text := v.Name + " " + v.Value.Shown()
	if v.Window != nil {
		text += fmt.Sprintf(": %s %s", v.Verdict, v.Window.Window)
	}
	return text
}

// finish prints the record of the job played and verifies it.
func (p *player) finish() error {
	c, err := p.file.Load(p.job.job)
	if err != nil {
		return err
	}
	status, err := statusOf(p.file, c.Number())
	if err != nil {
		return err
	}
	if _, err := io.WriteString(p.out, "\n"+cardText(c, status)); err != nil {
		return err
	}
	if err := p.file.Verify(c.Number()); err != nil {
		return err
	}
	_, err = fmt.Fprintln(p.out, phrase.Of("command.player.demo-events-recorded-refusals-on-the-way", c.Seq(), p.shown))
	return err
}

// ruled is a heading with a line under it.
func ruled(title string) string {
	return wrap(title, textWidth, "", "") + strings.Repeat("-", min(textWidth, width(title))) + "\n"
}

package command

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job"
	"bay.example/pawl/store"
)

// replyFormat is the version of the JSON lines that pawl enter answers with.
const replyFormat = 1

func (p *Program) enterCommand() *cobra.Command {
	var stop bool
	c := &cobra.Command{
		Use:   "enter JOB|new",
		Short: "Take entries as JSON lines and answer each",
		Long: `Takes entries as JSON lines on standard input and puts each through exactly the
rules the screen goes by. Every line is answered with one JSON line: what was
recorded, or every reason against it with the way out. Empty lines and lines that
begin with # are skipped. A line that cannot be read is answered with one
sentence and nothing is lost. The exit code is 1 when any line was refused.

Every line has "do" and "by", the id of who does it. "code" is the personal code:
wanted in the first line of each person, and in every line that signs.

  {"do":"open","by":"F02","code":"2002","vehicle":"9",
   "procedure":"rear-discs-pads","complaint":"squeal","odometer":"61430"}
  {"do":"enter","by":"M04","stage":"wheel-off/left","check":"fasteners",
   "value":"6"}
  {"do":"enter","by":"M04","stage":"carrier-bolts/left","check":"bolts",
   "item":"upper bolt","value":"95","with":"W8"}
  {"do":"sign","by":"M04","code":"1004","stage":"wheel-off/left"}

"new" opens a job with its first line; its number is in the answer.

enter: stage, check, item, value, with (the instrument), clicked (the wrench
clicked at the value set before), all (every fastener left, with clicked), source
("scan" or "paper"), reason (why a value is corrected; "typing slip" for a slip),
adapter {"length","offset","angle"}, second with second_code (who confirms a second
slip). "values" instead of "value" fills the items that have none, in order.

sign: stage, note. countersign: stage. again: stage, reason, rework.
interrupted: stage, check. pause: note, kind, parts_at, key_at, call. resume: read.
Further: ` + strings.Join(deeds(), ", ") + `; a line with
an unknown field is answered with those it may have.

"expect" names the code of the refusal the writer expects, for scripts that show
one: such a refusal does not count, and anything else does.

An answer has format (` + fmt.Sprint(replyFormat) + `), line, ok, job, seq and digest of the newest event,
recorded (a list of events), figures, hints and remarks that follow from them,
refused (a list of code, stage, check, item, text, way_out) or error.`,
		Args: exactArgs(1, "the number of a job, or new"),
	}
	c.Flags().BoolVar(&stop, "stop", false, "stop at the first line that is refused")
	c.RunE = func(_ *cobra.Command, args []string) error {
		s := &session{told: map[string]string{}}
		if args[0] != "new" {
			n, err := jobNumber(args[0])
			if err != nil {
				return err
			}
			s.job = n
		}
		return p.with(func(f *store.File) error {
			s.file = f
			if s.job != 0 {
				if _, err := f.Load(s.job); err != nil {
					return err
				}
			}
			return p.enter(s, p.In, stop)
		})
	}
	return c
}

// enter does every line of a stream.
func (p *Program) enter(s *session, in io.Reader, stop bool) error {
	refused := false
	err := eachLine(in, func(n int, data []byte, tooLong bool) error {
		if blank(data) {
			return nil
		}
		var r reply
		var l entryLine
		err := fmt.Errorf("the line is longer than %d bytes", maxLine)
		if !tooLong {
			l, err = parseLine(data)
		}
		if err != nil {
			r = reply{err: err}.ended(s, nil, err)
		} else {
			r = s.do(l)
		}
		answer, err := marshal(r.object(n))
		if err != nil {
			return err
		}
		if _, err := p.Out.Write(append(answer, '\n')); err != nil {
			return err
		}
		if !r.asExpected() {
			refused = true
			if stop || r.stop {
				return errAnswered
			}
		}
		return nil
	})
	if err == nil && refused {
		err = errAnswered
	}
	return err
}

// blank reports whether a line holds nothing to do: it is empty or a comment.
func blank(data []byte) bool {
	t := bytes.TrimSpace(data)
	return len(t) == 0 || t[0] == '#'
}

// eachLine hands every line of a stream on, without its end. Of a line that is too long only the
// fact is handed on; the rest of it is skipped.
func eachLine(in io.Reader, do func(n int, data []byte, tooLong bool) error) error {
	r := bufio.NewReaderSize(in, 4096)
	var line []byte
	tooLong := false
	for n := 1; ; {
		part, err := r.ReadSlice('\n')
		if !tooLong {
			line = append(line, part...)
			tooLong = len(bytes.TrimRight(line, "\r\n")) > maxLine
		}
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if err != nil && !errors.Is(err, io.EOF) {
			return fmt.Errorf("standard input: %w", err)
		}
		if len(line) > 0 {
			if err := do(n, bytes.TrimRight(line, "\r\n"), tooLong); err != nil {
				return err
			}
		}
		if err != nil {
			return nil
		}
		n++
		line, tooLong = line[:0], false
	}
}

// object is the JSON line of a reply.
func (r reply) object(n int) object {
	o := object{}
	o.add("format", replyFormat)
	o.add("line", n)
	o.add("ok", r.err == nil && len(r.refused) == 0)
	if r.line.expect != "" {
		o.add("as_expected", r.asExpected())
	}
	if r.card != nil {
		o.add("job", r.card.Number())
		o.add("seq", r.card.Seq())
		o.add("digest", r.card.Head.String())
	}
	if len(r.events) > 0 {
		events := make([]object, len(r.events))
		for i, e := range r.events {
			events[i] = eventObject(e)
		}
		o.add("recorded", events)
	}
	if f := r.figures(); len(f) > 0 {
		list := make([]object, len(f))
		for i, v := range f {
			list[i] = figureObject(v)
		}
		o.add("figures", list)
	}
	if h := r.hints(); len(h) > 0 {
		o.add("hints", h)
	}
	if len(r.remarks) > 0 {
		list := make([]object, len(r.remarks))
		for i, m := range r.remarks {
			list[i] = remarkObject(m)
		}
		o.add("remarks", list)
	}
	if len(r.refused) > 0 {
		o.add("refused", blockers(r.refused))
	}
	if r.err != nil {
		o.add("error", visible(r.err.Error()))
	}
	return o
}

func blockers(refused job.Refused) []object {
	out := make([]object, len(refused))
	for i, b := range refused {
		o := object{}
		o.add("code", b.Code)
		o.add("stage", plain(b.Stage.String()))
		o.add("check", plain(b.Check))
		o.add("item", plain(b.Item))
		o.add("text", b.Text)
		o.add("way_out", b.WayOut)
		out[i] = o
	}
	return out
}

func remarkObject(m job.Remark) object {
	o := object{}
	o.add("key", m.Key)
	o.add("stage", m.Stage.String())
	o.add("text", m.Text)
	o.add("ask", plain(m.Ask))
	return o
}

func figureObject(v job.Valued) object {
	o := object{}
	o.add("name", v.Name)
	o.add("value", plain(v.Value))
	if v.Window != nil {
		o.add("window", v.Window.Window.String())
	}
	o.add("verdict", v.Verdict.String())
	return o
}

// figures are what was worked out of the sets that this line completed.
func (r reply) figures() []job.Valued {
	var out []job.Valued
	seen := map[string]bool{}
	for _, e := range r.events {
		b, ok := e.Body.(job.Entered)
		key := b.Stage.String() + "." + b.Check
		if !ok || seen[key] {
			continue
		}
		seen[key] = true
		for _, res := range r.card.Results(b.Stage) {
			if res.Check.ID != b.Check {
				continue
			}
			for _, v := range res.Values {
				if v.Entry == nil {
					out = append(out, v)
				}
			}
		}
	}
	return out
}

// hints are the slips that would explain a value outside.
func (r reply) hints() []string {
	var out []string
	for _, e := range r.events {
		if h := job.Hint(entryOf(r.card, e)); h != "" {
			out = append(out, h)
		}
	}
	return out
}

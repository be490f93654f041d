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
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// replyFormat is the version of the JSON lines that pawl enter answers with.
const replyFormat = 1

func (p *Program) enterCommand() *cobra.Command {
	var stop bool
	c := &cobra.Command{
		Use:   "enter JOB|new",
		Short: phrase.Of("command.enter.take-entries-as-json-lines-and-answer"),
		Long:  phrase.Of("command.enter.takes-entries-as-json-lines-on-standard", strings.Join(deeds(), ", "), fmt.Sprint(replyFormat)),
		Args:  exactArgs(1, phrase.Of("command.enter.the-number-of-a-job-or-new")),
	}
	c.Flags().BoolVar(&stop, "stop", false, phrase.Of("command.enter.stop-at-the-first-line-that-is"))
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
		err := phrase.Error("command.enter.the-line-is-longer-than-bytes", maxLine)
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
			return phrase.Error("command.enter.standard-input", err)
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

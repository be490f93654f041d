package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/ui/draw"
)

// events lists what happened besides the work on the stages, in order.
func (b *recordText) events() {
	b.part("What else happened")
	n := 0
	for _, ev := range b.c.Events {
		text := b.eventWords(ev.Body)
		if text == "" {
			continue
		}
		n++
		b.say(draw.Text, 2, "%d  %s  %s: %s", ev.Seq, when(ev.At), ev.By.Name, text)
	}
	if n == 0 {
		b.say(draw.Text, 0, "Nothing: no pause, no advice, no deviation.")
	}
}

// eventWords says an event that no stage shows, or nothing for one that does.
func (b *recordText) eventWords(body job.Body) string {
	switch x := body.(type) {
	case job.Paused:
		return pausedWords(x)
	case job.Resumed:
		text := "went on"
		if x.TakenOver {
			text = "took the job over and went on"
		}
		if x.Lines > 0 {
			text += fmt.Sprintf(", after reading back %s of the stop sheet", plural(x.Lines, "line"))
		}
		return text
	case job.SafeToLeave:
		return "signed that the vehicle may stand as the stop sheet says"
	case job.Swapped:
		return fmt.Sprintf("exchanged left and right of %s at %s: %s", x.Check, x.Stage, x.Reason)
	case job.Deviated:
		text := fmt.Sprintf("granted the deviation %q at %s: %s", x.Title, b.title(x.Stage), x.Reason)
		if x.OwnWork {
			text += " (on own work)"
		}
		return text
	case job.Answered:
		return "answered: " + x.Answer
	case job.Found:
		return "found the planted fault: " + x.Fault
	}
	return b.endWords(body)
}

// endWords says an event about how the vehicle leaves.
func (b *recordText) endWords(body job.Body) string {
	switch x := body.(type) {
	case job.Withheld:
		return fmt.Sprintf("WITHHELD the vehicle (%s): %s; told %s", x.Class, x.Words, x.Told)
	case job.Lifted:
		return fmt.Sprintf("lifted the withholding, cured at %s: %s", b.title(x.Cure), x.Words)
	case job.Abandoned:
		return "ended the work unfinished: " + x.Reason
	case job.Declared:
		return fmt.Sprintf("declared open: %s, %s", stateWords(b.c.Plan.Procedure, x.State), x.Words)
	case job.Cancelled:
		return "cancelled the job: " + x.Reason
	case job.Advised:
		return fmt.Sprintf("advised (%s): %s", x.Urgency, x.Text)
	case job.AdviceDecided:
		return fmt.Sprintf("wrote down the answer to the advice of entry %d: %s, %q, decided by %s", x.Advice, x.Answer, x.Words, x.ByWhom)
	case job.Addendum:
		return "added: " + x.Text
	case job.FollowUp:
		text := fmt.Sprintf("%s: %s", x.Key, x.Act)
		if x.Until != "" {
			text += " to " + x.Until
		}
		return text + ", " + x.Words
	case job.Released:
		return "released the vehicle"
	}
	return ""
}

func pausedWords(x job.Paused) string {
	kind := x.Kind
	if kind == job.StopUnknown {
		kind = "stopped"
	}
	out := []string{kind + ": " + x.Note}
	for _, part := range [][2]string{{"parts lie at", x.PartsAt}, {"key at", x.KeyAt}, {"call", x.Call}} {
		if part[1] != "" {
			out = append(out, part[0]+" "+part[1])
		}
	}
	return strings.Join(out, "; ")
}

package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// events lists what happened besides the work on the stages, in order.
func (b *recordText) events() {
	b.part(phrase.Of("bay.recordevents.what-else-happened"))
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
		b.say(draw.Text, 0, "%s", phrase.Of("bay.recordevents.nothing-no-pause-no-advice-no-deviation"))
	}
}

// eventWords says an event that no stage shows, or nothing for one that does.
func (b *recordText) eventWords(body job.Body) string {
	switch x := body.(type) {
	case job.Paused:
		return pausedWords(x)
	case job.Resumed:
		text := phrase.Of("bay.recordevents.went-on")
		if x.TakenOver {
			text = phrase.Of("bay.recordevents.took-the-job-over-and-went-on")
		}
		if x.Lines > 0 {
			text += phrase.Of("bay.recordevents.after-reading-back-of-the-stop-sheet", phrase.Count("count.line", x.Lines))
		}
		return text
	case job.SafeToLeave:
		return phrase.Of("bay.recordevents.signed-that-the-vehicle-may-stand-as")
	case job.Swapped:
		return phrase.Of("bay.recordevents.exchanged-left-and-right-of-at", x.Check, x.Stage, x.Reason)
	case job.Deviated:
		text := phrase.Of("bay.recordevents.granted-the-deviation-at", x.Title, b.title(x.Stage), x.Reason)
		if x.OwnWork {
			text += phrase.Of("bay.recordevents.on-own-work")
		}
		return text
	case job.Answered:
		return phrase.Of("bay.recordevents.answered", phrase.Word(x.Answer))
	case job.Found:
		return phrase.Of("bay.recordevents.found-the-planted-fault", x.Fault)
	}
	return b.endWords(body)
}

// endWords says an event about how the vehicle leaves.
func (b *recordText) endWords(body job.Body) string {
	switch x := body.(type) {
	case job.Withheld:
		return phrase.Of("bay.recordevents.withheld-the-vehicle-told", phrase.Word(x.Class), x.Words, x.Told)
	case job.Lifted:
		return phrase.Of("bay.recordevents.lifted-the-withholding-cured-at", b.title(x.Cure), x.Words)
	case job.Abandoned:
		return phrase.Of("bay.recordevents.ended-the-work-unfinished", x.Reason)
	case job.Declared:
		return phrase.Of("bay.recordevents.declared-open", stateWords(b.c.Plan.Procedure, x.State), x.Words)
	case job.Cancelled:
		return phrase.Of("bay.recordevents.cancelled-the-job", x.Reason)
	case job.Advised:
		return phrase.Of("bay.recordevents.advised", phrase.Word(x.Urgency), x.Text)
	case job.AdviceDecided:
		return phrase.Of("bay.recordevents.wrote-down-the-answer-to-the-advice", x.Advice, phrase.Word(x.Answer), x.Words, x.ByWhom)
	case job.Addendum:
		return phrase.Of("bay.recordevents.added", x.Text)
	case job.FollowUp:
		text := fmt.Sprintf("%s: %s", x.Key, phrase.Word(x.Act))
		if x.Until != "" {
			text += phrase.Of("bay.recordevents.to", x.Until)
		}
		return text + ", " + x.Words
	case job.Released:
		return phrase.Of("bay.recordevents.released-the-vehicle")
	}
	return ""
}

func pausedWords(x job.Paused) string {
	kind := x.Kind
	if kind == job.StopUnknown {
		kind = phrase.Of("bay.recordevents.stopped")
	}
	out := []string{phrase.Word(kind) + ": " + x.Note}
	for _, part := range [][2]string{{phrase.Of("bay.recordevents.parts-lie-at"), x.PartsAt}, {phrase.Of("bay.recordevents.key-at"), x.KeyAt}, {phrase.Of("bay.recordevents.call"), x.Call}} {
		if part[1] != "" {
			out = append(out, part[0]+" "+part[1])
		}
	}
	return strings.Join(out, "; ")
}

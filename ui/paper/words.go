package paper

import (
	"fmt"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// stamp is a moment as it is printed: local time of the station, to the minute.
func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2006-01-02 15:04")
}

// who is a person with the moment of the deed.
func who(m *job.Mark) string {
	if m == nil {
		return ""
	}
	return m.By.Name + ", " + stamp(m.At)
}

// clock is the time of day and the person, with the date where it is another day.
func clock(m job.Mark, day time.Time) string {
	if m.At.Format(time.DateOnly) != day.Format(time.DateOnly) {
		return stamp(m.At) + " " + m.By.Name
	}
	return m.At.Format("15:04") + " " + m.By.Name
}

func attemptWords(n int) string { return phrase.Of("paper.words.attempt", n) }

// withRole is a person's name with the role held then.
func withRole(w job.Who) string { return fmt.Sprintf("%s (%s)", w.Name, phrase.Word(w.Role)) }

// titleOf names a stage with its side spelled out.
func titleOf(c *job.Card, r procedures.Ref) string {
	if s := c.Stage(r); s != nil {
		return job.Title(s.Node)
	}
	if r.Stage == "" {
		return ""
	}
	if st := c.Plan.Procedure.Stage(r.Stage); st != nil {
		return st.Title
	}
	return r.String()
}

// vehicleWords names the vehicle.
func vehicleWords(c *job.Card) string {
	v := c.Opened.Vehicle
	return strings.TrimSpace(v.ID + " " + v.Name)
}

// sealWords is what stands at the foot of every page: enough of the digest to tell two records
// apart, and the seal once there is one.
func sealWords(c *job.Card, in Info) string {
	text := phrase.Of("paper.words.digest", c.Head.String()[:16])
	if in.Seal != "" {
		return phrase.Of("paper.words.seal", text, in.Seal)
	}
	return phrase.Of("paper.words.not-sealed", text)
}

// about is what stands at the head of every page.
func about(c *job.Card) string {
	return phrase.Of("paper.words.job-vehicle", c.Number(), vehicleWords(c))
}

// newDocument begins a document about one job.
func newDocument(c *job.Card, in Info, title string) Document {
	return Document{Title: title, who: in.Workshop, about: about(c), mark: markOf(c), seal: sealWords(c, in)}
}

// markWords says in a sentence what a mark means.
func markWords(mark string) string {
	switch mark {
	case markDemo:
		return phrase.Of("paper.words.demonstration-with-invented-data-it-fits-no")
	case markPractice:
		return phrase.Of("paper.words.practice-this-is-an-exercise-and-no")
	case markPartly:
		return phrase.Of("paper.words.some-lines-are-practice-or-demonstration-each")
	case "":
		return ""
	}
	return phrase.Of("paper.words.practice-with-invented-data-it-is-an")
}

// lines joins texts to a cell of several lines. They are cleaned first, so that no text from outside
// makes a line of its own.
func lines(texts []string) string {
	clean := make([]string, len(texts))
	for i, s := range texts {
		clean[i] = draw.Clean(s)
	}
	return strings.Join(clean, "\n")
}

// sentence gives a text its full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!:") {
		return s
	}
	return s + "."
}

// orNone is the text, or a word where there is none.
func orNone(s, none string) string {
	if strings.TrimSpace(s) == "" {
		return none
	}
	return s
}

package paper

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"
	"unicode/utf8"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// Schema names the form of the JSON this package writes. A member is only ever added; one that
// changes its meaning or goes makes it pawl.job/2.
const Schema = "pawl.job/1"

// Export is a job as JSON: the facts of all events with their stored bytes, and what follows from
// them. The package comment documents the form.
type Export struct {
	Schema      string            `json:"schema"`
	Formulas    string            `json:"formulas"`
	Workshop    string            `json:"workshop"`
	Printed     time.Time         `json:"printed"`
	Mark        string            `json:"mark"` // DEMO, PRACTICE, both, or empty for real work
	Seal        string            `json:"seal"`
	Backup      string            `json:"backup"`
	Job         JobFacts          `json:"job"`
	Digest      job.Digest        `json:"digest"`
	Events      []EventFacts      `json:"events"`
	Stages      []StageFacts      `json:"stages"`
	Readings    []ReadingRow      `json:"readings"`
	Torque      []TorqueRow       `json:"torque"`
	Checked     []CheckedRow      `json:"checked"`
	Figures     []FigureRow       `json:"figures"`
	Signatures  []SignatureRow    `json:"signatures"`
	States      []StateRow        `json:"states"`
	Exceptions  []ExceptionRow    `json:"exceptions"`
	Remarks     []RemarkFacts     `json:"remarks"`
	Deviations  []DeviationFacts  `json:"deviations"`
	Advice      []AdviceFacts     `json:"advice"`
	Promises    []PromiseFacts    `json:"promises"`
	Quarantined [][]string        `json:"quarantined"`
	Never       []string          `json:"never"` // what nobody may grant
	MayGrant    map[string]string `json:"may_grant"`
}

// JobFacts is the head of a job.
type JobFacts struct {
	Number      uint64            `json:"number"`
	Demo        bool              `json:"demo"`
	Practice    bool              `json:"practice"`
	Vehicle     job.VehicleRef    `json:"vehicle"`
	Customer    string            `json:"customer"`
	Complaint   string            `json:"complaint"`
	Odometer    quantity.Quantity `json:"odometer"`     // at reception
	OdometerAt  quantity.Quantity `json:"odometer_now"` // newest reading
	Traits      map[string]string `json:"traits"`
	Procedure   job.Pinned        `json:"procedure"`
	Sheet       job.Pinned        `json:"sheet"`
	Opened      time.Time         `json:"opened"`
	OpenedBy    job.Who           `json:"opened_by"`
	Outcome     string            `json:"outcome"` // empty while the job runs
	Withheld    string            `json:"withheld"`
	Released    *job.Mark         `json:"released"`
	Independent bool              `json:"released_independently"`
}

// EventFacts is one event. Facts are its members in words; Bytes is the stored form, deterministic
// CBOR, over which the digests run.
type EventFacts struct {
	Seq     uint32         `json:"seq"`
	Event   string         `json:"event"`
	At      time.Time      `json:"at"`
	By      job.Who        `json:"by"`
	Station string         `json:"station"`
	Facts   map[string]any `json:"facts"`
	Bytes   []byte         `json:"bytes"` // base64
}

// StageFacts is one stage as it stands.
type StageFacts struct {
	Stage    string `json:"stage"` // "id" or "id/side"
	Title    string `json:"title"`
	Phase    string `json:"phase"`
	Status   string `json:"status"`
	Attempts int    `json:"attempts"`
}

// RemarkFacts is what the values mean, with the answer where there was a question.
type RemarkFacts struct {
	Stage  string `json:"stage"`
	Text   string `json:"text"`
	Ask    string `json:"ask"`
	Answer string `json:"answer"`
	By     string `json:"by"`
}

// DeviationFacts is a deviation granted.
type DeviationFacts struct {
	Seq    uint32    `json:"seq"`
	At     time.Time `json:"at"`
	By     job.Who   `json:"by"`
	ID     string    `json:"id"`
	Title  string    `json:"title"`
	Stage  string    `json:"stage"`
	Reason string    `json:"reason"`
	Own    bool      `json:"own_work"`
}

// AdviceFacts is one line of advice.
type AdviceFacts struct {
	Seq     uint32    `json:"seq"`
	At      time.Time `json:"at"`
	By      job.Who   `json:"by"`
	Text    string    `json:"text"`
	Urgency string    `json:"urgency"`
	Answer  string    `json:"answer"` // empty while open
	Words   string    `json:"words"`
	ByWhom  string    `json:"by_whom"`
}

// PromiseFacts is something promised at hand-over.
type PromiseFacts struct {
	Key     string            `json:"key"`
	What    string            `json:"what"`
	DueDate string            `json:"due_date"`
	DueAt   quantity.Quantity `json:"due_at"`
	LateAt  quantity.Quantity `json:"late_at"`
	Ended   string            `json:"ended"`
	Words   string            `json:"words"`
}

// JSON writes the whole job. Numbers measured are strings of exact decimals; what could steer a
// terminal is escaped, so that the file can be looked at.
func JSON(c *job.Card, in Info) ([]byte, error) {
	x, err := exportOf(c, in)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", " ")
	if err := enc.Encode(x); err != nil {
		return nil, phrase.Error("paper.export.write-job-as-json", c.Number(), err)
	}
	return tame(b.Bytes()), nil
}

// ReadJSON reads what JSON wrote, and nothing else: an unknown member or another schema is an error.
func ReadJSON(data []byte) (Export, error) {
	var x Export
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&x); err != nil {
		return Export{}, phrase.Error("paper.export.read-job", err)
	}
	if x.Schema != Schema {
		return Export{}, phrase.Error("paper.export.the-schema-is-expected", draw.Clean(x.Schema), Schema)
	}
	if dec.More() {
		return Export{}, phrase.Error("paper.export.read-job-more-follows-after-the-end")
	}
	return x, nil
}

// tame escapes, in the strings of a JSON text, every character that steers a terminal or turns the
// direction of writing. Such characters stand nowhere else in it.
func tame(data []byte) []byte {
	var b bytes.Buffer
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r != '\n' && r >= 0x7f && draw.Clean(string(r)) != string(r) {
			if r > 0xffff {
				r -= 0x10000
				fmt.Fprintf(&b, `\u%04x\u%04x`, 0xd800+(r>>10), 0xdc00+(r&0x3ff))
			} else {
				fmt.Fprintf(&b, `\u%04x`, r)
			}
		} else {
			b.Write(data[i : i+n])
		}
		i += n
	}
	return b.Bytes()
}

func exportOf(c *job.Card, in Info) (Export, error) {
	x := Export{Schema: Schema, Formulas: Formulas, Workshop: in.Workshop, Printed: in.Printed, Mark: markOf(c), Seal: in.Seal, Backup: in.Backup,
		Job: jobFacts(c), Digest: c.Head, Readings: Readings(c), Torque: Torques(c), Checked: Checks(c), Figures: Figures(c),
		Signatures: Signatures(c), States: States(c), Exceptions: Exceptions(c), Quarantined: quarantined(c), Never: c.Plan.Procedure.Never, MayGrant: map[string]string{}}
	for _, d := range c.Plan.Procedure.Deviations {
		x.MayGrant[d.ID] = d.Title
	}
	for _, e := range c.Events {
		data, err := job.Encode(e)
		if err != nil {
			return Export{}, err
		}
		x.Events = append(x.Events, EventFacts{e.Seq, eventName(e.Body), e.At, e.By, e.Station, factsOf(e.Body), data})
	}
	for i := range c.Stages {
		s := &c.Stages[i]
		x.Stages = append(x.Stages, StageFacts{s.Node.Ref.String(), job.Title(s.Node), s.Node.Phase.Title, s.Status.String(), len(s.Attempts)})
	}
	for _, m := range c.Remarks() {
		r := RemarkFacts{Stage: m.Stage.String(), Text: m.Text, Ask: m.Ask}
		if a := c.Answer(m.Key); a != nil {
			r.Answer, r.By = a.Answer, a.By.Name
		}
		x.Remarks = append(x.Remarks, r)
	}
	for _, d := range c.Deviations {
		x.Deviations = append(x.Deviations, DeviationFacts{d.Seq, d.At, d.By, d.Deviated.Deviation, d.Title, d.Stage.String(), d.Reason, d.OwnWork})
	}
	for _, a := range c.Advice {
		f := AdviceFacts{Seq: a.Seq, At: a.At, By: a.By, Text: a.Text, Urgency: a.Urgency}
		if a.Decided != nil {
			f.Answer, f.Words, f.ByWhom = a.Decided.Answer, a.Decided.Words, a.Decided.ByWhom
		}
		x.Advice = append(x.Advice, f)
	}
	for _, p := range c.Promises() {
		x.Promises = append(x.Promises, PromiseFacts{p.Key, p.What, p.DueDate, p.DueAt, p.LateAt, p.Ended, p.LastWord})
	}
	return x, nil
}

func jobFacts(c *job.Card) JobFacts {
	o := c.Opened
	f := JobFacts{Number: o.Number, Demo: c.Demo(), Practice: o.Practice, Vehicle: o.Vehicle, Customer: o.Customer, Complaint: o.Complaint, Odometer: o.Odometer,
		OdometerAt: c.Odometer(), Traits: o.Traits, Procedure: pinned(o.Procedure, c.Plan.Procedure.ID, c.Plan.Procedure.Title, c.Plan.Procedure.Revision),
		Sheet: pinned(o.Sheet, c.Plan.Sheet.ID, c.Plan.Sheet.Title, c.Plan.Sheet.Revision), Opened: c.OpenedAt, OpenedBy: c.OpenedBy, Outcome: c.Outcome()}
	if c.Withheld != nil {
		f.Withheld = c.Withheld.Class
	}
	if c.Released != nil {
		m := c.Released.Mark
		f.Released, f.Independent = &m, c.Released.Independent
	}
	return f
}

// pinned completes what the job was opened with by the texts it was folded with.
func pinned(p job.Pinned, id, title, revision string) job.Pinned {
	if p.ID == "" {
		p.ID, p.Title, p.Revision = id, title, revision
	}
	return p
}

func sideOf(r procedures.Ref) string { return string(r.Side) }

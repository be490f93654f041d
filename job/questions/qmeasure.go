package questions

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// The questions about what was measured. The limits of wear are in the sheet under these ids.
var wearLimits = map[string]string{"pads": "pad-min", "disc": "disc-min"}

// WearLine is the thinnest value of one part on one side over the visits of a vehicle.
type WearLine struct {
	Figure   string // "pads/left"
	Limit    quantity.Quantity
	Visits   []job.PastValue
	Forecast *brakes.Forecast // nil when none can be made
	Why      string           // why there is none
}

// WearLines follows pads and discs over the finished visits of a vehicle, oldest first.
func WearLines(cs []*job.Card) []WearLine {
	byFigure := map[string]*WearLine{}
	var order []string
	for _, c := range cs {
		if c.Outcome() == "" {
			continue
		}
		for _, v := range c.PastValues() {
			l := byFigure[v.Figure]
			if l == nil {
				l = &WearLine{Figure: v.Figure}
				byFigure[v.Figure], order = l, append(order, v.Figure)
			}
			l.Visits = append(l.Visits, v)
			what, _, _ := strings.Cut(v.Figure, "/")
			for figure, limit := range wearLimits {
				axle, of := strings.CutSuffix(what, figure)
				if !of {
					continue
				}
				if w, ok := c.Plan.SheetWindow(axle, limit); ok {
					if parsed, err := quantity.ParseWindow(w.Value); err == nil {
						l.Limit = parsed.Low
					}
				}
			}
		}
	}
	slices.Sort(order)
	out := make([]WearLine, 0, len(order))
	for _, f := range order {
		byFigure[f].forecast()
		out = append(out, *byFigure[f])
	}
	return out
}

func (l *WearLine) forecast() {
	if l.Limit.IsZero() {
		l.Why = phrase.Of("questions.qmeasure.the-spec-sheet-names-no-limit")
		return
	}
	var visits []brakes.Visit
	for _, v := range l.Visits {
		visits = append(visits, brakes.Visit{Thickness: v.Value, Odometer: v.Odometer, Uncertainty: v.Within, Renewed: v.New})
	}
	f, err := brakes.ForecastWear(visits, l.Limit)
	if err != nil {
		l.Why = err.Error()
		return
	}
	l.Forecast = &f
}

var wearsOut = &question{
	Question: Question{Number: 17, Name: "wears-out", Title: phrase.Of("questions.qmeasure.which-vehicles-have-pads-or-a-disc"),
		Params: []Param{{Name: "km", Title: phrase.Of("questions.qmeasure.distance-to-the-next-visit"), Kind: Number, Default: "15000"}, maybeVehicle},
		Columns: []Column{colVehicle, colOwner, column("figure", phrase.Of("questions.qmeasure.part")), column("now", phrase.Of("questions.qmeasure.last-value")), column("limit", phrase.Of("questions.qmeasure.minimum")), figures("left", phrase.Of("questions.qmeasure.km-left")), figures("cautious", phrase.Of("questions.qmeasure.km-left-cautiously")),
			column("readings", phrase.Of("questions.qmeasure.readings-used"))}},
	always: true, wants: measuring("pads", "disc", "pads-new", "disc-new"),
	perVehicle: func(p *pass, cs []*job.Card) {
		for _, l := range WearLines(cs) {
			last := l.Visits[len(l.Visits)-1]
			if l.Forecast == nil {
				p.cannot(last.Job, "%s", phrase.Of("questions.qmeasure.of-vehicle", l.Figure, cs[0].Opened.Vehicle.ID, l.Why))
				continue
			}
			limit := quantity.Quantity{Number: p.Text("km"), Unit: quantity.Kilometre}.Rat()
			if l.Forecast.CautiousRemaining.Cmp(limit) >= 0 {
				continue
			}
			p.row(last.Job, 0, cs[0].Opened.Vehicle.ID, p.vehicle(cs[0].Opened.Vehicle.ID).Owner, l.Figure, last.Value.String(), l.Limit.String(),
				l.Forecast.Remaining.FloatString(0), l.Forecast.CautiousRemaining.FloatString(0), readings(l.Visits))
		}
	},
}

func readings(vs []job.PastValue) string {
	var out []string
	for _, v := range vs {
		s := phrase.Of("questions.qmeasure.at", v.Value, v.Odometer)
		if v.New {
			s += phrase.Of("questions.qmeasure.new")
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

var wearRate = &question{
	Question: Question{Number: 18, Name: "wear-rate", Title: phrase.Of("questions.qmeasure.wear-rate-by-vehicle-left-against-right"),
		Params: []Param{maybeVehicle},
		Columns: []Column{colVehicle, column("type", phrase.Of("questions.qmeasure.vehicle-type")), column("figure", phrase.Of("questions.qmeasure.part")), figures("rate", phrase.Of("questions.qmeasure.mm-per-1000-km")), figures("cautious", "cautiously"),
			figures("visits", phrase.Of("questions.qmeasure.readings")), column("left-out", phrase.Of("questions.qmeasure.left-out-and-why"))}},
	always: true, wants: measuring("pads", "disc"),
	perVehicle: func(p *pass, cs []*job.Card) {
		for _, l := range WearLines(cs) {
			id := cs[0].Opened.Vehicle.ID
			rate, cautious, why := "", "", l.Why
			if l.Forecast != nil {
				rate, cautious = l.Forecast.Rate.FloatString(3), l.Forecast.CautiousRate.FloatString(3)
				if i := slices.IndexFunc(l.Visits, func(v job.PastValue) bool { return v.New }); i > 0 {
					why = phrase.Of("questions.qmeasure.what-was-measured-before-new-parts-went")
				}
			} else {
				p.cannot(l.Visits[len(l.Visits)-1].Job, "%s", phrase.Of("questions.qmeasure.of-vehicle", l.Figure, id, l.Why))
			}
			p.row(0, 0, id, cs[len(cs)-1].Opened.Sheet.Title, l.Figure, rate, cautious, fmt.Sprint(len(l.Visits)), why)
		}
	},
}

var unevenAgain = &question{
	Question: Question{Number: 19, Name: "uneven-again", Title: phrase.Of("questions.qmeasure.which-vehicles-show-uneven-pads-again-after"),
		Params:  []Param{maybeVehicle},
		Columns: []Column{colVehicle, column("before", phrase.Of("questions.qmeasure.before")), figures("before-job", phrase.Of("questions.qmeasure.job")), column("again", phrase.Of("questions.qmeasure.again")), figures("again-job", phrase.Of("questions.qmeasure.job")), column("between", phrase.Of("questions.qmeasure.km-between"))}},
	always: true, wants: measuring("pads"),
	perVehicle: func(p *pass, cs []*job.Card) {
		var before *job.Card
		pattern := ""
		for _, c := range cs {
			now := unevenPads(c)
			if before != nil && now != "" {
				km := ""
				if d, err := c.Opened.Odometer.Sub(before.Opened.Odometer); err == nil {
					km = d.String()
				}
				p.row(c.Number(), 0, c.Opened.Vehicle.ID, pattern, fmt.Sprint(before.Number()), now, fmt.Sprint(c.Number()), km)
			}
			if now != "" && slidesServiced(c) {
				before, pattern = c, now
			}
		}
	},
}

// unevenPads puts the wear pattern of a job's pads into words, empty when they are even.
func unevenPads(c *job.Card) string {
	var out []string
	for _, m := range c.Remarks() {
		if strings.HasPrefix(m.Key, "pads/") && m.Ask != "" && strings.Count(m.Key, "/") == 2 {
			out = append(out, m.Text)
		}
	}
	return strings.Join(out, " ")
}

// slidesServiced reports whether a stage was completed that the procedures give for it.
func slidesServiced(c *job.Card) bool {
	for i := range c.Stages {
		s := &c.Stages[i]
		for _, set := range s.Node.Sets {
			if set.State == "pistons-back" && s.Status == job.Complete {
				return true
			}
		}
	}
	return false
}

var runOutFitted = &question{
	Question: Question{Number: 20, Name: "run-out-fitted", Title: phrase.Of("questions.qmeasure.run-out-after-fitting-by-disc-batch"),
		Params: spanParams,
		Columns: []Column{colVehicle, colJob, colDate, colStage, figures("attempt", phrase.Of("questions.qmeasure.attempt-2")), column("run-out", "Run-out"), column("verdict", phrase.Of("questions.qmeasure.verdict")), column("position", phrase.Of("questions.qmeasure.position")),
			column("batch", phrase.Of("questions.qmeasure.disc-batch"))}},
	wants: func(a Args, l Line) bool { return l.Tags == nil || slices.Contains(l.Tags.Reckoned, "run-out") },
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Node.Checks {
				if pc := &s.Node.Checks[k]; pc.Reckon == "run-out" {
					p.runOuts(c, s, pc)
				}
			}
		}
	},
	finish: func(p *pass) {
		bad, of := 0, 0
		for _, r := range p.rows {
			if of++; r.carry.(bool) {
				bad++
			}
		}
		p.note("%s", phrase.Of("questions.qmeasure.of-sets-were-outside-and-took-another", bad, of, share(bad, of)))
	},
}

func (p *pass) runOuts(c *job.Card, s *job.StageCard, pc *procedures.PlanCheck) {
	for k := range s.Attempts {
		a := &s.Attempts[k]
		r := brakes.RunOut{}
		var last *job.Entry
		for _, item := range pc.Items {
			e := a.Entry(pc.ID, item)
			if e == nil {
				break
			}
			if last = e; item == procedures.ItemReturn {
				r.Return = e.Value
			} else {
				r.Readings = append(r.Readings, e.Value)
			}
		}
		if last == nil || !p.inSpan(last.At) {
			continue
		}
		tir, err := r.TIR()
		if err != nil {
			p.cannot(c.Number(), "%s", phrase.Of("questions.qmeasure.attempt", job.Title(s.Node), a.No, err))
			continue
		}
		verdict := quantity.Unjudged
		if pc.Window != nil {
			if verdict, err = pc.Window.Window.Judge(tir); err != nil {
				p.cannot(c.Number(), "%s", phrase.Of("questions.qmeasure.attempt", job.Title(s.Node), a.No, err))
			}
		}
		p.carry(c.Number(), last.Seq, verdict == quantity.Outside, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), last.At.Format(dayForm), job.Title(s.Node), fmt.Sprint(a.No), tir.String(),
			verdict.String(), reckonedOn(c, "position", s.Node.Ref.Side), discBatch(c, s.Node.Ref.Side))
	}
}

// reckonedOn is the newest value with a meaning on one side, in words.
func reckonedOn(c *job.Card, reckon string, side procedures.Side) string {
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Node.Checks {
			if pc := &s.Node.Checks[k]; pc.Reckon == reckon && s.Node.Ref.Side == side {
				if e := s.Current().Entry(pc.ID, pc.Items[0]); e != nil {
					return e.Value.String()
				}
			}
		}
	}
	return ""
}

func discBatch(c *job.Card, side procedures.Side) string {
	for _, u := range PartsOf(c) {
		if strings.HasPrefix(u.Check, "disc") && (u.At.Side == side || u.At.Side == procedures.NoSide) {
			return u.Batch
		}
	}
	return ""
}

// rollerFigures are the meanings of the values of a roller test, in the order of the columns.
var rollerFigures = []string{"brake-left", "brake-right", "parking-left", "parking-right", "mass"}

var roller = &question{
	Question: Question{Number: 31, Name: "roller", Title: phrase.Of("questions.qmeasure.roller-test-before-and-after-all-visits"),
		Params: []Param{vehicleParam},
		Columns: []Column{colJob, colDate, colStage, column("left", phrase.Of("questions.qmeasure.left")), column("right", phrase.Of("questions.qmeasure.right")), figures("imbalance", phrase.Of("questions.qmeasure.imbalance")), column("parking-left", phrase.Of("questions.qmeasure.parking-left")),
			column("parking-right", phrase.Of("questions.qmeasure.parking-right")), column("mass", phrase.Of("questions.qmeasure.mass-used")), figures("parking", phrase.Of("questions.qmeasure.parking-efficiency"))}},
	always: true, wants: measuring(rollerFigures...),
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			v, seq := rollerValues(s)
			if seq == 0 {
				continue
			}
			imbalance, parking := "", ""
			if r, err := brakes.Imbalance(v[0], v[1]); err == nil {
				imbalance = r.FloatString(1)
			}
			if r, err := brakes.Efficiency([]quantity.Quantity{v[2], v[3]}, v[4]); err == nil {
				parking = r.FloatString(1)
			}
			p.row(c.Number(), seq, fmt.Sprint(c.Number()), eventAt(c, seq).Format(dayForm), job.Title(s.Node), shown(v[0]), shown(v[1]), imbalance, shown(v[2]), shown(v[3]), shown(v[4]), parking)
		}
	},
}

// rollerValues are the standing values of a roller test at one stage, and the event of the newest.
func rollerValues(s *job.StageCard) (v [5]quantity.Quantity, newest uint32) {
	for k := range s.Node.Checks {
		pc := &s.Node.Checks[k]
		if i := slices.Index(rollerFigures, pc.Reckon); i >= 0 {
			if e := s.Current().Entry(pc.ID, pc.Items[0]); e != nil {
				v[i], newest = e.Value, max(newest, e.Seq)
			}
		}
	}
	return v, newest
}

var oldFluid = &question{
	Question: Question{Number: 30, Name: "old-fluid", Title: phrase.Of("questions.qmeasure.which-vehicles-have-old-brake-fluid-or"),
		Params:  []Param{{Name: "months", Title: phrase.Of("questions.qmeasure.older-than-months"), Kind: Number, Default: "24"}, {Name: "celsius", Title: phrase.Of("questions.qmeasure.boils-below-c"), Kind: Number, Default: "180"}},
		Columns: []Column{colVehicle, colOwner, column("changed", phrase.Of("questions.qmeasure.last-changed")), column("grade", phrase.Of("questions.qmeasure.fluid-then")), column("reading", phrase.Of("questions.qmeasure.last-reading")), column("read-on", phrase.Of("questions.qmeasure.read-on")), column("why", phrase.Of("questions.qmeasure.why"))}},
	always: true,
	perVehicle: func(p *pass, cs []*job.Card) {
		id := cs[0].Opened.Vehicle.ID
		var changed, grade, reading, readOn string
		var last quantity.Quantity
		for _, c := range cs {
			for _, u := range PartsOf(c) {
				if strings.Contains(u.Check, "fluid") {
					changed, grade = u.When.Format(dayForm), strings.TrimSpace(u.Number+" "+u.Mark)
				}
			}
			if v, at, ok := newestReckoned(c, "fluid-boiling"); ok {
				last, reading, readOn = v, v.String(), at
			}
		}
		var why []string
		if changed != "" && changed < p.Now.AddDate(0, -p.Int("months"), 0).Format(dayForm) {
			why = append(why, phrase.Of("questions.qmeasure.older-than-months-2", p.Text("months")))
		}
		if below, err := last.Cmp(quantity.Quantity{Number: p.Text("celsius"), Unit: quantity.Celsius}); !last.IsZero() && err == nil && below < 0 {
			why = append(why, phrase.Of("questions.qmeasure.boils-below-c-2", p.Text("celsius")))
		}
		switch {
		case len(why) > 0:
			p.row(0, 0, id, p.vehicle(id).Owner, changed, grade, reading, readOn, strings.Join(why, ", "))
		case changed == "" && last.IsZero():
			p.cannot(cs[len(cs)-1].Number(), "%s", phrase.Of("questions.qmeasure.vehicle-neither-a-change-nor-a-reading", id))
		}
	},
}

// newestReckoned is the newest standing value of a job with a meaning, and the day it was read.
func newestReckoned(c *job.Card, reckon string) (v quantity.Quantity, on string, ok bool) {
	at := uint32(0)
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Node.Checks {
			pc := &s.Node.Checks[k]
			if pc.Reckon != reckon {
				continue
			}
			if e := s.Current().Entry(pc.ID, pc.Items[0]); e != nil && e.Seq > at && !e.Value.IsZero() {
				v, on, at, ok = e.Value, e.At.Format(dayForm), e.Seq, true
			}
		}
	}
	return v, on, ok
}

var errNoSheet = phrase.Error("questions.qmeasure.no-spec-sheet-with-that-id-is")

var specRevision = &question{
	Question: Question{Number: 25, Name: "spec-revision", Title: phrase.Of("questions.qmeasure.which-jobs-used-a-revision-of-a"),
		Params: withSpan(Param{Name: "sheet", Title: phrase.Of("questions.qmeasure.the-spec-sheet"), Kind: Sheet}, Param{Name: "revision", Title: phrase.Of("questions.qmeasure.only-this-revision"), Kind: Words, Optional: true},
			Param{Name: "lines", Title: phrase.Of("questions.qmeasure.which-values"), Kind: Choice, Options: []string{"differ", "all"}, Default: "differ"}),
		Columns: []Column{colVehicle, colOwner, colJob, colDate, colStage, column("item", phrase.Of("questions.qmeasure.what")), column("value", phrase.Of("questions.qmeasure.value")), column("old", phrase.Of("questions.qmeasure.window-then")), column("old-verdict", phrase.Of("questions.qmeasure.verdict-then")),
			column("new", phrase.Of("questions.qmeasure.window-now")), column("new-verdict", phrase.Of("questions.qmeasure.verdict-now")), column("revision", phrase.Of("questions.qmeasure.revision-then"))}},
	perJob: func(p *pass, c *job.Card) {
		o := c.Opened.Sheet
		if o.ID != p.Text("sheet") || (p.Text("revision") != "" && o.Revision != p.Text("revision")) {
			return
		}
		now, err := p.sheet(o.ID)
		if err != nil {
			p.cannot(c.Number(), "%v", err)
			return
		}
		if now.Revision == o.Revision && p.Text("revision") == "" {
			return
		}
		for _, r := range Rejudged(c, now) {
			if r.Why != "" {
				p.cannot(c.Number(), "%s", phrase.Of("questions.qmeasure.event", r.Seq, r.Why))
				continue
			}
			if !p.inSpan(r.At) || (r.Then == r.Now && p.Text("lines") != "all") {
				continue
			}
			p.row(c.Number(), r.Seq, c.Opened.Vehicle.ID, p.vehicle(c.Opened.Vehicle.ID).Owner, fmt.Sprint(c.Number()), r.At.Format(dayForm), r.Stage, r.Item, r.Value.String(), r.Old.String(),
				r.Then.String(), r.New.String(), r.Now.String(), o.Revision)
		}
	},
}

func (w *World) sheet(id string) (*procedures.Sheet, error) {
	for _, s := range w.Sheets {
		if s.ID == id {
			return s, nil
		}
	}
	return nil, errNoSheet
}

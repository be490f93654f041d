package job

import (
	"math/big"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// fluidRemarks warns of overflow before the pistons go back, asks about a level the wear does not
// explain, and reads the boiling point.
func (c axle) fluidRemarks() []Remark {
	var out []Remark
	if m := first(c.figuresOf(reckonBoiling)); m != nil {
		state, odd, err := brakes.JudgeBoiling(m.values[0], brakes.DemoBoilingLimits())
		if err == nil {
			out = append(out, Remark{Key: "boiling/" + m.at.String(), Stage: m.at, Text: phrase.Of("job.remarkfluid.brake-fluid-boils-at", m.values[0], state)})
			out = append(out, oddities("boiling", m.at, odd)...)
		}
	}
	capacity, ok := c.sheetFact(factReservoir)
	level := first(c.figuresOf(reckonLevel))
	calipers := c.travel()
	if !ok || level == nil || len(calipers) == 0 {
		return out
	}
	reservoir := brakes.Reservoir{Capacity: capacity, Level: level.values[0]}
	if rise, err := reservoir.WhenPistonsGoBack(calipers...); err == nil {
		for _, at := range c.stagesWith(reckonLevelBefore) {
			out = append(out, Remark{Key: "rise/" + at.String(), Stage: at, Text: phrase.Of("job.remarkfluid.when-the-pistons-go-back", rise.Text)})
		}
	}
	// The other axle may hold as much again as this one; what is still missing then has gone somewhere.
	if here, rest, err := reservoir.Unexplained(quantity.Quantity{Number: "0", Unit: quantity.Millilitre}, calipers...); err == nil && rest > here/2 && here > 0 && c.bothSides(calipers) {
		if held := here - rest; rest > held {
			out = append(out, Remark{Key: "leak/" + level.at.String(), Stage: level.at,
				Text: phrase.Of("job.remarkfluid.level-about-ml-are-missing-and-the", level.values[0], here, held),
				Ask:  phrase.Of("job.remarkfluid.was-every-joint-hose-and-cylinder-looked")})
		}
	}
	return out
}

func (c axle) bothSides(calipers []brakes.CaliperTravel) bool { return len(calipers) == 2 }

func (c *Card) stagesWith(reckon string) []procedures.Ref {
	var out []procedures.Ref
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Node.Checks {
			if s.Node.Checks[k].Reckon == reckon && s.Status != LeftOut {
				out = append(out, s.Node.Ref)
			}
		}
	}
	return out
}

// travel is what each measured caliper's piston has followed since pads and disc were new.
func (c axle) travel() []brakes.CaliperTravel {
	piston, ok1 := c.sheetFact(factPiston)
	padNew, ok2 := c.sheetWindow(sheetPadNew)
	if !ok1 || !ok2 {
		return nil
	}
	var out []brakes.CaliperTravel
	discs := c.figuresOf(reckonDisc)
	for _, m := range c.figuresOf(reckonPads) {
		p, ok := padsOf(&m)
		f, err := p.Figures()
		if !ok || err != nil {
			continue
		}
		t := brakes.CaliperTravel{Piston: piston, InnerWear: worn(nominal(padNew), f.Inner), OuterWear: worn(nominal(padNew), f.Outer),
			DiscWear: quantity.Quantity{Number: "0", Unit: quantity.Millimetre}}
		if d := onSide(discs, m.at.Side); d != nil {
			if discNew, ok := c.sheetWindow(sheetDiscNew); ok {
				if df, err := (brakes.DiscReadings{Points: d.values}).Figures(); err == nil {
					t.DiscWear = worn(nominal(discNew), df.Minimum.Rat())
				}
			}
		}
		out = append(out, t)
	}
	return out
}

// worn is what is gone from a new part, never less than nothing.
func worn(full quantity.Quantity, left *big.Rat) quantity.Quantity {
	gone := new(big.Rat).Sub(full.Rat(), left)
	if gone.Sign() < 0 {
		gone.SetInt64(0)
	}
	return quantity.FromRat(gone, quantity.Millimetre, 3)
}

// lessThanBefore compares the roller figures after the work with those before it.
func (c axle) lessThanBefore() []Remark {
	var out []Remark
	for _, x := range []struct{ reckon, name string }{{reckonBrakeLeft, phrase.Of("job.remarkfluid.brake-force-left")}, {reckonBrakeRight, phrase.Of("job.remarkfluid.brake-force-right")},
		{reckonParkLeft, phrase.Of("job.remarkfluid.parking-brake-force-left")}, {reckonParkRight, phrase.Of("job.remarkfluid.parking-brake-force-right")}} {
		sets := c.figuresOf(x.reckon)
		if len(sets) < 2 {
			continue
		}
		after := sets[len(sets)-1]
		if odd, err := brakes.LessThanBefore(x.name, sets[0].values[0], after.values[0]); err == nil {
			for _, o := range odd {
				out = append(out, Remark{Key: "less/" + after.at.String() + "/" + x.reckon, Stage: after.at, Text: phrase.Capital(o.Text)})
			}
		}
	}
	return out
}

// rollerRemarks works out imbalance and parking efficiency beside the tester's own figures, and
// names the mass they rest on.
func (c *Card) rollerRemarks() []Remark {
	out := c.axle().lessThanBefore()
	for _, at := range c.stagesWith(reckonBrakeLeft) {
		s := c.Stage(at)
		a := s.Current()
		if a == nil || a.stale {
			continue
		}
		value := func(reckon string) (quantity.Quantity, bool) {
			m := first(s.measuredIn(a, reckon))
			if m == nil {
				return quantity.Quantity{}, false
			}
			return m.values[0], true
		}
		left, okL := value(reckonBrakeLeft)
		right, okR := value(reckonBrakeRight)
		if okL && okR {
			if p, err := brakes.Imbalance(left, right); err == nil {
				out = append(out, Remark{Key: "imbalance/" + at.String(), Stage: at, Text: phrase.Of("job.remarkfluid.imbalance-of-and", left, right, p.FloatString(1))})
			}
		}
		pl, okPL := value(reckonParkLeft)
		pr, okPR := value(reckonParkRight)
		mass, okM := value(reckonMass)
		if okPL && okPR && okM {
			if p, err := brakes.Efficiency([]quantity.Quantity{pl, pr}, mass); err == nil {
				out = append(out, Remark{Key: "parking/" + at.String(), Stage: at, Text: phrase.Of("job.remarkfluid.parking-brake-and-on-as-presented", pl, pr, mass, p.FloatString(1))})
			}
		}
	}
	return out
}

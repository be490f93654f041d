package reckon

import (
	"math/big"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// ruleFlags name a dated rule set and the vehicle it is asked for.
type ruleFlags struct{ set, on, class, first string }

func (r *ruleFlags) add(f *pflag.FlagSet) {
	f.StringVar(&r.set, "rules", "mot-manual", phrase.Of("reckon.roller.rule-set", strings.Join(ruleSets(), ", ")))
	f.StringVar(&r.on, "on", "", phrase.Of("reckon.roller.day-of-the-test-such-as-2026"))
	f.StringVar(&r.class, "class", "M1", phrase.Of("reckon.roller.vehicle-class"))
	f.StringVar(&r.first, "first-used", "", phrase.Of("reckon.roller.day-of-first-use-the-day-of"))
}

func ruleSets() []string {
	names, err := brakes.RollerRuleSets()
	if err != nil {
		return []string{phrase.Of("reckon.roller.none", err.Error())}
	}
	return names
}

func (r ruleFlags) find(now time.Time) (brakes.RollerRules, brakes.RollerVehicle, error) {
	on := now
	var err error
	if r.on != "" {
		if on, err = day(r.on, "on"); err != nil {
			return brakes.RollerRules{}, brakes.RollerVehicle{}, err
		}
	}
	v := brakes.RollerVehicle{Class: strings.ToUpper(r.class), FirstUsed: on}
	if r.first != "" {
		if v.FirstUsed, err = day(r.first, "first-used"); err != nil {
			return brakes.RollerRules{}, v, err
		}
	}
	rules, err := brakes.RollerRulesOn(r.set, on)
	return rules, v, err
}

func day(text, flag string) (time.Time, error) {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return t, wrong(flag, "%s", phrase.Of("reckon.roller.expected-year-month-day-such-as-2026", flag, text))
	}
	return t, nil
}

func (a *Answer) rules(r brakes.RollerRules, v brakes.RollerVehicle) {
	a.Given.add("rules", phrase.Of("reckon.roller.rule-set-2"), r.Name)
	a.Given.add("in_force", phrase.Of("reckon.roller.in-force-from"), r.InForce.Format(time.DateOnly))
	a.Given.add("class", phrase.Of("reckon.roller.vehicle-class-2"), v.Class)
}

var sourceMOT = phrase.Of("reckon.roller.uk-mot-inspection-manual-1-2-1")

func balanceQuestion(now func() time.Time) *Question {
	var t brakes.AxleTest
	var locked bool
	var rules ruleFlags
	var wheel wheelInputs
	c := &Question{
		Use:     "balance",
		Short:   phrase.Of("reckon.roller.the-imbalance-of-the-two-wheels-of"),
		Example: "  pawl reckon balance --left 2.10 --right 1.65\n  pawl reckon balance --left 250kgf --right 174kgf --steered",
		Long:    phrase.Of("reckon.roller.the-imbalance-of-the-two-wheels-of-2"),
	}
	c.Flags().Var(quantityFlag{&t.Left, quantity.Kilonewton}, "left", phrase.Of("reckon.roller.effort-of-the-left-wheel-facing-forward"))
	c.Flags().Var(quantityFlag{&t.Right, quantity.Kilonewton}, "right", phrase.Of("reckon.roller.effort-of-the-right-wheel"))
	c.Flags().BoolVar(&t.Steered, "steered", false, phrase.Of("reckon.roller.the-axle-is-steered"))
	c.Flags().BoolVar(&locked, "locked", false, phrase.Of("reckon.roller.the-wheel-with-the-lower-effort-locked"))
	wheel.add(c.Flags())
	rules.add(c.Flags())
	c.Needed = []string{"left", "right"}
	return c.answers(func([]string) (Answer, error) {
		set, v, err := rules.find(now())
		if err != nil {
			return Answer{}, err
		}
		order, err := t.Left.Cmp(t.Right)
		if err != nil {
			return Answer{}, err
		}
		t.LeftLocked, t.RightLocked = locked && order <= 0, locked && order >= 0
		r, err := set.JudgeImbalance(v, t)
		if err != nil {
			return Answer{}, err
		}
		a := Answer{Source: []string{phrase.Of("reckon.roller.higher-lower-higher-100-exact"), sourceMOT}}
		a.Given.add("left", phrase.Of("reckon.roller.left"), t.Left)
		a.Given.add("right", phrase.Of("reckon.roller.right"), t.Right)
		a.Given.add("steered", phrase.Of("reckon.roller.steered-axle"), t.Steered)
		a.Given.add("locked", phrase.Of("reckon.roller.lower-wheel-locked"), locked)
		a.rules(set, v)
		a.Result.add("imbalance", phrase.Of("reckon.roller.imbalance"), quantity.FromRat(r.Percent, quantity.Percent, 1))
		a.Result.add("exact", phrase.Of("reckon.roller.exact"), exact(r.Percent))
		a.Result.add("lower_share", phrase.Of("reckon.roller.lower-wheel-of-the-higher"), quantity.FromRat(new(big.Rat).Sub(big.NewRat(100, 1), r.Percent), quantity.Percent, 1))
		a.Result.add("grade", phrase.Of("reckon.roller.grade"), r.Grade.String())
		a.Say = []string{r.Text}
		if err := wheel.judge(&a, set, v); err != nil {
			return Answer{}, err
		}
		return a, a.effortOddities(t.Left, t.Right)
	})
}

// wheelInputs are what one wheel shows besides its effort.
type wheelInputs struct{ most, least, rolling, axleMass quantity.Quantity }

func (w *wheelInputs) add(f *pflag.FlagSet) {
	f.Var(quantityFlag{&w.most, quantity.Kilonewton}, "most", phrase.Of("reckon.roller.largest-effort-of-one-wheel-at-a"))
	f.Var(quantityFlag{&w.least, quantity.Kilonewton}, "least", phrase.Of("reckon.roller.smallest-effort-of-that-wheel"))
	f.Var(quantityFlag{&w.rolling, quantity.Kilonewton}, "rolling", phrase.Of("reckon.roller.rolling-resistance-of-a-wheel-that-is"))
	f.Var(quantityFlag{&w.axleMass, quantity.Kilogram}, "axle-mass", phrase.Of("reckon.roller.mass-on-the-axle"))
}

// judge adds fluctuation and bind to the answer where their figures were given.
func (w *wheelInputs) judge(a *Answer, set brakes.RollerRules, v brakes.RollerVehicle) error {
	add := func(name, label string, figure brakes.RollerFigure, percent *big.Rat, err error) error {
		if err != nil {
			return err
		}
		r, err := set.JudgeMost(figure, v, percent)
		if err != nil {
			return err
		}
		a.Result.add(name, label, quantity.FromRat(percent, quantity.Percent, 1))
		a.Say = append(a.Say, label+": "+r.Text)
		return nil
	}
	switch {
	case w.most.IsZero() != w.least.IsZero():
		return wrong("least", "%s", phrase.Of("reckon.roller.most-and-least-go-together-expected-both"))
	case w.rolling.IsZero() != w.axleMass.IsZero():
		return wrong("axle-mass", "%s", phrase.Of("reckon.roller.rolling-and-axle-mass-go-together-expected"))
	}
	if !w.most.IsZero() {
		p, err := brakes.Fluctuation(w.most, w.least)
		if err := add("fluctuation", phrase.Of("reckon.roller.fluctuation"), brakes.MostFluctuation, p, err); err != nil {
			return err
		}
		a.Given.add("most", phrase.Of("reckon.roller.largest-at-a-steady-pedal"), w.most)
		a.Given.add("least", phrase.Of("reckon.roller.smallest-at-a-steady-pedal"), w.least)
	}
	if !w.rolling.IsZero() {
		p, err := brakes.Bind(w.rolling, w.axleMass)
		if err := add("bind", phrase.Of("reckon.roller.bind"), brakes.MostBind, p, err); err != nil {
			return err
		}
		a.Given.add("rolling", phrase.Of("reckon.roller.rolling-resistance"), w.rolling)
		a.Given.add("axle_mass", phrase.Of("reckon.roller.mass-on-the-axle-2"), w.axleMass)
	}
	return nil
}

// effortOddities asks about efforts that no wheel shows.
func (a *Answer) effortOddities(efforts ...quantity.Quantity) error {
	var odd []brakes.Oddity
	for i, e := range efforts {
		found, err := brakes.EffortOddities(e)
		if err != nil {
			return err
		}
		for _, o := range found {
			o.Point = i + 1
			odd = append(odd, o)
		}
	}
	a.oddities(odd)
	return nil
}

func efficiencyQuestion(now func() time.Time) *Question {
	var q efficiencyInputs
	c := &Question{
		Use:     "efficiency",
		Short:   phrase.Of("reckon.roller.brake-efficiency-from-the-efforts-and-the"),
		Example: "  pawl reckon efficiency --forces 220kgf,220kgf,215kgf,215kgf --mass 1500 --required 58",
		Long:    phrase.Of("reckon.roller.the-sum-of-the-efforts-as-a"),
	}
	c.Flags().Var(listFlag{&q.test.Efforts, quantity.Kilonewton}, "forces", phrase.Of("reckon.roller.efforts-of-all-wheels-of-the-system"))
	c.Flags().Var(quantityFlag{&q.test.Mass, quantity.Kilogram}, "mass", phrase.Of("reckon.roller.mass-as-presented-or-the-one-the"))
	c.Flags().Var(quantityFlag{&q.required, quantity.Percent}, "required", phrase.Of("reckon.roller.figure-to-reach"))
	c.Flags().Var(quantityFlag{&q.plated, quantity.Kilogram}, "plated", phrase.Of("reckon.roller.plated-gross-mass-to-doubt-the-mass"))
	c.Flags().IntVar(&q.test.Locked, "locked", 0, phrase.Of("reckon.roller.how-many-wheels-locked"))
	c.Flags().StringVar(&q.system, "system", "service", phrase.Of("reckon.roller.service-secondary-or-parking"))
	q.rules.add(c.Flags())
	c.Needed = []string{"forces", "mass"}
	return c.answers(func([]string) (Answer, error) { return q.answer(now()) })
}

type efficiencyInputs struct {
	test             brakes.SystemTest
	required, plated quantity.Quantity
	system           string
	rules            ruleFlags
}

func (q efficiencyInputs) answer(now time.Time) (Answer, error) {
	q.test.System = brakes.RollerSystem(q.system)
	switch q.test.System {
	case brakes.Service, brakes.Secondary, brakes.Parking:
	default:
		return Answer{}, wrong("system", "%s", phrase.Of("reckon.roller.system-expected-service-secondary-or-parking", q.system))
	}
	a := Answer{Source: []string{phrase.Of("reckon.roller.f-m-9-80665-m-s-100"), sourceMOT}}
	a.Given.add("forces", phrase.Of("reckon.roller.efforts"), quantities(q.test.Efforts))
	a.Given.add("mass", phrase.Of("reckon.roller.mass"), q.test.Mass)
	a.Given.add("locked", phrase.Of("reckon.roller.wheels-locked"), q.test.Locked)
	var percent *big.Rat
	grade, text := "", ""
	if q.required.IsZero() {
		set, v, err := q.rules.find(now)
		if err != nil {
			return Answer{}, err
		}
		r, err := set.JudgeEfficiency(v, q.test)
		if err != nil {
			return Answer{}, err
		}
		a.Given.add("system", phrase.Of("reckon.roller.system"), q.system)
		a.rules(set, v)
		q.required, _ = set.Value(brakes.LeastEfficiency, v.Class, v.FirstUsed, q.test.System)
		percent, grade, text = r.Percent, r.Grade.String(), r.Text
	} else {
		var err error
		if percent, grade, err = q.grade(); err != nil {
			return Answer{}, err
		}
		text = phrase.Of("reckon.roller.of-required", quantity.FromRat(percent, quantity.Percent, 1), q.test.Mass, q.required, grade)
	}
	sum, err := sumOf(q.test.Efforts)
	if err != nil {
		return Answer{}, err
	}
	a.Result.add("efficiency", phrase.Of("reckon.roller.efficiency"), quantity.FromRat(percent, quantity.Percent, 3))
	a.Result.add("exact", phrase.Of("reckon.roller.exact"), exact(percent))
	a.Result.add("sum", phrase.Of("reckon.roller.sum-of-the-efforts"), sum)
	a.Result.add("required", phrase.Of("reckon.roller.required"), q.required)
	a.Result.add("grade", phrase.Of("reckon.roller.grade"), grade)
	a.Say = []string{text}
	odd, err := brakes.MassOddities(q.test.Mass, q.plated)
	if err != nil {
		return Answer{}, err
	}
	for _, o := range odd {
		a.Say = append(a.Say, o.Text)
	}
	return a, a.effortOddities(q.test.Efforts...)
}

// grade compares with the figure the caller requires, by the words of the MOT manual.
func (q efficiencyInputs) grade() (*big.Rat, string, error) {
	if n := len(q.test.Efforts); q.test.Locked < 0 || q.test.Locked > n {
		return nil, "", wrong("locked", "%s", phrase.Of("reckon.roller.locked-of-wheels-expected-a-number-between", q.test.Locked, n))
	}
	percent, err := brakes.Efficiency(q.test.Efforts, q.test.Mass)
	if err != nil {
		return nil, "", err
	}
	least := q.required.Rat()
	if least.Sign() <= 0 {
		return nil, "", wrong("required", "%s", phrase.Of("reckon.roller.required-expected-more-than-nothing", q.required))
	}
	half := new(big.Rat).Quo(least, big.NewRat(2, 1))
	grade := brakes.GradePass
	switch {
	case percent.Cmp(least) >= 0 || 2*q.test.Locked > len(q.test.Efforts):
	case percent.Cmp(half) < 0:
		grade = brakes.GradeDangerous
	default:
		grade = brakes.GradeMajor
	}
	return percent, grade.String(), nil
}

func sumOf(qs []quantity.Quantity) (quantity.Quantity, error) {
	total := qs[0]
	for _, q := range qs[1:] {
		var err error
		if total, err = total.Add(q); err != nil {
			return total, err
		}
	}
	return total, nil
}

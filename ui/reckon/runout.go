package reckon

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

const sourceHarmonic = "least-squares first harmonic, a = 2/N Σ x cos θ, b = 2/N Σ x sin θ; the vector arithmetic of single-plane balancing (ISO 21940)"

func runoutQuestion() *Question {
	var r brakes.RunOut
	var within, limitTo, hubTIR, hubRadius quantity.Quantity
	var resolution quantity.Quantity
	c := &Question{
		Use:     "runout",
		Short:   "Run-out, its tilt and what is left, from one turn of dial readings",
		Example: "  pawl reckon runout --points '0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04' --return 0 --limit 0.08",
		Long: `The run-out of one turn of equally spaced dial readings, the first at stud 1 and
signs counted: largest less smallest, the once-per-turn tilt by least squares,
and what is left of it. Readings in another unit carry it, such as 14µm.

Result: tir; verdict with --limit; returned and return_miss with --return; tilt
with tir, amplitude, high_spot in degrees from the first reading; residual; left,
the share of the run-out that is no tilt; waved; hub_at_disc with --hub-tir,
--hub-radius and --radius; oddities.`,
	}
	f := c.Flags()
	f.Var(listFlag{&r.Readings, quantity.Millimetre}, "points", "dial readings in the order taken")
	f.Var(quantityFlag{&r.Return, quantity.Millimetre}, "return", "the dial back at the start")
	f.Var(quantityFlag{&within, quantity.Millimetre}, "return-within", "tolerance of the return; 0.01 mm when not given")
	f.Var(quantityFlag{&limitTo, quantity.Millimetre}, "limit", "most run-out")
	f.Var(quantityFlag{&resolution, quantity.Millimetre}, "resolution", "smallest step of the gauge")
	f.Var(quantityFlag{&hubTIR, quantity.Millimetre}, "hub-tir", "run-out of the hub face")
	f.Var(quantityFlag{&hubRadius, quantity.Millimetre}, "hub-radius", "radius at which the hub was measured")
	f.Var(quantityFlag{&r.Radius, quantity.Millimetre}, "radius", "radius at which the disc is measured")
	c.Needed = []string{"points"}
	return c.answers(func([]string) (Answer, error) {
		w, err := limit("<=", limitTo)
		if err != nil {
			return Answer{}, err
		}
		if within.IsZero() {
			within = quantity.Quantity{Number: "0.01", Unit: quantity.Millimetre}
		}
		a, err := runout(r, w, within, resolution)
		if err != nil {
			return Answer{}, err
		}
		return a, a.hubAtDisc(hubTIR, hubRadius, r.Radius)
	})
}

func runout(r brakes.RunOut, w quantity.Window, within, resolution quantity.Quantity) (Answer, error) {
	tir, err := r.TIR()
	if err != nil {
		return Answer{}, err
	}
	h, err := r.Harmonic()
	if err != nil {
		return Answer{}, err
	}
	odd, err := r.Oddities(brakes.RunOutContext{Points: len(r.Readings), Limit: w, ReturnWithin: within,
		Instrument: brakes.Instrument{Resolution: resolution}})
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Source: []string{"TIR: largest less smallest reading, exact", sourceHarmonic, "waved above half, return to start: common practice, no source"}}
	a.Given.add("points", "Readings", quantities(r.Readings))
	a.Given.add("return", "Back at the start", r.Return)
	a.Given.add("limit", "Limit", w.String())
	a.Result.add("tir", "Run-out (TIR)", tir)
	a.Picture = Turn{Readings: inUnit(quantity.Millimetre, r.Readings...), TIR: tir, Tilt: h}
	verdict := quantity.Unjudged
	if !w.IsZero() {
		if verdict, err = w.Judge(tir); err != nil {
			return Answer{}, err
		}
		a.Say = append(a.Say, fmt.Sprintf("The run-out of %s is %s %s", tir, verdict, w))
	}
	a.Result.add("verdict", "Verdict", verdict.String())
	if !r.Return.IsZero() {
		ok, miss, err := r.Returned(within)
		if err != nil {
			return Answer{}, err
		}
		a.Result.add("returned", "Gauge came back", ok)
		a.Result.add("return_miss", "Missed by", miss)
	}
	a.Result.add("tilt_tir", "Tilt alone, TIR", approx(h.TIR, quantity.Millimetre, 4))
	a.Result.add("amplitude", "Amplitude of the tilt", approx(h.Amplitude, quantity.Millimetre, 5))
	a.Result.add("high_spot", "High spot, from stud 1", approx(h.HighSpot, quantity.Degree, 1))
	a.Result.add("residual", "Largest distance from it", approx(h.Residual, quantity.Millimetre, 5))
	a.Result.add("left", "Share that is no tilt", decimal(h.Left, 3))
	a.Result.add("waved", "Waved rather than tilted", h.Waved())
	if h.Waved() {
		a.Say = append(a.Say, "More than half of the run-out stays when the tilt is taken out: the disc is waved, not tilted, and indexing will not help")
	} else {
		a.Say = append(a.Say, fmt.Sprintf("The disc is tilted, high spot at %s from stud 1", approx(h.HighSpot, quantity.Degree, 0)))
	}
	a.oddities(odd)
	return a, nil
}

// hubAtDisc scales the run-out of a hub to the radius of the disc gauge.
func (a *Answer) hubAtDisc(tir, hubRadius, discRadius quantity.Quantity) error {
	if tir.IsZero() && hubRadius.IsZero() {
		return nil
	}
	at, err := brakes.HubAtDisc(tir, hubRadius, discRadius)
	if err != nil {
		return err
	}
	a.Given.add("hub_tir", "Run-out of the hub", tir)
	a.Given.add("hub_radius", "Measured at radius", hubRadius)
	a.Given.add("radius", "Disc measured at radius", discRadius)
	a.Result.add("hub_at_disc", "Hub's part at the disc", at)
	a.Say = append(a.Say, fmt.Sprintf("The hub alone makes %s at %s", Round(at, 3), discRadius))
	a.Source = append(a.Source, "hub TIR · disc radius ÷ hub radius: similar triangles")
	return nil
}

func indexQuestion() *Question {
	var studs, screws int
	var at []string
	var permitted string
	var limitTo quantity.Quantity
	c := &Question{
		Use:   "index",
		Short: "Which stud position cures a run-out, from two or more mountings",
		Example: "  pawl reckon index --studs 6 --screws 2 --limit 0.08 \\\n" +
			"    --at '0=0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04' --at '2=0 .01 .01 .01 .02 .01 0 -.01 -.01 -.01 -.02 -.01'",
		Long: `Hub and disc apart from two or more mountings, and the run-out to expect in
every stud position. --at K=… gives the readings with the disc turned by K studs
in the direction of counting; in every mounting the first reading is at stud 1 of
the hub. The prediction proposes; the disc is fitted there and measured again.

Result: hub and disc, each tir and angle alone; positions, each with turned,
degrees, tir and permitted; best; cures with --limit; misfit with three or more
mountings.`,
	}
	f := c.Flags()
	f.IntVar(&studs, "studs", 0, "number of wheel studs or bolts")
	f.StringArrayVar(&at, "at", nil, "K=readings, once for each mounting")
	f.StringVar(&permitted, "permitted", "", "stud positions that fit, such as 0,3; all when not given")
	f.IntVar(&screws, "screws", -1, "disc screws (0, 1, or 2 opposite): what fits follows from them")
	f.Var(quantityFlag{&limitTo, quantity.Millimetre}, "limit", "most run-out")
	c.Needed = []string{"studs", "at"}
	return c.answers(func([]string) (Answer, error) {
		fits, err := positions(studs, screws, permitted)
		if err != nil {
			return Answer{}, err
		}
		return index(studs, at, fits, limitTo)
	})
}

// positions works out which stud positions fit.
func positions(studs, screws int, permitted string) ([]int, error) {
	switch {
	case permitted != "" && screws >= 0:
		return nil, wrong("permitted screws", "give one of --permitted and --screws")
	case permitted == "" && screws < 0:
		screws = 0
	case permitted != "":
		var out []int
		for _, part := range strings.FieldsFunc(permitted, func(r rune) bool { return r == ',' || r == ' ' }) {
			k, err := Whole(part, "--permitted")
			if err != nil {
				return nil, wrong("permitted", "%w", err)
			}
			if k >= studs {
				return nil, wrong("permitted", "--permitted: position %d of %d studs; expected 0 to %d", k, studs, studs-1)
			}
			out = append(out, k)
		}
		return out, nil
	}
	return brakes.PermittedPositions(studs, screws)
}

// mounting reads the studs turned and the readings of one turn.
func mounting(text string) (turned int, readings []quantity.Quantity, err error) {
	key, points, ok := strings.Cut(text, "=")
	if !ok {
		return 0, nil, wrong("at", "--at: %q; expected the studs turned, = and the readings, such as '2=0 .01 .02'", text)
	}
	if turned, err = Whole(key, "--at"); err != nil {
		return 0, nil, wrong("at", "%w", err)
	}
	if readings, err = list(strings.TrimSpace(points), quantity.Millimetre); err != nil {
		return 0, nil, wrong("at", "--at %d: %w", turned, err)
	}
	return turned, readings, nil
}

func index(studs int, at []string, fits []int, limitTo quantity.Quantity) (Answer, error) {
	var mountings []brakes.Mounting
	a := Answer{Source: []string{"D = (Mk − M0)/(e^{jα} − 1), H = M0 − D, TIR(k) = 2·|H + D·e^{jα}|: index test of single-plane balancing (ISO 21940)", sourceHarmonic}}
	a.Given.add("studs", "Studs", studs)
	given := Grid{Keys: []string{"turned", "readings"}, Titles: []string{"Turned", "Readings"}}
	for _, text := range at {
		k, readings, err := mounting(text)
		if err != nil {
			return Answer{}, err
		}
		tilt, err := brakes.RunOut{Readings: readings}.Harmonic()
		if err != nil {
			return Answer{}, wrong("at", "--at %d: %w", k, err)
		}
		mountings = append(mountings, brakes.Mounting{Turned: k, Tilt: tilt})
		given.Lines = append(given.Lines, []any{k, quantities(readings)})
	}
	a.Given.add("at", "Mountings", given)
	s, err := brakes.Separate(studs, mountings)
	if err != nil {
		return Answer{}, err
	}
	hub, hubAngle, disc, discAngle := s.Parts()
	a.Result.add("hub_tir", "Hub alone, TIR", approx(hub, quantity.Millimetre, 4))
	a.Result.add("hub_angle", "Its high spot", approx(hubAngle, quantity.Degree, 1))
	a.Result.add("disc_tir", "Disc alone, TIR", approx(disc, quantity.Millimetre, 4))
	a.Result.add("disc_angle", "Its high spot", approx(discAngle, quantity.Degree, 1))
	a.Result.add("misfit", "Misfit of the mountings", approx(s.Misfit, quantity.Millimetre, 4))
	g := Grid{Keys: []string{"turned", "degrees", "tir", "permitted"}, Titles: []string{"Turned", "Angle", "Expected TIR", "Fits"}}
	best, least := -1, 0.0
	predicted := s.Predict(fits)
	for _, x := range predicted {
		g.Lines = append(g.Lines, []any{x.Turned, approx(x.Degrees, quantity.Degree, 1), approx(x.TIR, quantity.Millimetre, 4), x.Permitted})
		if x.Permitted && (best < 0 || x.TIR < least) {
			best, least = x.Turned, x.TIR
		}
	}
	a.Result.add("best", "Best position that fits", best)
	a.Picture = Studs{Positions: predicted, Limit: limitTo, Best: best}
	if !limitTo.IsZero() {
		w, err := limit("<=", limitTo)
		if err != nil {
			return Answer{}, err
		}
		advice, err := s.Advise(fits, w)
		if err != nil {
			return Answer{}, err
		}
		a.Given.add("limit", "Limit", w.String())
		a.Result.add("cures", "Cures it", advice.Cures)
		a.Say = append(a.Say, advice.Text)
	} else if best >= 0 {
		a.Say = append(a.Say, fmt.Sprintf("Best position that fits: turned by %d of %d studs, %s expected; fit it so and measure again", best, studs, approx(least, quantity.Millimetre, 3)))
	}
	a.Result.add("positions", "Every stud position", g)
	return a, nil
}

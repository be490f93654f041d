package reckon

import (
	"strings"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

var sourceHarmonic = phrase.Of("reckon.runout.least-squares-first-harmonic-a-2-n")

func runoutQuestion() *Question {
	var r brakes.RunOut
	var within, limitTo, hubTIR, hubRadius quantity.Quantity
	var resolution quantity.Quantity
	c := &Question{
		Use:     "runout",
		Short:   phrase.Of("reckon.runout.run-out-its-tilt-and-what-is"),
		Example: "  pawl reckon runout --points '0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04' --return 0 --limit 0.08",
		Long:    phrase.Of("reckon.runout.the-run-out-of-one-turn-of"),
	}
	f := c.Flags()
	f.Var(listFlag{&r.Readings, quantity.Millimetre}, "points", phrase.Of("reckon.runout.dial-readings-in-the-order-taken"))
	f.Var(quantityFlag{&r.Return, quantity.Millimetre}, "return", phrase.Of("reckon.runout.the-dial-back-at-the-start"))
	f.Var(quantityFlag{&within, quantity.Millimetre}, "return-within", phrase.Of("reckon.runout.tolerance-of-the-return-0-01-mm"))
	f.Var(quantityFlag{&limitTo, quantity.Millimetre}, "limit", phrase.Of("reckon.runout.most-run-out"))
	f.Var(quantityFlag{&resolution, quantity.Millimetre}, "resolution", phrase.Of("reckon.runout.smallest-step-of-the-gauge"))
	f.Var(quantityFlag{&hubTIR, quantity.Millimetre}, "hub-tir", phrase.Of("reckon.runout.run-out-of-the-hub-face"))
	f.Var(quantityFlag{&hubRadius, quantity.Millimetre}, "hub-radius", phrase.Of("reckon.runout.radius-at-which-the-hub-was-measured"))
	f.Var(quantityFlag{&r.Radius, quantity.Millimetre}, "radius", phrase.Of("reckon.runout.radius-at-which-the-disc-is-measured"))
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
	a := Answer{Source: []string{phrase.Of("reckon.runout.tir-largest-less-smallest-reading-exact"), sourceHarmonic, phrase.Of("reckon.runout.waved-above-half-return-to-start-common")}}
	a.Given.add("points", phrase.Of("reckon.runout.readings"), quantities(r.Readings))
	a.Given.add("return", phrase.Of("reckon.runout.back-at-the-start"), r.Return)
	a.Given.add("limit", phrase.Of("reckon.runout.limit"), w.String())
	a.Result.add("tir", phrase.Of("reckon.runout.run-out-tir"), tir)
	a.Picture = Turn{Readings: inUnit(quantity.Millimetre, r.Readings...), TIR: tir, Tilt: h}
	verdict := quantity.Unjudged
	if !w.IsZero() {
		if verdict, err = w.Judge(tir); err != nil {
			return Answer{}, err
		}
		a.Say = append(a.Say, phrase.Of("reckon.runout.the-run-out-of-is", tir, verdict, w))
	}
	a.Result.add("verdict", phrase.Of("reckon.runout.verdict"), verdict.String())
	if !r.Return.IsZero() {
		ok, miss, err := r.Returned(within)
		if err != nil {
			return Answer{}, err
		}
		a.Result.add("returned", phrase.Of("reckon.runout.gauge-came-back"), ok)
		a.Result.add("return_miss", phrase.Of("reckon.runout.missed-by"), miss)
	}
	a.Result.add("tilt_tir", phrase.Of("reckon.runout.tilt-alone-tir"), approx(h.TIR, quantity.Millimetre, 4))
	a.Result.add("amplitude", phrase.Of("reckon.runout.amplitude-of-the-tilt"), approx(h.Amplitude, quantity.Millimetre, 5))
	a.Result.add("high_spot", phrase.Of("reckon.runout.high-spot-from-stud-1"), approx(h.HighSpot, quantity.Degree, 1))
	a.Result.add("residual", phrase.Of("reckon.runout.largest-distance-from-it"), approx(h.Residual, quantity.Millimetre, 5))
	a.Result.add("left", phrase.Of("reckon.runout.share-that-is-no-tilt"), decimal(h.Left, 3))
	a.Result.add("waved", phrase.Of("reckon.runout.waved-rather-than-tilted"), h.Waved())
	if h.Waved() {
		a.Say = append(a.Say, phrase.Of("reckon.runout.more-than-half-of-the-run-out"))
	} else {
		a.Say = append(a.Say, phrase.Of("reckon.runout.the-disc-is-tilted-high-spot-at", approx(h.HighSpot, quantity.Degree, 0)))
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
	a.Given.add("hub_tir", phrase.Of("reckon.runout.run-out-of-the-hub"), tir)
	a.Given.add("hub_radius", phrase.Of("reckon.runout.measured-at-radius"), hubRadius)
	a.Given.add("radius", phrase.Of("reckon.runout.disc-measured-at-radius"), discRadius)
	a.Result.add("hub_at_disc", phrase.Of("reckon.runout.hubs-part-at-the-disc"), at)
	a.Say = append(a.Say, phrase.Of("reckon.runout.the-hub-alone-makes-at", Round(at, 3), discRadius))
	a.Source = append(a.Source, phrase.Of("reckon.runout.hub-tir-disc-radius-hub-radius-similar"))
	return nil
}

func indexQuestion() *Question {
	var studs, screws int
	var at []string
	var permitted string
	var limitTo quantity.Quantity
	c := &Question{
		Use:   "index",
		Short: phrase.Of("reckon.runout.which-stud-position-cures-a-run-out"),
		Example: phrase.Of("reckon.runout.pawl-reckon-index-studs-6-screws-2") +
			phrase.Of("reckon.runout.at-0-0-02-02-01-01"),
		Long: phrase.Of("reckon.runout.hub-and-disc-apart-from-two-or"),
	}
	f := c.Flags()
	f.IntVar(&studs, "studs", 0, phrase.Of("reckon.runout.number-of-wheel-studs-or-bolts"))
	f.StringArrayVar(&at, "at", nil, phrase.Of("reckon.runout.k-readings-once-for-each-mounting"))
	f.StringVar(&permitted, "permitted", "", phrase.Of("reckon.runout.stud-positions-that-fit-such-as-0"))
	f.IntVar(&screws, "screws", -1, phrase.Of("reckon.runout.disc-screws-0-1-or-2-opposite"))
	f.Var(quantityFlag{&limitTo, quantity.Millimetre}, "limit", phrase.Of("reckon.runout.most-run-out"))
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
		return nil, wrong("permitted screws", "%s", phrase.Of("reckon.runout.give-one-of-permitted-and-screws"))
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
				return nil, wrong("permitted", "%s", phrase.Of("reckon.runout.permitted-position-of-studs-expected-0-to", k, studs, studs-1))
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
		return 0, nil, wrong("at", "%s", phrase.Of("reckon.runout.at-expected-the-studs-turned-and-the", text))
	}
	if turned, err = Whole(key, "--at"); err != nil {
		return 0, nil, wrong("at", "%w", err)
	}
	if readings, err = list(strings.TrimSpace(points), quantity.Millimetre); err != nil {
		return 0, nil, wrong("at", "%w", phrase.Error("reckon.runout.at", turned, err))
	}
	return turned, readings, nil
}

func index(studs int, at []string, fits []int, limitTo quantity.Quantity) (Answer, error) {
	var mountings []brakes.Mounting
	a := Answer{Source: []string{phrase.Of("reckon.runout.d-mk-m0-e-j-1-h"), sourceHarmonic}}
	a.Given.add("studs", phrase.Of("reckon.runout.studs"), studs)
	given := Grid{Keys: []string{"turned", "readings"}, Titles: []string{phrase.Of("reckon.runout.turned"), phrase.Of("reckon.runout.readings")}}
	for _, text := range at {
		k, readings, err := mounting(text)
		if err != nil {
			return Answer{}, err
		}
		tilt, err := brakes.RunOut{Readings: readings}.Harmonic()
		if err != nil {
			return Answer{}, wrong("at", "%w", phrase.Error("reckon.runout.at", k, err))
		}
		mountings = append(mountings, brakes.Mounting{Turned: k, Tilt: tilt})
		given.Lines = append(given.Lines, []any{k, quantities(readings)})
	}
	a.Given.add("at", phrase.Of("reckon.runout.mountings"), given)
	s, err := brakes.Separate(studs, mountings)
	if err != nil {
		return Answer{}, err
	}
	hub, hubAngle, disc, discAngle := s.Parts()
	a.Result.add("hub_tir", phrase.Of("reckon.runout.hub-alone-tir"), approx(hub, quantity.Millimetre, 4))
	a.Result.add("hub_angle", phrase.Of("reckon.runout.its-high-spot"), approx(hubAngle, quantity.Degree, 1))
	a.Result.add("disc_tir", phrase.Of("reckon.runout.disc-alone-tir"), approx(disc, quantity.Millimetre, 4))
	a.Result.add("disc_angle", phrase.Of("reckon.runout.its-high-spot"), approx(discAngle, quantity.Degree, 1))
	a.Result.add("misfit", phrase.Of("reckon.runout.misfit-of-the-mountings"), approx(s.Misfit, quantity.Millimetre, 4))
	g := Grid{Keys: []string{"turned", "degrees", "tir", "permitted"}, Titles: []string{phrase.Of("reckon.runout.turned"), phrase.Of("reckon.runout.angle"), phrase.Of("reckon.runout.expected-tir"), phrase.Of("reckon.runout.fits")}}
	best, least := -1, 0.0
	predicted := s.Predict(fits)
	for _, x := range predicted {
		g.Lines = append(g.Lines, []any{x.Turned, approx(x.Degrees, quantity.Degree, 1), approx(x.TIR, quantity.Millimetre, 4), x.Permitted})
		if x.Permitted && (best < 0 || x.TIR < least) {
			best, least = x.Turned, x.TIR
		}
	}
	a.Result.add("best", phrase.Of("reckon.runout.best-position-that-fits"), best)
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
		a.Given.add("limit", phrase.Of("reckon.runout.limit"), w.String())
		a.Result.add("cures", phrase.Of("reckon.runout.cures-it"), advice.Cures)
		a.Say = append(a.Say, advice.Text)
	} else if best >= 0 {
		a.Say = append(a.Say, phrase.Of("reckon.runout.best-position-that-fits-turned-by-of", best, studs, approx(least, quantity.Millimetre, 3)))
	}
	a.Result.add("positions", phrase.Of("reckon.runout.every-stud-position"), g)
	return a, nil
}

package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// PadContext is what is known beside the readings when they are doubted.
type PadContext struct {
	New   quantity.Quantity // friction of a new pad
	Over  quantity.Quantity // allowed above New, for example 0.3 mm
	Plate quantity.Quantity // thickness of the backing plate; zero when not known
}

// Oddities lists what a careful colleague would ask about the four readings.
// The thresholds are common practice, no source.
func (p Pads) Oddities(c PadContext) ([]Oddity, error) {
	if _, err := p.Figures(); err != nil {
		return nil, err
	}
	full, err := exactIn(c.New, quantity.Millimetre, phrase.Of("brakes.padoddity.new-pad"))
	if err != nil {
		return nil, err
	}
	most := full
	if !c.Over.IsZero() {
		extra, err := exactIn(c.Over, quantity.Millimetre, phrase.Of("brakes.padoddity.allowance-above-a-new-pad"))
		if err != nil {
			return nil, err
		}
		most = plus(full, extra)
	}
	plate := new(big.Rat)
	if !c.Plate.IsZero() {
		if plate, err = exactIn(c.Plate, quantity.Millimetre, phrase.Of("brakes.padoddity.backing-plate")); err != nil {
			return nil, err
		}
	}
	qs, names := p.all()
	mm, err := exactAllIn(qs[:], quantity.Millimetre)
	if err != nil {
		return nil, err
	}
	var odd []Oddity
	for i, v := range mm {
		switch {
		case v.Sign() == 0:
			odd = append(odd, Oddity{Code: CodeNotMeasured, Point: i + 1, Refused: true,
				Text: phrase.Of("brakes.padoddity.reads-worn-to-the-plate-or-not", names[i], qs[i])})
		case v.Cmp(most) <= 0:
		case plate.Sign() > 0 && within(minus(v, plate), new(big.Rat), most):
			odd = append(odd, Oddity{Code: CodeBackingPlate, Point: i + 1,
				Text: phrase.Of("brakes.padoddity.is-thicker-than-a-new-pad-backing", names[i], qs[i], c.New, asQuantity(minus(v, plate), quantity.Millimetre))})
		default:
			if code, hint := lengthSlip(qs[i], ratio(1, 10), most); code != "" {
				odd = append(odd, Oddity{Code: code, Point: i + 1, Text: names[i] + " " + hint})
				break
			}
			odd = append(odd, Oddity{Code: CodeThickerThanNew, Point: i + 1,
				Text: phrase.Of("brakes.padoddity.is-thicker-than-a-new-pad-measure", names[i], qs[i], c.New)})
		}
	}
	if plate.Sign() > 0 && len(odd) == 0 {
		odd = append(odd, mixedPlate(mm, plate)...)
	}
	return odd, nil
}

// mixedPlate finds two groups of readings about one backing plate apart: some
// were read with the plate and some without.
func mixedPlate(mm []*big.Rat, plate *big.Rat) []Oddity {
	low, high, _ := extremes(mm)
	if minus(high, low).Cmp(over(plate, ratio(2, 1))) <= 0 {
		return nil
	}
	middle := over(plus(low, high), ratio(2, 1))
	var thin, thick []*big.Rat
	for _, v := range mm {
		if v.Cmp(middle) < 0 {
			thin = append(thin, v)
		} else {
			thick = append(thick, v)
		}
	}
	for _, group := range [][]*big.Rat{thin, thick} {
		if least, most, _ := extremes(group); minus(most, least).Cmp(ratio(1, 1)) > 0 {
			return nil
		}
	}
	apart := minus(meanOf(thick), meanOf(thin))
	if magnitude(minus(apart, plate)).Cmp(ratio(1, 2)) > 0 {
		return nil
	}
	return []Oddity{{Code: CodeBackingPlate,
		Text: phrase.Of("brakes.padoddity.two-groups-apart-about-one-backing-plate", shown(apart, quantity.Millimetre, 1))}}
}

// SidesExchanged compares the thinnest pads with the last visit. It asks when
// one side grew by more than the uncertainty while, read crosswise, neither
// did.
func SidesExchanged(lastLeft, lastRight, nowLeft, nowRight, uncertainty quantity.Quantity) ([]Oddity, error) {
	rs, err := exactAllIn([]quantity.Quantity{lastLeft, lastRight, nowLeft, nowRight, uncertainty}, quantity.Millimetre)
	if err != nil {
		return nil, err
	}
	grew := func(last, now *big.Rat) bool { return minus(now, last).Cmp(rs[4]) > 0 }
	straight := grew(rs[0], rs[2]) || grew(rs[1], rs[3])
	crosswise := grew(rs[0], rs[3]) || grew(rs[1], rs[2])
	if !straight || crosswise {
		return nil, nil
	}
	return []Oddity{{Code: CodeSidesSwapped,
		Text: phrase.Of("brakes.padoddity.last-left-right-now-left-right-crosswise", lastLeft, lastRight, nowLeft, nowRight)}}, nil
}

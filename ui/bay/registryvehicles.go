package bay

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

func (s *registry) vehicle() (register.Vehicle, bool) {
	if i := s.at[tabVehicles]; i < len(s.stock.vehicles) {
		return s.stock.vehicles[i], true
	}
	return register.Vehicle{}, false
}

func (s *registry) vehicleKeys(e *Env) []Binding {
	off := mayDo(e, procedures.Mechanic, phrase.Of("bay.registryvehicles.changes-the-vehicles"))
	change, read := off, ""
	if _, ok := s.vehicle(); !ok {
		change, read = phrase.Of("bay.registryvehicles.there-is-no-vehicle-on-this-list"), phrase.Of("bay.registryvehicles.there-is-no-vehicle-on-this-list")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.registryvehicles.odometer"), Off: read, Bar: true}, {Key: "A", Word: phrase.Of("bay.registryvehicles.add"), Off: off, Bar: true}, {Key: "E", Word: phrase.Of("bay.registryvehicles.change"), Off: change, Bar: true}}
}

func (s *registry) vehicleKey(e *Env, k Key) Action {
	v, _ := s.vehicle()
	written := func(register.Vehicle) Action { return Pop{} }
	switch {
	case k.Sym == Enter:
		return Ask{Name: "odometer", Dialog: newPane(phrase.Of("bay.registryvehicles.odometer-of", v.ID), odometerLines(e, v)...)}
	case k.Letter() == 'A':
		return Push{newVehiclePage(e, s.stock, nil, written)}
	case k.Letter() == 'E':
		return Push{newVehiclePage(e, s.stock, &v, written)}
	}
	return Unknown{}
}

// odometerLines is every reading of a vehicle, the newest first.
func odometerLines(e *Env, v register.Vehicle) []line {
	var out []line
	if len(v.Odometer) == 0 {
		out = append(out, line{text: phrase.Of("bay.registryvehicles.no-reading-yet-the-first-job-takes")})
	}
	for i := len(v.Odometer) - 1; i >= 0; i-- {
		o := v.Odometer[i]
		text := fmt.Sprintf("%s  %s  %s", o.Date, e.number(o.Value), visit(o))
		if i > 0 {
			if d, err := o.Value.Sub(v.Odometer[i-1].Value); err == nil {
				text += phrase.Of("bay.registryvehicles.since", e.number(d))
			}
		}
		out = append(out, line{text: text})
	}
	return out
}

// visit is where a reading comes from.
func visit(o register.OdometerReading) string {
	if o.Job == 0 {
		return phrase.Of("bay.registryvehicles.from-before-this-file")
	}
	return phrase.Of("bay.registryvehicles.for-job", o.Job)
}

// vehicleLines is what is known of a vehicle besides its odometer.
func (s *registry) vehicleLines(v register.Vehicle) []line {
	out := []line{{role: draw.Title, text: v.ID + "  " + v.Name}}
	if v.Demo {
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.registryvehicles.demo-this-vehicle-is-invented")})
	}
	vin := phrase.Of("bay.registryvehicles.vehicle-number", v.VIN)
	if v.VIN == "" {
		vin = phrase.Of("bay.registryvehicles.no-vehicle-number-is-written-down")
	} else if doubt := vinRemark(v.VIN); doubt != "" {
		vin += ". " + doubt
	}
	out = append(out, line{text: vin})
	if sh := s.stock.sheet(v.Sheet); sh != nil {
		out = append(out, line{text: phrase.Of("bay.registryvehicles.spec-sheet-revision", sh.Title, sh.Revision)})
	} else {
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.registryvehicles.the-spec-sheet-is-not-in-use", v.Sheet)})
	}
	var traits []string
	for _, id := range slices.Sorted(maps.Keys(v.Traits)) {
		traits = append(traits, s.traitTitle(id)+": "+v.Traits[id])
	}
	if len(traits) == 0 {
		traits = []string{phrase.Of("bay.registryvehicles.as-the-spec-sheet-says")}
	}
	return append(out, line{text: phrase.Of("bay.registryvehicles.traits", strings.Join(traits, "; ")), indent: 2})
}

func (s *registry) traitTitle(id string) string {
	for _, p := range s.stock.procedures {
		for _, t := range p.Traits {
			if t.ID == id {
				return t.Title
			}
		}
	}
	return id
}

func (s *registry) vehicleList(e *Env, tb draw.Table) (draw.Table, []line) {
	tb.Empty = phrase.Of("bay.registryvehicles.no-vehicle-is-on-the-register-yet")
	tb.Headings = []draw.Heading{{Title: phrase.Of("bay.registryvehicles.vehicle")}, {Title: phrase.Of("bay.registryvehicles.name")}, {Title: phrase.Of("bay.registryvehicles.owner")}, {Title: phrase.Of("bay.registryvehicles.odometer"), Right: true}, {Title: phrase.Of("bay.registryvehicles.on")}, {Title: phrase.Of("bay.registryvehicles.in-the-bay")}}
	for _, v := range s.stock.vehicles {
		km, on, in := phrase.Of("bay.registryvehicles.none-yet"), "", ""
		if o, ok := v.LastOdometer(); ok {
			km, on = e.number(o.Value), o.Date
		}
		if n := s.stock.busy[v.ID]; n != 0 {
			in = phrase.Of("bay.registryvehicles.job", n)
		}
		tb.Rows = append(tb.Rows, cells(v.ID, v.Name, v.Owner, km, on, in))
	}
	v, ok := s.vehicle()
	if !ok {
		return tb, nil
	}
	return tb, s.vehicleLines(v)
}

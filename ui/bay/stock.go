package bay

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// stock is what the screens about vehicles read of the file at once.
type stock struct {
	vehicles   []register.Vehicle
	sheets     []*procedures.Sheet
	procedures []*procedures.Procedure
	busy       map[string]uint64 // vehicle id: its job that is not closed
}

// readStock reads it; f.Jobs is the only part that can fail.
func readStock(f *store.File) (any, error) {
	st := stock{vehicles: f.Vehicles(), sheets: f.Sheets(), procedures: f.Procedures(), busy: map[string]uint64{}}
	all, err := f.Jobs()
	for _, j := range all {
		if j.Status != store.Closed && !j.Practice {
			st.busy[j.Vehicle.ID] = j.Number
		}
	}
	return st, err
}

func (st stock) sheet(id string) *procedures.Sheet {
	for _, s := range st.sheets {
		if s.ID == id {
			return s
		}
	}
	return nil
}

func (st stock) procedure(id string) *procedures.Procedure {
	for _, p := range st.procedures {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// vehicle is the one that goes by a number or by its vehicle identification number.
func (st stock) vehicle(text string) (register.Vehicle, bool) {
	for _, v := range st.vehicles {
		if strings.EqualFold(v.ID, text) || (v.VIN != "" && strings.EqualFold(v.VIN, text)) {
			return v, true
		}
	}
	return register.Vehicle{}, false
}

// served lists the procedures that the sheet says it serves.
func (st stock) served(sheet *procedures.Sheet) []*procedures.Procedure {
	var out []*procedures.Procedure
	for _, p := range st.procedures {
		if sheet == nil || sheet.ServesProcedure(p.ID) {
			out = append(out, p)
		}
	}
	return out
}

// vehicleRows lists the vehicles for a finder.
func (st stock) vehicleRows(e *Env) []findRow {
	var out []findRow
	for _, v := range st.vehicles {
		last := phrase.Of("bay.stock.none-yet")
		if o, ok := v.LastOdometer(); ok {
			last = e.number(o.Value)
		}
		in := ""
		if n := st.busy[v.ID]; n != 0 {
			in = phrase.Of("bay.stock.job", n)
		}
		name := v.Name
		if v.Demo && !e.Workshop.Demo {
			name += phrase.Of("bay.stock.demo")
		}
		out = append(out, findRow{cells: []string{v.ID, name, v.Owner, last, in}, exact: []string{v.ID, v.VIN}, match: v.Name + " " + v.Owner})
	}
	return out
}

// mayDo says why the person signed in cannot do something, or nothing.
func mayDo(e *Env, who procedures.Role, what string) string {
	if e.Person.MayDo(who) {
		return ""
	}
	words := "a " + string(who)
	if who == procedures.Mechanic {
		words = phrase.Of("bay.stock.a-mechanic-or-the-foreman")
	}
	return phrase.Of("bay.stock.only-is", words, what, e.Person.Name, e.Person.Role)
}

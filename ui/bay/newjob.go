package bay

import (
	"fmt"

	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// newJob asks which vehicle has come in.
type newJob struct {
	stock  stock
	loaded bool
	find   finder
	other  uint64 // the job a vehicle has already
}

// busyName marks the question whether to go to the job the vehicle has.
const busyName = "job there is"

// newNewJob begins a job with the choice of the vehicle.
func newNewJob() Screen { return &newJob{find: finder{field: field{most: 40}}} }

// Head says what is asked.
func (s *newJob) Head(*Env) string { return "New job: which vehicle?" }

// Focus is the search field.
func (s *newJob) Focus() Focus { return FocusText }

// Keys are those of the list.
func (s *newJob) Keys(*Env) []Binding { return s.find.keys("this vehicle") }

// Update searches and chooses.
func (s *newJob) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "stock", Do: readStock}
	case Result:
		st, ok := in.Value.(stock)
		if !ok || in.Err != nil {
			return Say{Text: fmt.Sprint("The vehicles cannot be read: ", in.Err), Role: draw.Bad}
		}
		s.stock, s.loaded = st, true
		s.fill(e)
		return nil
	case Answer:
		if in.Name == busyName {
			return Replace{newJobScreen(s.other)}
		}
		return nil
	case Key:
		if in.Sym == Esc && s.find.field.text != "" {
			s.find.field.clear()
			return nil
		}
		if in.Sym == Esc {
			return Pop{}
		}
	}
	i, act := s.find.take(in)
	if i < 0 {
		return act
	}
	if i == len(s.stock.vehicles) {
		return s.add(e)
	}
	return s.chosen(e, s.stock.vehicles[i])
}

func (s *newJob) fill(e *Env) {
	s.find.what = "Number, name or owner"
	s.find.headings = []draw.Heading{{Title: "vehicle"}, {Title: "name"}, {Title: "owner"}, {Title: "odometer", Right: true}, {Title: "in the bay"}}
	s.find.rows = append(s.stock.vehicleRows(e), findRow{cells: []string{"0", "one that is not listed yet"}, exact: []string{"0"}, always: true})
}

// add begins with a vehicle that is not known yet.
func (s *newJob) add(e *Env) Action {
	if off := mayDo(e, procedures.Mechanic, "adds vehicles"); off != "" {
		return Say{Text: off, Role: draw.Warn}
	}
	st := s.stock
	return Push{newVehiclePage(e, st, nil, func(v register.Vehicle) Action {
		st.vehicles = append(st.vehicles, v)
		return Replace{newJobPage(st, v)}
	})}
}

func (s *newJob) chosen(e *Env, v register.Vehicle) Action {
	if n := s.stock.busy[v.ID]; n != 0 {
		s.other = n
		return Ask{Name: busyName, Dialog: newYesNo(fmt.Sprintf("Go to job %d?", n), fmt.Sprintf("Vehicle %s has job %d already, which is not closed. There is one job at a time for a vehicle.", v.ID, n))}
	}
	if off := mayDo(e, procedures.Mechanic, "opens jobs"); off != "" {
		return Say{Text: off, Role: draw.Warn}
	}
	if len(s.stock.procedures) == 0 {
		return Say{Text: "No procedure is in use in this workshop; the foreman puts one in use first", Role: draw.Warn}
	}
	if s.stock.sheet(v.Sheet) == nil {
		return Say{Text: fmt.Sprintf("The spec sheet %q of vehicle %s is not in use; choose another for it in the register", v.Sheet, v.ID), Role: draw.Warn}
	}
	if len(s.stock.served(s.stock.sheet(v.Sheet))) == 0 {
		return Say{Text: fmt.Sprintf("The spec sheet %q of vehicle %s serves no procedure in use here; the foreman puts one in use that it serves", v.Sheet, v.ID), Role: draw.Warn}
	}
	return Push{newJobPage(s.stock, v)}
}

// View shows the vehicles.
func (s *newJob) View(e *Env, w, h int) string {
	if !s.loaded {
		return ""
	}
	out := []string{e.Theme.Style(draw.Title, "Which vehicle has come in? Scan or type its number; 0 adds one."), ""}
	return indent(append(out, s.find.view(e.Theme, w-2, h-2)...))
}

package bay

import (
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// newJob asks which vehicle has come in.
type newJob struct {
	stock  stock
	loaded bool
	find   finder
	other  uint64       // the job a vehicle has already
	resume *store.Draft // the page to go on with once the vehicles are known
}

// busyName marks the question whether to go to the job the vehicle has.
const busyName = "job-there-is"

// newNewJob begins a job with the choice of the vehicle.
func newNewJob() Screen { return &newJob{find: finder{field: field{most: 40}}} }

// Head says what is asked.
func (s *newJob) Head(*Env) string { return phrase.Of("bay.newjob.new-job-which-vehicle") }

// Focus is the search field.
func (s *newJob) Focus() Focus { return FocusText }

// Keys are those of the list.
func (s *newJob) Keys(*Env) []Binding { return s.find.keys(phrase.Of("bay.newjob.this-vehicle")) }

// Update searches and chooses.
func (s *newJob) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "stock", Do: readStock}
	case Result:
		st, ok := in.Value.(stock)
		if !ok || in.Err != nil {
			return Say{Text: phrase.Of("bay.deskhistory.the-vehicles-cannot-be-read", in.Err), Role: draw.Bad}
		}
		s.stock, s.loaded = st, true
		s.fill(e)
		return s.again(e)
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

// again goes on with the page that was half filled in when the program ended.
func (s *newJob) again(e *Env) Action {
	d := s.resume
	s.resume = nil
	if d == nil {
		return nil
	}
	v, ok := s.stock.vehicle(d.Vehicle)
	if !ok {
		return nil
	}
	act := s.chosen(e, v)
	if p, ok := act.(Push); ok {
		page := p.Screen.(*jobPage)
		page.now, page.foreman = e.Now, e.Person.MayDo(procedures.Foreman)
		page.restore(d.Rows)
	}
	return act
}

func (s *newJob) fill(e *Env) {
	s.find.what = phrase.Of("bay.newjob.number-name-or-owner")
	s.find.headings = []draw.Heading{{Title: phrase.Of("bay.newjob.vehicle")}, {Title: phrase.Of("bay.newjob.name")}, {Title: phrase.Of("bay.newjob.owner")}, {Title: phrase.Of("bay.newjob.odometer"), Right: true}, {Title: phrase.Of("bay.newjob.in-the-bay")}}
	s.find.rows = append(s.stock.vehicleRows(e), findRow{cells: []string{"0", phrase.Of("bay.newjob.one-that-is-not-listed-yet")}, exact: []string{"0"}, always: true})
}

// add begins with a vehicle that is not known yet.
func (s *newJob) add(e *Env) Action {
	if off := mayDo(e, procedures.Mechanic, phrase.Of("bay.newjob.adds-vehicles")); off != "" {
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
		return Ask{Name: busyName, Dialog: newYesNo(phrase.Of("bay.newjob.go-to-job", n), phrase.Of("bay.newjob.vehicle-has-job-already-which-is-not", v.ID, n))}
	}
	if off := mayDo(e, procedures.Mechanic, phrase.Of("bay.newjob.opens-jobs")); off != "" {
		return Say{Text: off, Role: draw.Warn}
	}
	if len(s.stock.procedures) == 0 {
		return Say{Text: phrase.Of("bay.newjob.no-procedure-is-in-use-in-this"), Role: draw.Warn}
	}
	if s.stock.sheet(v.Sheet) == nil {
		return Say{Text: phrase.Of("bay.newjob.the-spec-sheet-of-vehicle-is-not", v.Sheet, v.ID), Role: draw.Warn}
	}
	if len(s.stock.served(s.stock.sheet(v.Sheet))) == 0 {
		return Say{Text: phrase.Of("bay.newjob.the-spec-sheet-of-vehicle-serves-no", v.Sheet, v.ID), Role: draw.Warn}
	}
	return Push{newJobPage(s.stock, v)}
}

// View shows the vehicles.
func (s *newJob) View(e *Env, w, h int) string {
	if !s.loaded {
		return ""
	}
	out := []string{e.Theme.Style(draw.Title, phrase.Of("bay.newjob.which-vehicle-has-come-in-scan-or")), ""}
	return indent(append(out, s.find.view(e.Theme, w-2, h-2)...))
}

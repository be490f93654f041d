package bay

import (
	"errors"
	"fmt"
	"maps"
	"strings"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// vehiclePage adds a vehicle to the register or changes one.
type vehiclePage struct {
	page  page
	stock stock
	old   *register.Vehicle
	then  func(register.Vehicle) Action // what follows when it is written
}

const traitRow = "trait/"

// newVehiclePage asks what is known of a vehicle; old is nil for a new one.
func newVehiclePage(e *Env, st stock, old *register.Vehicle, then func(register.Vehicle) Action) *vehiclePage {
	s := &vehiclePage{stock: st, old: old, then: then}
	v := register.Vehicle{}
	title := phrase.Of("bay.vehiclepage.a-vehicle-for-the-register")
	if old != nil {
		v, title = *old, phrase.Of("bay.vehiclepage.vehicle", old.ID)
	}
	var rows []pageRow
	if old == nil {
		id := textRow("id", phrase.Of("bay.vehiclepage.number"), "", phrase.Of("bay.vehiclepage.the-workshops-own-short-number-or-the"))
		id.check = s.idCheck
		rows = append(rows, id)
	}
	vin := textRow("vin", phrase.Of("bay.vehiclepage.vehicle-number"), v.VIN, phrase.Of("bay.vehiclepage.the-vehicle-identification-number-of-17"))
	vin.optional, vin.check, vin.remark = true, s.vinCheck, vinRemark
	owner := textRow("owner", phrase.Of("bay.vehiclepage.owner"), v.Owner, phrase.Of("bay.vehiclepage.who-orders-the-work-as-a-rule"))
	owner.optional = true
	sheetIDs, sheetWords := []string{}, []string{}
	for _, sh := range st.sheets {
		sheetIDs = append(sheetIDs, sh.ID)
		sheetWords = append(sheetWords, phrase.Of("bay.vehiclepage.revision", sh.Title, sh.Revision))
	}
	sheet := choiceRow("sheet", phrase.Of("bay.vehiclepage.spec-sheet-of-its-type"), v.Sheet, sheetIDs, sheetWords, phrase.Of("bay.vehiclepage.every-window-of-a-job-comes-from"))
	if len(sheetIDs) == 0 {
		sheet.hint = phrase.Of("bay.vehiclepage.no-spec-sheet-is-in-use-in")
	}
	rows = append(rows, textRow("name", phrase.Of("bay.vehiclepage.name"), v.Name, phrase.Of("bay.vehiclepage.what-it-is-called-here-such-as")), vin, sheet, owner)
	if old != nil {
		rows = append(rows, s.traitRows(v)...)
	}
	s.page = page{title: title, rows: rows, last: phrase.Of("bay.vehiclepage.write-it-down")}
	if e.Workshop.Demo {
		s.page.intro = []line{{role: draw.Warn, text: phrase.Of("bay.vehiclepage.demo-this-workshop-is-invented-and-the")}}
	}
	return s
}

// traitRows lets every trait of the procedures in use be set for the vehicle.
func (s *vehiclePage) traitRows(v register.Vehicle) []pageRow {
	var out []pageRow
	seen := map[string]bool{}
	for _, p := range s.stock.procedures {
		for _, t := range p.Traits {
			if seen[t.ID] {
				continue
			}
			seen[t.ID] = true
			words := append([]string{phrase.Of("bay.vehiclepage.as-its-sheet-says")}, t.Values...)
			r := choiceRow(traitRow+t.ID, t.Title, v.Traits[t.ID], append([]string{""}, t.Values...), words, t.Ask)
			r.optional = true
			r.from = func(now string) string {
				sh := s.stock.sheet(s.page.value("sheet"))
				if now != "" || sh == nil || sh.Traits[t.ID] == "" {
					return ""
				}
				return phrase.Of("bay.vehiclepage.which-is", sh.Traits[t.ID])
			}
			out = append(out, r)
		}
	}
	return out
}

func (s *vehiclePage) idCheck(text string) error {
	if n := len([]rune(text)); n > 32 {
		return phrase.Error("bay.vehiclepage.the-number-has-characters-at-most-32", n)
	}
	for _, v := range s.stock.vehicles {
		if strings.EqualFold(v.ID, text) {
			return phrase.Error("bay.vehiclepage.is-on-the-register-already-choose-another", v.ID, v.Name)
		}
	}
	return nil
}

// vinCheck refuses what is no vehicle identification number, and a check digit that must fit and
// does not.
func (s *vehiclePage) vinCheck(text string) error {
	n, err := brakes.ParseVehicleNumber(text)
	if err != nil {
		return errors.New(err.Error() + slipWords(text))
	}
	c, err := n.CheckDigit()
	if err != nil {
		return err
	}
	if !c.Fits() && c.Binding {
		return errors.New(c.Text + slipWords(text))
	}
	for _, v := range s.stock.vehicles {
		if v.VIN == string(n) && (s.old == nil || v.ID != s.old.ID) {
			return phrase.Error("bay.vehiclepage.this-number-belongs-to-vehicle-already-read", v.ID, v.Name)
		}
	}
	return nil
}

// vinRemark doubts a number whose check digit does not fit where it need not.
func vinRemark(text string) string {
	n, err := brakes.ParseVehicleNumber(text)
	if err != nil {
		return ""
	}
	c, err := n.CheckDigit()
	if err != nil || c.Fits() {
		return ""
	}
	return sentence(c.Text) + slipWords(text)
}

// slipWords names a scanner on the wrong keyboard layout, when undoing it makes the number fit.
func slipWords(text string) string {
	for _, slip := range brakes.KeyboardSlips(text) {
		return phrase.Of("bay.vehiclepage.was-meant-set-the-scanner-right-and", sentence(slip.Cause), slip.Meant)
	}
	return ""
}

// Head says what this is.
func (s *vehiclePage) Head(*Env) string { return phrase.Of("bay.vehiclepage.register-vehicles") }

// Focus is the row's.
func (s *vehiclePage) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *vehiclePage) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in and writes it.
func (s *vehiclePage) Update(e *Env, in Input) Action {
	if r, ok := in.(Result); ok {
		v, written := r.Value.(register.Vehicle)
		if r.Err != nil || !written {
			return Say{Text: sentence(fmt.Sprint(r.Err)), Role: draw.Bad}
		}
		return Many{s.then(v), Say{Text: phrase.Of("bay.vehiclepage.vehicle-is-on-the-register", v.ID), Role: draw.Good}}
	}
	act, done := s.page.update(in)
	if !done {
		return act
	}
	v, by := s.vehicle(e), e.Person
	return Call{Name: "vehicle", Do: func(f *store.File) (any, error) { return v, f.PutVehicle(by, v) }}
}

// vehicle is what the page says.
func (s *vehiclePage) vehicle(e *Env) register.Vehicle {
	v := register.Vehicle{ID: s.page.value("id"), Demo: e.Workshop.Demo}
	if s.old != nil {
		v = *s.old
		v.Traits = maps.Clone(v.Traits)
	}
	v.Name, v.Owner, v.Sheet = s.page.value("name"), s.page.value("owner"), s.page.value("sheet")
	v.VIN = ""
	if n, err := brakes.ParseVehicleNumber(s.page.value("vin")); err == nil {
		v.VIN = string(n)
	}
	for i := range s.page.rows {
		r := &s.page.rows[i]
		id, is := strings.CutPrefix(r.id, traitRow)
		switch {
		case !is:
		case r.value() == "":
			delete(v.Traits, id)
		default:
			if v.Traits == nil {
				v.Traits = map[string]string{}
			}
			v.Traits[id] = r.value()
		}
	}
	return v
}

// View shows the page.
func (s *vehiclePage) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }

// sheetTrait is the value of a trait and where it comes from.
func sheetTrait(v register.Vehicle, s *procedures.Sheet, id string) (value, from string) {
	if own := v.Traits[id]; own != "" {
		return own, phrase.Of("bay.vehiclepage.from-the-vehicle")
	}
	return s.Traits[id], phrase.Of("bay.vehiclepage.from-the-spec-sheet")
}

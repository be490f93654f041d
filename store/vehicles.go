package store

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Vehicles returns every vehicle, sorted by id.
func (f *File) Vehicles() []register.Vehicle {
	f.mu.Lock()
	defer f.mu.Unlock()
	var all []register.Vehicle
	err := f.view(func(tx *bolt.Tx) (err error) {
		all, err = allRows[register.Vehicle](tx, vehicles)
		return err
	})
	if err != nil {
		return nil
	}
	return all
}

// Vehicle returns the vehicle with that id.
func (f *File) Vehicle(id string) (register.Vehicle, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	v, ok, err := f.vehicle(id)
	return v, ok && err == nil
}

func (f *File) vehicle(id string) (v register.Vehicle, ok bool, err error) {
	err = f.view(func(tx *bolt.Tx) (err error) {
		v, ok, err = getRow[register.Vehicle](tx, vehicles, []byte(id))
		return err
	})
	return v, ok, err
}

// PutVehicle adds a vehicle or changes its entry. Odometer readings that are there stay there; new
// ones may only follow them.
func (f *File) PutVehicle(by register.Person, v register.Vehicle) error {
	if err := checkVehicle(v); err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		by, err := mayChange(tx, by, procedures.Mechanic, phrase.Of("store.vehicles.changes-the-vehicles"))
		if err != nil {
			return err
		}
		old, ok, err := getRow[register.Vehicle](tx, vehicles, []byte(v.ID))
		if err != nil {
			return err
		}
		act := "added"
		if ok {
			act = "changed"
			n := len(old.Odometer)
			if len(v.Odometer) < n || !slices.Equal(old.Odometer, v.Odometer[:n]) {
				return phrase.Error("store.vehicles.vehicle-has-odometer-readings-that-are-kept", v.ID, n)
			}
		}
		return f.keep(tx, change{By: by, Act: act, Table: vehicles, Key: v.ID}, v)
	})
}

func checkVehicle(v register.Vehicle) error {
	if err := checkID(phrase.Of("store.vehicles.the-vehicle"), v.ID); err != nil {
		return err
	}
	if strings.TrimSpace(v.Name) == "" {
		return phrase.Error("store.vehicles.vehicle-has-no-name-type-what-it", v.ID)
	}
	if strings.TrimSpace(v.Sheet) == "" {
		return phrase.Error("store.vehicles.vehicle-has-no-spec-sheet-choose-the", v.ID)
	}
	for _, id := range slices.Sorted(maps.Keys(v.Traits)) {
		if err := cmp.Or(checkText(phrase.Of("store.vehicles.a-trait"), id), checkText(phrase.Of("store.vehicles.the-trait", id), v.Traits[id])); err != nil {
			return err
		}
	}
	return cmp.Or(checkText(phrase.Of("store.vehicles.the-name"), v.Name), checkText(phrase.Of("store.vehicles.the-vin"), v.VIN), checkText(phrase.Of("store.vehicles.the-owner"), v.Owner), checkText(phrase.Of("store.vehicles.the-sheet"), v.Sheet))
}

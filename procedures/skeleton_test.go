package procedures

import (
	"strings"
	"testing"
)

func TestSkeletonsPassTheChecker(t *testing.T) {
	data, err := NewProcedure("my-job")
	if err != nil {
		t.Fatal(err)
	}
	p, err := LoadProcedure("my-job.toml", data)
	if err == nil {
		_, err = p.Check()
	}
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := NewSheet("my-type", p)
	if err != nil {
		t.Fatal(err)
	}
	s, err := LoadSheet("my-type.toml", sheet)
	if err == nil {
		err = s.Check()
	}
	if err != nil {
		t.Fatal(err)
	}
	if err := CheckPair(p, s); err != nil {
		t.Error(err)
	}
	if doubts, err := Doubts(p, s); err != nil || len(doubts) > 0 {
		t.Error(doubts, err)
	}
	if p.ID != "my-job" || s.ID != "my-type" || !s.Demo {
		t.Errorf("ids %q and %q, demo %v", p.ID, s.ID, s.Demo)
	}
	for _, want := range []string{"#   window bolt-torque: ", "#   group bolts: ", "#   trait height-control: none, rear, all"} {
		if !strings.Contains(string(sheet), want) {
			t.Errorf("the list of what is needed lacks %q", want)
		}
	}
	for _, id := range []string{"", "My Job", "a--b", "../x"} {
		if _, err := NewProcedure(id); err == nil {
			t.Errorf("the id %q was taken", id)
		}
		if _, err := NewSheet(id, nil); err == nil {
			t.Errorf("the sheet id %q was taken", id)
		}
	}
}

package procedures

import "testing"

func TestLibraryIsSound(t *testing.T) {
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	ss, err := Sheets()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		rep, err := p.Check()
		t.Log(rep, err)
		for _, s := range ss {
			if err := CheckPair(p, s); err != nil {
				t.Error(err)
			}
			if _, err := Resolve(p, s, nil); err != nil {
				t.Error(err)
			}
		}
	}
}

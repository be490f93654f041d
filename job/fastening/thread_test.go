package fastening

import (
	"math"
	"testing"

	"bay.example/pawl/job/quantity"
)

// Source: metric_threads.csv (ISO 724 / ISO 898-1). The diameters and the exact
// area are computed from the printed formulae by independent arithmetic; the
// printed area is published, except in rows marked memory, which only log.
func TestThreadGeometryAgainstTable(t *testing.T) {
	published := 0
	for _, row := range reference(t, "metric_threads") {
		thread, err := ParseThread(row["thread"])
		if err != nil {
			t.Fatal(err)
		}
		if thread.String() != row["thread"] {
			t.Errorf("%s prints as %s", row["thread"], thread)
		}
		if thread.Diameter.Float() != number(t, row["diameter_mm"]) || thread.Pitch.Float() != number(t, row["pitch_mm"]) {
			t.Errorf("%s: diameter %s, pitch %s", row["thread"], thread.Diameter, thread.Pitch)
		}
		near(t, row["thread"]+" d2", thread.PitchDiameter(), number(t, row["d2_mm"]), 2e-6)
		near(t, row["thread"]+" d3", thread.RootDiameter(), number(t, row["d3_mm"]), 2e-6) // printed factor against exact, times 2.5
		near(t, row["thread"]+" As", thread.StressArea(), number(t, row["stress_area_exact_mm2"]), 1e-3)

		printed := number(t, row["stress_area_printed_mm2"])
		// Three significant digits.
		half := 0.5 * math.Pow10(int(math.Floor(math.Log10(printed)))-2)
		if row["status"] != "published" {
			t.Logf("%s (%s): area %.2f, remembered %v", row["thread"], row["status"], thread.StressArea(), printed)
			continue
		}
		published++
		near(t, row["thread"]+" printed As", thread.StressArea(), printed, half*1.000001)
	}
	if published == 0 {
		t.Fatal("no published row was checked")
	}
}

// Source: bolt_loads_coarse.csv (ISO 898-1), every cell within 0.5 %.
func TestBoltLoadsAgainstTable(t *testing.T) {
	cells := 0
	for _, row := range reference(t, "bolt_loads_coarse") {
		thread, err := ParseThread(row["thread"])
		if err != nil {
			t.Fatal(err)
		}
		for _, class := range []Class{Class8_8, Class9_8, Class10_9, Class12_9} {
			for column, load := range map[string]func(Thread, Class) (quantity.Quantity, error){"proof_": ProofLoad, "tensile_": TensileLoad} {
				printed := row[column+string(class)]
				got, err := load(thread, class)
				if printed == "-" {
					refused(t, err, "property class 9.8 ends at M16")
					continue
				}
				if err != nil {
					t.Fatal(err)
				}
				cells++
				want := number(t, printed)
				near(t, row["thread"]+" "+column+string(class), got.Float(), want, got.Float()*0.005)
			}
		}
	}
	if cells == 0 {
		t.Fatal("no cell was checked")
	}
}

func TestParseThread(t *testing.T) {
	for text, want := range map[string]string{
		"M12x1.5": "M12x1.5", " m12X1,5 ": "M12x1.5", "M12×1.50": "M12x1.5", "M 12 * 1.5": "M12x1.5",
		"M12": "M12", "M12x1.75": "M12", "M8x1": "M8x1", "M7": "M7", "M012x01.5": "M12x1.5", "M12.0": "M12",
	} {
		got, err := ParseThread(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if got.String() != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
		again, err := ParseThread(got.String())
		if err != nil || again != got {
			t.Errorf("%q reads back as %+v, %v, want %+v", got, again, err, got)
		}
	}
	for text, want := range map[string]string{
		"": "the thread is missing", "12x1.5": "does not begin with M", "M": "diameter", "Mx1.5": "diameter", "M12x": "pitch",
		"M12x1.5x30": "has 2 crosses", "M13": "no coarse pitch on the list", "M12x15": "quarter of the diameter", "M12x0": "more than zero",
		"M-12x1.5": "no minus sign", "M12xx1.5": "has 2 crosses", "M0.5x0.1": "between 1 mm and 100 mm", "M120x2": "between 1 mm and 100 mm",
		"M12x0.1": "between 0.2 mm", "UNF": "does not begin with M",
	} {
		_, err := ParseThread(text)
		refused(t, err, want)
	}
	refused(t, Thread{Diameter: q("0.5 in"), Pitch: q("0.05 in")}.Valid(), "given in mm")
}

func TestParseClass(t *testing.T) {
	for text, want := range map[string]Class{"8.8": Class8_8, " 9,8 ": Class9_8, "10.9": Class10_9, "12.9": Class12_9} {
		got, err := ParseClass(text)
		if err != nil || got != want {
			t.Errorf("%q: %q, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "8", "8.80", "109", "14.9"} {
		_, err := ParseClass(text)
		refused(t, err, "expected 8.8, 9.8, 10.9 or 12.9")
	}
	_, err := ProofLoad(Thread{q("12 mm"), q("1.5 mm")}, "4.6")
	refused(t, err, `property class "4.6" is not known`)
}

func FuzzThread(f *testing.F) {
	for _, seed := range []string{"M12x1.5", "M12", "m8X1,25", "M 14 × 1.5", "M12x1.50", "M6x", "Mx", "M12x1.5x30", "M99999999999999999999", "M1e3", "ⅯM12", "Mßx1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		thread, err := ParseThread(text)
		if err != nil {
			if thread != (Thread{}) {
				t.Fatalf("%q refused with %+v", text, thread)
			}
			return
		}
		if err := thread.Valid(); err != nil {
			t.Fatalf("%q accepted: %v", text, err)
		}
		if d := thread.RootDiameter(); !(d > 0 && d < thread.PitchDiameter() && thread.PitchDiameter() < thread.Diameter.Float()) {
			t.Fatalf("%q has diameters %v, %v", text, d, thread.PitchDiameter())
		}
		again, err := ParseThread(thread.String())
		if err != nil || again != thread {
			t.Fatalf("%q is %s, which reads back as %+v, %v", text, thread, again, err)
		}
	})
}

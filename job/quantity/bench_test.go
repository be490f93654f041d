package quantity_test

import (
	"testing"

	"bay.example/pawl/job/quantity"
)

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := quantity.Parse("120.5 N·m", quantity.NewtonMetre); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseWindow(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := quantity.ParseWindow("120 N·m ± 10 %"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkJudge(b *testing.B) {
	w := mustWindow("120 N·m ± 10 %")
	for _, text := range []string{"120.5 N·m", "88.5 lbf·ft"} {
		q := quantity.MustParse(text)
		b.Run(string(q.Unit), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if v, err := w.Judge(q); err != nil || v != quantity.Inside {
					b.Fatal(v, err)
				}
			}
		})
	}
}

package procedures

import "testing"

func BenchmarkCheck(b *testing.B) {
	p, _ := shippedPair(b, "demo-minibus")
	for b.Loop() {
		if _, err := p.Check(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkResolve(b *testing.B) {
	p, s := shippedPair(b, "demo-minibus")
	for b.Loop() {
		if _, err := Resolve(p, s, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkApplicability(b *testing.B) {
	plan := resolved(b, "demo-minibus", nil)
	say := answers(map[string]string{"scope-decided.scope": "discs and pads"})
	for b.Loop() {
		plan.Applicability(say)
	}
}

func BenchmarkLoad(b *testing.B) {
	data := readFile(b, "library", "rear-discs-pads.toml")
	for b.Loop() {
		if _, err := LoadProcedure("rear-discs-pads.toml", data); err != nil {
			b.Fatal(err)
		}
	}
}

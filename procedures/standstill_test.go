package procedures

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// stuck plays every order of the stages, as orders does, under the rules that a stage waits while a
// state it names in other_shut stands on the other side, while one it needs put back stands, and while
// one it needs open does not. It returns what stands where nothing can be done any more before the
// release, or "".
func (w *bruteWorld) stuck(p *Procedure, release int) string {
	type at struct {
		done uint32
		open string
	}
	seen := map[at]bool{}
	var play func(done uint32, open map[string]bool) string
	play = func(done uint32, open map[string]bool) string {
		standing := strings.Join(slices.Sorted(maps.Keys(open)), " ")
		key := at{done, standing}
		if seen[key] || done&(1<<release) != 0 {
			return ""
		}
		seen[key] = true
		moved := false
		for i, n := range w.nodes {
			if done&(1<<i) != 0 || slices.ContainsFunc(n.after, func(d int) bool { return done&(1<<d) == 0 }) {
				continue
			}
			next := open
			if w.applies(i) {
				waits := func(id string) bool { return open[id+"/"+string(n.side.Other())] }
				stands := func(id string) bool {
					for ref := range open {
						if state, side, _ := strings.Cut(ref, "/"); state == id && meets(n.side, Side(side)) {
							return true
						}
					}
					return false
				}
				shut := func(id string) bool { return !stands(id) }
				if slices.ContainsFunc(n.stage.OtherShut, waits) || slices.ContainsFunc(n.stage.NeedsShut, stands) || slices.ContainsFunc(n.stage.NeedsOpen, shut) {
					continue
				}
				next = maps.Clone(open)
				ref := func(id string) string {
					if p.State(id).Sided {
						return id + "/" + string(n.side)
					}
					return id + "/"
				}
				for _, id := range n.stage.Sets {
					next[ref(id)] = true
				}
				for _, id := range clearsOf(n.stage) {
					delete(next, ref(id))
				}
			}
			moved = true
			if s := play(done|1<<i, next); s != "" {
				return s
			}
		}
		if !moved {
			return "nothing can be done with " + standing
		}
		return ""
	}
	return play(0, map[string]bool{})
}

// bruteStuck returns where some vehicle, some answers and some order come to a standstill.
func bruteStuck(p *Procedure) string {
	found := ""
	everyBruteWorld(p, func(w *bruteWorld, release int) bool {
		found = w.stuck(p, release)
		return found == ""
	})
	return found
}

// againstEveryOrder draws procedures, ties their stages and holds what the checker proves of them
// against playing every order. tie reports how many ties it made at a stage.
func againstEveryOrder(t *testing.T, tie func(*rapid.T, *Procedure, *Stage) int, prove func(*checker)) {
	sound, stuck := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawProcedure(t)
		ties := 0
		for i := range p.Stages {
			ties += tie(t, p, &p.Stages[i])
		}
		if ties == 0 || len(bruteNodes(p)) > 12 {
			return
		}
		g, err := buildGraph(p)
		if err != nil {
			t.Fatal(err)
		}
		c := &checker{p: p, g: g}
		c.states()
		prove(c)
		claimed := !slices.ContainsFunc(c.faults, func(f Fault) bool { return f.Path != "" })
		where := bruteStuck(p)
		if claimed && where != "" {
			t.Fatalf("the checker says every order goes on; some order ends where %s", where)
		}
		if claimed {
			sound++
		}
		if where != "" {
			stuck++
		}
	})
	if !testing.Short() && (sound == 0 || stuck == 0) { // -short draws a fifth as many
		t.Errorf("%d sound procedures and %d that come to a standstill were played; both kinds are needed", sound, stuck)
	}
}

// TestSidesNeverWaitForEachOther: no order of work comes to a standstill over "one side at a time".
func TestSidesNeverWaitForEachOther(t *testing.T) {
	againstEveryOrder(t, func(t *rapid.T, _ *Procedure, s *Stage) int {
		if (s.Sided || s.SideTrait != "") && rapid.Bool().Draw(t, "one side") {
			s.OtherShut = []string{"hung"}
		}
		return len(s.OtherShut)
	}, (*checker).oneSide)
}

// TestNoOrderComesToAStandstill: what a stage needs open or put back never stops a job, whatever order
// its parallel stages are done in.
func TestNoOrderComesToAStandstill(t *testing.T) {
	againstEveryOrder(t, func(t *rapid.T, p *Procedure, s *Stage) int {
		for _, st := range p.States {
			if st.Sided && !s.Sided && s.SideTrait == "" {
				continue
			}
			switch rapid.IntRange(0, 5).Draw(t, "needs") {
			case 0:
				s.NeedsOpen = append(s.NeedsOpen, st.ID)
			case 1, 2:
				s.NeedsShut = append(s.NeedsShut, st.ID)
			}
		}
		return len(s.NeedsOpen) + len(s.NeedsShut)
	}, func(c *checker) {
		c.needs()
		c.beside()
	})
}

// TestOneSideAtATime has a small procedure in which the sides are worked one after the other, and the
// same with a stage for both sides in between, where they would wait for each other.
func TestOneSideAtATime(t *testing.T) {
	const good = "testdata/one-side.toml"
	p, err := LoadProcedure(good, readFile(t, good))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Check(); err != nil {
		t.Fatal(err)
	}
	if where := bruteStuck(p); where != "" {
		t.Errorf("some order ends where %s", where)
	}
	p.Stage("shoes-on").After = []string{"looked-at"}
	if bruteStuck(p) == "" {
		t.Error("with a look at both sides bare no order comes to a standstill")
	}
	_, err = p.Check()
	want := `waits for "shoes-out/right" on the other side, which "shoes-off/right" sets and nothing puts back while this stage waits`
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("the checker says %v, want %q", err, want)
	}
}

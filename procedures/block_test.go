package procedures

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// wheelBlock is a block with everything an include can turn.
const wheelBlock = `format = 1
block = "wheel"
title = "Wheel"

[[parameter]]
id = "axle"
title = "Axle"

[[parameter]]
id = "tool"
title = "Tool"
default = "wrench"

[[finding]]
id = "stud"
title = "Stud"
values = ["sound", "damaged"]

[[state]]
id = "loose"
title = "Wheel loose, {axle}"
danger = "It comes off."
label = "LOOSE"
if_stopped = "Tighten it."

[[stage]]
id = "off"
title = "{Axle} wheel off"
phase = "work"
why = "To see."
good = "It is off, by {tool}."
who = "mechanic"
after = ["begin", "springs-down?"]
sets = ["loose"]

[[stage.check]]
id = "stud"
kind = "choice"
title = "Stud"
options = ["sound", "damaged"]
finding = "stud"

[[stage.check]]
id = "level"
kind = "confirm"
title = "Level"
when = [{ trait = "levelling?", is = ["yes"] }]

[[stage]]
id = "stud-new"
title = "Stud replaced"
phase = "work"
why = "It holds."
good = "It is square."
who = "mechanic"
after = ["off"]
when = [{ finding = "stud", is = ["damaged"] }]

[[stage.check]]
id = "square"
kind = "confirm"
title = "Square"

[[stage]]
id = "on"
title = "{Axle} wheel on"
phase = "work"
why = "To drive."
good = "It clicks."
who = "mechanic"
after = ["off", "stud-new"]
clears = [{ state = "loose", proof = ["clicks"] }]

[[stage.check]]
id = "clicks"
kind = "confirm"
title = "Clicks"
`

// with puts includes before the release of the small procedure.
func with(t *testing.T, includes string) string {
	t.Helper()
	base := string(readFile(t, "testdata", "small.toml"))
	at := strings.LastIndex(base, "[[stage]]")
	return base[:at] + includes + "\n" + base[at:]
}

func shelf(blocks ...string) Lookup {
	files := map[string][]byte{}
	for i, b := range blocks {
		files[fmt.Sprintf("block%d.toml", i+1)] = []byte(b)
	}
	return OwnBlocks(files)
}

func TestIncludePutsStagesInPlace(t *testing.T) {
	data := with(t, `
[[include]]
block = "wheel"
with = { axle = "front" }

[[include]]
block = "wheel"
with = { axle = "rear", tool = "hand" }
rename = { off = "rear-off", stud-new = "rear-stud-new", on = "rear-on", loose = "rear-loose", stud = "rear-stud" }
without = ["stud-new"]

[[include.change]]
id = "on"
mistake = "Twice."
after = ["on"]

[[include.change.check]]
id = "clicks"
kind = "confirm"
title = "Clicks once"

[[include.change.check]]
id = "paint"
kind = "confirm"
title = "Paint"
`)
	data = strings.Replace(data, `after = ["lower"]`, `after = ["lower", "on", "rear-on"]`, 1)
	p, err := LoadProcedureWith("p.toml", []byte(data), shelf(wheelBlock))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Check(); err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, s := range p.Stages {
		ids = append(ids, s.ID)
	}
	want := []string{"begin", "raise", "tighten", "lower", "off", "stud-new", "on", "rear-off", "rear-on", "let-go"}
	if diff := cmp.Diff(want, ids); diff != "" {
		t.Errorf("stages (-want +got):\n%s", diff)
	}
	off, on := p.Stage("off"), p.Stage("rear-on")
	if off.Title != "Front wheel off" || off.Good != "It is off, by wrench." || p.Stage("rear-off").Good != "It is off, by hand." || p.State("rear-loose").Title != "Wheel loose, rear" {
		t.Errorf("the values are not in the texts: %q, %q", off.Title, off.Good)
	}
	if !slices.Equal(off.After, []string{"begin"}) || len(off.Checks) != 1 {
		t.Errorf("what the procedure lacks is still asked for: after %v, %d checks", off.After, len(off.Checks))
	}
	wantOn := &Stage{ID: "rear-on", Title: "Rear wheel on", Phase: "work", Why: "To drive.", Good: "It clicks.", Mistake: "Twice.", Who: Mechanic, Second: SecondApprentice,
		After: []string{"rear-off", "on"}, Clears: []Clear{{"rear-loose", []string{"clicks"}}},
		Checks: []Check{{ID: "clicks", Kind: Confirm, Title: "Clicks once"}, {ID: "paint", Kind: Confirm, Title: "Paint"}}}
	if diff := cmp.Diff(wantOn, on); diff != "" {
		t.Errorf("changed stage (-want +got):\n%s", diff)
	}
	pinned, _, err := p.Pin()
	if err != nil || strings.Contains(string(pinned), "include") {
		t.Fatalf("pinned with its includes (%v)", err)
	}
	if _, err := LoadProcedureWith("pinned.toml", pinned, func(string) (string, []byte, bool) { return "", nil, false }); err != nil {
		t.Errorf("pinned bytes need a block: %v", err)
	}
}

func TestIncludeFaults(t *testing.T) {
	wheel := func(change string) string {
		return with(t, "[[include]]\nblock = \"wheel\"\n"+change)
	}
	endless := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "[[include]]\nblock = \"wheel\"\nwith = { axle = \"%s\" }\nrename = { off = \"o%d\", stud-new = \"s%d\", on = \"n%d\" }\n", strings.Repeat("ha", 100), i, i, i)
		}
		return with(t, b.String())
	}
	laugh := "format = 1\nblock = \"wheel\"\ntitle = \"x\"\n[[parameter]]\nid = \"axle\"\ntitle = \"x\"\n" +
		"[[state]]\nid = \"s\"\ntitle = \"" + strings.Repeat("{axle}", 100000) + "\"\n"
	many := "format = 1\nblock = \"wheel\"\ntitle = \"x\"\n[[parameter]]\nid = \"axle\"\ntitle = \"x\"\n" +
		strings.Repeat("[[stage]]\nid = \"off\"\n[[stage]]\nid = \"stud-new\"\n[[stage]]\nid = \"on\"\n", 60)
	loop := strings.Replace(wheelBlock, "[[finding]]", "[[include]]\nblock = \"wheel\"\n\n[[finding]]", 1)
	for _, c := range []struct{ name, data, block, want string }{
		{"unknown block", with(t, "[[include]]\nblock = \"wing\"\n"), wheelBlock, `p.toml:105: includes the unknown block "wing"`},
		{"a path for a block", with(t, "[[include]]\nblock = \"../rear-discs-pads\"\n"), wheelBlock, `includes the unknown block "../rear-discs-pads"`},
		{"value missing", wheel(""), wheelBlock, `needs a value for "axle" (Axle)`},
		{"value nobody asked for", wheel(`with = { axle = "front", side = "left" }`), wheelBlock, `has no parameter "side"`},
		{"value with a placeholder", wheel(`with = { axle = "{axle}{axle}" }`), wheelBlock, "holds a brace"},
		{"long value", wheel(`with = { axle = "` + strings.Repeat("x", 300) + `" }`), wheelBlock, "300 bytes"},
		{"placeholder nobody declared", wheel(`with = { axle = "front" }`), strings.Replace(wheelBlock, "by {tool}", "by {tol}", 1), `block1.toml:31: stage "off": the text "{tol}" names no parameter`},
		{"brace never shut", wheel(`with = { axle = "front" }`), strings.Replace(wheelBlock, "by {tool}", "by {tool", 1), `block1.toml:31: stage "off": the text "It is off, by {tool." has a brace without its other half`},
		{"brace never opened", wheel(`with = { axle = "front" }`), strings.Replace(wheelBlock, "loose, {axle}", "loose, axle}", 1), `block1.toml:21: the text "Wheel loose, axle}" has a brace without its other half`},
		{"without nothing", wheel("with = { axle = \"front\" }\nwithout = [\"offf\"]"), wheelBlock, `leaves out "offf", which the block "wheel" does not have`},
		{"without no check", wheel("with = { axle = \"front\" }\nwithout = [\"off.nut\"]"), wheelBlock, `leaves out "off.nut"`},
		{"renames nothing", wheel("with = { axle = \"front\" }\nrename = { up = \"down\" }"), wheelBlock, `renames "up"`},
		{"changes nothing", wheel("with = { axle = \"front\" }\n[[include.change]]\nid = \"up\"\n"), wheelBlock, `changes the stage "up"`},
		{"changes what it leaves out", wheel("with = { axle = \"front\" }\nwithout = [\"stud-new\"]\n[[include.change]]\nid = \"stud-new\"\n"), wheelBlock, `changes the stage "stud-new", which without leaves out`},
		{"unknown key", wheel("with = { axle = \"front\" }\n[[include.change]]\nid = \"on\"\nhow = \"x\"\n"), wheelBlock, `unknown key "include.change.how"`},
		{"a fault in the block", wheel(`with = { axle = "front" }`), strings.Replace(wheelBlock, `who = "mechanic"`, `who = "nobody"`, 1), `block1.toml:27: stage "off": who is "nobody"`},
		{"a fault in a changed check", wheel("with = { axle = \"front\" }\n[[include.change]]\nid = \"on\"\n[[include.change.check]]\nid = \"x\"\nkind = \"guess\"\ntitle = \"x\"\n"), wheelBlock, `p.toml:111: stage "on.x": kind is "guess"`},
		{"twice without other names", wheel("with = { axle = \"front\" }\n[[include]]\nblock = \"wheel\"\nwith = { axle = \"front\" }\n"), wheelBlock, `stage "off" stands twice`},
		{"two that do not agree", wheel("with = { axle = \"front\" }\n[[include]]\nblock = \"wheel\"\nwith = { axle = \"rear\" }\nrename = { off = \"o\", stud-new = \"s\", on = \"n\" }\n"), wheelBlock, `both define the state "loose" and do not say the same`},
		{"a block that includes itself", wheel(`with = { axle = "front" }`), loop, `unknown key "include"`},
		{"sixty-one includes", endless(61), wheelBlock, "61 includes; at most 60 are taken"},
		{"stages without end", endless(60), many, "at most 400 are taken"},
		{"values without end", wheel(`with = { axle = "` + strings.Repeat("ha", 100) + `" }`), laugh, "more than 524288 bytes of text"},
		{"a thousand of them", with(t, strings.Repeat("[[include]]\nblock = \"wheel\"\n", 1000)), wheelBlock, "include lists 1000 entries; at most 200 are taken"},
	} {
		t.Run(c.name, func(t *testing.T) {
			find := func(id string) (string, []byte, bool) {
				if id == "wheel" {
					return "block1.toml", []byte(c.block), true
				}
				return ShippedBlock(id)
			}
			err := bounded(t, func() error {
				p, err := LoadProcedureWith("p.toml", []byte(c.data), find)
				if err == nil {
					_, err = p.Check()
				}
				return err
			})
			if err == nil {
				t.Fatal("taken without a word")
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("says %.600s\nwant %q in it", err, c.want)
			}
		})
	}
}

// Whatever a shipped block names with a question mark is something some shipped block or procedure
// has: the mark hides no slip of the pen.
func TestShippedBlocksNameWhatExists(t *testing.T) {
	bs, err := ShippedBlocks()
	if err != nil || len(bs) == 0 {
		t.Fatalf("%d blocks: %v", len(bs), err)
	}
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	for _, p := range ps {
		for _, s := range p.Stages {
			have[s.ID] = true
		}
		for _, s := range p.States {
			have[s.ID] = true
		}
		for _, x := range p.Traits {
			have[x.ID] = true
		}
		for _, x := range slices.Concat(p.Findings, p.Decisions) {
			have[x.ID] = true
		}
	}
	for _, b := range bs {
		if len(b.Stages) == 0 || b.Title == "" {
			t.Errorf("block %s has no stages or no title", b.ID)
		}
		for _, s := range b.Stages {
			names := slices.Concat(s.After, s.Disturbs, s.Sets, s.NeedsOpen, s.NeedsShut, s.OtherShut, s.MakeSafeAfter, s.IndependentOf, clearsOf(&s))
			for _, r := range s.Reworks {
				names = append(names, r.Again...)
			}
			for _, w := range s.When {
				names = append(names, w.Trait+w.Finding+w.Decision)
			}
			for _, id := range names {
				if bare, maybe := strings.CutSuffix(id, "?"); maybe && !have[bare] && !strings.Contains(bare, "{") {
					t.Errorf("block %s, stage %s names %q, which nothing shipped has", b.ID, s.ID, id)
				}
			}
		}
	}
}

func TestIsBlock(t *testing.T) {
	for data, want := range map[string]bool{wheelBlock: true, "format = 1\nid = \"x\"\n[[stage]]\nblock = 1": false, "": false, "[[include]]\nblock = \"x\"\n": false} {
		if IsBlock([]byte(data)) != want {
			t.Errorf("IsBlock(%.30q) is %v", data, !want)
		}
	}
}

// FuzzBlock includes anything as a block.
func FuzzBlock(f *testing.F) {
	seed(f, "library/blocks/*.toml")
	f.Add([]byte(wheelBlock))
	base := string(readFile(f, "testdata", "small.toml"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := LoadBlock("fuzz.toml", data)
		if err != nil {
			return
		}
		find := func(string) (string, []byte, bool) { return "fuzz.toml", data, true }
		var with strings.Builder
		for i, p := range b.Parameters {
			fmt.Fprintf(&with, "%s = \"v%d\", ", p.ID, i)
		}
		p, err := LoadProcedureWith("p.toml", []byte(base+"\n[[include]]\nblock = \"x\"\nwith = { "+strings.TrimSuffix(with.String(), ", ")+" }\n"), find)
		if err != nil {
			return
		}
		if _, err := p.Check(); err != nil {
			return
		}
		pinned, _, err := p.Pin()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := LoadProcedure("pinned.toml", pinned); err != nil {
			t.Fatalf("pinned bytes do not load: %v", err)
		}
	})
}

package procedures

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Block is a part of a procedure that several procedures include: the wheel, the pedal, the release.
// Its texts may hold {parameter}, and a name with a question mark behind it (after = ["road-test?"])
// is meant only where the including procedure has it.
type Block struct {
	Format     int         `toml:"format"`
	ID         string      `toml:"block"`
	Title      string      `toml:"title"`
	Parameters []Parameter `toml:"parameter,omitempty"`
	Phases     []Phase     `toml:"phase,omitempty"`
	Traits     []Trait     `toml:"trait,omitempty"`
	Decisions  []Question  `toml:"decision,omitempty"`
	Findings   []Question  `toml:"finding,omitempty"`
	States     []State     `toml:"state,omitempty"`
	Deviations []Deviation `toml:"deviation,omitempty"`
	Never      []string    `toml:"never,omitempty"`
	Stages     []Stage     `toml:"stage,omitempty"`

	file  string
	lines map[string]int
}

// Parameter is a word or two that an include hands to a block. Without a default it must be given.
type Parameter struct {
	ID      string `toml:"id"`
	Title   string `toml:"title"`
	Default string `toml:"default,omitempty"`
}

// Include puts the stages of a block where it stands in the file, between the stages before and
// behind it. Inside it, stages and checks have the names the block gives them.
type Include struct {
	Block   string            `toml:"block"`
	With    map[string]string `toml:"with,omitempty"`    // values of the block's parameters
	Rename  map[string]string `toml:"rename,omitempty"`  // stages, states, findings, decisions, deviations, so that a block can stand twice
	Without []string          `toml:"without,omitempty"` // "stage" or "stage.check": left out; what comes after it comes after what it came after; or a stage the block mentions with a question mark
	Changes []Stage           `toml:"change,omitempty"`  // added to the stage of that id: see Change
}

// Lookup finds the file of a block by its id.
type Lookup func(id string) (file string, data []byte, ok bool)

// ShippedBlock finds a block shipped with the program.
func ShippedBlock(id string) (file string, data []byte, ok bool) {
	if !idForm.MatchString(id) {
		return "", nil, false
	}
	file = path.Join("library", "blocks", id+".toml")
	data, err := shipped.ReadFile(file)
	return file, data, err == nil
}

// ShippedBlocks loads every block shipped with the program, by file name.
func ShippedBlocks() ([]*Block, error) {
	var out []*Block
	err := eachShipped("library/blocks", func(name string, data []byte) error {
		b, err := LoadBlock(name, data)
		out = append(out, b)
		return err
	})
	return out, err
}

// OwnBlocks looks a block up in a workshop's own files, by name of file, before the shipped ones.
// Files that are no blocks are passed over; of two with one id the first by name counts.
func OwnBlocks(files map[string][]byte) Lookup {
	type found struct {
		file string
		data []byte
	}
	own := map[string]found{}
	for _, file := range sortedKeys(files) {
		b, err := LoadBlock(file, files[file])
		if err != nil {
			continue
		}
		if _, twice := own[b.ID]; !twice {
			own[b.ID] = found{file, files[file]}
		}
	}
	return func(id string) (string, []byte, bool) {
		if f, ok := own[id]; ok {
			return f.file, f.data, true
		}
		return ShippedBlock(id)
	}
}

// LoadBlock reads a block file with the strictness of LoadProcedure. Whether its stages make sense
// only shows in the procedures that include it.
func LoadBlock(file string, data []byte) (*Block, error) {
	var b Block
	sc, err := decode(file, data, BlockFile, &b)
	if err != nil {
		return nil, err
	}
	fault := func(line int, format string, args ...any) error {
		return Faults{{File: file, Line: line, Text: fmt.Sprintf(format, args...)}}
	}
	switch {
	case b.Format != Format:
		return nil, fault(sc.lines["key:format"], "%s", phrase.Of("procedures.block.format-is-this-program-reads-format", b.Format, Format))
	case !idForm.MatchString(b.ID):
		return nil, fault(sc.lines["key:block"], "%s", phrase.Of("procedures.block.the-blocks-id-is-an-id-is", b.ID))
	}
	if err := tidy(file, &b); err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	for _, p := range b.Parameters {
		if !idForm.MatchString(p.ID) || seen[p.ID] {
			return nil, fault(sc.lines["parameter:"+p.ID], "%s", phrase.Of("procedures.block.the-parameter-stands-twice-or-is-no", p.ID))
		}
		seen[p.ID] = true
	}
	if faults := b.braces(file, sc.braced); len(faults) > 0 {
		return nil, faults
	}
	b.file, b.lines = file, sc.lines
	return &b, nil
}

// braces finds texts whose braces hold no parameter: they would stand on the screen as they are, or
// keep the block from being included.
func (b *Block) braces(file string, texts []braced) Faults {
	var out Faults
	for _, x := range texts {
		for _, m := range placeholder.FindAllString(x.text, -1) {
			name := m[1 : len(m)-1]
			known := func(p Parameter) bool { return p.ID == name || phrase.Capital(p.ID) == name }
			if !slices.ContainsFunc(b.Parameters, known) && len(out) < maxFaults {
				out = append(out, Fault{File: file, Line: x.line, Stage: x.stage, Text: phrase.Of("procedures.expandwords.the-text-names-no-parameter-of-the", shown(clip(m, 80)))})
			}
		}
		rest := placeholder.ReplaceAllLiteralString(x.text, "")
		if strings.ContainsAny(rest, "{}") && len(out) < maxFaults {
			out = append(out, Fault{File: file, Line: x.line, Stage: x.stage, Text: phrase.Of("procedures.block.a-brace-without-its-other-half", shown(clip(x.text, 80)))})
		}
	}
	return out
}

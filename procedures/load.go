package procedures

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"reflect"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"bay.example/pawl/job/phrase"
)

// MaxFile is the size in bytes above which a procedure or sheet file is refused unread.
const MaxFile = 1 << 20

// maxStages bounds the graph, maxTables the tables inside stages and maxList every other list,
// before anything quadratic runs over them. No workshop procedure comes near them.
const (
	maxStages = 400
	maxTables = 4000
	maxList   = 200
)

// maxDepth bounds the nesting of brackets in a file, so that a hostile one cannot exhaust the stack.
const maxDepth = 32

// LoadProcedure reads a procedure file and puts the shipped blocks it includes into it. Unknown keys,
// wrong types and broken syntax are Faults that name file and line. It does not prove the graph
// sound: Check does.
func LoadProcedure(file string, data []byte) (*Procedure, error) {
	return LoadProcedureWith(file, data, ShippedBlock)
}

// LoadProcedureWith is LoadProcedure with blocks found by the caller, such as OwnBlocks.
func LoadProcedureWith(file string, data []byte, find Lookup) (*Procedure, error) {
	var p Procedure
	sc, err := decode(file, data, ProcedureFile, &p)
	if err != nil {
		return nil, err
	}
	if p.Format != Format {
		return nil, Faults{{File: file, Line: sc.lines["key:format"], Text: phrase.Of("procedures.block.format-is-this-program-reads-format", p.Format, Format)}}
	}
	if err := tidy(file, &p); err != nil {
		return nil, err
	}
	p.file = file
	if err := p.expand(sc, find); err != nil {
		return nil, err
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		if s.Second == "" {
			s.Second = SecondApprentice
		}
	}
	return &p, nil
}

// LoadSheet reads a spec sheet file, with the same strictness as LoadProcedure.
func LoadSheet(file string, data []byte) (*Sheet, error) {
	var s Sheet
	sc, err := decode(file, data, SheetFile, &s)
	if err != nil {
		return nil, err
	}
	if s.Format != Format {
		return nil, Faults{{File: file, Line: sc.lines["key:format"], Text: phrase.Of("procedures.block.format-is-this-program-reads-format", s.Format, Format)}}
	}
	if err := tidy(file, &s); err != nil {
		return nil, err
	}
	s.file, s.lines = file, sc.lines
	return &s, nil
}

// Pin returns the canonical bytes of the procedure and their digest. A job keeps both, so that it
// reads the same in ten years however the library has changed.
func (p *Procedure) Pin() (data []byte, digest string, err error) { return pin(p) }

// Pin returns the canonical bytes of the sheet and their digest.
func (s *Sheet) Pin() (data []byte, digest string, err error) { return pin(s) }

func pin(v any) ([]byte, string, error) {
	data, err := toml.Marshal(v)
	if err != nil {
		return nil, "", phrase.Error("procedures.load.write-canonical-file", err)
	}
	return data, Digest(data), nil
}

// Digest is the SHA-256 of data in lower-case hexadecimal.
func Digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// decode reads a file of one kind into what into points to. Every check that costs little stands
// before those that cost more.
func decode(file string, data []byte, kind FileKind, into any) (*scanner, error) {
	fault := func(line int, text string) error { return Faults{{File: file, Line: line, Text: text}} }
	if len(data) > MaxFile {
		return nil, fault(0, phrase.Of("procedures.load.the-file-is-too-large-at-most-bytes", MaxFile))
	}
	if line, text := unreadable(data); text != "" {
		return nil, fault(line, text)
	}
	data = withoutMark(data)
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, fault(0, phrase.Of("procedures.load.the-file-is-empty"))
	}
	if line := tooDeep(data); line > 0 {
		return nil, fault(line, phrase.Of("procedures.load.brackets-nested-deeper-than", maxDepth))
	}
	if err := mistaken(file, data, kind); err != nil {
		return nil, err
	}
	sc := scan(file, data, reflect.TypeOf(into).Elem())
	if len(sc.faults) > 0 {
		return nil, sc.faults
	}
	dec := toml.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields() // scan has found them already, with their lines
	if err := dec.Decode(into); err != nil {
		var de *toml.DecodeError
		if errors.As(err, &de) {
			return nil, fault(syntaxWords(data, de))
		}
		return nil, fault(0, strings.TrimPrefix(err.Error(), "toml: "))
	}
	if _, ok := sc.lines["key:format"]; !ok {
		return nil, fault(1, phrase.Of("procedures.load.has-no-format", Format))
	}
	return sc, nil
}

// tooDeep returns the line on which square or curly brackets nest too deep, or 0. Text inside
// strings counts too, which only makes the bound stricter.
func tooDeep(data []byte) int {
	depth, line := 0, 1
	for _, b := range data {
		switch b {
		case '\n':
			line++
		case '[', '{':
			if depth++; depth > maxDepth {
				return line
			}
		case ']', '}':
			depth = max(0, depth-1)
		}
	}
	return 0
}

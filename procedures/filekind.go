package procedures

import (
	"bytes"
	"strings"

	"bay.example/pawl/job/phrase"
)

// FileKind is what an author's file is meant to be.
type FileKind string

// The kinds of file. One that shows none of the marks of the others is taken for a procedure.
const (
	ProcedureFile FileKind = "procedure"
	SheetFile     FileKind = "sheet"
	BlockFile     FileKind = "block"
)

// marks are the tables that only files of one kind have.
var marks = map[string]FileKind{
	"phase": ProcedureFile, "include": ProcedureFile, "decision": ProcedureFile, "finding": ProcedureFile, "state": ProcedureFile, "stage": ProcedureFile,
	"traits": SheetFile, "source": SheetFile, "window": SheetFile, "group": SheetFile, "count": SheetFile, "part": SheetFile, "fact": SheetFile,
}

// KindOf tells what a file is meant to be by its keys and tables, whether or not it is sound.
func KindOf(data []byte) FileKind {
	for line := range bytes.Lines(withoutMark(data)) {
		text, _, _ := strings.Cut(string(line), "#")
		text = strings.TrimSpace(text)
		if name, ok := strings.CutPrefix(text, "["); ok {
			name, _, _ = strings.Cut(strings.Trim(name, "[] \t"), ".")
			if kind, ok := marks[strings.TrimSpace(name)]; ok {
				return kind
			}
			continue
		}
		switch key, _, _ := strings.Cut(text, "="); strings.TrimSpace(key) {
		case "block":
			return BlockFile
		case "procedures":
			return SheetFile
		}
	}
	return ProcedureFile
}

// IsSheet tells a sheet file from one of another kind.
func IsSheet(data []byte) bool { return KindOf(data) == SheetFile }

// IsBlock tells a block file from one of another kind.
func IsBlock(data []byte) bool { return KindOf(data) == BlockFile }

// mistaken says that a file is not of the kind wanted, or returns nil. Without it every key of the
// file would be called unknown.
func mistaken(file string, data []byte, want FileKind) error {
	is := KindOf(data)
	// A file with no mark at all may have lost its tables; the reader of what was wanted says more.
	if is == want || is == ProcedureFile && !bytes.Contains(data, []byte("[")) {
		return nil
	}
	words := map[FileKind]string{
		ProcedureFile: phrase.Of("procedures.filekind.a-procedure"),
		SheetFile:     phrase.Of("procedures.filekind.a-spec-sheet"),
		BlockFile:     phrase.Of("procedures.filekind.a-block"),
	}
	return Faults{{File: file, Text: phrase.Of("procedures.filekind.is-one-kind-expected-another", words[is], words[want])}}
}

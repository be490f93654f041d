package procedures

import (
	"embed"
	"path"
	"strings"

	"bay.example/pawl/job/phrase"
)

//go:embed library/*.toml library/blocks/*.toml sheets/*.toml
var shipped embed.FS

// Library loads and checks every procedure shipped with the program, by file name.
func Library() ([]*Procedure, error) {
	var out []*Procedure
	err := eachShipped("library", func(name string, data []byte) error {
		p, err := LoadProcedure(name, data)
		if err == nil {
			_, err = p.Check()
		}
		out = append(out, p)
		return err
	})
	return out, err
}

// Sheets loads and checks every spec sheet shipped with the program. All are invented.
func Sheets() ([]*Sheet, error) {
	var out []*Sheet
	err := eachShipped("sheets", func(name string, data []byte) error {
		s, err := LoadSheet(name, data)
		if err == nil {
			err = s.Check()
		}
		out = append(out, s)
		return err
	})
	return out, err
}

func eachShipped(dir string, do func(name string, data []byte) error) error {
	entries, err := shipped.ReadDir(dir)
	if err != nil {
		return phrase.Error("procedures.library.read-shipped", dir, err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".toml") {
			continue
		}
		data, err := shipped.ReadFile(path.Join(dir, e.Name()))
		if err != nil {
			return phrase.Error("procedures.library.read-shipped", e.Name(), err)
		}
		if err := do(path.Join(dir, e.Name()), data); err != nil {
			return err
		}
	}
	return nil
}

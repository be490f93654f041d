package command

import (
	"errors"
	"io/fs"
	"os"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// mustExist refuses a file that is not there, so that a mistyped path is not answered with an empty
// workshop.
func (p *Program) mustExist() error {
	path := p.path
	if path == "" {
		var err error
		if path, err = store.DefaultPath(); err != nil {
			return err
		}
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return phrase.Error("command.file.there-is-no-workshop-file-pawl-sets", path)
	}
	return nil
}

package command

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

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
		return fmt.Errorf("there is no workshop file %s; pawl sets one up, and --file names another", path)
	}
	return nil
}

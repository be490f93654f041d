package command

import (
	"errors"
	"fmt"

	"github.com/spf13/pflag"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// The exit codes of pawl.
const (
	exitFine    = 0
	exitRefused = 1 // refused by a rule, or failed
	exitMisuse  = 2
	exitInUse   = 3 // another program holds the file
)

// misuse is an error of whoever typed the command.
type misuse struct{ err error }

func (m misuse) Error() string { return m.err.Error() }
func (m misuse) Unwrap() error { return m.err }

func misused(format string, args ...any) error { return misuse{fmt.Errorf(format, args...)} }

// errAnswered ends a command with exit code 1 when the reasons have been written already.
var errAnswered = errors.New("refused")

// exitCode is the code an error ends the program with.
func exitCode(err error) int {
	var m misuse
	var held store.InUse
	switch {
	case err == nil:
		return exitFine
	case errors.As(err, &m):
		return exitMisuse
	case errors.As(err, &held):
		return exitInUse
	}
	return exitRefused
}

// say is an error in words, without what only programs want to know.
func say(err error) string {
	var r job.Refused
	if errors.As(err, &r) && len(r) > 0 {
		return r.Error()
	}
	return err.Error()
}

// flagError turns what the flag library says into one sentence.
func flagError(path string, err error) error {
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		return misused("--%s: %w", value.GetFlag().Name, value.Unwrap())
	}
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) {
		return misused("%s", phrase.Of("command.errors.has-no-flag-help-lists-them", path, unknown.GetSpecifiedName(), path))
	}
	var bare *pflag.ValueRequiredError
	if errors.As(err, &bare) {
		return misused("%s", phrase.Of("command.errors.wants-a-value-help-says-which", bare.GetSpecifiedName(), path))
	}
	return misuse{phrase.Error("command.errors.help-says-more", err, path)}
}

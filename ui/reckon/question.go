package reckon

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"bay.example/pawl/job/phrase"
)

// Question is one calculator, to be asked once.
type Question struct {
	Use, Short, Long, Example string // as the help of the command line shows them

	// Args looks the arguments over before they are read; nil takes none. The path is the command
	// as typed.
	Args func(path string, args []string) error
	// Needed are the flags that must be given.
	Needed []string

	flags *pflag.FlagSet
	do    func(args []string) (Answer, error)
}

// Questions makes every calculator anew, in the order they are offered. The clock serves rules that
// go by the day of the test.
func Questions(now func() time.Time) []*Question {
	return []*Question{
		windowQuestion(), ableQuestion(), adapterQuestion(), preloadQuestion(), orderQuestion(),
		discQuestion(), runoutQuestion(), indexQuestion(), padsQuestion(), wearQuestion(),
		balanceQuestion(now), efficiencyQuestion(now), fluidQuestion(), vinQuestion(now),
		convertQuestion(), conformQuestion(), regressQuestion(),
	}
}

// Name is the word the calculator goes by.
func (q *Question) Name() string {
	name, _, _ := strings.Cut(q.Use, " ")
	return name
}

// Flags are the inputs that go by name.
func (q *Question) Flags() *pflag.FlagSet {
	if q.flags == nil {
		q.flags = pflag.NewFlagSet(q.Name(), pflag.ContinueOnError)
	}
	return q.flags
}

func (q *Question) answers(do func(args []string) (Answer, error)) *Question {
	q.do = do
	return q
}

// Ask works the answer out. What it cannot work with is a mistake in the question, in one sentence;
// it is a Wrong where it lies with certain inputs.
func (q *Question) Ask(args []string) (Answer, error) {
	a, err := q.do(args)
	a.Name = q.Name()
	return a, err
}

// Wrong is a mistake in certain inputs. Its sentence names flags as the command line spells them.
type Wrong struct {
	Inputs []string // the names of the inputs, the one to look at first
	err    error
}

// Error is the sentence.
func (w Wrong) Error() string { return w.err.Error() }

// Unwrap is what the sentence was made of.
func (w Wrong) Unwrap() error { return w.err }

// Words is the sentence with the flags named as label names them.
func (w Wrong) Words(label func(input string) string) string {
	text := w.Error()
	for _, in := range w.Inputs {
		text = strings.ReplaceAll(text, "--"+in, label(in))
	}
	return text
}

// wrong makes a Wrong; inputs are separated by blanks.
func wrong(inputs, format string, args ...any) error {
	return Wrong{Inputs: strings.Fields(inputs), err: fmt.Errorf(format, args...)}
}

// exactly wants n arguments and says which.
func exactly(n int, which string) func(path string, args []string) error {
	return func(path string, args []string) error {
		if len(args) != n {
			return phrase.Error("reckon.question.takes-given", path, which, len(args))
		}
		return nil
	}
}

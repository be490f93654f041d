package questions

import (
	"cmp"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Check says in one sentence what is wrong with the parameters given, before anything is read.
func (q Question) Check(given map[string]string) error {
	for _, p := range q.Params {
		v := cmp.Or(strings.TrimSpace(given[p.Name]), p.Default)
		if v == "" {
			if !p.Optional {
				return phrase.Error("questions.ask.needs", q.Name, p.Name, p.Title)
			}
			continue
		}
		if err := p.Check(v); err != nil {
			return err
		}
	}
	return nil
}

// Check says in one sentence what is wrong with the value of a parameter.
func (p Param) Check(value string) error { return p.check(strings.TrimSpace(value)) }

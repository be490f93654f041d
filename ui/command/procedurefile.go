package command

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// proceduresNamed loads procedures from files, or shipped ones by their ids. Block files among the
// names go before the shipped blocks.
func proceduresNamed(names []string) ([]*procedures.Procedure, error) {
	read := map[string][]byte{}
	for _, name := range names {
		data, err := readProcedureFile(name)
		switch {
		case err == nil:
			read[name] = data
		case strings.ContainsAny(name, `/\.`):
			return nil, phrase.Error("command.check.cannot-be-read", name, withoutPath(err))
		}
	}
	blocks := procedures.OwnBlocks(read)
	var out []*procedures.Procedure
	var included []*procedures.Block
	for _, name := range names {
		data, isFile := read[name]
		switch {
		case !isFile:
			pr, err := shippedProcedure(name)
			if err != nil {
				return nil, err
			}
			out = append(out, pr)
		case procedures.IsBlock(data):
			b, err := procedures.LoadBlock(name, data)
			if err != nil {
				return nil, err
			}
			included = append(included, b)
		default:
			pr, err := procedures.LoadProcedureWith(name, data, blocks)
			if err != nil {
				return nil, err
			}
			out = append(out, pr)
		}
	}
	if twice := procedures.Twice(included, nil, nil); len(twice) > 0 {
		return nil, twice
	}
	return out, nil
}

func shippedProcedure(id string) (*procedures.Procedure, error) {
	shipped, err := procedures.Library()
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, pr := range shipped {
		if pr.ID == id {
			return pr, nil
		}
		ids = append(ids, pr.ID)
	}
	return nil, misused("%s", phrase.Of("command.procedurefile.is-no-file-and-no-shipped-procedure", id, strings.Join(ids, ", ")))
}

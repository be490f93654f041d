package command

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/paper"
)

// formCSV is a table for a spreadsheet.
const formCSV = "csv"

// export is what pawl export was asked for.
type export struct {
	all       bool
	as, table string
	to        string
}

func (p *Program) exportCommand() *cobra.Command {
	x := export{as: formJSON}
	c := &cobra.Command{
		Use:   "export JOB",
		Short: phrase.Of("command.export.the-data-of-a-job-or-of"),
		Long:  phrase.Of("command.export.writes-a-job-as-json-of-the", paper.Schema, strings.Join(paper.Tables(), ", ")),
		Args: func(c *cobra.Command, args []string) error {
			if x.all == (len(args) == 1) || len(args) > 1 {
				return misused("%s", phrase.Of("command.export.takes-the-number-of-one-job-or", c.CommandPath()))
			}
			return nil
		},
	}
	c.Flags().BoolVar(&x.all, "all", false, phrase.Of("command.export.every-job-of-the-file"))
	c.Flags().StringVar(&x.as, "as", x.as, phrase.Of("command.export.json-or-csv"))
	c.Flags().StringVar(&x.table, "table", "", phrase.Of("command.export.the-table-of-as-csv"))
	c.Flags().StringVar(&x.to, "to", "", phrase.Of("command.export.a-folder-the-files-are-written-into"))
	c.RunE = func(_ *cobra.Command, args []string) error {
		if err := x.check(); err != nil {
			return err
		}
		var numbers []uint64
		if len(args) == 1 {
			n, err := jobNumber(args[0])
			if err != nil {
				return err
			}
			numbers = []uint64{n}
		}
		return p.with(func(f *store.File) error {
			if x.all {
				jobs, err := f.Jobs()
				if err != nil {
					return err
				}
				for _, j := range slices.Backward(jobs) {
					numbers = append(numbers, j.Number)
				}
			}
			return p.export(f, x, numbers)
		})
	}
	return c
}

func (x export) check() error {
	switch {
	case x.as != formJSON && x.as != formCSV:
		return misused("%s", phrase.Of("command.export.as-expected-json-or-csv", x.as))
	case x.as == formJSON && x.table != "":
		return misused("%s", phrase.Of("command.export.table-goes-with-as-csv-json-has"))
	case x.as == formCSV && x.table == "" && x.to == "":
		return misused("%s", phrase.Of("command.export.as-csv-wants-table-one-of-or", strings.Join(paper.Tables(), ", ")))
	case x.table != "" && !slices.Contains(paper.Tables(), x.table):
		return misused("%s", phrase.Of("command.export.table-expected-one-of", x.table, strings.Join(paper.Tables(), ", ")))
	}
	return nil
}

func (p *Program) export(f *store.File, x export, numbers []uint64) error {
	if x.to != "" {
		if err := os.MkdirAll(x.to, 0o700); err != nil {
			return phrase.Error("command.export.no-folder-for-the-export", err)
		}
	}
	if x.as == formJSON {
		return p.exportJSON(f, x, numbers)
	}
	tables := []string{x.table}
	if x.table == "" {
		tables = paper.Tables()
	}
	for _, table := range tables {
		err := p.exportTo(x, table+".csv", func(w io.Writer) error { return writeTable(f, w, table, numbers) })
		if err != nil {
			return err
		}
	}
	return nil
}

// writeTable writes a table job by job, so that no more than one is in memory.
func writeTable(f *store.File, w io.Writer, table string, numbers []uint64) error {
	if len(numbers) == 0 {
		return phrase.Error("command.export.there-are-no-jobs-yet")
	}
	for i, n := range numbers {
		c, err := f.Load(n)
		if err != nil {
			return err
		}
		data, err := paper.CSV(table, c)
		if err != nil {
			return err
		}
		if i > 0 { // the line of names stands once
			_, data, _ = bytes.Cut(data, []byte("\r\n"))
		}
		if _, err := w.Write(data); err != nil {
			return err
		}
	}
	return nil
}

func (p *Program) exportJSON(f *store.File, x export, numbers []uint64) error {
	list := x.all && x.to == ""
	for i, n := range numbers {
		c, err := f.Load(n)
		if err != nil {
			return err
		}
		data, err := jobJSON(f, c)
		if err != nil {
			return err
		}
		if list {
			data = append([]byte(map[bool]string{true: "[\n", false: ",\n"}[i == 0]), bytes.TrimRight(data, "\n")...)
		}
		if err := p.exportTo(x, fmt.Sprintf("job-%d.json", n), func(w io.Writer) error { _, err := w.Write(data); return err }); err != nil {
			return err
		}
	}
	if !list {
		return nil
	}
	end := "\n]\n"
	if len(numbers) == 0 {
		end = "[]\n"
	}
	_, err := io.WriteString(p.Out, end)
	return err
}

func jobJSON(f *store.File, c *job.Card) ([]byte, error) {
	in, err := printInfo(f, c)
	if err != nil {
		return nil, err
	}
	return paper.JSON(c, in)
}

// exportTo writes to standard output, or into a new file of the folder and names it.
func (p *Program) exportTo(x export, name string, write func(io.Writer) error) error {
	if x.to == "" {
		return write(p.Out)
	}
	path := filepath.Join(x.to, name)
	out, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return phrase.Error("command.export.the-export-cannot-be-written", err)
	}
	if err := errors.Join(write(out), out.Close()); err != nil {
		return err
	}
	_, err = fmt.Fprintln(p.Out, path)
	return err
}

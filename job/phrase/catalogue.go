package phrase

import (
	"embed"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

//go:embed */*.toml
var files embed.FS

// text is one text: its format, and its other plural forms where a count decides.
type text struct {
	other string
	forms map[plural.Form]string
}

// forms are the names of CLDR's plural categories in a file.
var forms = map[string]plural.Form{
	"zero": plural.Zero, "one": plural.One, "two": plural.Two, "few": plural.Few, "many": plural.Many, "other": plural.Other,
}

// catalogue is one language: its texts by key.
type catalogue map[string]text

// read takes all files of one language's folder.
func read(from fs.FS, folder string) (catalogue, error) {
	names, err := fs.Glob(from, path.Join(folder, "*.toml"))
	if err != nil {
		return nil, err
	}
	c := catalogue{}
	for _, name := range names {
		raw, err := fs.ReadFile(from, name)
		if err != nil {
			return nil, err
		}
		if err := c.add(strings.TrimSuffix(path.Base(name), ".toml"), raw); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return c, nil
}

// add takes one file: tables of texts, and plural forms, which are tables with an "other". It reads
// the syntax tree of the TOML library: every start of the program reads every text.
func (c catalogue) add(area string, raw []byte) error {
	p := unstable.Parser{}
	p.Reset(raw)
	counted := map[string]map[string]string{} // tables that may hold plural forms
	rows := map[string]int{}
	table := area
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table:
			table = area + "." + dotted(e.Key())
		case unstable.KeyValue:
			name, v := dotted(e.Key()), e.Value()
			key := table + "." + name
			if v.Kind != unstable.String {
				return fmt.Errorf("%s is no text; expected one in quotes", key)
			}
			if _, twice := c[key]; twice {
				return fmt.Errorf("%s stands twice", key)
			}
			c[key] = text{other: string(v.Data)}
			rows[table]++
			if _, form := forms[name]; form {
				if counted[table] == nil {
					counted[table] = map[string]string{}
				}
				counted[table][name] = string(v.Data)
			}
		default:
			return fmt.Errorf("%s: only tables of texts stand in this file", table)
		}
	}
	if err := p.Error(); err != nil {
		return err
	}
	for table, all := range counted {
		if _, ok := all["other"]; !ok {
			continue // a text of that name
		}
		if rows[table] != len(all) {
			return fmt.Errorf("%s holds more than plural forms; expected %s", table, strings.Join(slices.Sorted(maps.Keys(forms)), ", "))
		}
		c.count(table, all)
	}
	return nil
}

func dotted(key unstable.Iterator) string {
	var parts []string
	for key.Next() {
		parts = append(parts, string(key.Node().Data))
	}
	return strings.Join(parts, ".")
}

// count makes one text of a table of plural forms.
func (c catalogue) count(table string, all map[string]string) {
	t := text{other: all["other"], forms: map[plural.Form]string{}}
	for name, s := range all {
		t.forms[forms[name]] = s
		delete(c, table+"."+name)
	}
	c[table] = t
}

// languages lists the folders, English first: a locale that matches none gets it.
func languages(from fs.FS) ([]language.Tag, error) {
	entries, err := fs.ReadDir(from, ".")
	if err != nil {
		return nil, err
	}
	tags := []language.Tag{language.English}
	for _, e := range entries {
		tag, err := language.Parse(e.Name())
		if err != nil {
			return nil, fmt.Errorf("the folder %s is no BCP 47 tag: %w", e.Name(), err)
		}
		if tag != language.English {
			tags = append(tags, tag)
		}
	}
	return tags, nil
}

package phrase

import (
	"embed"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
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

// add takes one file: texts, tables of texts, and plural forms, which are tables with an "other".
func (c catalogue) add(prefix string, raw []byte) error {
	var tables map[string]any
	if err := toml.Unmarshal(raw, &tables); err != nil {
		return err
	}
	return c.take(prefix, tables)
}

func (c catalogue) take(prefix string, tables map[string]any) error {
	for name, v := range tables {
		key := prefix + "." + name
		switch v := v.(type) {
		case string:
			c[key] = text{other: v}
		case map[string]any:
			if _, counted := v["other"].(string); counted {
				t, err := counting(v)
				if err != nil {
					return fmt.Errorf("%s: %w", key, err)
				}
				c[key] = t
				continue
			}
			if err := c.take(key, v); err != nil {
				return err
			}
		default:
			return fmt.Errorf("%s is %T; expected a text in quotes", key, v)
		}
	}
	return nil
}

func counting(table map[string]any) (text, error) {
	t := text{forms: map[plural.Form]string{}}
	for name, v := range table {
		form, ok := forms[name]
		s, isText := v.(string)
		if !ok || !isText {
			return text{}, fmt.Errorf("%q is no plural form with a text; expected %s", name, strings.Join(slices.Sorted(maps.Keys(forms)), ", "))
		}
		t.forms[form] = s
	}
	t.other = t.forms[plural.Other]
	return t, nil
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

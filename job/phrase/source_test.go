package phrase

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// source is one file of the program, with the parent of each of its nodes.
type source struct {
	path   string
	fset   *token.FileSet
	file   *ast.File
	parent map[ast.Node]ast.Node
}

func (s source) at(n ast.Node) string {
	p := s.fset.Position(n.Pos())
	return s.path + ":" + strconv.Itoa(p.Line)
}

// program reads every file of the program that is not a test. Packages that only play jobs for tests
// and the invented depot of the demo say nothing to a person in the program's own words.
func program(t *testing.T) []source {
	t.Helper()
	var out []source
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() {
			if name == "testdata" || name == "phrase" || name == "walk" || name == "accents" || name == "endtoend" || name == "benchsqlite" || strings.HasPrefix(name, ".") && name != ".." {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || name == "depot.go" {
			return nil
		}
		s := source{path: filepath.ToSlash(strings.TrimPrefix(path, root+string(filepath.Separator))), fset: token.NewFileSet(), parent: map[ast.Node]ast.Node{}}
		if s.file, err = parser.ParseFile(s.fset, path, nil, parser.SkipObjectResolution); err != nil {
			return err
		}
		var stack []ast.Node
		ast.Inspect(s.file, func(n ast.Node) bool {
			if n == nil {
				stack = stack[:len(stack)-1]
				return true
			}
			if len(stack) > 0 {
				s.parent[n] = stack[len(stack)-1]
			}
			stack = append(stack, n)
			return true
		})
		out = append(out, s)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) < 300 {
		t.Fatalf("only %d files were read", len(out))
	}
	return out
}

// callee is the name of what a call calls, such as phrase.Of.
func callee(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok {
			return x.Name + "." + f.Sel.Name
		}
		return "." + f.Sel.Name
	case *ast.Ident:
		return f.Name
	}
	return ""
}

var (
	twoLetters = regexp.MustCompile(`[A-Za-z][A-Za-z'’]+`)
	oneWord    = regexp.MustCompile(`^[A-Z][a-z]{2,}[.:!?…]?$|^[A-Z]{4,}[.:!?]?$`)
	markup     = regexp.MustCompile(`@page|counter\(|font: |^id = |<[a-z/!]|="|\{[a-z-]+:|^[a-z.]+\{|://`)
)

// symbols are letters that no language changes.
var symbols = map[string]bool{"mm": true, "km": true, "kPa": true, "bar": true, "ml": true, "kg": true, "kN": true, "lbf": true, "Nm": true, "deg": true, "Ohm": true, "ft": true, "in": true}

// isLanguage says whether a literal is written in a language: words with a space between or beside
// them, and on screens and paper a capitalised word alone.
func isLanguage(path, s string) bool {
	if markup.MatchString(s) || symbols[s] {
		return false
	}
	if (strings.HasPrefix(path, "ui/") || strings.HasPrefix(path, "job/questions/")) && oneWord.MatchString(s) {
		return true
	}
	bare := verb.ReplaceAllString(s, "\x00")
	if !strings.Contains(bare, " ") {
		return false
	}
	for _, w := range twoLetters.FindAllString(bare, -1) {
		if !symbols[w] {
			return true
		}
	}
	return false
}

// notSaid are functions whose literals are compared, taken apart or meant for a programmer.
var notSaid = map[string]bool{
	"panic": true, "regexp.MustCompile": true, ".FieldByName": true, "time.Parse": true,
	"strings.Contains": true, "strings.HasPrefix": true, "strings.HasSuffix": true, "strings.TrimPrefix": true, "strings.TrimSuffix": true,
	"strings.Cut": true, "strings.CutPrefix": true, "strings.CutSuffix": true, "strings.Split": true, "strings.SplitN": true, "strings.ReplaceAll": true,
	"strings.NewReplacer": true, "strings.ContainsAny": true, "strings.Trim": true, "strings.TrimRight": true, "strings.Index": true, "strings.LastIndex": true,
}

// shown are fields of a composite literal that stand on a screen, one word or many.
var shown = map[string]bool{"Word": true, "Title": true, "Doing": true, "Hint": true, "Label": true, "Empty": true, "label": true, "last": true, "head": true, "text": true, "title": true, "empty": true}

// inField tells whether a literal fills such a field of a screen, a page or an answer.
func (s source) inField(lit *ast.BasicLit) bool {
	if !strings.HasPrefix(s.path, "ui/") && !strings.HasPrefix(s.path, "job/questions/") {
		return false
	}
	kv, ok := s.parent[lit].(*ast.KeyValueExpr)
	if !ok {
		return false
	}
	id, ok := kv.Key.(*ast.Ident)
	return ok && shown[id.Name] && twoLetters.MatchString(unquoted(lit))
}

// said tells whether a literal could be said to a person where it stands.
func (s source) said(lit *ast.BasicLit) bool {
	if _, named := spoken.english["word."+unquoted(lit)]; named || s.constant(lit) {
		return false // TestWordsOfTheRecord asks for its name
	}
	var n ast.Node = lit
	p := s.parent[n]
	for {
		if _, ok := p.(*ast.ParenExpr); !ok {
			break
		}
		n, p = p, s.parent[p]
	}
	for q := p; q != nil; q = s.parent[q] {
		if c, ok := q.(*ast.CallExpr); ok && callee(c) == "panic" {
			return false
		}
	}
	switch p := p.(type) {
	case *ast.ImportSpec, *ast.Field:
		return false
	case *ast.CaseClause:
		for _, x := range p.List {
			if x == n {
				return false
			}
		}
	case *ast.BinaryExpr:
		if p.Op != token.ADD {
			return false
		}
	case *ast.IndexExpr:
		return p.Index != n
	case *ast.KeyValueExpr:
		if id, ok := p.Key.(*ast.Ident); ok {
			switch id.Name {
			case "Use", "Example", "example":
				return false // what is typed is the same in every language
			case "Key":
				return p.Value != n // names of keys and of remarks; the screen shows phrase.Word of them
			}
		}
		return p.Key != n
	case *ast.CallExpr:
		if callee(p) == "wrong" && p.Args[0] == n {
			return false // names of inputs
		}
		if _, conversion := p.Fun.(*ast.ArrayType); conversion || notSaid[callee(p)] || strings.HasSuffix(callee(p), ".Format") {
			return false
		}
	}
	return true
}

// TestEveryTextStandsInTheCatalogue finds a text that was written into the code. It is moved into a
// file of en, and the code asks for it by its key.
func TestEveryTextStandsInTheCatalogue(t *testing.T) {
	found := map[string]bool{}
	for _, s := range program(t) {
		ast.Inspect(s.file, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			text := unquoted(lit)
			if _, ok := formats[text]; ok {
				found[text] = true
				return true
			}
			if !s.inField(lit) && (!isLanguage(s.path, text) || !s.said(lit)) {
				return true
			}
			t.Errorf("%s: %.60q is written into the code; texts stand in job/phrase/en", s.at(lit), text)
			return true
		})
	}
	for f := range formats {
		if !found[f] {
			t.Errorf("%q is no longer in the code", f)
		}
	}
}

// formats are literals with words that belong to a format another program reads, with the reason.
var formats = map[string]string{
	"set the level of %s of": "an act of the register's log, which is recorded",
	"set the %s of":          "an act of the register's log, which is recorded",
	"%s for %s":              "an act of the register's log, which is recorded",
	"%s\njob %d\nevents %d\nhead %x\nat %s\nended %s\n": "the text of a seal, which is hashed",
	"pawl job\n":          "where the chain of a job's digests begins, which is hashed",
	"%d..%d count":        "a window, as it is recorded",
	"part %s":             "the id of a window that a parts list gives, which is recorded",
	"pawl {{.Version}}\n": "a template of the command line",
	"DOT 3":               "a class of brake fluid, as it stands on the bottle",
	"DOT 4":               "a class of brake fluid, as it stands on the bottle",
	"DOT 5":               "a class of brake fluid, as it stands on the bottle",
	"DOT 5.1":             "a class of brake fluid, as it stands on the bottle",
	"ISO 4925 class 3":    "a class of brake fluid, as it stands on the bottle",
	"ISO 4925 class 4":    "a class of brake fluid, as it stands on the bottle",
	"ISO 4925 class 5-1":  "a class of brake fluid, as it stands on the bottle",
	"ISO 4925 class 6":    "a class of brake fluid, as it stands on the bottle",
	"ISO 4925 class 7":    "a class of brake fluid, as it stands on the bottle",
	"the spec sheet in use now judges it otherwise":                    "a reason that the program writes into the record",
	"it rests on %q, which was done again":                             "a reason that the program writes into the record",
	"  { rank=same;\n":                                                 "DOT, which graph tools read",
	", peripheries=2":                                                  "DOT, which graph tools read",
	", style=dashed":                                                   "DOT, which graph tools read",
	"    %q [label=%q%s];\n":                                           "DOT, which graph tools read",
	"  %q -> %q [style=dotted, constraint=false, label=%q];\n":         "DOT, which graph tools read",
	"  %q -> %q [dir=none, style=bold, constraint=false, label=%q];\n": "DOT, which graph tools read",
	" hold":                               "a class of the style of a page",
	" maybe":                              "a class of the style of a page",
	" close":                              "a class of the style of a page",
	"pawl seal 1":                         "the first line of a seal, which is hashed",
	"pawl seals of the workshop set up ":  "the origin line of a checkpoint (C2SP tlog-checkpoint), which is hashed",
	"efficiency least":                    "a rule of job/brakes/rules/roller.csv",
	"dangerous below share of efficiency": "a rule of job/brakes/rules/roller.csv",
	"lower wheel least":                   "a rule of job/brakes/rules/roller.csv",
	"lower wheel least on steered axle":   "a rule of job/brakes/rules/roller.csv",
	"lower wheel warned below":            "a rule of job/brakes/rules/roller.csv",
	"imbalance disregarded up to":         "a rule of job/brakes/rules/roller.csv",
	"fluctuation most":                    "a rule of job/brakes/rules/roller.csv",
	"bind most":                           "a rule of job/brakes/rules/roller.csv",
}

// TestKeysAreThere holds every key that the code asks for against the catalogue, with the number of
// its arguments, and finds texts that nothing asks for.
func TestKeysAreThere(t *testing.T) {
	asked := map[string]bool{}
	for _, s := range program(t) {
		ast.Inspect(s.file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			name := callee(call)
			if name != "phrase.Of" && name != "phrase.Error" && name != "phrase.Count" {
				return true
			}
			lit, ok := call.Args[0].(*ast.BasicLit)
			if !ok {
				t.Errorf("%s: the key is no literal, so nothing can hold it against the catalogue", s.at(call))
				return true
			}
			key := unquoted(lit)
			asked[key] = true
			have, ok := spoken.english[key]
			if !ok {
				t.Errorf("%s: no text has the key %s", s.at(call), key)
				return true
			}
			if call.Ellipsis.IsValid() {
				return true
			}
			verbs, given := verbsOf(have.other), len(call.Args)-1
			if len(verbs) != given && (given > 0 || len(verbs) > 0) {
				t.Errorf("%s: %s takes %d arguments and gets %d", s.at(call), key, len(verbs), given)
			}
			if counted := name == "phrase.Count"; counted != (have.forms != nil) {
				t.Errorf("%s: %s is asked by %s; a text with plural forms goes with Count and only with it", s.at(call), key, name)
			}
			return true
		})
	}
	for key := range spoken.english {
		if !asked[key] && !strings.HasPrefix(key, "word.") {
			t.Errorf("nothing asks for %s", key)
		}
	}
}

// TestWordsOfTheRecord finds a word of the record, a constant of the domain with a space in it, that
// has no name for the screen, and a name of a word that is nowhere in the code.
func TestWordsOfTheRecord(t *testing.T) {
	inCode := map[string]bool{}
	for _, s := range program(t) {
		ast.Inspect(s.file, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			word := unquoted(lit)
			inCode[word] = true
			if _, named := spoken.english["word."+word]; !named && s.constant(lit) && isLanguage(s.path, word) {
				if _, format := formats[word]; !format {
					t.Errorf("%s: the constant %q has no name in en/word.toml", s.at(lit), word)
				}
			}
			return true
		})
	}
	for key := range spoken.english {
		if word, ok := strings.CutPrefix(key, "word."); ok && !inCode[word] {
			t.Errorf("nothing in the code is %q, which en/word.toml names", word)
		}
	}
}

func unquoted(lit *ast.BasicLit) string {
	s, err := strconv.Unquote(lit.Value)
	if err != nil {
		return lit.Value
	}
	return s
}

// constant tells whether a literal is the whole value of a constant: a word that is recorded,
// compared or written into a file.
func (s source) constant(lit *ast.BasicLit) bool {
	v, ok := s.parent[lit].(*ast.ValueSpec)
	if !ok {
		return false
	}
	g, ok := s.parent[v].(*ast.GenDecl)
	return ok && g.Tok == token.CONST
}

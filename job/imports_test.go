package job_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const module = "bay.example/pawl/"

// rank is the place of a package in the straight line ui → store → job → procedures → job/quantity,
// with the texts of job/phrase below them all. A package imports only packages below it.
func rank(path string) int {
	switch {
	case strings.HasPrefix(path, "ui"):
		return 7
	case strings.HasPrefix(path, "store"):
		return 6
	case path == "job/questions", path == "job/walk":
		return 5
	case path == "job":
		return 4
	case path == "job/register":
		return 3
	case strings.HasPrefix(path, "procedures"):
		return 2
	case path == "job/fastening", path == "job/brakes", path == "job/seal":
		return 1
	case path == "job/quantity":
		return 0
	case strings.HasPrefix(path, "job/phrase"):
		return -1
	}
	return 8 // main
}

// forbidden is what the domain must not reach.
var forbidden = []string{"github.com/charmbracelet", "go.etcd.io/bbolt", "os", "io/ioutil", "net", "os/exec", "math/rand", "math/rand/v2", "syscall", "golang.org/x/term"}

// The clock is read nowhere in the domain; times are handed in.
var clock = []string{"Now", "Since", "Until", "After", "Tick", "NewTimer", "NewTicker", "AfterFunc", "Sleep"}

func TestImportsRunOneWay(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && d.Name() != "..") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		seen++
		here := filepath.ToSlash(filepath.Dir(strings.TrimPrefix(path, "../")))
		if here == ".." {
			here = "main"
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, imp := range f.Imports {
			name, err := strconv.Unquote(imp.Path.Value)
			if err != nil {
				return err
			}
			checkImport(t, path, here, name)
		}
		if rank(here) <= 5 {
			checkClock(t, path, f)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 50 {
		t.Fatalf("only %d files were looked at", seen)
	}
}

func checkImport(t *testing.T, path, here, name string) {
	t.Helper()
	if inner, ok := strings.CutPrefix(name, module); ok {
		same := here == inner || strings.HasPrefix(here, "job/phrase") && strings.HasPrefix(inner, "job/phrase") || strings.HasPrefix(here, "ui") && strings.HasPrefix(inner, "ui")
		if !same && rank(inner) >= rank(here) {
			t.Errorf("%s (%s) imports %s, which stands above it or beside it", path, here, inner)
		}
		return
	}
	if rank(here) <= 5 {
		for _, bad := range forbidden {
			if here == "job/phrase" && name == "os" {
				continue // the language is settled by the environment, once
			}
			if name == bad || strings.HasPrefix(name, bad+"/") {
				t.Errorf("%s reaches %s; the domain knows no terminal, no file and no network", path, name)
			}
		}
	}
	if strings.HasPrefix(here, "store") && strings.HasPrefix(name, "github.com/charmbracelet") {
		t.Errorf("%s reaches %s; the store knows no screen", path, name)
	}
	if strings.HasPrefix(name, "github.com/google/go-cmp") || strings.HasPrefix(name, "pgregory.net/rapid") {
		t.Errorf("%s imports %s, which is for tests", path, name)
	}
}

func checkClock(t *testing.T, path string, f *ast.File) {
	t.Helper()
	ast.Inspect(f, func(n ast.Node) bool {
		sel, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if x, ok := sel.X.(*ast.Ident); ok && x.Name == "time" {
			for _, c := range clock {
				if sel.Sel.Name == c {
					t.Errorf("%s calls time.%s; times are handed in", path, c)
				}
			}
		}
		return true
	})
}

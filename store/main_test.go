package store

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"testing"
)

// Some tests need another process: one that is killed, that holds the file, or that may die of it.
// The test binary runs itself for that, and this variable says what to be.
const childVariable = "PAWL_STORE_TEST_CHILD"

var children = map[string]func(path string){}

func TestMain(m *testing.M) {
	if name := os.Getenv(childVariable); name != "" {
		children[name](os.Args[1])
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// child is a running copy of the test binary.
type child struct {
	cmd   *exec.Cmd
	lines *bufio.Scanner
}

func start(t testing.TB, name, path string) *child {
	t.Helper()
	return startWith(t, name, path, nil)
}

// startWith starts a child with something to read.
func startWith(t testing.TB, name, path string, in *os.File) *child {
	t.Helper()
	exe, err := os.Executable()
	must(t, err)
	cmd := exec.Command(exe, path)
	cmd.Env = append(os.Environ(), childVariable+"="+name)
	if in != nil {
		cmd.Stdin = in
	}
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	return &child{cmd, bufio.NewScanner(out)}
}

// line returns the next line the child printed; false when it has ended.
func (c *child) line() (string, bool) {
	ok := c.lines.Scan()
	return c.lines.Text(), ok
}

// die ends a child that cannot go on.
func die(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "child:", err)
		os.Exit(3)
	}
}

package endtoend

import (
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/store"
)

// prompt is that of the shell the program is started from in these tests.
const prompt = "what-next>"

// inShell starts the screen the way people do, from a shell, and returns its process.
func inShell(t *testing.T, path string) (w *worker, pid int) {
	t.Helper()
	w = &worker{terminal: startTerminal(t, 80, 24, "PS1='"+prompt+" ' ENV= exec /bin/sh -i")}
	w.awaitText(prompt)
	w.chars(quoted(program(t)) + " --file " + quoted(path))
	w.keys("Enter")
	w.awaitText("Who is working?")
	shell := w.pid()
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", shell, shell))
	if err != nil {
		t.Skipf("this system does not tell the children of a process: %v", err)
	}
	pid, err = strconv.Atoi(strings.TrimSpace(string(data)))
	if err != nil {
		t.Fatalf("the shell has the children %q, expected one", data)
	}
	return w, pid
}

// opens opens a file that no program may have open any more.
func opens(t *testing.T, path string) {
	t.Helper()
	f, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// A terminated program gives the terminal back: the prompt is there, and what is typed shows.
func TestTerminatedProgramGivesTheTerminalBack(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGTERM, syscall.SIGINT} {
		t.Run(s.String(), func(t *testing.T) {
			t.Parallel()
			path := depot(t)
			w, pid := inShell(t, path)
			if err := syscall.Kill(pid, s); err != nil {
				t.Fatal(err)
			}
			w.await("the prompt", func(f frame) bool {
				return strings.Count(f.String(), prompt) == 2 && !f.has("Who is working?")
			})
			w.chars("echo al''l-right")
			w.awaitText("echo al''l-right")
			w.keys("Enter")
			w.await("the shell to answer", func(f frame) bool { return strings.Contains(f.String(), "\nall-right\n") })
			opens(t, path)
		})
	}
}

// A session that is killed takes the program with it, and the file is free.
func TestKilledSessionEndsTheProgram(t *testing.T) {
	t.Parallel()
	path := depot(t)
	w := screenOn(t, path, 80, 24)
	pid := w.pid()
	w.run("kill-session", "-t", "e")
	for end := time.Now().Add(patience); alive(pid); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("the program outlives its terminal")
		}
	}
	opens(t, path)
}

// A second program on the same file says in a sentence who holds it, and ends with 3; the first one
// goes on.
func TestSecondProgramSaysWhoHoldsTheFile(t *testing.T) {
	t.Parallel()
	path := depot(t)
	w := screenOn(t, path, 80, 24)
	holder := fmt.Sprintf("process %d", w.pid())
	out, err := exec.Command(program(t), "list", "--file", path).CombinedOutput()
	var ended *exec.ExitError
	if !asExit(err, &ended) || ended.ExitCode() != 3 {
		t.Errorf("pawl list ends with %v", err)
	}
	host, _ := os.Hostname()
	if text := accents.Off(string(out)); !strings.Contains(text, "in use") || !strings.Contains(text, holder) || !strings.Contains(text, host) || strings.Count(text, "\n") != 1 {
		t.Errorf("pawl list says %q", text)
	}
	second := startTerminal(t, 80, 24, quoted(program(t))+" --file "+quoted(path)+"; echo code $?")
	f := second.awaitText("code 3")
	if text := squeeze(strings.Join(f.rows, " ")); !strings.Contains(text, "in use") || !strings.Contains(strings.Join(f.rows, ""), holder) {
		t.Errorf("a second screen says\n%s", f)
	}
	w.signIn("M04")
	w.awaitText("Jobs in the bay: 0")
}

func asExit(err error, to **exec.ExitError) bool {
	e, ok := err.(*exec.ExitError)
	*to = e
	return ok
}

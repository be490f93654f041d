package endtoend

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"
)

// patience is how long a test waits for the screen to show something. The machine of a test may be
// slow and busy; a test that passes never waits that long.
const patience = 30 * time.Second

// betweenKeys is how far apart a hand presses the same key twice: further than a key repeats.
const betweenKeys = 100 * time.Millisecond

// drawing is how long a terminal is watched for the rest of a frame.
const drawing = 3 * time.Millisecond

// halfDrawn is how long a frame may stay half drawn before it is taken for what the terminal shows:
// that of a program killed while it drew is never finished.
const halfDrawn = 2 * time.Second

// afterBurst is longer than the program waits to see whether characters are those of a scanner.
const afterBurst = 40 * time.Millisecond

// built is the program, built once for all tests.
var built struct {
	once sync.Once
	dir  string
	path string
	err  error
}

func TestMain(m *testing.M) {
	// The program speaks the language of these tests, whatever the locale of the machine.
	if os.Getenv("PAWL_LANGUAGE") == "" {
		os.Setenv("PAWL_LANGUAGE", "en")
	}
	code := m.Run()
	if built.dir != "" {
		os.RemoveAll(built.dir)
	}
	os.Exit(code)
}

// program is the path of the program under test.
func program(t testing.TB) string {
	t.Helper()
	built.once.Do(func() {
		built.dir, built.err = os.MkdirTemp("", "pawl-built-")
		if built.err != nil {
			return
		}
		built.path = filepath.Join(built.dir, "pawl")
		var out []byte
		if out, built.err = exec.Command("go", "build", "-o", built.path, "bay.example/pawl").CombinedOutput(); built.err != nil {
			built.err = fmt.Errorf("go build: %w\n%s", built.err, out)
		}
	})
	if built.err != nil {
		t.Fatal(built.err)
	}
	return built.path
}

// needTmux skips the test where there is no tmux, or fails it where one is required.
func needTmux(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("tmux"); err != nil {
		if os.Getenv("PAWL_ENDTOEND") == "required" {
			t.Fatal("tmux is not installed, and PAWL_ENDTOEND=required asks for the end-to-end tests")
		}
		t.Skip("tmux is not installed; the end-to-end tests need it (PAWL_ENDTOEND=required makes this a failure)")
	}
}

// terminal is a program in a pane of a tmux server of its own. One control client is attached: the
// commands go to it, and it says when the pane has changed.
type terminal struct {
	t       testing.TB
	dir     string // of the server's socket
	server  []string
	client  *exec.Cmd
	in      io.WriteCloser
	answers chan answer
	changed chan struct{}
	columns int
	rows    int
	last    string // the key pressed last
	mu      sync.Mutex
	tail    string // of what the program has sent, as the control client says it
}

type answer struct {
	lines []string
	err   bool
}

// startTerminal runs a shell command in a new terminal of that size.
func startTerminal(t testing.TB, columns, rows int, command string) *terminal {
	t.Helper()
	needTmux(t)
	dir, err := os.MkdirTemp("", "pawl-tmux-") // a socket's path must be short
	if err != nil {
		t.Fatal(err)
	}
	x := &terminal{t: t, dir: dir, columns: columns, rows: rows, answers: make(chan answer, 1), changed: make(chan struct{}, 1)}
	x.server = []string{"-S", filepath.Join(dir, "s"), "-f", filepath.Join(dir, "conf")}
	conf := "set -g status off\nset -g remain-on-exit on\nset -s escape-time 0\nset -g default-shell /bin/sh\n"
	if err := os.WriteFile(filepath.Join(dir, "conf"), []byte(conf), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(x.end)
	x.run("new-session", "-d", "-s", "e", "-x", strconv.Itoa(columns), "-y", strconv.Itoa(rows), command)
	x.run("set-option", "-g", "window-size", "manual") // in the file it would end the server of tmux 3.3
	x.attach()
	x.do("set-option -s exit-unattached on") // the server ends with this process, even when it is killed
	return x
}

// run gives the server a command by a process of its own.
func (x *terminal) run(args ...string) string {
	x.t.Helper()
	c := exec.Command("tmux", append(append([]string{}, x.server...), args...)...)
	c.Env = append(os.Environ(), "TMUX=", "XDG_DATA_HOME="+x.dir, "PAWL_THEME=")
	out, err := c.CombinedOutput()
	if err != nil {
		x.t.Fatalf("tmux %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return string(out)
}

func (x *terminal) attach() {
	x.t.Helper()
	x.client = exec.Command("tmux", append(append([]string{}, x.server...), "-C", "attach-session", "-t", "e")...)
	x.client.Env = append(os.Environ(), "TMUX=")
	in, err := x.client.StdinPipe()
	if err != nil {
		x.t.Fatal(err)
	}
	out, err := x.client.StdoutPipe()
	if err != nil {
		x.t.Fatal(err)
	}
	if err := x.client.Start(); err != nil {
		x.t.Fatal(err)
	}
	x.in = in
	go x.listen(out)
	x.reply("attach") // the attaching itself is answered like a command
}

// listen sorts what the control client says: answers to commands, and news of the pane.
func (x *terminal) listen(out io.Reader) {
	defer close(x.answers)
	r := bufio.NewReaderSize(out, 1<<16)
	var lines []string
	inside := false
	for {
		line, err := r.ReadString('\n')
		if err != nil {
			return
		}
		line = strings.TrimRight(line, "\n")
		switch word, rest, _ := strings.Cut(line, " "); {
		case inside && (word == "%end" || word == "%error"):
			x.answers <- answer{lines, word == "%error"}
			inside, lines = false, nil
		case inside:
			lines = append(lines, line)
		case word == "%begin":
			inside = true
		default:
			if word == "%output" {
				_, text, _ := strings.Cut(rest, " ") // after the pane
				x.sent(text)
			}
			select {
			case x.changed <- struct{}{}:
			default:
			}
		}
	}
}

func (x *terminal) reply(command string) []string {
	x.t.Helper()
	select {
	case a, open := <-x.answers:
		if !open {
			x.t.Fatalf("the terminal is gone (at %q)", command)
		}
		if a.err {
			x.t.Fatalf("tmux refuses %q: %s", command, strings.Join(a.lines, " "))
		}
		return a.lines
	case <-time.After(patience):
		x.t.Fatalf("tmux does not answer %q", command)
	}
	return nil
}

// do gives a command through the control client and returns its answer.
func (x *terminal) do(command string) []string {
	x.t.Helper()
	if _, err := io.WriteString(x.in, command+"\n"); err != nil {
		x.t.Fatalf("the terminal is gone (at %q): %v", command, err)
	}
	return x.reply(command)
}

// end kills the server.
func (x *terminal) end() {
	c := exec.Command("tmux", append(append([]string{}, x.server...), "kill-server")...)
	_ = c.Run() // it may have ended on its own
	if x.client != nil && x.client.Process != nil {
		x.in.Close()
		x.client.Wait()
	}
	os.RemoveAll(x.dir)
}

// quoted is a word for the command language of tmux and for the shell alike.
func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

// keys presses keys by their tmux names, such as Enter, Up or Escape.
func (x *terminal) keys(names ...string) {
	x.t.Helper()
	if len(names) > 0 {
		x.apart(strings.Join(names, " "))
		x.do("send-keys -t e " + strings.Join(names, " "))
	}
}

// chars sends characters all at once, as a scanner or a fast hand does.
func (x *terminal) chars(text string) {
	x.t.Helper()
	x.apart(text)
	x.do("send-keys -t e -l -- " + quoted(text))
}

// apart waits until the same key is pressed again rather than held down. The program counts from when
// it took the key before, which is later than when that was sent; so the wait begins now, when the
// test has seen what that key did.
func (x *terminal) apart(key string) {
	if key == x.last {
		time.Sleep(betweenKeys)
	}
	x.last = key
}

// bytes sends bytes as they are.
func (x *terminal) bytes(text string) {
	x.t.Helper()
	var hex strings.Builder
	for _, b := range []byte(text) {
		fmt.Fprintf(&hex, " %02x", b)
	}
	x.do("send-keys -t e -H" + hex.String())
	x.last = ""
}

// look is what the terminal shows now. A frame that is still being drawn is looked at again, and so
// is one that only says what the program is busy with.
func (x *terminal) look() frame {
	x.t.Helper()
	begin := time.Now()
	for {
		select {
		case <-x.changed:
		default:
		}
		f, full := x.capture()
		late := time.Since(begin)
		select {
		case <-x.changed:
			continue
		case <-time.After(drawing):
		}
		if (!full || x.drawn() || late > halfDrawn) && (!f.busy() || late > patience) {
			return f
		}
	}
}

// capture reads the terminal once; full says that a program has taken the whole of it.
func (x *terminal) capture() (f frame, full bool) {
	x.t.Helper()
	f.rows = x.do("capture-pane -p -t e ; display-message -p -t e '#{alternate_on}'")
	for i := range f.rows {
		f.rows[i] = accents.Off(f.rows[i])
	}
	return f, slices.Equal(x.reply("display-message"), []string{"1"})
}

// frameEnd is what the program sends at the end of every frame: the cursor goes to the beginning of
// the last row.
var frameEnd = regexp.MustCompile(`\\033\[\d+;H$`)

// sent notes what the program sends to its terminal, with control characters in octal.
func (x *terminal) sent(text string) {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.tail += text
	x.tail = x.tail[max(len(x.tail)-20, 0):]
}

// drawn reports whether what the program has sent so far ends with a frame.
func (x *terminal) drawn() bool {
	x.mu.Lock()
	defer x.mu.Unlock()
	return frameEnd.MatchString(x.tail)
}

// await waits until the terminal shows what is asked for, and fails with the frame when it does not.
func (x *terminal) await(what string, ok func(frame) bool) frame {
	x.t.Helper()
	end := time.Now().Add(patience)
	for {
		f := x.look()
		if ok(f) {
			return f
		}
		if time.Now().After(end) {
			x.t.Fatalf("waited for %s; the screen shows\n%s", what, f)
		}
		select {
		case <-x.changed:
		case <-time.After(50 * time.Millisecond):
		}
	}
}

// within reports whether the terminal comes to show something in that time.
func (x *terminal) within(d time.Duration, ok func(frame) bool) bool {
	x.t.Helper()
	for end := time.Now().Add(d); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if ok(x.look()) {
			return true
		}
	}
	return false
}

// awaitText waits for words anywhere on the screen.
func (x *terminal) awaitText(text string) frame {
	x.t.Helper()
	return x.await(strconv.Quote(text), func(f frame) bool { return f.has(text) })
}

// resize gives the terminal another size.
func (x *terminal) resize(columns, rows int) {
	x.t.Helper()
	x.columns, x.rows = columns, rows
	x.do(fmt.Sprintf("resize-window -t e -x %d -y %d", columns, rows))
}

// pid is the process in the pane.
func (x *terminal) pid() int {
	x.t.Helper()
	n, err := strconv.Atoi(strings.Join(x.do("display-message -p -t e '#{pane_pid}'"), ""))
	if err != nil {
		x.t.Fatal(err)
	}
	return n
}

// kill sends a signal to the process in the pane and waits until it is gone.
func (x *terminal) kill(s syscall.Signal) {
	x.t.Helper()
	pid := x.pid()
	if err := syscall.Kill(pid, s); err != nil {
		x.t.Fatal(err)
	}
	x.awaitDead(pid)
}

// awaitDead waits until a process has ended; that tmux has not asked after it yet does not count.
func (x *terminal) awaitDead(pid int) {
	x.t.Helper()
	for end := time.Now().Add(patience); alive(pid); {
		if time.Now().After(end) {
			x.t.Fatalf("process %d is still there; the screen shows\n%s", pid, x.look())
		}
		time.Sleep(5 * time.Millisecond)
	}
}

// alive reports whether a process runs. One that has ended stays in the table until its parent asks.
func alive(pid int) bool {
	if syscall.Kill(pid, 0) != nil {
		return false
	}
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return true // no such table on this system; the signal has said that it is there
	}
	_, state, _ := strings.Cut(string(stat), ") ")
	return !strings.HasPrefix(state, "Z")
}

// restart runs a command in the pane whose process has ended.
func (x *terminal) restart(command string) {
	x.t.Helper()
	x.do("respawn-pane -k -t e " + quoted(command))
}

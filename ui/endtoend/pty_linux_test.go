package endtoend

import (
	"bytes"

	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unsafe"

	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/store"
)

// questions are what a program may send to a terminal to have something answered: colours, device,
// version, place of the cursor, keyboard. A terminal that answers none of them would be waited for.
var questions = []string{"\x1b]10;?", "\x1b]11;?", "\x1b]12;?", "\x1b]4;", "\x1b[c", "\x1b[0c", "\x1b[>c", "\x1b[>q", "\x1b[6n", "\x1b[?6n", "\x1b[?u", "\x1b[?2026$p", "\x1bP+q"}

// mute is a terminal that keeps what it is sent and answers nothing.
type mute struct {
	t    testing.TB
	cmd  *exec.Cmd
	side *os.File // of the terminal, where the program is on the other side
	mu   sync.Mutex
	sent []byte
	eof  chan struct{}
}

// startMute runs the program in a terminal that answers nothing.
func startMute(t testing.TB, args ...string) *mute {
	t.Helper()
	side, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("this machine has no terminals to give: %v", err)
	}
	var shut, n int32
	size := [4]uint16{24, 80} // rows, columns
	control(t, side, syscall.TIOCSPTLCK, unsafe.Pointer(&shut))
	control(t, side, syscall.TIOCGPTN, unsafe.Pointer(&n))
	control(t, side, syscall.TIOCSWINSZ, unsafe.Pointer(&size))
	other, err := os.OpenFile("/dev/pts/"+strconv.Itoa(int(n)), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	m := &mute{t: t, side: side, eof: make(chan struct{}), cmd: exec.Command(program(t), args...)}
	m.cmd.Stdin, m.cmd.Stdout, m.cmd.Stderr = other, other, other
	m.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	m.cmd.Env = append(os.Environ(), "TERM=xterm-256color", "COLORTERM=", "NO_COLOR=", "PAWL_THEME=")
	if err := m.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	other.Close()
	go m.read()
	return m
}

// control is ioctl on an open terminal.
func control(t testing.TB, f *os.File, what uintptr, with unsafe.Pointer) {
	t.Helper()
	conn, err := f.SyscallConn()
	if err != nil {
		t.Fatal(err)
	}
	var no syscall.Errno
	err = conn.Control(func(fd uintptr) { _, _, no = syscall.Syscall(syscall.SYS_IOCTL, fd, what, uintptr(with)) })
	if err != nil || no != 0 {
		t.Fatal(err, no)
	}
}

func (m *mute) read() {
	defer close(m.eof)
	buf := make([]byte, 4096)
	for {
		n, err := m.side.Read(buf)
		m.mu.Lock()
		m.sent = append(m.sent, buf[:n]...)
		m.mu.Unlock()
		if err != nil {
			return
		}
	}
}

func (m *mute) got() []byte {
	m.mu.Lock()
	defer m.mu.Unlock()
	return bytes.Clone(m.sent)
}

// awaitWords waits until words have been sent, and returns how long that took.
func (m *mute) awaitWords(words string) time.Duration {
	m.t.Helper()
	begin := time.Now()
	for !strings.Contains(accents.Off(string(m.got())), words) {
		if time.Since(begin) > patience {
			m.t.Fatalf("waited for %q; sent so far: %q", words, m.got())
		}
		time.Sleep(time.Millisecond)
	}
	return time.Since(begin)
}

// hangUp closes the terminal, as a window that is closed does, and waits for the program to end.
func (m *mute) hangUp() error {
	m.t.Helper()
	m.side.Close()
	return m.wait()
}

func (m *mute) wait() error {
	m.t.Helper()
	ended := make(chan error, 1)
	go func() { ended <- m.cmd.Wait() }()
	select {
	case err := <-ended:
		return err
	case <-time.After(patience):
		_ = m.cmd.Process.Kill()
		m.t.Fatalf("the program does not end; sent so far: %q", m.got())
	}
	return nil
}

func asksNothing(t *testing.T, sent []byte) {
	t.Helper()
	for _, q := range questions {
		if bytes.Contains(sent, []byte(q)) {
			t.Errorf("the terminal is asked %q: %q", q, sent)
		}
	}
}

// soon is less than the framework waits for the answer to a question, which is 5 seconds. Only the
// best try counts, which keeps a busy machine out of it: that wait would be in every one.
const (
	soon  = 3 * time.Second
	tries = 3
)

// --version answers at once in a terminal that answers nothing, and asks nothing.
func TestVersionAsksTheTerminalNothing(t *testing.T) {
	program(t) // building it counts for nothing
	best := patience
	for n := 0; n < tries && best > soon; n++ {
		begin := time.Now()
		m := startMute(t, "--version")
		<-m.eof
		best = min(best, time.Since(begin))
		if err := m.wait(); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(string(m.got()), "pawl ") {
			t.Errorf("--version says %q", m.got())
		}
		asksNothing(t, m.got())
		m.side.Close()
	}
	if best > soon {
		t.Errorf("--version took %v", best)
	}
}

// The screen comes up without a stall in a terminal that answers nothing; a window that is closed
// ends the program and lets the file go.
func TestScreenStartsInAMuteTerminalAndEndsWithIt(t *testing.T) {
	path := depot(t)
	best := patience
	for n := 0; n < tries && best > soon; n++ {
		m := startMute(t, "--file", path)
		best = min(best, m.awaitWords("Who is working?"))
		sent := m.got()
		asksNothing(t, sent)
		if i := bytes.Index(sent, []byte("\x1b>")); i < 0 || i > strings.Index(accents.Off(string(sent)), "Who is working?") {
			t.Errorf("the keypad is not switched to digits first: %q", sent)
		}
		if err := m.hangUp(); err != nil {
			t.Errorf("a closed window ends the program with %v", err)
		}
		f, err := store.Open(path, store.Options{})
		if err != nil {
			t.Fatalf("after the window was closed: %v", err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if best > soon {
		t.Errorf("the first frame took %v", best)
	}
}

// A stopped program leaves the terminal as it was: the same test by bytes, for every signal.
func TestSignalsRestoreTheTerminal(t *testing.T) {
	path := depot(t)
	for _, s := range []syscall.Signal{syscall.SIGTERM, syscall.SIGINT, syscall.SIGHUP} {
		m := startMute(t, "--file", path)
		m.awaitWords("Who is working?")
		if err := m.cmd.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
		if err := m.wait(); err != nil {
			t.Errorf("%v ends the program with %v", s, err)
		}
		<-m.eof
		for _, want := range []string{"\x1b[?1049l", "\x1b[?25h"} { // the other screen, the cursor
			if !bytes.Contains(m.got(), []byte(want)) {
				t.Errorf("after %v the terminal is not sent %q", s, want)
			}
		}
		m.side.Close()
		f, err := store.Open(path, store.Options{})
		if err != nil {
			t.Fatalf("after %v: %v", s, err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// From the start of the program to the first frame on its terminal, with the file opened on the way.
func BenchmarkStartToFirstFrame(b *testing.B) {
	path := depot(b)
	program(b)
	for b.Loop() {
		m := startMute(b, "--file", path)
		m.awaitWords("Who is working?")
		b.StopTimer()
		if err := m.hangUp(); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
	}
}

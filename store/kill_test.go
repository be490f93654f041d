package store

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
)

// eventsPerJob is how many events the child makes before it opens the next job.
const eventsPerJob = 40

func init() {
	children["enter"] = func(path string) {
		f, err := Open(path, options(newClock()))
		die(err)
		all, err := f.Jobs()
		die(err)
		n := uint64(len(all))
		for {
			var seq uint32
			if n > 0 {
				c, err := f.Load(n)
				die(err)
				seq = c.Seq()
			}
			if n == 0 || seq >= eventsPerJob {
				n++
				v := register.Vehicle{ID: fmt.Sprint("K", n), Name: "Demo", Sheet: "demo-type"}
				die(f.PutVehicle(mechanic, v))
				_, err := f.OpenJob(Actor{Person: mechanic}, NewJob{Vehicle: v.ID, Complaint: "x", Odometer: "1", Procedure: "small-check"})
				die(err)
				seq = 1
				fmt.Println(n, seq)
			}
			_, events, err := f.Do(n, Actor{Person: apprentice}, number(int(seq)))
			die(err)
			fmt.Println(n, events[0].Seq)
		}
	}
}

func kills(t *testing.T) int {
	if s := os.Getenv("PAWL_KILLS"); s != "" {
		n, err := strconv.Atoi(s)
		must(t, err)
		return n
	}
	if testing.Short() {
		return 25
	}
	return 100
}

// A program that is killed at any moment loses nothing it has acknowledged, and what it leaves
// behind hangs together. (A kill says nothing about a loss of power: what the system holds for the
// program reaches the disk anyway.)
func TestKill(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	fill(t, f)
	must(t, f.Close())
	acked := map[uint64]uint32{}
	total, later := 0, 0
	for round := range kills(t) {
		ch := start(t, "enter", path)
		// Every second kill may hit the start; the others come once the child works.
		kill := func() { ch.cmd.Process.Kill() }
		started := round%2 == 0
		if started {
			time.AfterFunc(time.Duration(rand.IntN(60_000))*time.Microsecond, kill)
		}
		for line, ok := ch.line(); ok; line, ok = ch.line() {
			if !started {
				started = true
				time.AfterFunc(time.Duration(rand.IntN(20_000))*time.Microsecond, kill)
			}
			var n uint64
			var seq uint32
			if _, err := fmt.Sscan(line, &n, &seq); err != nil {
				t.Fatalf("the child says %q", line)
			}
			acked[n] = max(acked[n], seq)
			total++
		}
		if err := ch.cmd.Wait(); ch.cmd.ProcessState.Exited() {
			t.Fatalf("round %d: the child ended by itself: %v", round, err)
		}
		f, err := Open(path, options(c))
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		later += checkAcked(t, f, acked)
		must(t, f.Close())
		checkConsistent(t, path)
	}
	t.Logf("%d kills, %d entries acknowledged in %d jobs, %d written and not acknowledged any more", kills(t), total, len(acked), later)
	if total < kills(t)/2 {
		t.Errorf("only %d entries were acknowledged; the kills came too early to show anything", total)
	}
}

// checkAcked checks that every job has at least the acknowledged events, with what was entered,
// and returns how many more there are.
func checkAcked(t *testing.T, f *File, acked map[uint64]uint32) int {
	t.Helper()
	more := 0
	for n, seq := range acked {
		must(t, f.Verify(n))
		card, err := f.Load(n)
		must(t, err)
		if card.Seq() < seq || card.Seq() > seq+1 {
			t.Fatalf("job %d stands at event %d; event %d was acknowledged", n, card.Seq(), seq)
		}
		more += int(card.Seq() - seq)
		for _, e := range card.Events[1:] {
			if in, ok := e.Body.(job.Entered); !ok || in.Raw != fmt.Sprint(e.Seq-1) {
				t.Fatalf("event %d of job %d is %+v", e.Seq, n, e.Body)
			}
		}
		acked[n] = card.Seq()
	}
	return more
}

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

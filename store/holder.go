package store

import (
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
)

// The side file says who holds the workshop file, for the message of whoever comes second. The
// lock itself is the operating system's and ends with the process; the side file decides nothing.

func holderPath(path string) string { return path + ".holder" }

// writeHolder is best effort: a full disk must not keep anybody from reading.
func writeHolder(path, station string, at time.Time) {
	text := fmt.Sprintf("%s\n%d\n%s\n", oneLine(station), os.Getpid(), at.Format(time.RFC3339))
	os.WriteFile(holderPath(path), []byte(text), 0o600)
}

func oneLine(s string) string { return strings.Map(printable, s) }

func printable(r rune) rune {
	if strconv.IsPrint(r) {
		return r
	}
	return '?'
}

// readHolder says in words who holds the file.
func readHolder(path string, now time.Time) string {
	const unknown = "another program"
	file, err := os.Open(holderPath(path))
	if err != nil {
		return unknown
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, 1024))
	if err != nil {
		return unknown
	}
	lines := strings.Split(string(data), "\n")
	if len(lines) != 4 {
		return unknown
	}
	pid, err1 := strconv.Atoi(lines[1])
	since, err2 := time.Parse(time.RFC3339, lines[2])
	if err1 != nil || err2 != nil {
		return unknown
	}
	form := "15:04"
	if since.Format(time.DateOnly) != now.Format(time.DateOnly) {
		form = "2006-01-02 15:04"
	}
	return phrase.Of("store.holder.pawl-on-process-since", oneLine(lines[0]), pid, since.Format(form))
}

package quiet_test

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	_ "bay.example/pawl/ui/draw/quiet"
	_ "github.com/charmbracelet/bubbletea"
)

// TestReadyBeforeBubbletea runs this very binary with the trace of package
// initialisation switched on: the pin must come before the package that asks.
func TestReadyBeforeBubbletea(t *testing.T) {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), "GODEBUG=inittrace=1")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("run own binary: %v\n%s", err, out)
	}
	pin, tea := -1, -1
	for i, line := range strings.Split(string(out), "\n") {
		switch {
		case strings.HasPrefix(line, "init bay.example/pawl/ui/draw/quiet "):
			pin = i
		case strings.HasPrefix(line, "init github.com/charmbracelet/bubbletea "):
			tea = i
		}
	}
	if pin < 0 || tea < 0 {
		t.Fatalf("trace lacks a package: pin at line %d, bubbletea at line %d\n%s", pin, tea, out)
	}
	if pin > tea {
		t.Errorf("the pin is initialised after bubbletea (lines %d and %d): the start would wait for the terminal", pin, tea)
	}
}

// TestImportsOnlyLipgloss keeps a further import from creeping in, since that
// would change when the package is ready.
func TestImportsOnlyLipgloss(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{join .Imports ","}}`, "bay.example/pawl/ui/draw/quiet").Output()
	if err != nil {
		t.Fatalf("list imports: %v", err)
	}
	if got := strings.TrimSpace(string(out)); got != "github.com/charmbracelet/lipgloss" {
		t.Errorf("imports %q, want only lipgloss", got)
	}
}

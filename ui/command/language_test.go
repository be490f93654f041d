package command

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"bay.example/pawl/job/phrase"
)

// printDigest has the test print the digest of the demo's job and nothing else.
const printDigest = "PAWL_TEST_PRINT_DIGEST"

// TestRecordIsTheSameInEveryLanguage plays the demo once more in a program that speaks en-XA: what is
// written down, and so the digest of it, does not depend on the language of the screen.
func TestRecordIsTheSameInEveryLanguage(t *testing.T) {
	digest := withoutTimes(t, load(t, played(t), 1)).String()
	if os.Getenv(printDigest) != "" {
		t.Logf("%s digest %s", phrase.Language(), digest)
		return
	}
	other := exec.Command(os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v")
	other.Env = append(os.Environ(), printDigest+"=1", "PAWL_LANGUAGE=en-XA")
	out, err := other.CombinedOutput()
	if err != nil {
		t.Fatalf("%v:\n%s", err, out)
	}
	if !strings.Contains(string(out), "en-XA digest "+digest) {
		t.Errorf("the digest is %s; in en-XA:\n%s", digest, out)
	}
}

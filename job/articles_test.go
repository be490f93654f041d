package job_test

import (
	"strings"
	"testing"

	"bay.example/pawl/job"
)

// TestRolesHaveTheirArticle: "an apprentice", "a mechanic".
func TestRolesHaveTheirArticle(t *testing.T) {
	b := openBay(t)
	b.refused(jory, job.Enter{Stage: ref("reception"), Check: "seen", Value: "yes"}, job.CodeRole, "is for a mechanic or foreman; Jory is an apprentice", "hand over to a mechanic or foreman")
	b.enter(ninna, "reception", "seen", "", "yes", "")
	b.sign(ninna, "reception")
	text := ""
	for _, x := range b.card.Blockers(ref("raise"), b.context(esk)) {
		text += x.Text + " | " + x.WayOut + "\n"
	}
	for _, want := range []string{"is for an apprentice; Esk is an auditor", "hand over to an apprentice"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not among\n%s", want, text)
		}
	}
}

// Package glpk finds the solver of the GNU Linear Programming Kit for the tests that hold our own searches to it.
package glpk

import (
	"os"
	"os/exec"
	"testing"
)

// Find is the path of glpsol. Without it the test is skipped where somebody just tries things, and fails where the checks count (CI set).
func Find(t testing.TB) string {
	t.Helper()
	p, err := exec.LookPath("glpsol")
	if err != nil {
		const msg = "glpsol is not installed (scripts/setup.sh does; Debian: glpk-utils); the comparison with it was NOT made"
		if os.Getenv("CI") != "" {
			t.Fatal(msg)
		}
		t.Skip(msg)
	}
	return p
}

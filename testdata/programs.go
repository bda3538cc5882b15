package testdata

import (
	"os"
	"os/exec"
	"testing"
)

// Program is the path of a program of other hands that checks ours. On a
// machine without it the test is left out; where CI is set it has to be there.
func Program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("%s has to be installed where CI is set", name)
	}
	t.Skipf("%s is not installed", name)
	return ""
}

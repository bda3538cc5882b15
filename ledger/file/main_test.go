package file_test

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"lapmark/ledger/file"
)

// A test that needs a second process runs this test binary again with
// childJob set to one of the jobs.
const childJob = "LAPMARK_FILE_TEST_JOB"

func TestMain(m *testing.M) {
	job := os.Getenv(childJob)
	if job == "" {
		os.Exit(m.Run())
	}
	if err := jobs[job](os.Args[1]); err != nil {
		fmt.Println("failed:", err)
		os.Exit(1)
	}
}

// child is the running second process; its lines arrive one by one.
type child struct {
	*exec.Cmd
	lines *bufio.Scanner
}

// start runs one of the jobs on path in a second process.
func start(t *testing.T, job, path string) child {
	t.Helper()
	cmd := exec.Command(os.Args[0], path)
	cmd.Env = append(os.Environ(), childJob+"="+job)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	noError(t, err)
	noError(t, cmd.Start())
	return child{cmd, bufio.NewScanner(out)}
}

// line returns the next line the second process wrote.
func (c child) line(t *testing.T) string {
	t.Helper()
	if !c.lines.Scan() {
		t.Fatalf("the second process wrote no more: %v", c.Wait())
	}
	return c.lines.Text()
}

// rest returns all lines from here on, after the process has ended well.
func (c child) rest(t *testing.T) string {
	t.Helper()
	var all []string
	for c.lines.Scan() {
		all = append(all, c.lines.Text())
	}
	if err := c.Wait(); err != nil {
		t.Fatalf("the second process: %v, %s", err, strings.Join(all, "; "))
	}
	return strings.Join(all, "\n")
}

func noError(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// leaf is two lines, as a leaf is; their words mean nothing to this package.
func leaf(n int) []byte {
	return fmt.Appendf(nil, "{\"entry\":%d}\nsignature %d\n", n, n)
}

func leavesFrom(first, last int) (leaves [][]byte) {
	for n := first; n <= last; n++ {
		leaves = append(leaves, leaf(n))
	}
	return leaves
}

// pictureOf is a picture of 40 kB, so that an inking is many pages of SQLite.
func pictureOf(n int) map[string][]byte {
	jpeg := []byte(strings.Repeat(fmt.Sprintf("picture %d ", n), 3000))
	sum := sha256.Sum256(jpeg)
	return map[string][]byte{hex.EncodeToString(sum[:]): jpeg}
}

func textOf(leaves [][]byte) string {
	var text []byte
	for _, leaf := range leaves {
		text = append(text, leaf...)
	}
	return string(text)
}

// newCoach makes a coach file with entries 1 to last and returns its path.
func newCoach(t *testing.T, last int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "7QX2M4.coach")
	noError(t, file.CreateWith(path, file.Inking{Leaves: leavesFrom(1, last)}))
	return path
}

func open(t *testing.T, path string) *file.Coach {
	t.Helper()
	c, err := file.Open(path)
	noError(t, err)
	t.Cleanup(func() { noError(t, c.Close()) })
	return c
}

// ink adds n leaves after those that are there.
func ink(ctx context.Context, c *file.Coach, n int) error {
	return c.Ink(ctx, func(text []byte, _ [][]byte) (file.Inking, error) {
		have := strings.Count(string(text), "\n") / 2
		return file.Inking{Leaves: leavesFrom(have+1, have+n)}, nil
	})
}

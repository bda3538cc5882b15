package cli

import (
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/console"
)

func testEnv() *env {
	return &env{
		console: &console.Console{In: strings.NewReader(""), Out: &strings.Builder{}, Err: &strings.Builder{}},
		now:     time.Now, here: ".", getenv: func(string) string { return "" },
	}
}

// The README's table of exit codes is the program's own.
func TestReadmeExitCodes(t *testing.T) {
	text, err := os.ReadFile("../../../README.md")
	require.NoError(t, err)
	for i, m := range exitMeaning {
		require.Equal(t, i, m.Code)
		require.Contains(t, string(text), fmt.Sprintf("| %d | %s |", m.Code, m.Means))
	}
}

// Every verb and flag that the README names is there, and every verb has a
// sentence of help.
func TestReadmeVerbsAreThere(t *testing.T) {
	text, err := os.ReadFile("../../../README.md")
	require.NoError(t, err)
	root := testEnv().root()
	blocks := strings.Join(regexp.MustCompile("(?s)```.*?```").FindAllString(string(text), -1), "\n")
	named := regexp.MustCompile("(?m)^lapmark ([a-z-]+)").FindAllStringSubmatch(blocks, -1)
	named = append(named, regexp.MustCompile("`lapmark ([a-z-]+)").FindAllStringSubmatch(string(text), -1)...)
	require.Greater(t, len(named), 8)
	for _, m := range named {
		c, _, err := root.Find([]string{m[1]})
		require.NoError(t, err)
		require.Equal(t, m[1], c.Name())
	}
	for _, m := range regexp.MustCompile("`lapmark verify [^`]*(--[a-z-]+)").FindAllStringSubmatch(string(text), -1) {
		c, _, err := root.Find([]string{"verify"})
		require.NoError(t, err)
		require.NotNil(t, c.Flags().Lookup(strings.TrimPrefix(m[1], "--")), m[1])
	}
	for _, c := range root.Commands() {
		require.NotEmpty(t, c.Short, c.Name())
	}
}

// What a package makes before the program starts is little: fonts, patterns and
// indexes are made when they are used. Bytes are counted, for milliseconds are
// another machine's.
func TestNoPackageIsHeavyToStart(t *testing.T) {
	if os.Getenv("LAPMARK_START_TEST") != "" {
		return
	}
	cmd := exec.Command(os.Args[0], "-test.run", "^TestNoPackageIsHeavyToStart$")
	cmd.Env = append(os.Environ(), "GODEBUG=inittrace=1", "LAPMARK_START_TEST=1")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^init (\S+) @\S+ ms, \S+ ms clock, (\d+) bytes`).FindAllStringSubmatch(string(out), -1) {
		size, err := strconv.Atoi(m[2])
		require.NoError(t, err)
		seen[m[1]] = true
		if m[1] != "lapmark/cmd/internal/cli" { // with it its tests are made
			require.LessOrEqual(t, size, 400_000, m[1])
		}
	}
	require.True(t, seen["lapmark/ledger"], "%s", out)
}

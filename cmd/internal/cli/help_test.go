package cli

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"lapmark/testdata"
)

// verbs are all verbs a person may type, with those under them.
func verbs(c *cobra.Command) []*cobra.Command {
	out := []*cobra.Command{c}
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			out = append(out, verbs(sub)...)
		}
	}
	return out
}

// Every example that help prints is run by a script, word for word: what a
// script writes between ' stands between " for people, and where output goes is
// the shell's affair.
func TestExamplesRun(t *testing.T) {
	scripts, err := filepath.Glob("../../../testdata/scripts/*.txtar")
	require.NoError(t, err)
	run := map[string]bool{}
	for _, path := range scripts {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		for _, m := range regexp.MustCompile(`(?m)^(?:lapmark|typed|exits \d|answers \S+) (.*)$`).FindAllStringSubmatch(string(text), -1) {
			run[m[1]] = true
		}
	}
	seen := 0
	for _, c := range verbs(testEnv().root()) {
		for line := range strings.Lines(c.Example) {
			line, _, _ = strings.Cut(strings.TrimSpace(line), " >")
			example, ours := strings.CutPrefix(strings.ReplaceAll(line, `"`, `'`), "lapmark ")
			require.True(t, ours, line)
			require.True(t, run[example], "no script runs: %s", line)
			seen++
		}
	}
	require.Greater(t, seen, 30)
}

// Every verb that a person may type is described, and says what its flags take:
// a flag that takes something names it in capitals.
func TestHelpIsWhole(t *testing.T) {
	for _, c := range verbs(testEnv().root()) {
		require.NotEmpty(t, c.Short, c.CommandPath())
		require.NotContains(t, c.Short, "\n", c.CommandPath())
		for line := range strings.Lines(c.LocalFlags().FlagUsages()) {
			m := regexp.MustCompile(`^ +(?:-\w, +)?--[a-z-]+( \S+)?  +\S`).FindStringSubmatch(line)
			require.NotNil(t, m, line)
			require.Equal(t, strings.ToUpper(m[1]), m[1], "%s: %s", c.CommandPath(), line)
		}
	}
}

// groff reads the manual pages without a warning, and prints the words of help.
func TestManPages(t *testing.T) {
	groff := testdata.Program(t, "groff")
	pages := manPages(testEnv().root())
	require.Len(t, pages, len(verbs(testEnv().root())))
	for _, p := range pages {
		cmd := exec.Command(groff, "-man", "-ww", "-Kutf8", "-Tutf8", "-P-c")
		cmd.Stdin = strings.NewReader(p.text)
		var warned bytes.Buffer
		cmd.Stderr = &warned
		printed, err := cmd.Output()
		require.NoError(t, err, p.name)
		require.Empty(t, warned.String(), p.name)
		if p.name == "lapmark-show" {
			plain := strings.NewReplacer("\u2010", "-", "\u2212", "-").Replace(regexp.MustCompile(".\b").ReplaceAllString(string(printed), ""))
			words := strings.Join(strings.Fields(plain), " ")
			require.Contains(t, words, "lapmark-show - Show the entries of a coach: all, or by number, kind, day or place")
			require.Contains(t, words, `lapmark show 4137 --at "bay 9 left"`)
			require.Contains(t, words, "7 checked as far as possible and not settled: key not in your trust")
		}
	}
}

// roff takes a dot or an apostrophe at the beginning of a line, and a
// backslash, as its own: groff prints them as they stand.
func TestManPagesKeepEveryCharacter(t *testing.T) {
	groff := testdata.Program(t, "groff")
	hostile := ".SH no heading\n'br\nback\\slash -- \"quoted\" 'x' ~/a"
	var r roff
	r.add(`.TH T 1`)
	r.verbatim(hostile)
	cmd := exec.Command(groff, "-man", "-ww", "-Kutf8", "-Tascii", "-P-cbou")
	cmd.Stdin = strings.NewReader(r.String())
	printed, err := cmd.Output()
	require.NoError(t, err)
	for line := range strings.Lines(hostile) {
		require.Contains(t, string(printed), strings.TrimSuffix(line, "\n"))
	}
}

// bash completes with the script we write: the words of a flag and a coach of
// the shop. What the library bash-completion would set, it sets itself here.
func TestBashCompletes(t *testing.T) {
	bash := testdata.Program(t, "bash")
	folder := t.TempDir()
	program := filepath.Join(folder, "lapmark")
	built, err := exec.Command(testdata.Program(t, "go"), "build", "-o", program, "lapmark/cmd/lapmark").CombinedOutput()
	require.NoError(t, err, "%s", built)
	script := `
set -eu
PATH="$1:$PATH"
_get_comp_words_by_ref() { cur="${COMP_WORDS[COMP_CWORD]}"; prev="${COMP_WORDS[COMP_CWORD-1]}"; words=("${COMP_WORDS[@]}"); cword=$COMP_CWORD; }
compopt() { :; }
set +eu
source <(lapmark completion bash)
try() {
  COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_LINE="$*"; COMP_POINT=${#COMP_LINE}; COMP_TYPE=9; COMPREPLY=()
  __start_lapmark lapmark "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD-1]}"
  echo "${COMPREPLY[*]}"
}
try lapmark sho
try lapmark show --kind=x --kind not
try lapmark give findings x --for bu
`
	out, err := exec.Command(bash, "-c", script, "bash", folder).CombinedOutput()
	require.NoError(t, err, "%s", out)
	require.Equal(t, "show\nnot-looked-at\nbuyer\n", regexp.MustCompile(` +\n`).ReplaceAllString(string(out), "\n"))
}

package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/demo"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/testdata"
)

// onlyCobra is the least program that answers "version" with the same library.
const onlyCobra = `package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

func main() {
	root := &cobra.Command{Use: "tiny"}
	root.AddCommand(&cobra.Command{Use: "version", Run: func(*cobra.Command, []string) { fmt.Println("tiny 1") }})
	if err := root.Execute(); err != nil {
		panic(err)
	}
}
`

// built builds a program as it is given out, and returns its path.
func built(b *testing.B, what string) string {
	b.Helper()
	out := filepath.Join(b.TempDir(), "program")
	build := exec.Command(testdata.Program(b, "go"), "build", "-trimpath", "-o", out, what)
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	said, err := build.CombinedOutput()
	require.NoError(b, err, "%s", said)
	return out
}

// BenchmarkFigureVersion starts the program, and one that has nothing but the
// library of its commands. The goal is ours: 2.2.
func BenchmarkFigureVersion(b *testing.B) {
	source := filepath.Join(b.TempDir(), "main.go")
	require.NoError(b, os.WriteFile(source, []byte(onlyCobra), 0o644))
	ours, tiny := built(b, "lapmark/cmd/lapmark"), built(b, source)
	run := func(program string) func() error {
		return func() error { return exec.Command(program, "version").Run() }
	}
	best := testdata.Best(b, testdata.ProcessorTime, run(ours), run(tiny))
	testdata.AtMost(b, "x-cobra", 2.2, best[0], best[1])
}

// sample is how many of the other programs' 1,000 signatures are checked; their
// time is scaled to 1,000.
func sample() int {
	if testdata.Large() {
		return 100
	}
	return 10
}

// BenchmarkFigureVerify runs verify over a ledger of 1,000 entries; against it
// stand git log --show-signature over commits that are signed with ssh, and one
// ssh-keygen -Y verify for each entry. The goals are ours: 1/200 and 1/120.
func BenchmarkFigureVerify(b *testing.B) {
	const entries = 1_000
	git, keygen := testdata.Program(b, "git"), testdata.Program(b, "ssh-keygen")
	program, ledger := built(b, "lapmark/cmd/lapmark"), thousand(b, entries)
	other := newForeign(b, git, keygen)
	verify := func() error {
		c := exec.Command(program, "verify", ledger)
		c.Dir = filepath.Dir(ledger)
		said, err := c.Output()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != 7 { // a key that nobody here vouches for
			return fmt.Errorf("verify: %w: %s", err, said)
		}
		return nil
	}
	best := testdata.Best(b, testdata.ProcessorTime, verify, other.log, other.verify)
	scale := time.Duration(entries / sample())
	testdata.AtMost(b, "of-git", 1.0/200, best[0], best[1]*scale)
	testdata.AtMost(b, "of-ssh-keygen", 1.0/120, best[0], best[2]*scale)
	b.ReportMetric(float64(sample()), "sampled")
}

// thousand is the ledger of a coach with so many entries, as a file.
func thousand(b *testing.B, entries int) string {
	b.Helper()
	folder := filepath.Join(b.TempDir(), "shop")
	_, err := demo.MakeTo(b.Context(), folder, 1)
	require.NoError(b, err)
	evening := time.Date(2020, 3, 16, 17, 0, 0, 0, time.UTC)
	s, err := shop.Open(folder, shop.Options{Now: func() time.Time { return evening }})
	require.NoError(b, err)
	const plate = "GZ9TF785XEW004137"
	first, err := s.Coach(plate)
	require.NoError(b, err)
	text := "coach " + plate + "\non 2020-03-16 zone +01:00\n" + strings.Repeat(
		"check: hall-air, air-temp 16.0 C, humidity 64.0 %; instrument \"hall meter\"; by hand-1\n", entries-len(first.Ledger.Entries))
	notes, err := s.Reading([]byte(text), "")
	require.NoError(b, err)
	require.NoError(b, s.Pencil(notes, nil))
	in, err := s.Ink(b.Context(), plate, keyring.DemoSigner("K1"), false)
	require.NoError(b, err)
	require.EqualValues(b, entries, in.Size)
	c, err := s.Coach(plate)
	require.NoError(b, err)
	path := filepath.Join(b.TempDir(), "ledger.txt")
	require.NoError(b, os.WriteFile(path, c.Text, 0o644))
	require.NoError(b, s.Close())
	return path
}

// foreign is a folder in which git and ssh-keygen sign and check, apart from
// what is set on this machine.
type foreign struct{ git, keygen, folder string }

func newForeign(b *testing.B, git, keygen string) foreign {
	b.Helper()
	f := foreign{git, keygen, b.TempDir()}
	must := func(in string, program string, args ...string) string {
		out, err := f.run(in, program, args...)
		require.NoError(b, err, "%s", out)
		return strings.TrimSpace(string(out))
	}
	must("", keygen, "-q", "-t", "ed25519", "-N", "", "-C", "adela", "-f", f.path("key"))
	public, err := os.ReadFile(f.path("key.pub"))
	require.NoError(b, err)
	require.NoError(b, os.WriteFile(f.path("allowed"), append([]byte("adela@tarnholt.example "), public...), 0o644))
	must("", git, "init", "-q", "--bare", f.path("signed.git"))
	tree, parent := must("", git, f.with("mktree")...), []string(nil)
	for i := range sample() {
		args := append([]string{"commit-tree", "-S", "-m", "note " + strconv.Itoa(i)}, parent...)
		parent = []string{"-p", must("", git, f.with(append(args, tree)...)...)}
	}
	must("", git, f.with("update-ref", "refs/heads/notes", parent[1])...)
	require.NoError(b, os.WriteFile(f.path("note"), []byte(strings.Repeat("a note ", 100)+"\n"), 0o644))
	must("", keygen, "-Y", "sign", "-q", "-f", f.path("key"), "-n", "entry.v1@lapmark", f.path("note"))
	return f
}

func (f foreign) path(name string) string { return filepath.Join(f.folder, name) }

// with is a git command in the folder, signing and checking with ssh.
func (f foreign) with(args ...string) []string {
	return append([]string{
		"--git-dir", f.path("signed.git"), "-c", "gpg.format=ssh", "-c", "gpg.ssh.program=" + f.keygen,
		"-c", "user.signingkey=" + f.path("key"), "-c", "gpg.ssh.allowedSignersFile=" + f.path("allowed"),
	}, args...)
}

func (f foreign) run(in, program string, args ...string) ([]byte, error) {
	c := exec.Command(program, args...)
	c.Dir, c.Stdin = f.folder, strings.NewReader(in)
	c.Env = []string{
		"PATH=" + os.Getenv("PATH"), "HOME=" + f.folder, "TMPDIR=" + f.folder,
		"GIT_CONFIG_GLOBAL=" + os.DevNull, "GIT_CONFIG_NOSYSTEM=1",
		"GIT_AUTHOR_NAME=Adela", "GIT_AUTHOR_EMAIL=adela@tarnholt.example",
		"GIT_COMMITTER_NAME=Adela", "GIT_COMMITTER_EMAIL=adela@tarnholt.example",
	}
	return c.CombinedOutput()
}

func (f foreign) log() error {
	out, err := f.run("", f.git, f.with("log", "--show-signature", "notes")...)
	if good := bytes.Count(out, []byte("Good \"git\" signature for adela")); err == nil && good != sample() {
		return fmt.Errorf("%d good signatures: %s", good, out)
	}
	return err
}

func (f foreign) verify() error {
	note, err := os.ReadFile(f.path("note"))
	for range sample() {
		if err != nil {
			return err
		}
		_, err = f.run(string(note), f.keygen, "-Y", "verify", "-f", f.path("allowed"), "-I", "adela@tarnholt.example",
			"-n", "entry.v1@lapmark", "-s", f.path("note.sig"))
	}
	return err
}

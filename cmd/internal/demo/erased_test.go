package demo

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/check"
	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/report/say"
)

// holding lists the files of a folder in which a text stands.
func holding(t *testing.T, folder, text string) []string {
	t.Helper()
	var out []string
	require.NoError(t, filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if bytes.Contains(data, []byte(text)) {
			name, _ := filepath.Rel(folder, path)
			out = append(out, name)
		}
		return err
	}))
	return out
}

// The demo erases its first holder: her name stands nowhere in the book nor in
// the coach file. The pages of her own papers are kept as they left the house,
// under their hash, as is the plain text beside them.
func TestErasedHolder(t *testing.T) {
	s := made(t, "42", "2026-09-05T07:00:00Z")
	require.NoError(t, s.Close())
	kept := 0
	for _, name := range holding(t, s.Folder, "Adela Brunskog") {
		require.False(t, strings.HasPrefix(name, "book") || strings.HasPrefix(name, "coaches"), name)
		if strings.HasPrefix(name, "papers") {
			kept++
		}
	}
	require.NotZero(t, kept)
	s = opened(t, s.Folder, "2026-09-05T07:00:00Z")
	c, err := s.Coach(demoPlate)
	require.NoError(t, err)
	for _, a := range c.Replay.Acts {
		require.NotContains(t, say.Entry(c.Replay, a), "Adela")
	}
	require.Equal(t, 0, asked(t, s).Exit(), "the ledger still verifies")
	require.NoError(t, s.Close())
}

// Words that the house withdraws are gone from the book, from what is shown and
// from later papers; nothing is missed in those.
func TestWithdrawnWords(t *testing.T) {
	const words = "not opened at the holder's wish"
	s := made(t, "19", "2020-04-24T10:00:00Z")
	c, err := s.Coach(demoPlate)
	require.NoError(t, err)
	require.Contains(t, say.Entry(c.Replay, c.Replay.Act(ledger.No{N: 15})), words)
	require.NoError(t, tried(t, s, "K1", "on 2020-04-24 zone +02:00\nerased: answers #15; names why; asked; by desk\n").Why)

	c, err = s.Coach(demoPlate)
	require.NoError(t, err)
	require.NotContains(t, say.Entry(c.Replay, c.Replay.Act(ledger.No{N: 15})), words)
	h, err := hand("K1")
	require.NoError(t, err)
	in, err := s.Give(context.Background(), c, shop.Gift{Paper: "bundle", Reader: "later-shop", To: "lf-foreman", On: "stick", By: "desk"}, h.Key, true)
	require.NoError(t, err)
	require.NoError(t, in.Results[0].Why)
	c, err = s.Coach(demoPlate)
	require.NoError(t, err)
	folder := t.TempDir()
	papers, err := s.Deliver(c, in.Results[0].Papers, folder)
	require.NoError(t, err)
	bundle, err := os.ReadFile(papers[0].Path)
	require.NoError(t, err)
	a := check.Verify(check.Input{Name: "bundle", File: bundle, Trust: s.Trust, DemoFolder: true})
	require.Equal(t, check.BundleLeft, a.Bundle, a.Text())
	require.Equal(t, 0, a.Exit(), a.Text())
	require.Empty(t, a.WordsMissing)
	require.Equal(t, []string{"why"}, a.Erased[0].Names)
	require.NoError(t, s.Close())
	for _, name := range holding(t, s.Folder, words) {
		require.NotContains(t, name, "book")
	}
}

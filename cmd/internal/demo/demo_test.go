package demo

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
)

// Two runs give the same bytes: every file of the shop folder but none left
// out.
func TestTwoRunsAreAlike(t *testing.T) {
	first, second := filepath.Join(t.TempDir(), "a"), filepath.Join(t.TempDir(), "b")
	for _, folder := range []string{first, second} {
		made, err := Make(context.Background(), folder)
		require.NoError(t, err)
		require.Equal(t, int64(87), made.Entries)
	}
	a, b := tree(t, first), tree(t, second)
	require.Equal(t, len(a), len(b))
	// The findings paper shows one picture of each of its eight findings.
	require.Equal(t, 8, strings.Count(a["findings-004137-2020-03-20.pdf"], "/Subtype /Image"))
	for name, data := range a {
		require.Equal(t, data, b[name], name)
	}
}

func tree(t *testing.T, folder string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(folder, path)
		out[name] = string(data)
		return err
	})
	require.NoError(t, err)
	return out
}

// The keys of the folder follow the key-change, and the other coaches are there
// by their plates; check digits of the VINs: 49 CFR 565.15(c).
func TestFolderOfTheDemo(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "demo")
	_, err := Make(t.Context(), folder)
	require.NoError(t, err)
	signer, err := keyring.Unlock(filepath.Join(folder, "house"), []byte(Passphrase))
	require.NoError(t, err)
	require.Equal(t, keyring.DemoSigner("K2").Public(), signer.Public())
	s, err := shop.Open(folder, shop.Options{})
	require.NoError(t, err)
	defer func() { require.NoError(t, s.Close()) }()
	require.Equal(t, signer.Public(), s.House)
	for plate, entries := range map[string]int{
		"GZ9TF785XEW004137": 87, "GZ9RK6128HB000387": 18, "GZ9LM4305CA001902": 3, "TB78-1133": 2,
	} {
		c, err := s.Coach(plate)
		require.NoError(t, err)
		require.Len(t, c.Ledger.Entries, entries, plate)
	}
	c, err := s.Coach("000387")
	require.NoError(t, err)
	require.Equal(t, signer.Public().Line(), c.Ledger.House)
	require.Contains(t, c.Replay.Lots, "20-0417")
}

package check

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
)

// v1 is the demo's main coach as version 1 of the format wrote it, with its
// papers. Whatever is built later must still read it. The numbers of entries
// and what each paper is are those of the demo's sheets.
var v1 = map[string]struct {
	entries int64
	paper   Pages
}{
	"ledger.txt":                             {87, NoPDF},
	"findings-004137-2020-03-20.pdf":         {16, LeftTheHouse},
	"findings-004137-2020-03-20-pass-on.pdf": {16, LeftTheHouse},
	"Q-0007.pdf":                             {54, LeftTheHouse},
	"Q-0007-pass-on.pdf":                     {54, LeftTheHouse},
	"history-004137-2023-05-02.pdf":          {60, LeftTheHouse},
	"history-004137-2023-05-02-pass-on.pdf":  {60, LeftTheHouse},
	"history-004137-2025-06-02.pdf":          {68, LeftTheHouse},
}

const v1Folder = "../../../testdata/v1"

func v1File(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(v1Folder, name))
	require.NoError(t, err)
	return data
}

func TestVersionOneIsReadForEver(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(v1Folder, "*.*"))
	require.NoError(t, err)
	require.Len(t, files, len(v1)+1, "and how they were made")
	demo := trusting(t, map[string]sshsig.Signer{
		"quillstead": keyring.DemoSigner("K1"), "quillstead-2024": keyring.DemoSigner("K2"), "penny-drift": keyring.DemoSigner("PD1"),
	})
	ledger := v1File(t, "ledger.txt")
	for name, want := range v1 {
		in := input(t, v1File(t, name))
		in.Trust, in.DemoFolder = demo, true
		a := Verify(in)
		require.True(t, a.Whole, "%s: %s", name, a.Text())
		require.Equal(t, want.entries, a.Entries, name)
		require.Equal(t, want.paper, a.Paper, name)
		require.Equal(t, 0, a.Exit(), "%s: %s", name, a.Text())
		require.Equal(t, "GZ9TF785XEW004137", a.Coach.VIN, name)

		in.DemoFolder = false // demo keys settle nothing anywhere else
		require.Equal(t, 7, Verify(in).Exit(), name)

		in = input(t, ledger)
		in.Trust, in.DemoFolder = demo, true
		in.With = []Paper{{Name: name, File: v1File(t, name)}}
		require.Equal(t, 0, Verify(in).Exit(), "%s lies on the chain", name)
	}
}

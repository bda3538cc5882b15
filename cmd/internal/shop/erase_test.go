package shop_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/demo"
	"lapmark/ledger"
)

// What entry 85 of the demo erased is nowhere in the book any more, not in its
// free pages either, and nobody is found by it; the rest is still there, and
// the ledger still holds.
func TestErasedIsGone(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "demo")
	_, err := demo.Make(t.Context(), folder)
	require.NoError(t, err)
	book := ""
	files, err := filepath.Glob(filepath.Join(folder, "book.db*"))
	require.NoError(t, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		book += string(data)
	}
	for _, text := range []string{"Adela", "Brunskog", "0555 0137", "CE 40 LM", "soft underfoot"} {
		require.NotContains(t, book, text)
	}
	require.Contains(t, book, "Runa Lindqvar")
	s := open(t, folder)
	c, err := s.Coach("4137")
	require.NoError(t, err)
	require.Empty(t, c.Replay.Opened[ledger.No{N: 53}]["holder-name"])
	require.NotEmpty(t, c.Replay.Opened[ledger.No{N: 53}]["price"], "not named by the entry")
	hits, err := s.Book.Search("Brunskog")
	require.NoError(t, err)
	require.Empty(t, hits)
}

package demo

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/book"
)

// The cases of loose reading against the shop and the coach of the demo as they
// stand in the folder: what the shop tells the reader is enough for each.
func TestLooseInTheDemo(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "demo")
	_, err := Make(t.Context(), folder)
	require.NoError(t, err)
	now := func() time.Time { return time.Date(2026, 11, 25, 17, 0, 0, 0, time.UTC) }
	s, err := shop.Open(folder, shop.Options{Now: now})
	require.NoError(t, err)
	defer func() { require.NoError(t, s.Close()) }()
	require.NoError(t, s.Book.SetOwnWord(book.OwnWord{Typed: "mushy", Word: "soft-deck", Added: "2026-11-25"}))
	text, err := os.ReadFile("../../../testdata/sheet/loose.tsv")
	require.NoError(t, err)
	rows := append(strings.Split(strings.TrimSpace(string(text)), "\n"),
		"mushy bay 6 middle gives 6 mm under 80 kg\tfinding: soft-deck; at bay 6 middle; with deflection 6 mm, mass 80 kg; by hand-1")
	read := 0
	for _, row := range rows {
		in, want, ok := strings.Cut(row, "\t")
		heading := strings.HasPrefix(want, "coach ") || strings.HasPrefix(want, "on ") || strings.HasPrefix(in, "coach") || strings.HasPrefix(in, "3/4")
		if !ok || strings.HasPrefix(row, "#") || heading || strings.HasPrefix(in, "intake") {
			continue
		}
		sheet := "coach 004137\non 2026-11-25 zone +01:00\nby hand-1\n" + strings.ReplaceAll(in, `\n`, "\n")
		notes, err := s.Reading([]byte(sheet), "")
		require.NoError(t, err, in)
		require.Len(t, notes, 1, in)
		require.Equal(t, demoPlate, notes[0].Plate)
		reason, isUnclear := strings.CutPrefix(want, "unclear: ")
		reason, _, _ = strings.Cut(reason, ":")
		if isUnclear {
			require.Equal(t, book.Unclear, notes[0].State, in)
			require.True(t, strings.HasPrefix(notes[0].Why, reason+": "), "%s: %s", in, notes[0].Why)
		} else {
			require.Equal(t, want, notes[0].Line, "%s: %s", in, notes[0].Why)
			require.Equal(t, strings.HasPrefix(want, "correction") && notes[0].Says == "", notes[0].Says == "", in)
		}
		read++
	}
	require.Greater(t, read, 100)
}

package shop_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/demo"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/testdata"
)

// yard makes a shop of so many coaches beside the demo's own, each with its
// intake and some checks, of which one in fifty waits for a decision.
func yard(t testing.TB, coaches, checks int) *shop.Shop {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "shop")
	_, err := demo.MakeTo(t.Context(), folder, 1)
	require.NoError(t, err)
	evening := time.Date(2020, 3, 16, 17, 0, 0, 0, time.UTC)
	s, err := shop.Open(folder, shop.Options{Now: func() time.Time { return evening }})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	for n := range coaches {
		plate := fmt.Sprintf("SN-%05d", n)
		var text strings.Builder
		fmt.Fprintf(&text, "coach %s\non 2020-03-16 zone +01:00\nintake: serial %s; no-vin \"built in 1974\"; builder \"Brackwater\"; model \"Reedling\"; "+
			"year 1974; deck length 3600 mm, front 1900 mm, rear 1900 mm; holder holder-1; papers-shown none; made-safe gas-off; no-photo \"came in at night, no light\"; "+
			"signer \"Quillstead Roof Works\", in \"Cold Elm\"; private holder-name \"Maud Ellingrave\"; by desk\n", plate, plate)
		for i := range checks {
			fmt.Fprintf(&text, "check: pins at 100-900 aft 0-500 L, moisture %d.0 %%; instrument \"pin meter 1\"; scale softwood; by hand-1\n", 8+i%6)
		}
		if n%50 == 0 {
			text.WriteString("finding: split-sealant; at spot 3300 aft 0; with length 100 mm; on-the-face; before-rain; no-photo \"no light\"; by hand-1\n")
		}
		notes, err := s.Reading([]byte(text.String()), "")
		require.NoError(t, err)
		for _, r := range notes {
			require.Empty(t, r.Why, r.Words)
		}
		require.NoError(t, s.Pencil(notes, nil))
		in, err := s.Ink(t.Context(), plate, keyring.DemoSigner("K1"), true)
		require.NoError(t, err)
		require.Greater(t, in.Size, int64(checks), "%+v", in.Results)
	}
	return s
}

// A coach file that is damaged stands above all, and nothing else is asked of
// it; the others are.
func TestWaitsSaysWhatCannotBeRead(t *testing.T) {
	s := yard(t, 2, 1)
	files, err := filepath.Glob(filepath.Join(s.Folder, "coaches", "*"))
	require.NoError(t, err)
	require.Len(t, files, 3)
	w, err := s.Waits()
	require.NoError(t, err)
	require.Equal(t, 3, w.Looked)
	require.Len(t, w.Lines, 1)
	require.Contains(t, w.Lines[0].What, "Finding F1, split sealant at spot 3300 aft, on the centreline")

	c, err := s.Coach("SN-00000")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(s.Folder, "coaches", c.ID+filepath.Ext(files[0])), []byte("no ledger"), 0o600))
	w, err = s.Waits()
	require.NoError(t, err)
	require.Equal(t, 3, w.Looked)
	require.Len(t, w.Lines, 1)
	require.Equal(t, "unread", w.Lines[0].Group.String())
	require.Equal(t, "SN-00000", w.Lines[0].Coach)

	require.NoError(t, os.WriteFile(filepath.Join(s.Folder, "inbox", "IMG-7.jpg"), []byte("picture"), 0o600))
	w, err = s.Waits()
	require.NoError(t, err)
	require.Len(t, w.Lines, 2)
	require.Equal(t, "IMG-7.jpg lies in the inbox", w.Lines[1].What)
}

// What was found good once is not verified again as long as its bytes are the
// same; one byte changed is found.
func TestWaitsFindsWhatWasChangedSince(t *testing.T) {
	s := yard(t, 2, 1)
	for range 2 {
		w, err := s.Waits()
		require.NoError(t, err)
		require.Len(t, w.Lines, 1)
		require.Equal(t, "to-ring", w.Lines[0].Group.String())
	}
	kept, err := s.Book.Setting("checked")
	require.NoError(t, err)
	require.Equal(t, 3, strings.Count(kept, ":"), kept)

	c, err := s.Coach("SN-00001")
	require.NoError(t, err)
	files, err := filepath.Glob(filepath.Join(s.Folder, "coaches", c.ID+"*"))
	require.NoError(t, err)
	data, err := os.ReadFile(files[0])
	require.NoError(t, err)
	changed := bytes.Replace(data, []byte(`"moisture":80`), []byte(`"moisture":90`), 1)
	require.NotEqual(t, data, changed)
	require.NoError(t, os.WriteFile(files[0], changed, 0o600))
	w, err := s.Waits()
	require.NoError(t, err)
	require.Len(t, w.Lines, 2)
	require.Equal(t, "SN-00001", w.Lines[0].Coach)
	require.Contains(t, w.Lines[0].What, "Entry 2 is not what was signed.")

	require.NoError(t, s.Book.SetSetting("checked", "spoilt"))
	w, err = s.Waits()
	require.NoError(t, err)
	require.Len(t, w.Lines, 2)
}

// BenchmarkWaits looks at 500 coaches of 40 entries. Its own figure is processor
// time: the clock of a busy machine says nothing.
func BenchmarkWaits(b *testing.B) {
	const coaches = 500
	s := yard(b, coaches-1, 39)
	_, err := s.Waits() // every signature is verified once
	require.NoError(b, err)
	b.ResetTimer()
	begun, rounds := testdata.ProcessorTime(), 0
	for b.Loop() {
		w, err := s.Waits()
		require.NoError(b, err)
		require.Equal(b, coaches, w.Looked)
		require.Len(b, w.Lines, coaches/50)
		rounds++
	}
	b.ReportMetric((testdata.ProcessorTime()-begun).Seconds()/float64(rounds), "cpu-s/op")
}

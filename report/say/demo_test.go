package say_test

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// acts are the notes of the demo as drafts with the numbers they will have,
// their private values and texts opened.
func acts(t *testing.T) (*ledger.Replay, []*ledger.Act) {
	t.Helper()
	files, err := filepath.Glob("../../cmd/internal/demo/sheets/*.txt")
	require.NoError(t, err)
	slices.Sort(files)
	r := ledger.NewReplay(&ledger.Coach{}, map[ledger.No]map[string]string{})
	var out []*ledger.Act
	names := ledger.Names{
		No: func(tag string) (ledger.No, bool) {
			at := slices.IndexFunc(out, func(a *ledger.Act) bool { return a.Text("tag") == tag })
			return ledger.No{N: int64(at + 1)}, at >= 0
		},
		Tag: func(no ledger.No) string { return out[no.N-1].Text("tag") },
		Photo: func(name string) (string, bool) {
			sum := sha256.Sum256([]byte(name))
			return hex.EncodeToString(sum[:]), true
		},
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, n := range sheet.Read(string(text), sheet.Heading{}) {
			require.NoError(t, n.Err)
			names.Last = int64(len(out))
			body, err := n.Draft.Resolve(names)
			require.NoError(t, err)
			a := &ledger.Act{No: ledger.No{N: int64(len(out) + 1)}, Kind: n.Draft.Kind, Body: body}
			r.Opened[a.No] = n.Draft.Private
			out = append(out, a)
		}
	}
	return r, out
}

// bare is a ledger with nothing in it and nothing opened.
func bare() *ledger.Replay { return ledger.NewReplay(&ledger.Coach{}, nil) }

// note is one note as a draft.
func note(t *testing.T, line string) *ledger.Act {
	t.Helper()
	d, err := sheet.ReadLine(line, sheet.Heading{Day: "2020-03-17", Zone: "+01:00"})
	require.NoError(t, err)
	return &ledger.Act{No: ledger.No{N: 1}, Kind: d.Kind, Body: d.Body}
}

// inked is an entry with that body.
func inked(kind, body string) *ledger.Act {
	e := &ledger.Entry{No: ledger.No{N: 1}, Line: format.Line{Kind: kind, Body: []byte(body), V: 1}}
	return &ledger.Act{No: e.No, Entry: e, Kind: kind, Body: e.Body()}
}

package sheet

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// demoDrafts reads all sheets of the demo in order: entry n is element n-1.
func demoDrafts(t *testing.T) []Note {
	t.Helper()
	files, err := filepath.Glob("../../cmd/internal/demo/sheets/*.txt")
	require.NoError(t, err)
	slices.Sort(files)
	var out []Note
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		out = append(out, Read(string(text), Heading{})...)
	}
	return out
}

// Bodies of demo entries as another reader and writer printed them
// (testdata/bodies.tsv): what a sheet says becomes exactly these members.
func TestBodiesOfAnotherWriter(t *testing.T) {
	notes := demoDrafts(t)
	names := ledger.Names{
		Last: int64(len(notes)),
		No: func(tag string) (ledger.No, bool) {
			for i, n := range notes {
				if n.Draft.Text("tag") == tag {
					return ledger.No{N: int64(i + 1)}, true
				}
			}
			return ledger.No{}, false
		},
		Tag: func(no ledger.No) string {
			if no.N < 1 || no.N > int64(len(notes)) {
				return ""
			}
			return notes[no.N-1].Draft.Text("tag")
		},
		Photo: func(string) (string, bool) { return strings.Repeat("0", 64), true },
	}
	text, err := os.ReadFile("testdata/bodies.tsv")
	require.NoError(t, err)
	tried := 0
	for row := range strings.Lines(string(text)) {
		cells := strings.Split(strings.TrimSuffix(row, "\n"), "\t")
		if len(cells) != 3 {
			continue
		}
		n, err := strconv.Atoi(cells[1])
		require.NoError(t, err)
		if n > len(notes) {
			continue
		}
		want, err := format.Parse([]byte(cells[2]))
		require.NoError(t, err)
		note := notes[n-1]
		if note.Draft.Kind == "correction" {
			old := notes[5]
			note.Draft.Body["changes"], err = Changes(note.Draft.Body["changes"], old.Draft, old.Heading)
			require.NoError(t, err)
		}
		got, err := note.Draft.Resolve(names)
		require.NoError(t, err)
		require.Equal(t, cells[0], note.Draft.Kind)
		body := want.(format.Object)
		for _, filled := range []string{"private", "photos", "nonce", "house", "recovery"} {
			delete(body, filled)
			delete(got, filled)
		}
		a, err := format.Encode(body)
		require.NoError(t, err)
		b, err := format.Encode(got)
		require.NoError(t, err)
		require.Equal(t, string(a), string(b), "%s, entry %d", cells[0], n)
		tried++
	}
	require.Greater(t, tried, 7)
}

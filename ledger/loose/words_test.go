package loose

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
)

// Every short word stands for a word of the tables.
func TestShortsStandForWords(t *testing.T) {
	known := map[string]bool{"photo": true, "holder": true, "override": true, "kept-dry": true, "not-this-coach": true}
	for name := range listWords() {
		known[name] = true
	}
	for _, q := range ledger.Quantities() {
		known[q.Name] = true
	}
	for _, k := range ledger.Kinds() {
		known[k.Name] = true
	}
	seen := map[string]bool{}
	for _, s := range Shorts() {
		for _, is := range s.Is {
			require.True(t, known[is], "%s stands for %s", s.Typed, is)
		}
		key := s.Typed + "/" + string(s.With)
		require.False(t, seen[key], "%s stands twice", key)
		seen[key] = true
	}
}

func TestOwnWord(t *testing.T) {
	got, err := OwnWord(" Mushy  Bit", "soft-deck")
	require.NoError(t, err)
	require.Equal(t, "mushy bit", got)
	got, err = OwnWord("spongy", "soft-deck") // a short word of ours
	require.NoError(t, err)
	require.Equal(t, "spongy", got)
	for _, c := range []struct {
		typed, is string
		want      error
	}{
		{"mushy", "mushier", ErrNoWord},
		{"mushy", "12", ErrNoWord},
		{"mushy", "hand-1", ErrNoWord},
		{"cap seal", "bed", ErrHides},
		{"capseal", "bed", ErrHides},
		{"moisture", "bed", ErrHides},
		{"the", "bed", ErrHides},
		{"nine", "bed", ErrHides},
		{"left", "right", ErrHides},
		{"b2", "bed", ErrNotAWord},
		{"", "bed", ErrNotAWord},
	} {
		_, err := OwnWord(c.typed, c.is)
		require.ErrorIs(t, err, c.want, c.typed)
	}
}

package book

import (
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
)

// Of many writers at once exactly one takes a claim; once it is given back, or
// stale, the next one does.
func TestClaim(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.db")
	require.NoError(t, Create(path))
	never := func(string) bool { return false }
	var took atomic.Int64
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			b, err := Open(path)
			if err != nil {
				t.Error(err)
				return
			}
			taken, err := b.Claim("taking in X", "2026-01-01", never)
			if err != nil || b.Close() != nil {
				t.Error(err)
			}
			if taken {
				took.Add(1)
			}
		})
	}
	all.Wait()
	require.Equal(t, int64(1), took.Load())

	b, err := Open(path)
	require.NoError(t, err)
	defer func() { require.NoError(t, b.Close()) }()
	require.NoError(t, b.SetSetting("taking", "other"))
	under, err := b.SettingsUnder("taking in ")
	require.NoError(t, err)
	require.Equal(t, []KeyValue{{"taking in X", "2026-01-01"}}, under)
	taken, err := b.Claim("taking in X", "2027", func(old string) bool { return old == "2026-01-01" })
	require.NoError(t, err)
	require.True(t, taken, "a stale one")
	require.NoError(t, b.Unset("taking in X"))
	require.NoError(t, b.Unset("taking in X"))
	taken, err = b.Claim("taking in X", "2028", never)
	require.NoError(t, err)
	require.True(t, taken, "one given back")
}

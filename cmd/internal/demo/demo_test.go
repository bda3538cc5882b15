package demo

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
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

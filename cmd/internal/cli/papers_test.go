package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/console"
)

// ran runs a command in a folder and returns what it says.
func ran(t *testing.T, here string, args ...string) (code int, out, err string) {
	t.Helper()
	var answer, talk strings.Builder
	e := &env{
		console: &console.Console{In: strings.NewReader(""), Out: &answer, Err: &talk},
		now:     func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) },
		here:    here, getenv: func(string) string { return "" },
	}
	code = e.run(context.Background(), args)
	return code, answer.String(), talk.String()
}

func demoShop(t *testing.T) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "shop")
	code, _, talk := ran(t, ".", "demo", folder)
	require.Zero(t, code, talk)
	return folder
}

// A shop on a drive of another machine is warned of, at each start and when it
// is made; the answer stays the answer.
func TestNetworkDriveIsSaid(t *testing.T) {
	folder := demoShop(t)
	for _, args := range [][]string{{"look-up", "4137"}, {"begin", filepath.Join(folder, "new", "shop")}} {
		var answer, talk strings.Builder
		e := testEnv()
		e.console.Out, e.console.Err = &answer, &talk
		e.here = folder
		asked := ""
		e.drive = func(folder string) string { asked = folder; return "nfs" }
		e.run(context.Background(), args)
		require.Equal(t, folder, asked)
		require.Contains(t, talk.String(), folder+" lies on a network drive (nfs).")
		require.NotContains(t, answer.String(), "network")
		e.drive = func(string) string { return "" }
		talk.Reset()
		e.run(context.Background(), args)
		require.NotContains(t, talk.String(), "network")
	}
}

// A paper is written again as it left; pages that were changed since are named
// and not written, and the others are.
func TestPapersAgain(t *testing.T) {
	const papers = 7 // of the demo: two copies each for a holder, one for a buyer
	shop := demoShop(t)
	again := func(into string) (int, string, string) {
		require.NoError(t, os.Mkdir(filepath.Join(shop, into), 0o755))
		return ran(t, shop, "papers", "4137", "--out", into)
	}
	code, out, talk := again("first")
	require.Zero(t, code, talk)
	require.Len(t, strings.Fields(out), papers)
	alike := func(name string) bool {
		left, err := os.ReadFile(filepath.Join(shop, name))
		require.NoError(t, err)
		written, err := os.ReadFile(filepath.Join(shop, "first", name))
		require.NoError(t, err)
		return bytes.Equal(left, written)
	}
	require.True(t, alike("Q-0007-pass-on.pdf"))
	require.False(t, alike("Q-0007.pdf"), "the first holder's values were erased since")
	left, err := os.ReadFile(filepath.Join(shop, "Q-0007.pdf"))
	require.NoError(t, err)

	faces, err := filepath.Glob(filepath.Join(shop, "papers", "*.face"))
	require.NoError(t, err)
	require.Len(t, faces, papers)
	changed := ""
	for _, face := range faces {
		data, err := os.ReadFile(face)
		require.NoError(t, err)
		if strings.HasPrefix(string(left), string(data)) {
			data[len(data)/2] ^= 1
			require.NoError(t, os.WriteFile(face, data, 0o644))
			changed = face
		}
	}
	require.NotEmpty(t, changed)
	code, out, talk = again("second")
	require.Equal(t, exitBad, code)
	require.Contains(t, talk, "not the one given out: the pages kept of Q-0007.pdf in "+changed)
	require.Len(t, strings.Fields(out), papers-1)
	require.NoFileExists(t, filepath.Join(shop, "second", "Q-0007.pdf"))
	require.NoFileExists(t, filepath.Join(shop, "second", "Q-0007.txt"))
	require.FileExists(t, filepath.Join(shop, "second", "Q-0007-pass-on.pdf"))

	require.NoError(t, os.Remove(changed))
	code, out, talk = again("third")
	require.Equal(t, exitCould, code)
	require.Contains(t, talk, "the pages of Q-0007.pdf, given out by entry 54, are not there")
	require.Len(t, strings.Fields(out), papers-1)

	code, _, talk = ran(t, shop, "papers", "4137", "--out", "nowhere")
	require.Equal(t, exitUse, code)
	require.Contains(t, talk, "nowhere is not there")
}

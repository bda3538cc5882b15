package private_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/private"
)

// The sizes are those of words.txt and private.txt in the worked example.
func TestWorkedExampleLines(t *testing.T) {
	noPhoto, err := private.Make(saltOf(0), "no-photo", "it came in at night")
	require.NoError(t, err)
	face, err := private.Make(saltOf(3), "face", "7340db9af0cad6593b81be8fefaf060eac1feec999b1647c8fe61c48305c4dce")
	require.NoError(t, err)
	words := private.Text([]string{noPhoto, whySlip})
	require.Len(t, words, 177)
	require.Len(t, private.Text([]string{face}), 135)
	lines, err := private.Lines(words)
	require.NoError(t, err)
	require.Equal(t, []string{noPhoto, whySlip}, lines)
}

func TestLinesMayBeEmpty(t *testing.T) {
	require.Empty(t, private.Text(nil))
	lines, err := private.Lines(nil)
	require.NoError(t, err)
	require.Empty(t, lines)
}

func TestLinesRefuse(t *testing.T) {
	other, err := private.Make(saltOf(7), "note", "x")
	require.NoError(t, err)
	for _, bad := range []struct{ name, text, line string }{
		{"no line end", whySlip + "\n" + other, "line 2:"},
		{"empty line", whySlip + "\n\n" + other + "\n", "line 2:"},
		{"line end alone", "\n", "line 1:"},
		{"carriage return", whySlip + "\r\n", "line 1:"},
		{"no slip", whySlip + "\n" + other + "\nnote\n", "line 3:"},
		{"twice", whySlip + "\n" + other + "\n" + whySlip + "\n", "line 3:"},
		{"space after", whySlip + " \n", "line 1:"},
	} {
		lines, err := private.Lines([]byte(bad.text))
		require.ErrorIs(t, err, private.ErrMalformed, bad.name)
		require.True(t, strings.HasPrefix(err.Error(), bad.line), "%s: %v", bad.name, err)
		require.Nil(t, lines)
	}
}

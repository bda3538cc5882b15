package sheet

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The sheets of the demo are complete canonical text: each note reads, and is
// written back, byte for byte.
func TestDemoSheetsReadBack(t *testing.T) {
	files, err := filepath.Glob("../../cmd/internal/demo/sheets/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	others, err := filepath.Glob("../../cmd/internal/demo/sheets/others/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, others)
	files = append(files, others...)
	count := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var out []string
		before := Heading{}
		for _, n := range Read(string(text), Heading{}) {
			require.NoError(t, n.Err, "%s line %d: %s", file, n.At, n.Words)
			line, err := Line(n.Draft, n.Heading)
			require.NoError(t, err)
			require.Equal(t, n.Line, line)
			if len(out) > 0 && n.Heading != before {
				out = append(out, "")
			}
			out = append(out, n.Heading.Lines(before)...)
			before = n.Heading
			out = append(out, Fold(line))
			require.Empty(t, n.Draft.Lacks(), n.Words)
			count++
		}
		require.Equal(t, string(text), strings.Join(out, "\n")+"\n", file)
	}
	require.Equal(t, 87+23, count, "the main coach, and the others")
}

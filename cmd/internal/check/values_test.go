package check

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Everything comes in as a value: the same code runs where there is no file
// and no clock.
func TestNoFileNoClockNoNetwork(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	looked := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			top, _, _ := strings.Cut(path, "/")
			require.NotContains(t, []string{"os", "io", "net", "time", "log", "syscall", "path", "embed", "runtime"}, top, "%s imports %s", name, path)
			require.NotContains(t, []string{"math/rand", "math/rand/v2", "crypto/rand"}, path, "%s imports %s", name, path)
		}
		looked++
	}
	require.Greater(t, looked, 10)
}

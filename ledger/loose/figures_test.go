package loose

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/testdata"
)

// sheetOfADay is sixty loose lines.
func sheetOfADay(b *testing.B) string {
	text, err := os.ReadFile("../../testdata/sheet/loose.tsv")
	require.NoError(b, err)
	var out []string
	for row := range strings.Lines(string(text)) {
		in, want, ok := strings.Cut(row, "\t")
		if ok && !strings.Contains(in, `\n`) && !strings.HasPrefix(want, "unclear") && !strings.HasPrefix(want, "coach") && !strings.HasPrefix(want, "on ") {
			out = append(out, in)
		}
	}
	require.GreaterOrEqual(b, len(out), 60)
	return strings.Join(out[:60], "\n")
}

// BenchmarkFigureSheet reads a loose sheet of sixty lines. The goal is ours:
// under 5 ms, of processor time.
func BenchmarkFigureSheet(b *testing.B) {
	shop, coach := demoShop(b), demoCoach(b)
	text := sheetOfADay(b)
	read := func() error {
		for _, n := range Split(text, demoHeading, []string{"hand-1"}, shop) {
			n.Read(shop, coach)
			if n.Err != nil {
				return n.Err
			}
		}
		return nil
	}
	require.NoError(b, read()) // the lexicon is made once
	took := testdata.Best(b, testdata.ProcessorTime, read)[0]
	testdata.AtMost(b, "of-5-ms", 1, took, 5*time.Millisecond)
}

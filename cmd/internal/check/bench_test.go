package check

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/report"
	"lapmark/report/pdf"
	"lapmark/testdata"
)

// BenchmarkFigurePaper asks the whole answer of a paper with 100 entries, and
// of the same ledger as text. The goal is ours: 1.4.
func BenchmarkFigurePaper(b *testing.B) {
	w := newWriter(b, "quillstead")
	for w.edge.Size() < 99 {
		w.add(w.house, "finding", findingBody("F1"), map[string]string{"no-photo": "dark"})
	}
	face := printedFace(b)
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	paper, text := input(b, mustPaper(b, face, w.files(faceName))), input(b, w.text)
	ask := func(in Input, is Form) func() error {
		return func() error {
			if a := Verify(in); a.Exit() != 0 || a.Entries != 100 || a.File != is {
				return fmt.Errorf("%s", a.Text())
			}
			return nil
		}
	}
	best := testdata.Best(b, testdata.ProcessorTime, ask(paper, FormPaper), ask(text, FormLedger))
	testdata.AtMost(b, "x-text", 1.4, best[0], best[1])
}

// printedFace are pages in four fonts, as large as those of a certificate.
func printedFace(b *testing.B) []byte {
	b.Helper()
	var blocks []report.Block
	for range 60 {
		blocks = append(blocks, report.Paragraph{Spans: []report.Span{
			{Text: "The quick brown fox jumps over the lazy dog, "},
			{Text: "PACK MY BOX WITH FIVE DOZEN JUGS, ", Style: report.Bold},
			{Text: "sphinx of black quartz judge my vow, ", Style: report.Italic},
			{Text: "0123456789", Style: report.Mono},
		}})
	}
	face, err := pdf.Render(report.Paper{Title: "Pages", Language: "en", Sections: []report.Section{{Blocks: blocks}}},
		pdf.Options{Made: time.Date(2020, 4, 24, 9, 30, 0, 0, time.UTC)})
	require.NoError(b, err)
	return face
}

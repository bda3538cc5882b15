package report_test

import (
	"testing"
	"time"

	"lapmark/report"
	"lapmark/report/pdf"
)

// plainPage is one page of running text in the fonts a certificate has.
func plainPage(t testing.TB) report.Paper {
	t.Helper()
	p := q7(t)
	page := report.Paper{Title: p.Title, Language: p.Language, Furniture: p.Furniture}
	words := report.Words(p.Sections[2].Blocks)
	page.Sections = []report.Section{{Blocks: []report.Block{
		report.Paragraph{Spans: []report.Span{
			{Text: words},
			{Text: " bold", Style: report.Bold},
			{Text: " italic", Style: report.Italic},
			{Text: " mono", Style: report.Mono},
		}},
	}}}
	return page
}

// BenchmarkCertificate prints a certificate and a plain page in the same fonts
// in turn, and reports the ratio of the best times. The goal is at most 1.6.
func BenchmarkCertificate(b *testing.B) {
	papers := []report.Paper{q7(b), plainPage(b)}
	best := []time.Duration{time.Hour, time.Hour}
	for b.Loop() {
		for i, p := range papers {
			begun := time.Now()
			if _, err := pdf.Render(p, pdf.Options{Made: made()}); err != nil {
				b.Fatal(err)
			}
			best[i] = min(best[i], time.Since(begun))
		}
	}
	b.ReportMetric(float64(best[0])/float64(best[1]), "ratio")
	b.ReportMetric(float64(best[0].Microseconds()), "certificate-µs")
}

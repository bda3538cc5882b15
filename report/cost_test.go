package report_test

import (
	"bytes"
	"fmt"
	"io"
	"testing"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"

	"lapmark/report"
	"lapmark/report/pdf"
	"lapmark/testdata"
)

// lettering are the fonts that papers are set in, by their family names.
var lettering = []struct {
	name string
	ttf  []byte
}{
	{"go", goregular.TTF},
	{"gobold", gobold.TTF},
	{"goitalic", goitalic.TTF},
	{"gomono", gomono.TTF},
	{"dejavu", dejavusans.TTF},
}

// plainPages writes so many pages of running text, each font used, with nothing
// of ours between.
func plainPages(words string, fonts []string, pages int) error {
	doc := fpdf.New("P", "mm", "A4", "")
	for _, l := range lettering {
		for _, name := range fonts {
			if name == l.name {
				doc.AddUTF8FontFromBytes(l.name, "", bytes.Clone(l.ttf))
			}
		}
	}
	share := len(words) / pages
	for i := range pages {
		doc.AddPage()
		for _, name := range fonts {
			doc.SetFont(name, "", 6)
			doc.MultiCell(0, 3, words[i*share:i*share+share/len(fonts)], "", "", false)
		}
	}
	if doc.PageCount() != pages {
		return fmt.Errorf("%d pages, not %d", doc.PageCount(), pages)
	}
	return doc.Output(io.Discard)
}

// inFace counts the pages of a face and finds its fonts, by the names the
// library gives them.
func inFace(face []byte) (fonts []string, pages int) {
	for _, l := range lettering {
		if bytes.Contains(face, []byte("/BaseFont /utf8"+l.name+"\n")) {
			fonts = append(fonts, l.name)
		}
	}
	return fonts, bytes.Count(face, []byte("/Type /Page\n"))
}

// BenchmarkFigureCertificate prints a certificate with its plan, and the same
// number of pages of plain text in the same fonts with the bare library. The
// goals are ours: 1.6, and 400 KB.
func BenchmarkFigureCertificate(b *testing.B) {
	p := q7(b)
	face, err := pdf.Render(p, pdf.Options{Made: made()})
	if err != nil {
		b.Fatal(err)
	}
	fonts, pages := inFace(face)
	if len(fonts) == 0 || pages < 2 {
		b.Fatal("which fonts, how many pages: ", fonts, pages)
	}
	var all bytes.Buffer
	for _, s := range p.Sections {
		all.WriteString(report.Words(s.Blocks))
	}
	words := plain(all.String())
	best := testdata.Best(b, testdata.ProcessorTime, func() error {
		_, err := pdf.Render(p, pdf.Options{Made: made()})
		return err
	}, func() error { return plainPages(words, fonts, pages) })
	testdata.AtMost(b, "x-plain", 1.6, best[0], best[1])
	b.ReportMetric(float64(len(face))/1000, "KB")
	b.ReportMetric(float64(pages), "pages")
	b.ReportMetric(float64(len(fonts)), "fonts")
	if len(face) > 400_000 {
		b.Errorf("%d bytes", len(face))
	}
}

// plain are the words in letters of one byte each, which may be cut anywhere.
func plain(words string) string {
	return string(bytes.Map(func(r rune) rune {
		if r > '~' || r < ' ' {
			return ' '
		}
		return r
	}, []byte(words)))
}

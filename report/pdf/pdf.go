// Package pdf prints papers as PDF: the seven blocks on A4 or Letter, in the
// Go fonts, the same bytes for the same paper.
//
// A face, as the page part of a paper is called, has its page tree as object 1
// and compressed streams, and ends with the trailer that the attachments are
// later appended to:
//
//	trailer
//	<<
//	/Size S
//	/Root R 0 R
//	/Info I 0 R
//	>>
//	startxref
//	X
//	%%EOF
package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"github.com/go-pdf/fpdf"

	"lapmark/report"
)

// Options are what is not in the paper: the size of its sheets, and the time
// it says it was made, in UTC.
type Options struct {
	Size report.Size
	Made time.Time
}

// producer is the only maker a face names.
const producer = "lapmark"

// sheetSizes are width and height in mm, with the left and upper edge of the
// text block on them (ISO 216 A4; ANSI Letter, 8.5 × 11 in).
var sheetSizes = [...]struct{ width, height, left, top float64 }{
	report.A4:     {210, 297, 16, 18},
	report.Letter: {215.9, 279.4, 18.95, 9.7},
}

// Render prints a paper. A character that cannot be printed is a MissingGlyph.
func Render(p report.Paper, o Options) ([]byte, error) {
	if o.Made.IsZero() {
		return nil, errors.New("print: no time said when the paper was made")
	}
	s := &setter{meter: newMeter()}
	b := layOut(p, s)
	if len(b.begins) > 0 {
		s.pages = b.begins // now that they are known, said where a span names one
		b = layOut(p, s)
	}
	if s.err != nil {
		return nil, s.err
	}
	size := sheetSizes[o.Size]
	c := &canvas{doc: newDocument(p, o), left: size.left, top: size.top, meter: s.meter, pictures: map[string]bool{}}
	for i, sheet := range b.sheets {
		c.newSheet()
		b.headLine(i+1).draw(c, 0, 0)
		for _, at := range sheet.placed {
			at.piece.draw(c, at.x, at.y)
		}
		foot := b.footBox(i+1, len(b.sheets))
		foot.draw(c, 0, blockHeight-foot.height)
	}
	if c.err != nil {
		return nil, c.err
	}
	var out bytes.Buffer
	if err := c.doc.Output(&out); err != nil {
		return nil, fmt.Errorf("print %s: %w", p.Title, err)
	}
	return out.Bytes(), nil
}

// newDocument is an empty document whose bytes depend on nothing but what is
// drawn and the time given.
func newDocument(p report.Paper, o Options) *fpdf.Fpdf {
	size := sheetSizes[o.Size]
	doc := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: size.width, Ht: size.height}})
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.SetCompression(true)
	doc.SetCatalogSort(true)
	doc.SetCreationDate(o.Made.UTC())
	doc.SetModificationDate(o.Made.UTC())
	doc.SetProducer(producer, false)
	doc.SetTitle(p.Title, true)
	doc.SetLang(p.Language)
	return doc
}

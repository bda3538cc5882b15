package pdf

import (
	"strconv"

	"lapmark/report"
)

// headLine is the head of a page: on page one the shop and its desk, later the
// name of the paper and the coach's mark, over the thick rule.
func (b *book) headLine(page int) piece {
	f := b.paper.Furniture
	left, right, rightFace := f.Shop, f.Desk, regular
	if page > 1 {
		left, right, rightFace = b.sheets[page-1].head, f.Mark, mono
	}
	l := b.lines([]report.Span{{Text: left}}, bold, shopSize, blockWidth)
	r := b.rightward(nil, []report.Span{{Text: right}}, rightFace, base, blockWidth)
	down := 0
	if len(l) > 0 && len(r) > 0 && (len(r) > 1 || l[len(l)-1].width+cellGap+blockWidth-r[0].runs[0].x > blockWidth) {
		down = len(l)
	} else {
		down = max(len(l)-1, 0)
	}
	rows := max(len(l), down+len(r))
	high := float64(rows)*shopSize.height() + 1.6 + thickRule
	return piece{height: high, draw: func(c *canvas, x, y float64) {
		for i, line := range l {
			c.line(x, y+float64(i)*shopSize.height(), line, shopSize)
		}
		for i, line := range r {
			c.line(x, y+float64(down+i)*shopSize.height(), line, base)
		}
		c.rule(x, y+high-thickRule/2, blockWidth, thickRule)
	}}
}

// Widths of the foot box's cells; the second takes the rest.
const (
	footFirst, footCode, footPage = 27.0, 53.5, 18.5
	footPad                       = 1.8
)

// footBox is the box at the foot of a page, like the title block of a drawing.
func (b *book) footBox(page, pages int) piece {
	f := b.paper.Furniture
	cells := append([]report.FootCell(nil), f.Foot...)
	cells = append(cells, report.FootCell{Label: f.Page, Says: []report.Span{
		{Text: strconv.Itoa(page) + "\u00a0" + f.Of + "\u00a0" + strconv.Itoa(pages)},
	}})
	widths := footWidths(len(cells))
	var sets [][]line
	most := 0
	for i, cell := range cells {
		lines := b.lines([]report.Span{{Text: cell.Label, Style: report.Italic}}, regular, footSize, widths[i]-2*footPad)
		lines = append(lines, b.lines(cell.Says, regular, footSize, widths[i]-2*footPad)...)
		sets = append(sets, lines)
		most = max(most, len(lines))
	}
	high := float64(most)*footSize.height() + 1.9
	return piece{height: high, draw: func(c *canvas, x, y float64) {
		c.frame(x, y, blockWidth, high)
		at := x
		for i, lines := range sets {
			if i > 0 {
				c.upright(at, y, high, thinRule)
			}
			for j, l := range lines {
				c.line(at+footPad, y+0.9+float64(j)*footSize.height(), l, footSize)
			}
			at += widths[i]
		}
	}}
}

// footWidths are the widths of so many cells.
func footWidths(n int) []float64 {
	if n != 4 {
		out := make([]float64, n)
		for i := range out {
			out[i] = blockWidth / float64(n)
		}
		return out
	}
	return []float64{footFirst, blockWidth - footFirst - footCode - footPage, footCode, footPage}
}

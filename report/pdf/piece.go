package pdf

import (
	"lapmark/report"
)

// piece is what is never split: a line, a table row, a drawing.
type piece struct {
	height float64
	// gap is the room above it, left out at the top of a column and under a
	// piece that is tight.
	gap   float64
	tight bool
	// keep holds it on one page with the piece after it.
	keep bool
	// offFold keeps it off the folds of the sheet.
	offFold bool
	draw    func(c *canvas, x, y float64)
}

// tall is the height of pieces set one below the other from the top of a
// column.
func tall(pieces []piece) float64 {
	total := 0.0
	for i, p := range pieces {
		total += gapAbove(pieces, i) + p.height
	}
	return total
}

// gapAbove is the room above a piece that stands among others.
func gapAbove(pieces []piece, i int) float64 {
	if i == 0 || pieces[i-1].tight {
		return 0
	}
	return pieces[i].gap
}

// whole keeps pieces together.
func whole(pieces []piece) []piece {
	for i := range pieces[:max(0, len(pieces)-1)] {
		pieces[i].keep = true
	}
	return pieces
}

// fits is how many pieces fit into a height, none parted from what it is kept
// with.
func fits(pieces []piece, height float64) int {
	used, n := 0.0, 0
	for i, p := range pieces {
		used += gapAbove(pieces, i) + p.height
		if used > height+0.001 {
			break
		}
		if !p.keep || i == len(pieces)-1 {
			n = i + 1
		}
	}
	return n
}

// loosen gives up keeping pieces together where even a whole column cannot
// hold them.
func loosen(pieces []piece, height float64) []piece {
	out := append([]piece(nil), pieces...)
	from := 0
	for i := range out {
		if out[i].keep && i < len(out)-1 {
			continue
		}
		if tall(out[from:i+1]) > height {
			for j := from; j < i; j++ {
				out[j].keep = false
			}
		}
		from = i + 1
	}
	return out
}

// textPieces are lines as pieces: no first or last line stands alone.
func textPieces(lines []line, t typeface, gap float64, indent float64) []piece {
	var pieces []piece
	for i, l := range lines {
		p := piece{height: t.height(), draw: func(c *canvas, x, y float64) { c.line(x+indent, y, l, t) }}
		if i == 0 {
			p.gap = gap
		}
		p.keep = i == 0 && len(lines) > 1 || i == len(lines)-2
		pieces = append(pieces, p)
	}
	return pieces
}

// pieces are a block set at a width.
func (s *setter) pieces(b report.Block, width float64) []piece {
	var out []piece
	switch b := b.(type) {
	case report.Heading:
		out = s.heading(b, width)
	case report.Paragraph:
		out = s.paragraph(b, width)
	case report.List:
		out = s.list(b, width)
	case report.Table:
		out = s.table(b, width)
	case report.Plan:
		drawing := b.Drawing
		out = []piece{{height: mm(drawing.Height), gap: linesGap, draw: func(c *canvas, x, y float64) { c.drawing(drawing, x, y) }}}
	case report.Picture:
		out = s.picture(b, width)
	case report.Note:
		out = s.note(b, width)
	}
	if report.Where(b).Whole {
		whole(out)
	}
	return out
}

func (s *setter) heading(b report.Heading, width float64) []piece {
	t, gap, under := headSize, headingGap, underHeading
	if b.Title {
		t, gap, under = titleSize, 0.2, 0
	}
	n := 0
	for n < len(b.Spans) && !b.Spans[n].Right {
		n++
	}
	lines := s.lines(b.Spans[:n], bold, t, width)
	if n < len(b.Spans) {
		lines = s.besideHeading(lines, b.Spans[n:], width)
	}
	out := whole(textPieces(lines, t, gap, 0))
	if b.Ruled && len(out) > 0 {
		out[0] = ruled(out[0], width)
	}
	if len(out) > 0 {
		out[len(out)-1].offFold = keepsOff(b.Spans)
		last := &out[len(out)-1]
		last.height += under
		last.keep = !b.Title
		last.tight = !b.Title
	}
	return out
}

// besideHeading sets small type at the right end of a heading's last line.
func (s *setter) besideHeading(lines []line, spans []report.Span, width float64) []line {
	small := s.rightward(nil, spans, regular, base, width)
	if n := len(lines); n > 0 && len(small) == 1 && lines[n-1].width+cellGap+width-small[0].runs[0].x <= width {
		lines[n-1].runs = append(lines[n-1].runs, small[0].runs...)
		return lines
	}
	return append(lines, small...)
}

// ruled puts the thick rule above a piece.
func ruled(p piece, width float64) piece {
	const above = thickRule + underHeading
	inner := p.draw
	p.height += above
	p.draw = func(c *canvas, x, y float64) {
		c.rule(x, y+thickRule/2, width, thickRule)
		inner(c, x, y+above)
	}
	return p
}

func (s *setter) paragraph(b report.Paragraph, width float64) []piece {
	if !b.Lead {
		return textPieces(s.lines(b.Spans, regular, base, width), base, paragraphGap, 0)
	}
	out := whole(textPieces(s.lines(b.Spans, regular, lead, min(width, 172)), lead, 1.6, 0))
	if len(out) > 0 {
		out[len(out)-1].height += 1.4
	}
	return out
}

// list sets a dash or a number before each item, in a column of its own.
func (s *setter) list(b report.List, width float64) []piece {
	indent := 3.4
	marks := make([]string, len(b.Items))
	for i := range marks {
		marks[i] = "–"
		if b.Numbered {
			marks[i] = number(i+1) + "."
			indent = max(4.4, s.width(regular, marks[i], base.size)+1.2)
		}
	}
	var out []piece
	for i, item := range b.Items {
		lines := s.lines(item, regular, base, width-indent)
		pieces := textPieces(lines, base, itemGap, indent)
		if len(pieces) == 0 {
			continue
		}
		mark := s.lines([]report.Span{{Text: marks[i]}}, regular, base, indent)[0]
		inner := pieces[0].draw
		at := 0.0
		if b.Numbered {
			at = indent - 1.2 - mark.width
		}
		pieces[0].draw = func(c *canvas, x, y float64) {
			c.line(x+at, y, mark, base)
			inner(c, x, y)
		}
		if len(pieces) <= 6 {
			whole(pieces)
		}
		out = append(out, pieces...)
	}
	if len(out) > 0 {
		out[0].gap = paragraphGap
	}
	return out
}

// note is text under a thin rule.
func (s *setter) note(b report.Note, width float64) []piece {
	const under = 1.1
	out := whole(textPieces(s.lines(b.Spans, regular, base, width), base, linesGap, 0))
	if len(out) > 0 {
		inner := out[0].draw
		out[0].height += tableRule + under
		out[0].draw = func(c *canvas, x, y float64) {
			c.rule(x, y+tableRule/2, width, tableRule)
			inner(c, x, y+tableRule+under)
		}
	}
	return out
}

// picture is a photograph over its caption; a picture that cannot be read is
// said in words.
func (s *setter) picture(b report.Picture, width float64) []piece {
	wide := min(pictureWidth, width)
	caption := textPieces(s.lines(b.Caption, regular, base, wide), base, 0.8, 0)
	if len(b.JPEG) == 0 {
		return whole(append(textPieces(s.lines([]report.Span{{Text: b.Says}}, regular, base, wide), base, linesGap, 0), caption...))
	}
	high, err := heightOf(b.JPEG, wide)
	if err != nil && s.err == nil {
		s.err = err
	}
	shot := piece{height: high, gap: linesGap, draw: func(c *canvas, x, y float64) { c.picture(b.JPEG, x, y, wide, high) }}
	return whole(append([]piece{shot}, caption...))
}

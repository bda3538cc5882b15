package pdf

import (
	"slices"
	"strconv"

	"lapmark/report"
	"lapmark/report/plan"
)

func number(n int) string { return strconv.Itoa(n) }

// mm is a length of a drawing in mm.
func mm(u plan.Unit) float64 { return float64(u) / 100 }

// table sets a table at a width: its head and each row is a piece.
func (s *setter) table(t report.Table, width float64) []piece {
	if t.Abreast && width > blockWidth/2 {
		t = abreast(t)
	}
	columns := s.columns(t, width)
	var out []piece
	rows := t.Rows
	if len(t.Head) > 0 {
		rows = append([][]report.Cell{t.Head}, rows...)
	}
	for i, row := range rows {
		parts := s.row(t, row, columns, width)
		first, last := &parts[0], &parts[len(parts)-1]
		first.offFold = slices.ContainsFunc(row, func(c report.Cell) bool { return keepsOff(c.Spans) })
		switch t.Rules {
		case report.RuledRows:
			*first = ruleAbove(*first, width, thinRule, rowRoom(row))
			last.height += rowRoom(row) + 0.1
		case report.RuledAround:
			if i == 0 {
				*first = ruleAbove(*first, width, tableRule, 1.3)
			}
			if i == len(rows)-1 {
				*last = ruleBelow(*last, width)
			}
		case report.Unruled:
			if i > 0 && !byHand(row) {
				first.gap = legendRow
			}
		}
		out = append(out, parts...)
	}
	if len(out) > 0 {
		out[0].gap = paragraphGap
		out[0].keep = len(t.Head) > 0
	}
	return out
}

// byHand tells whether a row is to be filled in by pen.
func byHand(row []report.Cell) bool {
	return slices.ContainsFunc(row, func(c report.Cell) bool { return c.ByPen })
}

// abreast sets the rows of a table two abreast.
func abreast(t report.Table) report.Table {
	rows := t.Rows
	t.Columns = append(append([]report.Width(nil), t.Columns...), t.Columns...)
	t.Rows = nil
	for len(rows) > 1 {
		t.Rows = append(t.Rows, append(append([]report.Cell(nil), rows[0]...), rows[1]...))
		rows = rows[2:]
	}
	t.Rows = append(t.Rows, rows...)
	return t
}

// rowRoom is the room between a row's words and its rules: more where a drawing
// is taller than a line.
func rowRoom(row []report.Cell) float64 {
	for _, c := range row {
		if c.Drawing != nil && mm(c.Drawing.Height) > base.height() {
			return 0.9
		}
	}
	return 0.4
}

// ruleAbove draws a rule over a row, with room above its words.
func ruleAbove(p piece, width, pen, above float64) piece {
	inner := p.draw
	p.height += pen + above
	p.draw = func(c *canvas, x, y float64) {
		c.rule(x, y+pen/2, width, pen)
		inner(c, x, y+pen+above)
	}
	return p
}

// ruleBelow draws a rule under a row.
func ruleBelow(p piece, width float64) piece {
	inner, high := p.draw, p.height+1.4
	p.height = high + tableRule
	p.draw = func(c *canvas, x, y float64) {
		inner(c, x, y)
		c.rule(x, y+high+tableRule/2, width, tableRule)
	}
	return p
}

// gapOf is the room between two columns of a table.
func gapOf(t report.Table) float64 {
	if len(t.Columns) > 0 && t.Columns[0] > 0 {
		return linesGap
	}
	return cellGap
}

// columns are the widths of a table's columns: the fixed ones, then the
// natural ones as wide as their cells, the others sharing the rest.
func (s *setter) columns(t report.Table, width float64) []float64 {
	out := make([]float64, len(t.Columns))
	left := width - gapOf(t)*float64(len(t.Columns)-1)
	rest := 0
	for i, c := range t.Columns {
		switch c {
		case report.Natural:
			out[i] = min(s.natural(t, i), width/2)
		case report.Rest:
			rest++
			continue
		default:
			out[i] = mm(c)
		}
		left -= out[i]
	}
	for i, c := range t.Columns {
		if c == report.Rest {
			out[i] = max(left/float64(rest), 1)
		}
	}
	return out
}

// natural is the width of the widest cell of a column.
func (s *setter) natural(t report.Table, column int) float64 {
	wide := 0.0
	for _, row := range append([][]report.Cell{t.Head}, t.Rows...) {
		if column >= len(row) || column == len(row)-1 && len(row) < len(t.Columns) {
			continue
		}
		for _, l := range s.lines(row[column].Spans, regular, base, 1000) {
			wide = max(wide, l.width)
		}
	}
	return wide
}

// mostLines is how many lines of a row stand together; a longer row is parted.
const mostLines = 24

// row sets the cells of a row beside each other: one piece, or several where
// the row is very long.
func (s *setter) row(t report.Table, row []report.Cell, columns []float64, width float64) []piece {
	var cells []cell
	at, most := 0.0, 1
	for i, c := range row {
		wide := columns[i]
		if i == len(row)-1 && len(row) < len(columns) {
			wide = width - at
		}
		one := cell{at: at, drawing: c.Drawing, leading: base.height(), drop: 0.6}
		if t.Rules == report.Unruled {
			one.drop = 0
		}
		if c.Drawing == nil {
			one.lines = s.lines(c.Spans, regular, base, wide)
		}
		if byHand(row) {
			one.leading, one.down = penRow, penRow-base.height()-0.7
		}
		cells = append(cells, one)
		most = max(most, len(one.lines))
		at += columns[i] + gapOf(t)
	}
	var out []piece
	for from := 0; from < most; from += mostLines {
		out = append(out, rowPart(cells, from, min(from+mostLines, most)))
	}
	if byHand(row) {
		out[len(out)-1] = penLine(out[len(out)-1], width)
	}
	return out
}

// cell is a cell being set: its lines, or the drawing that stands in it. at is
// its left edge, down how far its words stand below the top of their line.
type cell struct {
	at, leading, down, drop float64
	lines                   []line
	drawing                 *plan.Drawing
}

// rowPart is some lines of a row's cells.
func rowPart(cells []cell, from, to int) piece {
	high := 0.0
	for _, c := range cells {
		if c.drawing != nil && from == 0 {
			high = max(high, mm(c.drawing.Height)+c.drop)
		}
		high = max(high, c.leading*float64(min(to, max(len(c.lines), 1))-from))
	}
	return piece{height: high, draw: func(canvas *canvas, x, y float64) {
		for _, c := range cells {
			if c.drawing != nil && from == 0 {
				canvas.drawing(*c.drawing, x+c.at, y+c.drop)
			}
			for i := from; i < min(to, len(c.lines)); i++ {
				canvas.line(x+c.at, y+c.down+float64(i-from)*c.leading, c.lines[i], base)
			}
		}
	}}
}

// penLine draws the line to write on along the lower edge of a row.
func penLine(p piece, width float64) piece {
	inner, high := p.draw, p.height
	p.draw = func(c *canvas, x, y float64) {
		inner(c, x, y)
		c.rule(x, y+high-thinRule/2, width, thinRule)
	}
	return p
}

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
		p := s.row(t, row, columns, width)
		p.offFold = slices.ContainsFunc(row, func(c report.Cell) bool { return keepsOff(c.Spans) })
		switch t.Rules {
		case report.RuledRows:
			p = ruleAbove(p, width, thinRule, rowRoom(row), rowRoom(row)+0.1)
		case report.RuledAround:
			if i == 0 {
				p = ruleAbove(p, width, tableRule, 1.3, 0)
			}
			if i == len(rows)-1 {
				p = ruleBelow(p, width)
			}
		case report.Unruled:
			if i > 0 && !byHand(row) {
				p.gap = legendRow
			}
		}
		out = append(out, p)
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

// rowRoom is the room between a row's words and its rules.
func rowRoom(row []report.Cell) float64 {
	for _, c := range row {
		if c.Drawing != nil {
			return 0.9
		}
	}
	return 0.4
}

// ruleAbove draws a rule over a row, with room above and below its words.
func ruleAbove(p piece, width, pen, above, below float64) piece {
	inner := p.draw
	p.height += pen + above + below
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

// row sets the cells of a row beside each other.
func (s *setter) row(t report.Table, row []report.Cell, columns []float64, width float64) piece {
	high, pen := 0.0, byHand(row)
	var draws []func(c *canvas, x, y float64)
	at := 0.0
	for i, cell := range row {
		wide := columns[i]
		if i == len(row)-1 {
			wide = width - at
			if len(row) == len(columns) {
				wide = columns[i]
			}
		}
		draw, tall := s.cell(cell, wide, at, t.Rules == report.Unruled)
		draws = append(draws, draw)
		high = max(high, tall)
		at += columns[i] + gapOf(t)
	}
	return piece{height: high, draw: func(c *canvas, x, y float64) {
		for _, d := range draws {
			d(c, x, y)
		}
		if pen {
			c.rule(x, y+high-thinRule/2, width, thinRule)
		}
	}}
}

// cell sets one cell that begins at a distance from the left of its row.
func (s *setter) cell(cell report.Cell, wide, at float64, tight bool) (draw func(c *canvas, x, y float64), high float64) {
	if d := cell.Drawing; d != nil {
		drop := 0.6
		if tight {
			drop = 0
		}
		return func(c *canvas, x, y float64) { c.drawing(*d, x+at, y+drop) }, mm(d.Height) + drop
	}
	lines := s.lines(cell.Spans, regular, base, wide)
	if cell.ByPen {
		return byPen(lines, at)
	}
	return func(c *canvas, x, y float64) {
		for i, l := range lines {
			c.line(x+at, y+float64(i)*base.height(), l, base)
		}
	}, float64(len(lines)) * base.height()
}

// byPen sets words on empty lines; the row rules the last one.
func byPen(lines []line, at float64) (draw func(c *canvas, x, y float64), high float64) {
	return func(c *canvas, x, y float64) {
		for i, l := range lines {
			c.line(x+at, y+float64(i+1)*penRow-base.height()-0.7, l, base)
		}
	}, max(penRow, float64(len(lines))*penRow)
}

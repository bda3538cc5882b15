package text

import (
	"slices"
	"strings"
	"unicode/utf8"

	"lapmark/report"
)

// blank is an empty place to be filled in.
const blank = "________"

// table prints a table: rows with labels as "label: what it says", lines to be
// filled in with their blanks, all others in columns.
func (w *writer) table(t report.Table) {
	w.gap()
	for _, row := range t.Rows {
		switch {
		case row[0].ByPen:
			w.byPen(row)
		case slices.ContainsFunc(row, isLabel):
			w.labelled(row)
		}
	}
	if len(t.Rows) > 0 && !t.Rows[0][0].ByPen && !slices.ContainsFunc(t.Rows[0], isLabel) {
		w.columns(t)
	}
}

// isLabel tells whether a cell is a label: all of it in italics.
func isLabel(c report.Cell) bool {
	return len(c.Spans) > 0 && !slices.ContainsFunc(c.Spans, func(s report.Span) bool { return s.Style != report.Italic })
}

// labelled prints each label with the cells after it on a line of its own.
func (w *writer) labelled(row []report.Cell) {
	for len(row) > 0 {
		n := 1
		for n < len(row) && !isLabel(row[n]) {
			n++
		}
		spans := []report.Span{{Text: flat(row[0].Spans) + ": "}}
		for _, c := range row[1:n] {
			spans = append(spans, c.Spans...)
		}
		w.lines(hanging(spans, "", 2)...)
		row = row[n:]
	}
}

// byPen prints empty lines with the words that stand on them.
func (w *writer) byPen(row []report.Cell) {
	var parts []string
	for _, c := range row {
		n := slices.IndexFunc(c.Spans, func(s report.Span) bool { return s.Right })
		if n < 0 {
			n = len(c.Spans)
		}
		left, right := strings.TrimSpace(flat(c.Spans[:n])), strings.TrimSpace(flat(c.Spans[n:]))
		if !strings.Contains(left, "[ ]") {
			left = strings.TrimSpace(left + " " + blank)
		}
		parts = append(parts, strings.TrimSpace(left+" "+right))
	}
	w.lines(broken(strings.Join(parts, " "), width)...)
}

// columns prints rows in columns as wide as their widest cell, the last taking
// the rest of the line; where that is too little, with the head in each row. A
// column of drawings alone is left out.
func (w *writer) columns(t report.Table) {
	rows := t.Rows
	if len(t.Head) > 0 {
		rows = append([][]report.Cell{t.Head}, rows...)
	}
	widths := make([]int, len(t.Columns))
	for _, row := range rows {
		for i, c := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(flat(c.Spans)))
		}
	}
	last := len(widths) - 1
	rest := width
	for i := range last {
		widths[i] = min(widths[i], width/3)
		if widths[i] > 0 {
			rest -= widths[i] + 2
		}
	}
	if len(t.Head) > 0 && rest < min(widths[last], width/6) {
		w.headed(t)
		return
	}
	widths[last] = max(rest, 1)
	for _, row := range rows {
		w.row(row, widths)
	}
}

// headed prints the rows of a table that is too wide for columns: what the head
// of each column says before each cell.
func (w *writer) headed(t report.Table) {
	for _, row := range t.Rows {
		var parts []string
		for i, c := range row {
			parts = append(parts, flat(t.Head[i].Spans)+" "+flat(c.Spans))
		}
		w.lines(hanging([]report.Span{{Text: strings.Join(parts, "; ")}}, "", 2)...)
	}
}

// row prints one row, its cells side by side.
func (w *writer) row(row []report.Cell, widths []int) {
	cells := make([][]string, len(widths))
	most := 0
	for i, c := range row {
		if widths[i] > 0 {
			cells[i] = wrapped(c.Spans, widths[i])
			most = max(most, len(cells[i]))
		}
	}
	for n := range most {
		var b strings.Builder
		for i, lines := range cells {
			if widths[i] == 0 {
				continue
			}
			says := ""
			if n < len(lines) {
				says = lines[n]
			}
			b.WriteString(says)
			if i < len(widths)-1 {
				b.WriteString(strings.Repeat(" ", max(widths[i]+2-utf8.RuneCountInString(says), 2)))
			}
		}
		w.lines(b.String())
	}
}

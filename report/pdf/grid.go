package pdf

import (
	"lapmark/report"
	"lapmark/report/plan"
)

// beside is the second column of a section with a plan, cut in three: what
// stands above its table, the table, and what keeps its room below.
type beside struct {
	above, below []piece
	table        report.Table
	rows         []piece
}

// grid sets a section whose second column stands beside a plan: blocks over
// the full width, then the two columns, then blocks over the full width.
func (b *book) grid(s report.Section) {
	if len(s.Columns) == 0 {
		for _, pieces := range b.groups(s.Blocks) {
			b.down(pieces)
		}
		return
	}
	var head, left []piece
	var tail []report.Block
	var right beside
	for _, block := range s.Blocks {
		switch in := report.Where(block).Column; {
		case in == report.First:
			left = append(left, b.pieces(block, mm(s.Columns[0]))...)
		case in == report.Second:
			b.intoBeside(&right, block, mm(s.Columns[1]))
		case len(left) == 0:
			head = append(head, b.pieces(block, blockWidth)...)
		default:
			tail = append(tail, block)
		}
	}
	b.down(head)
	b.besidePlan(s, left, right, tail)
}

// groups are blocks over the full width, each heading with the block under it.
func (b *book) groups(blocks []report.Block) [][]piece {
	var out [][]piece
	under := false
	for _, block := range blocks {
		pieces := b.pieces(block, blockWidth)
		if under {
			out[len(out)-1] = append(out[len(out)-1], pieces...)
		} else {
			out = append(out, pieces)
		}
		h, isHeading := block.(report.Heading)
		under = isHeading && !h.Title
	}
	return out
}

// intoBeside sorts a block of the second column.
func (b *book) intoBeside(r *beside, block report.Block, width float64) {
	t, isTable := block.(report.Table)
	pieces := b.pieces(block, width)
	switch {
	case isTable && !t.Whole && len(r.rows) == 0:
		r.table, r.rows = t, pieces
	case len(r.rows) == 0:
		r.above = append(r.above, pieces...)
	default:
		r.below = append(r.below, pieces...)
	}
}

// besidePlan sets the plan with its second column, and what goes below both.
// Rows that have no room beside it go on below the plan, then on new sheets.
func (b *book) besidePlan(s report.Section, left []piece, right beside, tail []report.Block) {
	y := b.y + planGap
	room := b.bottom() - y
	width := mm(s.Columns[1])
	under := tail
	for len(under) > 0 && tall(left)+legendGap+tall(b.all(under, blockWidth)) > room {
		under = under[:len(under)-1]
	}
	tail = tail[len(under):]
	legend := b.all(under, blockWidth)
	if len(under) > 0 {
		room -= legendGap + tall(legend)
	}
	if beside := b.all(tail, width); len(tail) > 0 && right.height()+linesGap+tall(beside) <= room {
		right.below = append(right.below, beside...)
		tail = nil
	}
	first, second := column{0, y, room}, column{mm(s.Columns[0]) + mm(s.Gap), y, room}
	planFits := tall(left) <= room
	if planFits {
		b.put(left, first)
		first.y += tall(left) + linesGap
		first.height -= tall(left) + linesGap
	} else {
		first, second = second, first
	}
	rest, end := b.fillBeside(right, second, width)
	end = max(end, first.y-linesGap)
	if !rest.empty() {
		rest, end = b.fillBelow(rest, first, end)
	}
	b.y = end
	if len(legend) > 0 {
		b.put(legend, column{0, b.y + legendGap, 0})
		b.y += legendGap + tall(legend)
	}
	b.goOn(rest, width)
	if !planFits {
		b.newSheet()
		b.down(left)
	}
	pages := len(b.sheets)
	b.down(b.all(tail, blockWidth))
	b.spilt = b.spilt || len(b.sheets) > pages
}

// all are blocks set at a width, one below the other.
func (b *book) all(blocks []report.Block, width float64) []piece {
	var out []piece
	for _, block := range blocks {
		out = append(out, b.pieces(block, width)...)
	}
	return out
}

// leftOver is what has found no room yet: the end of what keeps its room, and
// rows.
type leftOver struct{ below, again, rows []piece }

func (l leftOver) empty() bool { return len(l.below)+len(l.rows) == 0 }

// height is the second column in one piece.
func (r beside) height() float64 {
	return tall(append(append(append([]piece(nil), r.above...), r.rows...), r.below...))
}

// fillBeside fills the second column. What keeps its room is set whole; the
// rows give way to it. It returns what had no room, and how deep it came.
func (b *book) fillBeside(r beside, c column, width float64) (leftOver, float64) {
	if r.height() <= c.height+0.001 {
		b.put(append(append(append([]piece(nil), r.above...), r.rows...), r.below...), c)
		return leftOver{}, c.y + r.height()
	}
	if len(r.rows) == 0 || tall(r.above) > c.height/2 {
		// No rows that could give way: all of it goes on as it comes.
		all := loosen(append(append(append([]piece(nil), r.above...), r.rows...), r.below...), c.height)
		n := fits(all, c.height)
		b.put(all[:n], c)
		return leftOver{below: all[n:]}, c.y + tall(all[:n])
	}
	more := textPieces(b.lines(r.table.More, regular, base, width), base, paragraphGap, 0)
	rest := leftOver{again: whole(textPieces(b.lines(r.table.Again, bold, base, width), base, linesGap, 0))}
	fixed := append(append(append([]piece(nil), r.above...), more...), r.below...)
	n := 0
	if room := c.height - tall(fixed); room > 0 {
		n = fits(r.rows, room-r.rows[0].gap)
	}
	rest.rows = r.rows[n:]
	pieces := append(append(append([]piece(nil), r.above...), r.rows[:n]...), more...)
	below := r.below
	if n == 0 && tall(fixed) > c.height {
		below = loosen(below, 0)
	}
	m := fits(append(append([]piece(nil), pieces...), below...), c.height)
	m = max(m-len(pieces), 0)
	rest.below = below[m:]
	pieces = append(pieces, below[:m]...)
	b.put(pieces, c)
	return rest, c.y + tall(pieces)
}

// fillBelow goes on below the plan. end is how deep the page is filled.
func (b *book) fillBelow(rest leftOver, c column, end float64) (leftOver, float64) {
	pieces := append([]piece(nil), rest.below...)
	heads := len(rest.again)
	pieces = append(append(pieces, rest.again...), rest.rows...)
	for i := range heads {
		pieces[len(rest.below)+i].keep = true
	}
	n := fits(pieces, c.height)
	b.put(pieces[:n], c)
	if n > 0 {
		end = max(end, c.y+tall(pieces[:n]))
	}
	taken := min(n, len(rest.below))
	rest.below = rest.below[taken:]
	if n > taken+heads {
		rest.rows = rest.rows[n-taken-heads:]
	}
	return rest, end
}

// goOn sets what is left over on new sheets, in two columns as wide as the one
// it comes from.
func (b *book) goOn(rest leftOver, width float64) {
	if rest.empty() {
		return
	}
	b.newSheet()
	defer func() { b.spilt = true }()
	pieces := append([]piece(nil), rest.below...)
	if len(rest.rows) > 0 {
		pieces = append(pieces, rest.again...)
		for i := range rest.again {
			pieces[len(rest.below)+i].keep = true
		}
	}
	wide := plan.Unit(width * 100)
	b.flowPieces(append(pieces, rest.rows...), report.Section{Columns: []plan.Unit{wide, wide}, Gap: plan.Unit(blockWidth*100) - 2*wide})
}

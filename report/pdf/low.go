package pdf

import "lapmark/report"

// low sets a section at the lower edge of its page, its columns side by side,
// its last note on that edge.
func (b *book) low(s report.Section) {
	head, columns, tail := b.parted(s)
	edge := b.edge()
	height := lowHeight(s, head, columns, tail, edge)
	if edge-height < b.y+headGap && b.y > b.top()+0.001 {
		b.newSheet()
	}
	y := edge - height
	if y < b.top() {
		b.y = b.top()
		b.spill(s, head, columns, tail)
		return
	}
	b.put(head, column{0, y, 0})
	x := 0.0
	for i, c := range columns {
		b.put(c, column{x, y + tall(head) + headRoom, 0})
		x += mm(s.Columns[i]) + mm(s.Gap)
	}
	b.put(tail, column{0, edge - tall(tail), 0})
	b.y = edge
}

// edge is where a section at the lower edge of a sheet ends.
func (b *book) edge() float64 { return b.bottom() + footGap - lowGap }

// lowHeight is the height of a section at the lower edge: what it asks for, or
// more where its columns need it or its heading would lie in a fold.
func lowHeight(s report.Section, head []piece, columns [][]piece, tail []piece, edge float64) float64 {
	grow := tall(head) + headRoom + tallest(columns)
	if len(tail) > 0 {
		grow += tail[0].gap + tall(tail)
	}
	height := max(mm(s.Low), grow)
	for inFold(head, edge-height) {
		height += 0.5
	}
	return height
}

// crowds tells whether the blocks of a section that flows leave no room for the
// one at the lower edge that comes next, and its short blocks do.
func (b *book) crowds(s, low report.Section) bool {
	if len(s.Short) == 0 || low.Low == 0 {
		return false
	}
	head, columns, tail := b.parted(low)
	room := b.edge() - lowHeight(low, head, columns, tail, b.edge()) - headGap - b.y
	return !b.flowsInto(s.Blocks, s, room) && b.flowsInto(s.Short, s, room)
}

// flowsInto tells whether blocks have room in the columns of a section at a
// height.
func (b *book) flowsInto(blocks []report.Block, s report.Section, height float64) bool {
	pieces := b.all(blocks, mm(s.Columns[0]))
	_, n := columns(pieces, len(s.Columns), b.y, height)
	return n == len(pieces)
}

// headRoom is the room between the heading of a section and its columns.
const headRoom = 0.2

// spill sets a section that is higher than a page: heading, columns as far as
// they go, each going on by itself on the next pages.
func (b *book) spill(s report.Section, head []piece, columns [][]piece, tail []piece) {
	b.down(head)
	left := true
	for left {
		left = false
		x, deepest := 0.0, b.y
		for i, c := range columns {
			c = loosen(c, b.bottom()-b.top())
			n := fits(c, b.bottom()-b.y)
			if n == 0 && b.y <= b.top()+0.001 {
				n = min(1, len(c))
			}
			b.put(c[:n], column{x, b.y, 0})
			deepest = max(deepest, b.y+tall(c[:n]))
			columns[i] = c[n:]
			left = left || len(columns[i]) > 0
			x += mm(s.Columns[i]) + mm(s.Gap)
		}
		b.y = deepest
		if left {
			b.newSheet()
		}
	}
	b.down(tail)
}

// parted sets the blocks of a section apart: those over the full width before
// the columns, the columns, and those over the full width after them.
func (b *book) parted(s report.Section) (head []piece, columns [][]piece, tail []piece) {
	columns = make([][]piece, len(s.Columns))
	begun := false
	for _, block := range s.Blocks {
		in := report.Where(block).Column
		if in == report.Full {
			pieces := b.pieces(block, blockWidth)
			if begun {
				tail = append(tail, pieces...)
			} else {
				head = append(head, pieces...)
			}
			continue
		}
		begun = true
		columns[in-1] = append(columns[in-1], b.pieces(block, mm(s.Columns[in-1]))...)
	}
	return head, columns, tail
}

func tallest(columns [][]piece) float64 {
	most := 0.0
	for _, c := range columns {
		most = max(most, tall(c))
	}
	return most
}

package pdf

import (
	"lapmark/report"
)

// placed is a piece at its place in the text block of a page.
type placed struct {
	piece piece
	x, y  float64
}

// sheet is one page being filled: its head line and what stands on it.
type sheet struct {
	head   string
	placed []placed
}

// book is a paper being set: its sheets, and how far the current one is filled.
type book struct {
	*setter
	paper  report.Paper
	sheets []*sheet
	// y is where the next block goes on the last sheet, in the text block.
	y float64
	// foot is the height of the foot box.
	foot float64
	head string
	// spilt says that the last sheet holds only what had no room before it.
	spilt bool
	// begins are the pages on which the named sections begin.
	begins map[string]int
}

// layOut sets a paper on sheets.
func layOut(p report.Paper, s *setter) *book {
	b := &book{setter: s, paper: p, head: p.Furniture.Name, begins: map[string]int{}}
	b.foot = b.footBox(1, 1).height
	var apart []report.Block
	for i, section := range p.Sections {
		if section.Head != "" {
			b.head = section.Head
		}
		if i == 0 || section.NewPage && !b.goesOn() {
			b.newSheet()
		}
		if i+1 < len(p.Sections) && b.crowds(section, p.Sections[i+1]) {
			section.Blocks, apart = section.Short, section.Apart
		}
		page, stands := len(b.sheets), len(b.sheet().placed)
		b.section(section)
		if section.Name != "" {
			if len(b.sheets[page-1].placed) == stands {
				page++
			}
			b.begins[section.Name] = page
		}
		if section.Low > 0 && len(apart) > 0 {
			b.newSheet()
			b.section(report.Section{Blocks: apart})
			apart = nil
		}
	}
	return b
}

// newSheet begins a page.
func (b *book) newSheet() {
	b.sheets = append(b.sheets, &sheet{head: b.head})
	b.y = b.top()
	b.spilt = false
}

// goesOn tells whether a section that begins a page may as well begin on this
// one: it holds only what was left over, and more than half of it is free.
func (b *book) goesOn() bool {
	if !b.spilt || b.y > (b.top()+b.bottom())/2 {
		return false
	}
	b.sheet().head = b.head
	b.y += 2 * headingGap
	return true
}

func (b *book) sheet() *sheet { return b.sheets[len(b.sheets)-1] }

// top is where the body of a sheet begins, bottom where it ends.
func (b *book) top() float64    { return b.headLine(len(b.sheets)).height + headGap }
func (b *book) bottom() float64 { return blockHeight - b.foot - footGap }

// section sets one section after what stands already.
func (b *book) section(s report.Section) {
	switch {
	case s.Low > 0:
		b.low(s)
	case s.Flow:
		b.flow(s)
	default:
		b.grid(s)
	}
}

// column is a stretch of paper that pieces can go down.
type column struct{ x, y, height float64 }

// put sets pieces down a column.
func (b *book) put(pieces []piece, c column) {
	y := c.y
	for i, p := range pieces {
		y += gapAbove(pieces, i)
		b.sheet().placed = append(b.sheet().placed, placed{p, c.x, y})
		y += p.height
	}
}

// down sets pieces over the full width, going on to new sheets as they fill.
func (b *book) down(pieces []piece) {
	pieces = loosen(pieces, b.bottom()-b.top())
	for len(pieces) > 0 {
		gap := 0.0
		if b.y > b.top()+0.001 {
			gap = pieces[0].gap
		}
		set := offFolds(pieces, b.y+gap)
		n := fits(set, b.bottom()-b.y-gap)
		if n == 0 && gap == 0 {
			n = 1
		}
		if n == 0 {
			b.newSheet()
			continue
		}
		b.put(set[:n], column{0, b.y + gap, 0})
		b.y += gap + tall(set[:n])
		if pieces = pieces[n:]; len(pieces) > 0 {
			b.newSheet()
		}
	}
}

// flow fills the section's columns one after the other; on its last sheet they
// end at about the same height.
func (b *book) flow(s report.Section) {
	if !s.NewPage && b.y > b.top()+0.001 {
		b.y += headingGap
	}
	var pieces []piece
	for _, block := range s.Blocks {
		pieces = append(pieces, b.pieces(block, mm(s.Columns[0]))...)
	}
	b.flowPieces(pieces, s)
}

func (b *book) flowPieces(pieces []piece, s report.Section) {
	pieces = loosen(pieces, b.bottom()-b.top())
	for len(pieces) > 0 {
		height := b.bottom() - b.y
		if _, n := columns(pieces, len(s.Columns), b.y, height); n == len(pieces) {
			height = balanced(pieces, len(s.Columns), b.y, height)
		}
		set, n := columns(pieces, len(s.Columns), b.y, height)
		if n == 0 && b.y > b.top()+0.001 {
			b.newSheet()
			continue
		}
		if n == 0 {
			set[0], n = pieces[:1], 1
		}
		x, deepest := 0.0, 0.0
		for i, c := range set {
			b.put(c, column{x, b.y, height})
			deepest = max(deepest, tall(c))
			x += mm(s.Columns[i]) + mm(s.Gap)
		}
		b.y += deepest
		if pieces = pieces[n:]; len(pieces) > 0 {
			b.newSheet()
		}
	}
}

// columns sets pieces down so many columns of a height, all from the same
// place of the page, and says how many of the pieces found room.
func columns(pieces []piece, count int, y, height float64) (set [][]piece, n int) {
	set = make([][]piece, count)
	for i := range set {
		down := offFolds(pieces[n:], y)
		set[i] = down[:fits(down, height)]
		n += len(set[i])
	}
	return set, n
}

// balanced is the least height, to half a millimetre, at which the pieces fit.
func balanced(pieces []piece, count int, y, most float64) float64 {
	height := tall(pieces) / float64(count)
	for height < most {
		if _, n := columns(pieces, count, y, height); n == len(pieces) {
			return height
		}
		height += 0.5
	}
	return most
}

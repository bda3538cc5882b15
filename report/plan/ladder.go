package plan

import "strconv"

// The furniture round the deck, in hundredths of a millimetre.
const (
	figureGap   Unit = 140  // from a figure to the dimension line
	ladderWide  Unit = 660  // from the dimension line to the deck
	bayGap      Unit = 260  // from a bay number to the deck
	tickLong    Unit = 220  // the tick of a rafter
	deckTop     Unit = 1300 // above the deck: front and half widths
	frontLine   Unit = 290  // base line of "front"
	widthLine   Unit = 790  // base line of the half widths
	axisOver    Unit = 220  // the centreline beyond the deck
	namesGap    Unit = 320  // from the deck to the names
	namesEnd    Unit = 9250 // the right edge of the drawing
	bordersGap  Unit = 400  // the least distance of two figures
	middleDrop  Unit = 116  // from the middle of a line of text to its base
	barGap      Unit = 420  // from the deck to the bar
	barHeight   Unit = 110
	figureRoom  Unit = 1100 // between two figures under the bar
	bottomSpace Unit = 120  // under the last base line
)

// number returns a figure as it is printed.
func number(n int64) string { return strconv.FormatInt(n, 10) }

// text is a line of text in the small size.
func text(x, y Unit, s string, a Anchor) Words {
	return Words{At: Point{x, y}, Text: s, Size: textSize, Anchor: a}
}

// tick is the slanted stroke at the end of a dimension.
func tick(p Point) Line { return Line{Point{p.X - 70, p.Y + 70}, Point{p.X + 70, p.Y - 70}, tickPen} }

// ladder draws what stands left of the deck: the stations of the borders along
// a dimension line, and the bays between the rafters.
func (d *draught) ladder() {
	deck := d.s.deck()
	d.draw(Line{Point{d.left, deck.top}, Point{d.left, deck.bottom}, finePen})
	for _, mm := range d.stations() {
		y := d.s.aft(mm)
		d.draw(Line{Point{d.left, y}, Point{d.s.datum.X - d.s.half(y), y}, finePen}, tick(Point{d.left, y}),
			text(d.left-figureGap, y+middleDrop, number(mm), AtRight))
	}
	for _, y := range d.rafters() {
		d.draw(Line{Point{deck.left - tickLong, y}, Point{d.s.datum.X - d.s.half(y), y}, finePen})
	}
	d.bays()
}

// stations returns the ends of the deck and those borders that stand far
// enough from the ones before.
func (d *draught) stations() []int64 {
	out := []int64{0, d.in.Roof.Length}
	for _, b := range d.in.Borders {
		free := b > 0 && b < d.in.Roof.Length
		for _, o := range out {
			gap := d.s.aft(b) - d.s.aft(o)
			free = free && max(gap, -gap) >= bordersGap
		}
		if free {
			out = append(out, b)
		}
	}
	return out
}

// bays writes the number of each bay at its middle, where there is room.
func (d *draught) bays() {
	at := int64(0)
	last := d.s.datum.Y - bordersGap
	for i, end := range append(append([]int64{}, d.in.Roof.Rafters...), d.in.Roof.Length) {
		if end <= at || end > d.in.Roof.Length {
			continue
		}
		y := (d.s.aft(at) + d.s.aft(end)) / 2
		if y-last >= bordersGap {
			d.draw(text(d.s.deck().left-bayGap, y+middleDrop, number(int64(i+1)), AtRight))
			last = y
		}
		at = end
	}
}

// frontMark writes "front" between two arrow heads.
func (d *draught) frontMark(base Unit) {
	x := d.s.datum.X
	front := Words{At: Point{x, base}, Text: "front", Size: textSize, Anchor: AtMiddle, Bold: true}
	d.draw(front)
	wide := d.face.width(front.Text, textSize, true)/2 + 280
	for _, side := range []Unit{x - wide, x + wide} {
		d.draw(Polyline{Points: []Point{{side - 110, base + 10}, {side, base - 210}, {side + 110, base + 10}}, Closed: true, Fill: Black})
	}
}

// widths draws the half widths over the front edge and which way is front; and
// those under the rear edge where the deck tapers.
func (d *draught) widths() {
	deck := d.s.deck()
	d.frontMark(frontLine)
	d.halfWidths(d.in.Roof.Front, d.s.front, deck.top, deck.top-320, deck.top-(deckTop-widthLine))
	if d.in.Roof.Front != d.in.Roof.Rear {
		d.halfWidths(d.in.Roof.Rear, d.s.rear, deck.bottom, deck.bottom+320, deck.bottom+320+110+textSize*capHeight/100)
	}
}

// halfWidths draws one dimension line across: the half width left and right of
// the middle, at height y, its text on the base line given.
func (d *draught) halfWidths(width int64, half, edge, y, base Unit) {
	x, over := d.s.datum.X, Unit(100)
	if y < edge {
		over = -over
	}
	d.draw(Line{Point{x - half, y}, Point{x + half, y}, finePen})
	for _, at := range []Unit{x - half, x + half} {
		d.draw(Line{Point{at, edge}, Point{at, y + over}, finePen}, tick(Point{at, y}))
	}
	d.draw(tick(Point{x, y}))
	figure, reach := halved(width), d.reach(width, half)
	d.draw(text(x-reach, base, figure+"\u00a0L", AtLeft), text(x, base, "0", AtMiddle),
		text(x+reach, base, figure+"\u00a0R", AtRight))
}

// halved returns half a width as a figure: whole mm, an odd width rounded up as
// places are worked out.
func halved(width int64) string { return number((width + 1) / 2) }

// reach returns how far the figures of the half widths reach from the middle:
// to the edge of the deck, or further on a narrow one, where they have to keep
// clear of the 0.
func (d *draught) reach(width int64, half Unit) Unit {
	gap := d.face.width("0", textSize, false)/2 + 100
	return max(half, gap+d.face.width(halved(width)+"\u00a0R", textSize, false))
}

package plan

// smallScales are the scales of the bare plan, the largest first: 1:100 and
// smaller (ISO 5455 has 1:100, 1:200 and 1:500, from memory; the others common
// practice, no source).
var smallScales = [...]int64{100, 125, 150, 200, 250, 300, 400, 500}

// The bare plan, in hundredths of a millimetre.
const (
	smallWide Unit = 2800 // the column it stands in
	smallTop  Unit = 440
	nameNear  Unit = 200 // a name further off its opening has a leader
	smallFoot Unit = 340 // the scale's figure under it
)

// Small draws the bare plan to be marked by pen: outline, front, openings by
// name, at 1:100 or the next smaller scale at which it is no higher than
// maxHeight and no wider than 28 mm. Where that cannot be drawn it is empty.
func Small(roof Roof, maxHeight Unit) Drawing {
	long := maxHeight - smallTop - smallFoot
	if !roof.sound() || long <= 0 {
		return Drawing{}
	}
	d := &draught{in: Input{Roof: roof}, face: newTypeface()}
	scale := scaleOf(roof, smallScales[:], long, smallWide-60)
	d.s = newSheet(roof, scale, Point{smallWide / 2, smallTop})
	d.apertures = d.s.apertures()
	d.draw(Polyline{Points: d.s.outline(), Closed: true, Fill: White})
	d.deckOutline(60)
	for _, a := range d.apertures {
		d.draw(a.mark())
	}
	d.frontMark(320)
	d.openingNames()
	base := d.s.deck().bottom + 320
	d.draw(text(d.s.datum.X, base, "1\u00a0:\u00a0"+number(scale), AtMiddle))
	return Drawing{
		Width: smallWide, Height: d.s.deck().bottom + smallFoot, Marks: d.marks,
		Title: "Bare roof plan, front up",
		Says:  "Outline of the deck, " + roof.size() + ", with the openings by name, to mark the place by pen.",
	}
}

// openingNames writes each name beside its opening, where it hides no other
// opening, name or edge; one that has no room stands further off with a leader.
func (d *draught) openingNames() {
	taken := d.sides()
	for _, a := range d.apertures {
		taken = append(taken, a.box)
	}
	limits := box{0, smallTop, smallWide, d.s.deck().bottom}.grown(-40)
	var names, leaders []Mark
	for _, a := range d.apertures {
		size := box{0, 0, d.face.width(a.Name, textSize, false), textSize * capHeight / 100}
		at, off := nameBox(a.box, size, limits, taken)
		taken = append(taken, at)
		if off > nameNear {
			leaders = append(leaders, Line{a.box.middle(), at.middle(), finePen}, Circle{Middle: a.box.middle(), Radius: footDot, Fill: Black})
		}
		leaders = append(leaders, at.grown(30).mark(Pen{}, White))
		names = append(names, text(at.left, at.bottom, a.Name, AtLeft))
	}
	d.draw(append(leaders, names...)...)
}

// sides returns boxes that the left and the right edge of the deck lie in.
func (d *draught) sides() []box {
	deck, least := d.s.deck(), min(d.s.front, d.s.rear)
	return []box{
		box{deck.left, deck.top, d.s.datum.X - least, deck.bottom}.grownBy(30, 0),
		box{d.s.datum.X + least, deck.top, deck.right, deck.bottom}.grownBy(30, 0),
	}
}

// nameBox returns where a name of this size stands, and how far off its
// opening: beside it, under it, over it, or further off, the nearest place
// first. Where there is no room at all it stands to the right.
func nameBox(o, size, limits box, taken []box) (at box, off Unit) {
	level, middle := o.middle().Y-size.height()/2, o.middle().X-size.width()/2
	for off = 60; off <= smallWide; off += 20 {
		right, left := o.right+off, o.left-off-size.width()
		for _, p := range [...]Point{
			{right, level},
			{left, level},
			{middle, o.bottom + off},
			{middle, o.top - off - size.height()},
			{right, level + off},
			{left, level + off},
			{right, level - off},
			{left, level - off},
		} {
			b := size.moved(p.X, p.Y)
			if limits.holds(b) && !meetsAny(b.grown(40), taken) {
				return b, off
			}
		}
	}
	return size.moved(o.right+60, level).within(limits), 60
}

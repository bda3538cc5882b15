package plan

import "lapmark/ledger/place"

// troubles draws seams, margins, openings, what was left and what was closed
// with a reason.
func (d *draught) troubles() {
	for _, s := range d.in.Roof.Seams {
		d.seam(s.Rect)
	}
	for _, chain := range d.ring {
		d.draw(polyline(chain, ringPen))
	}
	for _, a := range d.apertures {
		d.draw(a.mark())
	}
	for _, t := range d.in.Left {
		d.cross(t)
	}
	for _, r := range d.in.Reasons {
		if b := d.s.spot(r.Rect, leastSpot); !b.empty() {
			d.draw(b.mark(Pen{}, Black))
		}
	}
}

// seamRun returns the middle line of a seam's rectangle.
func (s sheet) seamRun(r place.Rect) (ray, span) {
	b := s.box(r)
	m := b.middle()
	if b.empty() {
		return ray{}, span{}
	}
	if b.width() > b.height() {
		return ray{Point{0, m.Y}, 1, 0}, span{b.left, b.right}
	}
	return ray{Point{m.X, 0}, 0, 1}, span{b.top, b.bottom}
}

func (d *draught) seam(rect place.Rect) {
	r, run := d.s.seamRun(rect)
	if run.lo >= run.hi {
		return
	}
	in := r.inside(run, d.s.halves())
	for _, s := range without([]span{in}, d.clear().spans(r)) {
		d.draw(Line{r.at(s.lo), r.at(s.hi), seamPen})
	}
}

// cross draws a trouble crossed from corner to corner, with a border of its
// own where it is no opening.
func (d *draught) cross(t Trouble) {
	b := d.s.spot(t.Rect, leastCross)
	for _, a := range d.apertures {
		if a.Name == t.Name {
			b = a.box.atLeast(leastCross, leastCross)
		}
	}
	if b.empty() {
		return
	}
	if !d.in.Roof.opening(t.Name) {
		d.draw(b.mark(openingPen, NoFill))
	}
	d.draw(Line{Point{b.left, b.top}, Point{b.right, b.bottom}, crossPen},
		Line{Point{b.left, b.bottom}, Point{b.right, b.top}, crossPen})
}

// deckOutline draws the outline of the deck and its centreline, which reaches
// over both ends and leaves out the openings.
func (d *draught) deckOutline(over Unit) {
	d.draw(Polyline{Points: d.s.outline(), Closed: true, Pen: outlinePen})
	deck := d.s.deck()
	r := ray{Point{d.s.datum.X, 0}, 0, 1}
	for _, s := range without([]span{{deck.top - over, deck.bottom + over}}, d.clear().spans(r)) {
		d.draw(Line{r.at(s.lo), r.at(s.hi), axisPen})
	}
}

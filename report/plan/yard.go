package plan

import "slices"

// reached is what one line reaches on paper.
type reached struct {
	line  int
	boxes []box
}

// yard is what tags have to keep clear of.
type yard struct {
	sheet         sheet
	covers        []reached
	limits, deck  box
	taken         []box
	openings      []box
	words         []box
	leaders       [][2]Point
	narrow, frame []box
	seams         []box
	rafters       []Unit
}

func (d *draught) yard(leaders []label, words []box) *yard {
	deck := d.s.deck()
	y := &yard{sheet: d.s, limits: deck.grown(tagOver), deck: deck, words: words, narrow: d.regions(SkinNarrow), frame: d.regions(Frame)}
	y.rafters = d.rafters()
	for _, a := range d.apertures {
		y.openings = append(y.openings, a.box.grown(25))
	}
	for _, c := range d.in.Covers {
		y.covers = append(y.covers, reached{c.Line, d.boxes(c)})
	}
	for _, r := range d.in.Reasons {
		y.words = append(y.words, d.s.spot(r.Rect, leastSpot))
	}
	for _, l := range leaders {
		y.leaders = append(y.leaders, [2]Point{l.foot, {deck.right + elbowOff, l.port}})
	}
	for _, s := range d.in.Roof.Seams {
		r, run := d.s.seamRun(s.Rect)
		if a, b := r.at(run.lo), r.at(run.hi); run.lo < run.hi {
			y.seams = append(y.seams, box{a.X, a.Y, b.X, b.Y}.grown(20))
		}
	}
	return y
}

// find returns the best place for a tag of this width, without hiding an
// opening if that can be.
func (y *yard) find(t target, wide Unit) (box, bool) {
	h := hull(t.boxes)
	aim := h.middle()
	if t.strip && h.width() > h.height() {
		aim.X = h.left + h.width()/8
	}
	step := Unit(100)
	switch {
	case t.skirt:
		step = 20
	case t.strip:
		step = 50
	}
	var best box
	least, found := Unit(0), false
	for cy := aim.Y - (h.height()/2+tagSide)/step*step; cy <= h.bottom+tagSide; cy += step {
		for cx := aim.X - (aim.X-h.left+wide)/step*step; cx <= h.right+wide; cx += step {
			b := box{cx - wide/2, cy - tagSide/2, cx - wide/2 + wide, cy - tagSide/2 + tagSide}
			if cost, ok := y.cost(b, t, aim); ok && (!found || cost < least) {
				best, least, found = b, cost, true
			}
		}
	}
	return best, found
}

// cost weighs a place for a tag; false: it cannot be there.
func (y *yard) cost(b box, t target, aim Point) (Unit, bool) {
	if !y.limits.holds(b) || meetsAny(b.grown(tagGap), y.taken) || !y.reaches(b, t.boxes) {
		return 0, false
	}
	var c Unit
	if meetsAny(b, y.openings) {
		c += 20000
	}
	for _, l := range y.leaders {
		if b.grown(30).struck(l[0], l[1]) {
			c += 4000
		}
	}
	if meetsAny(b, y.words) {
		c += 4000
	}
	if meetsAny(b, y.seams) {
		c += 500
	}
	if axis := y.sheet.datum.X; b.left < axis && b.right > axis {
		c += 120
	}
	c += y.foreign(b, t)
	m := b.middle()
	return c + max(m.X-aim.X, aim.X-m.X)/10 + max(m.Y-aim.Y, aim.Y-m.Y)/10, true
}

// foreign weighs what a tag hides of other places; one in a field rather
// stands free.
func (y *yard) foreign(b box, t target) Unit {
	var c Unit
	for _, n := range append(append([]box{}, y.narrow...), y.frame...) {
		if n.meets(b) && !meetsAny(n, t.boxes) {
			c += 300
		}
	}
	for _, r := range y.rafters {
		if r > b.top && r < b.bottom && !t.strip {
			c += 60
		}
	}
	if t.skirt || t.strip {
		return c
	}
	free := Unit(300)
	for _, list := range [][]box{y.openings, y.narrow, y.frame, y.taken, y.words, y.seams} {
		for _, o := range list {
			free = min(free, b.apart(o))
		}
	}
	for _, o := range y.covers {
		if !slices.Contains(t.lines, o.line) && meetsAny(b, o.boxes) {
			c += 100
		}
	}
	if !y.deck.grown(-100).holds(b) {
		free = 0
	}
	return c + 2*(300-free)
}

// reaches says whether a tag reaches far enough into one of the boxes, on the
// deck.
func (y *yard) reaches(b box, boxes []box) bool {
	half := y.sheet.half(b.middle().Y)
	b.left, b.right = max(b.left, y.sheet.datum.X-half), min(b.right, y.sheet.datum.X+half)
	for _, o := range boxes {
		if s := b.overlap(o); s.width() >= min(tagFoot, o.width()) && s.height() >= min(tagFoot, o.height()) && !s.empty() {
			return true
		}
	}
	return false
}

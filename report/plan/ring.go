package plan

import "lapmark/ledger/place"

// arcSteps is how many steps a quarter of a margin's round corner has.
const arcSteps = 24

// rounded returns the points within a distance of a rectangle as boxes, the
// corners as steps whose outer corners lie on the arc. All in millimetres.
func rounded(r place.Rect, margin int64) []box {
	b := box{Unit(r.Left), Unit(r.Front), Unit(r.Right), Unit(r.Rear)}
	m := Unit(margin)
	out := []box{b.grownBy(m, 0), b.grownBy(0, m)}
	for i := Unit(1); i < arcSteps; i++ {
		up := m * i / arcSteps
		across := floorRoot(m*m - up*up)
		out = append(out, b.grownBy(across, up), b.grownBy(up, across))
	}
	return out
}

// floorRoot returns the largest whole number whose square is at most n.
func floorRoot(n Unit) Unit {
	r := ceilRoot(n)
	if r*r > n {
		r--
	}
	return r
}

// ring returns one outline round everything within the margin of the places,
// without inner pockets, cut off at the deck: open and closed lines on paper.
func (s sheet) ring(places []place.Rect, margin int64) [][]Point {
	side := max(s.roof.Front, s.roof.Rear)
	deck := box{-Unit(side/2 + 1), 0, Unit(side/2 + 1), Unit(s.roof.Length)}
	var boxes []box
	for _, p := range places {
		for _, b := range rounded(p, max(0, margin)) {
			if b = b.overlap(deck); !b.empty() {
				boxes = append(boxes, b)
			}
		}
	}
	g := newGrid(boxes)
	g.fillPockets()
	var out [][]Point
	for _, loop := range g.contours() {
		for i, p := range loop {
			loop[i] = Point{s.datum.X + paper(int64(p.X), s.scale), s.aft(int64(p.Y))}
		}
		for _, c := range chains(loop, s.onDeck) {
			out = append(out, smooth(c, s.stride(margin)))
		}
	}
	return out
}

// stride returns the longest step of a round corner on paper.
func (s sheet) stride(margin int64) Unit { return paper(margin/arcSteps+2, s.scale) }

// onDeck returns the stretch of an edge that lies on the deck and not along
// its outline.
func (s sheet) onDeck(r ray, long Unit) []span {
	in := r.inside(span{0, long}, s.halves())
	if in.lo >= in.hi || s.onSide(r.at(in.lo), r.at(in.hi)) {
		return nil
	}
	return []span{in}
}

// smooth leaves out the inner corners of steps no longer than stride, so that
// only points on the arc remain. The inside is on the right hand.
func smooth(c []Point, stride Unit) []Point {
	n := len(c)
	closed := n > 3 && c[0] == c[n-1]
	if closed {
		n--
	}
	out := make([]Point, 0, n)
	for i, p := range c[:n] {
		before, after := c[(i+n-1)%n], c[(i+1)%n]
		end := !closed && (i == 0 || i == n-1)
		if !end && turn(before, p, after) < 0 && long(before, p) <= stride && long(p, after) <= stride {
			continue
		}
		out = append(out, p)
	}
	if closed {
		out = append(out, out[0])
	}
	return out
}

// long returns the length of an edge along the grid.
func long(p, q Point) Unit { return max(p.X-q.X, q.X-p.X) + max(p.Y-q.Y, q.Y-p.Y) }

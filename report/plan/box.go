package plan

// box is a rectangle on paper.
type box struct{ left, top, right, bottom Unit }

func (b box) empty() bool   { return b.left >= b.right || b.top >= b.bottom }
func (b box) width() Unit   { return b.right - b.left }
func (b box) height() Unit  { return b.bottom - b.top }
func (b box) middle() Point { return Point{(b.left + b.right) / 2, (b.top + b.bottom) / 2} }
func (b box) area() Unit    { return b.width() * b.height() }

// grown returns the box larger by d on every side.
func (b box) grown(d Unit) box { return box{b.left - d, b.top - d, b.right + d, b.bottom + d} }

// moved returns the box elsewhere.
func (b box) moved(dx, dy Unit) box {
	return box{b.left + dx, b.top + dy, b.right + dx, b.bottom + dy}
}

// overlap returns what two boxes share; it is empty where they only touch.
func (b box) overlap(c box) box {
	o := box{max(b.left, c.left), max(b.top, c.top), min(b.right, c.right), min(b.bottom, c.bottom)}
	if o.empty() {
		return box{}
	}
	return o
}

// meets says whether two boxes share an area.
func (b box) meets(c box) bool { return !b.overlap(c).empty() }

// holds says whether c lies within b.
func (b box) holds(c box) bool {
	return c.left >= b.left && c.right <= b.right && c.top >= b.top && c.bottom <= b.bottom
}

// atLeast returns the box widened about its middle to a least width and
// height.
func (b box) atLeast(w, h Unit) box {
	if d := w - b.width(); d > 0 {
		b.left -= d / 2
		b.right = b.left + w
	}
	if d := h - b.height(); d > 0 {
		b.top -= d / 2
		b.bottom = b.top + h
	}
	return b
}

// within returns the box moved, as little as needed, into c.
func (b box) within(c box) box {
	dx := max(0, c.left-b.left)
	if b.right > c.right {
		dx = min(0, max(c.right-b.right, c.left-b.left))
	}
	dy := max(0, c.top-b.top)
	if b.bottom > c.bottom {
		dy = min(0, max(c.bottom-b.bottom, c.top-b.top))
	}
	return b.moved(dx, dy)
}

// apart returns the distance of two boxes along the axis on which they are
// further apart, 0 where they meet.
func (b box) apart(c box) Unit {
	return max(0, b.left-c.right, c.left-b.right, b.top-c.bottom, c.top-b.bottom)
}

// struck says whether the straight line from p to q enters the box.
func (b box) struck(p, q Point) bool {
	if max(p.X, q.X) <= b.left || min(p.X, q.X) >= b.right || max(p.Y, q.Y) <= b.top || min(p.Y, q.Y) >= b.bottom {
		return false
	}
	corners := [4]Point{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}}
	var above, below bool
	for _, c := range corners {
		side := turn(p, q, c)
		above, below = above || side > 0, below || side < 0
	}
	return above && below
}

// turn is positive where c lies to one side of the line from a to b, negative
// on the other, 0 on it.
func turn(a, b, c Point) Unit { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// mark draws the box.
func (b box) mark(p Pen, f Fill) Box {
	return Box{At: Point{b.left, b.top}, Width: b.width(), Height: b.height(), Pen: p, Fill: f}
}

// halves returns the box as half planes.
func (b box) halves() []half {
	return []half{{-1, 0, -b.left}, {1, 0, b.right}, {0, -1, -b.top}, {0, 1, b.bottom}}
}

// meetsAny says whether a box shares an area with one of a list.
func meetsAny(b box, list []box) bool {
	for _, o := range list {
		if b.meets(o) {
			return true
		}
	}
	return false
}

// grownBy returns the box wider by dx and higher by dy on both sides.
func (b box) grownBy(dx, dy Unit) box {
	return box{b.left - dx, b.top - dy, b.right + dx, b.bottom + dy}
}

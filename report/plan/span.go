package plan

import "sort"

// span is a stretch of a straight line, from and to a distance along it.
type span struct{ lo, hi Unit }

// joined returns the union of spans, in order, without empty ones.
func joined(spans []span) []span {
	s := make([]span, 0, len(spans))
	for _, x := range spans {
		if x.lo < x.hi {
			s = append(s, x)
		}
	}
	sort.Slice(s, func(i, j int) bool {
		if s[i].lo != s[j].lo {
			return s[i].lo < s[j].lo
		}
		return s[i].hi < s[j].hi
	})
	var out []span
	for _, x := range s {
		if n := len(out); n > 0 && x.lo <= out[n-1].hi {
			out[n-1].hi = max(out[n-1].hi, x.hi)
			continue
		}
		out = append(out, x)
	}
	return out
}

// without returns what is left of spans outside the holes, in order.
func without(spans, holes []span) []span {
	var out []span
	cut := joined(holes)
	for _, s := range joined(spans) {
		for _, h := range cut {
			if h.hi <= s.lo || h.lo >= s.hi {
				continue
			}
			if h.lo > s.lo {
				out = append(out, span{s.lo, h.lo})
			}
			s.lo = h.hi
		}
		if s.lo < s.hi {
			out = append(out, s)
		}
	}
	return out
}

// ray is a straight line in one of the eight directions: each of DX and DY is
// -1, 0 or 1, so that every whole step along it is a whole point.
type ray struct {
	from   Point
	dx, dy Unit
}

// at returns the point a distance along the ray.
func (r ray) at(t Unit) Point { return Point{r.from.X + t*r.dx, r.from.Y + t*r.dy} }

// half is a half plane: the points with a·x + b·y ≤ c.
type half struct{ a, b, c Unit }

// inside returns the stretch of the ray within s that lies in every half
// plane, rounded inward.
func (r ray) inside(s span, halves []half) span {
	for _, h := range halves {
		slope := h.a*r.dx + h.b*r.dy
		room := h.c - h.a*r.from.X - h.b*r.from.Y
		switch {
		case slope > 0:
			s.hi = min(s.hi, floorDiv(room, slope))
		case slope < 0:
			s.lo = max(s.lo, -floorDiv(room, -slope))
		case room < 0:
			return span{}
		}
	}
	return s
}

// through returns the stretch of the ray inside a circle, rounded outward.
func (r ray) through(c Circle) span {
	qx, qy := r.from.X-c.Middle.X, r.from.Y-c.Middle.Y
	d := r.dx*r.dx + r.dy*r.dy
	along := qx*r.dx + qy*r.dy
	disc := along*along - d*(qx*qx+qy*qy-c.Radius*c.Radius)
	if disc <= 0 || d == 0 {
		return span{}
	}
	root := ceilRoot(disc)
	return span{floorDiv(-along-root, d), -floorDiv(along-root, d)}
}

// floorDiv divides and rounds down; b is more than 0.
func floorDiv(a, b Unit) Unit {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// ceilRoot returns the smallest whole number whose square is at least n.
func ceilRoot(n Unit) Unit {
	if n <= 0 {
		return 0
	}
	x := n
	for y := (x + 1) / 2; y < x; y = (x + n/x) / 2 {
		x = y
	}
	if x*x < n {
		x++
	}
	return x
}

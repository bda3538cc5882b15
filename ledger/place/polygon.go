package place

import "math/big"

// vec is an exact point of a plane: aft and off, mm.
type vec struct{ aft, off *big.Rat }

func whole(aft, off int64) vec { return vec{big.NewRat(aft, 1), big.NewRat(off, 1)} }

func (v vec) less(o vec) vec {
	return vec{new(big.Rat).Sub(v.aft, o.aft), new(big.Rat).Sub(v.off, o.off)}
}

func (v vec) dot(o vec) *big.Rat {
	a, b := new(big.Rat).Mul(v.aft, o.aft), new(big.Rat).Mul(v.off, o.off)
	return a.Add(a, b)
}

// cross is positive when o lies clockwise of v as seen from above, front up.
func (v vec) cross(o vec) *big.Rat {
	a, b := new(big.Rat).Mul(v.off, o.aft), new(big.Rat).Mul(v.aft, o.off)
	return a.Sub(a, b)
}

// along is the point so far on the way from v to o, t from 0 to 1.
func (v vec) along(o vec, t *big.Rat) vec {
	d := o.less(v)
	return vec{
		d.aft.Add(v.aft, d.aft.Mul(d.aft, t)),
		d.off.Add(v.off, d.off.Mul(d.off, t)),
	}
}

// polygon is a convex polygon, its corners clockwise as seen from above, front
// up. Corners may fall together.
type polygon []vec

func (r Rect) polygon() polygon {
	return polygon{whole(r.Front, r.Left), whole(r.Front, r.Right), whole(r.Rear, r.Right), whole(r.Rear, r.Left)}
}

// area is half the sum of the cross products of neighbouring corners.
func (p polygon) area() *big.Rat {
	sum := new(big.Rat)
	for i, v := range p {
		sum.Add(sum, v.cross(p[(i+1)%len(p)]))
	}
	return sum.Mul(sum, big.NewRat(1, 2))
}

// box is the smallest rectangle of whole mm round the polygon.
func (p polygon) box() Rect {
	box := Rect{floor(p[0].aft), ceil(p[0].aft), floor(p[0].off), ceil(p[0].off)}
	for _, v := range p {
		box.Front, box.Rear = min(box.Front, floor(v.aft)), max(box.Rear, ceil(v.aft))
		box.Left, box.Right = min(box.Left, floor(v.off)), max(box.Right, ceil(v.off))
	}
	return box
}

// clip keeps the part of the polygon where beyond is not positive; beyond is
// linear.
func (p polygon) clip(beyond func(vec) *big.Rat) polygon {
	var kept polygon
	for i, v := range p {
		next := p[(i+1)%len(p)]
		here, there := beyond(v), beyond(next)
		if here.Sign() <= 0 {
			kept = append(kept, v)
		}
		if here.Sign()*there.Sign() < 0 {
			t := new(big.Rat).Sub(here, there)
			kept = append(kept, v.along(next, t.Quo(here, t)))
		}
	}
	return kept
}

// reaches says whether some point of p lies in o, borders included. An o
// without area has no inside: everything reaches it.
func (p polygon) reaches(o polygon) bool {
	for i, a := range o {
		edge := o[(i+1)%len(o)].less(a)
		p = p.clip(func(v vec) *big.Rat { return v.less(a).cross(edge) })
		if len(p) == 0 {
			return false
		}
	}
	return true
}

// gap2 is the square of the shortest distance between two polygons.
func (p polygon) gap2(o polygon) *big.Rat {
	if p.reaches(o) && o.reaches(p) {
		return new(big.Rat)
	}
	var least *big.Rat
	for _, pair := range [...][2]polygon{{p, o}, {o, p}} {
		for _, v := range pair[0] {
			for i, a := range pair[1] {
				if d := v.gap2(a, pair[1][(i+1)%len(pair[1])]); least == nil || d.Cmp(least) < 0 {
					least = d
				}
			}
		}
	}
	return least
}

// gap2 is the square of the distance from a point to a stretch between two.
func (v vec) gap2(a, b vec) *big.Rat {
	way := b.less(a)
	foot := a
	if long := way.dot(way); long.Sign() > 0 {
		t := v.less(a).dot(way)
		switch t.Quo(t, long); {
		case t.Cmp(big.NewRat(1, 1)) >= 0:
			foot = b
		case t.Sign() > 0:
			foot = a.along(b, t)
		}
	}
	d := v.less(foot)
	return d.dot(d)
}

// rootUp is the square root rounded up to a whole number.
func rootUp(square *big.Rat) int64 {
	root := new(big.Int).Sqrt(new(big.Int).Quo(square.Num(), square.Denom()))
	if new(big.Rat).SetInt(new(big.Int).Mul(root, root)).Cmp(square) < 0 {
		root.Add(root, big.NewInt(1))
	}
	return root.Int64()
}

// floor and ceil round to whole numbers; nearest rounds half up.
func floor(x *big.Rat) int64 { // Euclidean division: the denominator is positive
	return new(big.Int).Div(x.Num(), x.Denom()).Int64()
}

func ceil(x *big.Rat) int64 { return -floor(new(big.Rat).Neg(x)) }

func nearest(x *big.Rat) int64 { return floor(new(big.Rat).Add(x, big.NewRat(1, 2))) }

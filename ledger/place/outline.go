package place

import "math/big"

// outline is the deck as it is reckoned with: half the width at the datum and
// at the rear end, mm. Between them the half width runs straight; forward of
// the datum and behind the deck it stays what it was. No length: not known.
type outline struct{ length, front, rear int64 }

func (o outline) known() bool { return o.length > 0 }

// widest is the larger half width.
func (o outline) widest() int64 { return max(o.front, o.rear) }

// half of a width, an odd one rounded up.
func half(width int64) int64 { return (width + 1) / 2 }

// halfAt is the half width so far aft.
func (o outline) halfAt(aft int64) *big.Rat {
	aft = min(max(aft, 0), o.length)
	slope := big.NewRat((o.rear-o.front)*aft, o.length)
	return slope.Add(slope, big.NewRat(o.front, 1))
}

// left and right are the sides of the deck between the datum and its end.
func (o outline) left() line { return line{o.front - o.rear, -o.length, o.front * o.length} }

func (o outline) right() line { return line{o.front - o.rear, o.length, o.front * o.length} }

// between is what of a rectangle on the roof lies between the deck's sides.
func (o outline) between(r Rect) []cell {
	clip := func(front, rear, half int64, cuts ...line) cell {
		return cell{RoofPlane, r.meet(Rect{front, rear, -half, half}), cuts}
	}
	pieces := []cell{
		clip(r.Front, min(r.Rear, 0), o.front),
		clip(max(r.Front, 0), min(r.Rear, o.length), o.widest(), o.left(), o.right()),
		clip(max(r.Front, o.length), r.Rear, o.rear),
	}
	if o.front == o.rear {
		pieces = []cell{clip(r.Front, r.Rear, o.front)}
	}
	var kept []cell
	for _, c := range pieces {
		if c, ok := c.tidy(); ok {
			kept = append(kept, c)
		}
	}
	return kept
}

// narrowed is the outline with so many mm less on each side.
func (o outline) narrowed(mm int64) outline { return outline{o.length, o.front - mm, o.rear - mm} }

// middle is the outline of half the width: a quarter each side of the
// centreline.
func (o outline) middle() outline { return outline{o.length, half(o.front), half(o.rear)} }

// unfold lays a wall's cell flat beside the roof, over the edge they share:
// down becomes outward. Where the deck tapers, down is laid straight outward,
// not square to the edge.
func (o outline) unfold(c cell) []polygon {
	r := c.rect
	switch c.plane {
	case WallPlane(Front):
		return []polygon{Rect{-r.Rear, -r.Front, r.Left, r.Right}.polygon()}
	case WallPlane(Rear):
		return []polygon{Rect{o.length + r.Front, o.length + r.Rear, r.Left, r.Right}.polygon()}
	}
	var flat []polygon
	for _, ends := range [...][2]int64{
		{r.Front, min(r.Rear, 0)},
		{max(r.Front, 0), min(r.Rear, o.length)},
		{max(r.Front, o.length), r.Rear},
	} {
		if ends[0] >= ends[1] {
			continue
		}
		at := func(aft, down int64) vec {
			off := o.halfAt(aft)
			if off.Add(off, big.NewRat(down, 1)); c.plane == WallPlane(Left) {
				off.Neg(off)
			}
			return vec{big.NewRat(aft, 1), off}
		}
		p := polygon{at(ends[0], r.Left), at(ends[0], r.Right), at(ends[1], r.Right), at(ends[1], r.Left)}
		if p.area().Sign() < 0 {
			p[1], p[3] = p[3], p[1]
		}
		flat = append(flat, p)
	}
	return flat
}

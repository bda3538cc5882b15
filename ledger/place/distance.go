package place

import (
	"math/big"
	"slices"
)

// Point is a point of the roof, mm.
type Point struct{ Aft, Off int64 }

// Distance is the shortest straight way between two regions, rounded up to
// whole mm, so that what is printed and what is compared are the same number;
// 0 when they touch. It is taken within a plane, and between the roof and a
// wall unfolded over their common edge; where that edge is, only a known deck
// says, but for the front wall's. ok is false when nothing of r has a distance
// to anything of o: two walls have none, nor has a slide-out to the roof, nor
// an empty region.
func (r Region) Distance(o Region) (mm int64, ok bool) {
	deck := r.either(o)
	for _, c := range r.cells {
		for _, d := range o.cells {
			gap, measured := deck.gap(c, d)
			if !measured {
				continue
			}
			if !ok || gap < mm {
				mm, ok = gap, true
			}
			if mm == 0 {
				return mm, ok
			}
		}
	}
	return mm, ok
}

// DistanceTo is the shortest straight way from a point of the roof to the
// region, as Distance.
func (r Region) DistanceTo(p Point) (mm int64, ok bool) {
	spot := Region{cells: roof(Rect{p.Aft, p.Aft, p.Off, p.Off})}
	return r.Distance(spot)
}

// gap is the distance between two cells, rounded up; ok is false where there
// is none.
func (o outline) gap(c, d cell) (mm int64, ok bool) {
	if c.plane == d.plane && c.plain() && d.plain() {
		aft := max(c.rect.Front-d.rect.Rear, d.rect.Front-c.rect.Rear, 0)
		off := max(c.rect.Left-d.rect.Right, d.rect.Left-c.rect.Right, 0)
		if aft == 0 || off == 0 {
			return aft + off, true
		}
		return rootUp(big.NewRat(aft*aft+off*off, 1)), true
	}
	if c.plane == d.plane {
		return rootUp(c.polygon().gap2(d.polygon())), true
	}
	if c.plane != RoofPlane {
		c, d = d, c
	}
	if c.plane != RoofPlane || !d.onWall() || !o.known() && d.plane != WallPlane(Front) {
		return 0, false
	}
	for _, flat := range o.unfold(d) {
		if piece := rootUp(flat.gap2(c.polygon())); !ok || piece < mm {
			mm, ok = piece, true
		}
	}
	return mm, ok
}

func (c cell) onWall() bool {
	return slices.ContainsFunc([]Side{Left, Right, Front, Rear}, func(s Side) bool { return c.plane == WallPlane(s) })
}

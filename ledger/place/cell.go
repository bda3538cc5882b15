package place

import (
	"cmp"
	"math/big"
	"slices"
)

// line is the half plane where a·aft + b·off ≤ c.
type line struct{ a, b, c int64 }

// not is the other side of the line.
func (l line) not() line { return line{-l.a, -l.b, -l.c} }

// spread returns the least and the most of a·aft + b·off over a rectangle.
func (l line) spread(r Rect) (least, most int64) {
	for i, v := range [...]int64{
		l.a*r.Front + l.b*r.Left, l.a*r.Front + l.b*r.Right,
		l.a*r.Rear + l.b*r.Left, l.a*r.Rear + l.b*r.Right,
	} {
		if i == 0 {
			least, most = v, v
		}
		least, most = min(least, v), max(most, v)
	}
	return least, most
}

func (l line) beyond(v vec) *big.Rat {
	return new(big.Rat).Sub(whole(l.a, l.b).dot(v), big.NewRat(l.c, 1))
}

// Plane is what a cell lies on: the roof, a wall, the roof of a slide-out.
type Plane string

// RoofPlane is the roof.
const RoofPlane Plane = "roof"

// WallPlane is one of the four walls.
func WallPlane(wall Side) Plane { return Plane("wall-" + wall) }

// SlidePlane is the roof of the slide-out of that name.
func SlidePlane(name string) Plane { return Plane("slide-" + name) }

// cell is a piece of a plane: a rectangle, less what lies beyond its cuts. Only
// a deck that tapers cuts.
type cell struct {
	plane Plane
	rect  Rect
	cuts  []line
}

func (c cell) plain() bool { return len(c.cuts) == 0 }

func (c cell) polygon() polygon {
	p := c.rect.polygon()
	for _, l := range c.cuts {
		p = p.clip(l.beyond)
	}
	return p
}

// tidy drops the cuts that cut nothing off and draws the rectangle in to what
// is left, outward to whole mm. ok is false when no area is left.
func (c cell) tidy() (tidied cell, ok bool) {
	if c.rect.Empty() {
		return c, false
	}
	if c.plain() {
		return c, true
	}
	shape := c.polygon()
	if len(shape) == 0 || shape.area().Sign() <= 0 {
		return c, false
	}
	box := shape.box()
	c.rect = box
	var cuts []line
	for _, l := range c.cuts {
		if _, most := l.spread(box); most > l.c && !slices.Contains(cuts, l) {
			cuts = append(cuts, l)
		}
	}
	slices.SortFunc(cuts, line.compare)
	c.cuts = cuts
	return c, true
}

func (l line) compare(o line) int {
	return cmp.Or(cmp.Compare(l.a, o.a), cmp.Compare(l.b, o.b), cmp.Compare(l.c, o.c))
}

// meet is what two cells share; ok is false when that has no area.
func (c cell) meet(o cell) (shared cell, ok bool) {
	if c.plane != o.plane {
		return c, false
	}
	return cell{c.plane, c.rect.meet(o.rect), slices.Concat(c.cuts, o.cuts)}.tidy()
}

// without is what is left of c when o is taken away, as cells that share
// nothing.
func (c cell) without(o cell) []cell {
	if _, ok := c.meet(o); !ok {
		return []cell{c}
	}
	var rest []cell
	keep := func(piece cell) {
		if piece, ok := piece.tidy(); ok {
			rest = append(rest, piece)
		}
	}
	inner := c
	for _, l := range o.cuts {
		keep(cell{c.plane, c.rect, append(slices.Clone(inner.cuts), l.not())})
		inner.cuts = append(slices.Clone(inner.cuts), l)
	}
	for _, r := range c.rect.without(o.rect) {
		keep(cell{c.plane, r, inner.cuts})
	}
	return rest
}

// grow is every point within so many mm of the cell, measured along the axes.
func (c cell) grow(mm int64) cell {
	cuts := make([]line, len(c.cuts))
	for i, l := range c.cuts {
		cuts[i] = line{l.a, l.b, l.c + mm*(max(l.a, -l.a)+max(l.b, -l.b))}
	}
	return cell{c.plane, c.rect.grow(mm), cuts}
}

func (c cell) compare(o cell) int {
	return cmp.Or(
		cmp.Compare(c.plane, o.plane),
		cmp.Compare(c.rect.Front, o.rect.Front), cmp.Compare(c.rect.Left, o.rect.Left),
		cmp.Compare(c.rect.Rear, o.rect.Rear), cmp.Compare(c.rect.Right, o.rect.Right),
		slices.CompareFunc(c.cuts, o.cuts, line.compare),
	)
}

package place

import (
	"math/big"
	"slices"
)

// Region is an area of the coach worked out: cells that share nothing, on one
// plane or several. It is a value: no method changes it. The zero Region is
// empty.
//
// A Region remembers the deck it was worked out on, because roof and walls are
// unfolded over that deck's edges; of two it keeps the first one known.
type Region struct {
	deck  outline
	cells []cell
}

// RegionOf returns the Region of rectangles on one plane; they may overlap. No
// number of theirs may lie beyond Farthest.
func RegionOf(on Plane, rects ...Rect) Region {
	var cells []cell
	for _, r := range rects {
		cells = append(cells, cell{plane: on, rect: r})
	}
	return region(outline{}, cells)
}

// region makes a Region of cells that may overlap. Plain cells are merged;
// cells with cuts keep what no other cell has.
func region(deck outline, cells []cell) Region {
	var tidied []cell
	for _, c := range cells {
		if c, ok := c.tidy(); ok {
			tidied = append(tidied, c)
		}
	}
	plain, cut := split(tidied)
	r := Region{deck: deck, cells: together(plain, nil, inEither)}
	slices.SortFunc(r.cells, cell.compare)
	slices.SortFunc(cut, cell.compare)
	for _, c := range cut {
		r.cells = append(r.cells, without([]cell{c}, r.cells)...)
	}
	slices.SortFunc(r.cells, cell.compare)
	return r
}

// split parts the plain cells, as rectangles by their plane, from those with
// cuts.
func split(cells []cell) (plain map[Plane][]Rect, cut []cell) {
	plain = map[Plane][]Rect{}
	for _, c := range cells {
		if c.plain() {
			plain[c.plane] = append(plain[c.plane], c.rect)
		} else {
			cut = append(cut, c)
		}
	}
	return plain, cut
}

// together combines the rectangles of each plane of the first.
func together(first, second map[Plane][]Rect, keep func(a, b bool) bool) []cell {
	var cells []cell
	for on, rects := range first {
		for _, r := range combine(rects, second[on], keep) {
			cells = append(cells, cell{plane: on, rect: r})
		}
	}
	return cells
}

// without is what is left of some cells when others are taken away.
func without(cells, gone []cell) []cell {
	for _, g := range gone {
		var rest []cell
		for _, c := range cells {
			rest = append(rest, c.without(g)...)
		}
		cells = rest
	}
	return cells
}

func (r Region) either(o Region) outline {
	if r.deck.known() {
		return r.deck
	}
	return o.deck
}

// Union is what lies in either region.
func (r Region) Union(o Region) Region {
	return region(r.either(o), slices.Concat(r.cells, o.cells))
}

// Minus is what lies in r and not in o.
func (r Region) Minus(o Region) Region {
	plain, cut := split(r.cells)
	gone, slanted := split(o.cells)
	rest := without(together(plain, gone, inFirst), slanted)
	return region(r.either(o), append(rest, without(cut, o.cells)...))
}

// Intersect is what lies in both regions.
func (r Region) Intersect(o Region) Region {
	plain, _ := split(r.cells)
	others, slanted := split(o.cells)
	shared := together(plain, others, inBoth)
	for _, c := range r.cells {
		with := o.cells
		if c.plain() {
			with = slanted
		}
		for _, d := range with {
			if both, ok := c.meet(d); ok {
				shared = append(shared, both)
			}
		}
	}
	return region(r.either(o), shared)
}

// Grow is the region with so many mm more all round, corners square, each cell
// on its own plane. It runs on past the end of the plane: to stay on the roof,
// Intersect it with the whole roof. Below 0 counts as 0, and nothing grows by
// more than Farthest.
func (r Region) Grow(mm int64) Region {
	mm = min(max(mm, 0), Farthest)
	grown := make([]cell, len(r.cells))
	for i, c := range r.cells {
		grown[i] = c.grow(mm)
	}
	return region(r.deck, grown)
}

// Empty says whether the region has no area.
func (r Region) Empty() bool { return len(r.cells) == 0 }

// Area is the area of all cells, exact, then rounded half up to mm².
func (r Region) Area() int64 {
	sum, slanted := int64(0), new(big.Rat)
	for _, c := range r.cells {
		if c.plain() {
			sum += c.rect.area()
		} else {
			slanted.Add(slanted, c.polygon().area())
		}
	}
	return sum + nearest(slanted)
}

// Overlaps says whether the two regions share an area. Touching is not
// sharing.
func (r Region) Overlaps(o Region) bool {
	for _, c := range r.cells {
		for _, d := range o.cells {
			if _, ok := c.meet(d); ok {
				return true
			}
		}
	}
	return false
}

// Holds says whether o lies in r, the tape's tolerance of so many mm granted
// all round. A side of the deck is no border: where r reaches it, r also holds
// what of o runs over it, a spot's square or a skirt. The deck's front and rear
// ends are borders: caps lie beyond them. An empty region is held by every
// other.
func (r Region) Holds(o Region, tolerance int64) bool {
	rest := o.Minus(r.Grow(tolerance))
	return rest.Empty() || rest.Minus(r.overhang(min(max(tolerance, 0), Farthest))).Empty()
}

// overhang is what lies beside the deck, next to where the cells come within
// the tolerance of its sides.
func (r Region) overhang(tolerance int64) Region {
	var beside []cell
	if !r.deck.known() {
		return Region{}
	}
	near := r.deck.narrowed(tolerance)
	for _, c := range r.cells {
		if c.plane != RoofPlane {
			continue
		}
		shape := c.polygon()
		for _, side := range []struct {
			near line
			long Rect
		}{
			{near.left(), Rect{Left: -2 * Farthest}},
			{near.right(), Rect{Right: 2 * Farthest}},
		} {
			if reach := shape.clip(side.near.not().beyond); len(reach) > 0 {
				at, long := reach.box(), side.long
				long.Front, long.Rear = at.Front-tolerance, at.Rear+tolerance
				beside = append(beside, without(roof(long), r.deck.between(long))...)
			}
		}
	}
	return region(r.deck, beside)
}

func roof(r Rect) []cell { return []cell{{plane: RoofPlane, rect: r}} }

package facts

import (
	"fmt"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

// ground is the roof deck as a certificate parts it, all of it on the roof.
type ground struct {
	deck  place.Region // the whole deck
	in    place.Region // what any line reaches
	out   place.Region // the rest: in and out are the deck, to the square millimetre
	field place.Region // what the lines for fields reach; of a certificate without one, in
}

// groundOf parts the deck of a coach. The error is ErrLines, or says what was
// not measured.
func groundOf(r *ledger.Replay, cert *ledger.Act) (ground, error) {
	lines, err := rules.Lines(r, cert)
	if err != nil {
		return ground{}, fmt.Errorf("a place of a line: %w", err)
	}
	if len(lines) == 0 {
		return ground{}, ErrLines
	}
	var g ground
	if g.deck, err = r.Roof().Work(place.Place{Shape: place.Field}); err != nil {
		return ground{}, err
	}
	var all, fields place.Region
	for _, l := range lines {
		all = all.Union(l.Region)
		if isField(l.Promise.Name) {
			fields = fields.Union(l.Region)
		}
	}
	g.in, g.out, g.field = g.deck.Intersect(all), g.deck.Minus(all), g.deck.Intersect(fields)
	if g.field.Empty() {
		g.field = g.in
	}
	return g, nil
}

// on is what of the deck lies in a rectangle.
func (g ground) on(r place.Rect) place.Region {
	return g.deck.Intersect(place.RegionOf(place.RoofPlane, r))
}

// same says whether two regions are the same area of the deck.
func same(a, b place.Region) bool { return a.Minus(b).Empty() && b.Minus(a).Empty() }

// length of the deck, mm.
func (g ground) length() int64 {
	box, _ := g.deck.Bounds(place.RoofPlane)
	return box.Rear
}

// patch is one connected part of a region: the rectangle round it, and whether
// it fills that rectangle as far as the deck reaches.
type patch struct {
	box    place.Rect
	region place.Region
	filled bool
	wide   bool // as wide as the deck is there
	long   bool // as long as the deck
}

// patches are the connected parts of what a region has on the deck, from the
// front. Parts that touch at a corner alone are apart.
func (g ground) patches(region place.Region) []patch {
	cells := g.deck.Intersect(region).Cells()
	group := make([]int, len(cells))
	for i := range group {
		group[i] = i
	}
	for i := range cells {
		for j := range i {
			if touch(cells[i].Box, cells[j].Box) && group[i] != group[j] {
				merge(group, group[i], group[j])
			}
		}
	}
	var out []patch
	for i := range cells {
		if group[i] == i {
			out = append(out, g.patch(region, cells, group, i))
		}
	}
	return out
}

// merge gives all of one group the number of the other, the lower one.
func merge(group []int, a, b int) {
	for i := range group {
		if group[i] == max(a, b) {
			group[i] = min(a, b)
		}
	}
}

// touch says whether two rectangles share area or a part of a side.
func touch(a, b place.Rect) bool {
	aft := min(a.Rear, b.Rear) - max(a.Front, b.Front)
	off := min(a.Right, b.Right) - max(a.Left, b.Left)
	return aft >= 0 && off >= 0 && (aft > 0 || off > 0)
}

func (g ground) patch(region place.Region, cells []place.Cell, group []int, of int) patch {
	p := patch{box: cells[of].Box}
	var boxes []place.Rect
	for i, c := range cells {
		if group[i] != of {
			continue
		}
		boxes = append(boxes, c.Box)
		p.box.Front, p.box.Rear = min(p.box.Front, c.Box.Front), max(p.box.Rear, c.Box.Rear)
		p.box.Left, p.box.Right = min(p.box.Left, c.Box.Left), max(p.box.Right, c.Box.Right)
	}
	p.region = g.deck.Intersect(region).Intersect(place.RegionOf(place.RoofPlane, boxes...))
	p.filled = same(p.region, g.on(p.box))
	band := p.box
	band.Left, band.Right = -place.Farthest, place.Farthest
	p.wide = p.filled && same(p.region, g.on(band))
	p.long = p.filled && p.box.Front <= 0 && p.box.Rear >= g.length()
	return p
}

// holes are the parts of the rectangle round a patch that it leaves out.
func (g ground) holes(p patch) []patch { return g.patches(g.on(p.box).Minus(p.region)) }

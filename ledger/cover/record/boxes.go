package record

import (
	"slices"

	"lapmark/ledger/cover"
	"lapmark/ledger/place"
)

// elsewhere is how far from the roof a slide-out is put: it has no distance to
// it.
const elsewhere = 10 * place.Farthest

// Boxes are the rectangles of a region in roof coordinates: pieces that touch
// are one box, the smallest round them. Walls are unfolded over the roof's edge;
// each slide-out lies far from all others.
func Boxes(region place.Region, deck cover.Box) []cover.Box {
	var out []cover.Box
	for _, c := range region.Cells() {
		box := unfolded(c, deck)
		at := slices.IndexFunc(out, func(o cover.Box) bool { return touching(o, box) })
		for at >= 0 {
			box = round(out[at], box)
			out = slices.Delete(out, at, at+1)
			at = slices.IndexFunc(out, func(o cover.Box) bool { return touching(o, box) })
		}
		out = append(out, box)
	}
	return out
}

func touching(a, b cover.Box) bool {
	return a.Front <= b.Rear && b.Front <= a.Rear && a.Left <= b.Right && b.Left <= a.Right
}

func round(a, b cover.Box) cover.Box {
	return cover.Box{
		Front: min(a.Front, b.Front), Rear: max(a.Rear, b.Rear), Left: min(a.Left, b.Left), Right: max(a.Right, b.Right),
	}
}

// unfolded lays a piece flat: of a wall over the edge it shares with the roof,
// down becoming outward.
func unfolded(c place.Cell, deck cover.Box) cover.Box {
	b := c.Box
	switch c.Plane {
	case place.RoofPlane:
		return cover.Box{Front: b.Front, Rear: b.Rear, Left: b.Left, Right: b.Right}
	case place.WallPlane(place.Left):
		return cover.Box{Front: b.Front, Rear: b.Rear, Left: deck.Left - b.Right, Right: deck.Left - b.Left}
	case place.WallPlane(place.Right):
		return cover.Box{Front: b.Front, Rear: b.Rear, Left: deck.Right + b.Left, Right: deck.Right + b.Right}
	case place.WallPlane(place.Front):
		return cover.Box{Front: -b.Rear, Rear: -b.Front, Left: b.Left, Right: b.Right}
	case place.WallPlane(place.Rear):
		return cover.Box{Front: deck.Rear + b.Front, Rear: deck.Rear + b.Rear, Left: b.Left, Right: b.Right}
	}
	far := elsewhere * int64(1+len(c.Plane)) // a slide-out; of one name all are on one
	return cover.Box{Front: far + b.Front, Rear: far + b.Rear, Left: b.Left, Right: b.Right}
}

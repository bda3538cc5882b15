package place

import (
	"cmp"
	"slices"
)

// Which points of two areas are kept: those of either, of the first alone, of
// both.
func inEither(a, b bool) bool { return a || b }
func inFirst(a, b bool) bool  { return a && !b }
func inBoth(a, b bool) bool   { return a && b }

// combine returns what is kept of two areas, each the union of rectangles that
// may overlap, in rectangles that share nothing: as wide as can be, then as
// long as can be. However an area was put together, it comes out the same.
func combine(first, second []Rect, keep func(a, b bool) bool) []Rect {
	var borders []int64
	for _, r := range slices.Concat(first, second) {
		borders = append(borders, r.Front, r.Rear)
	}
	slices.Sort(borders)
	borders = slices.Compact(borders)

	var done, open []Rect // open: those that reach the front of the slab
	for i := 1; i < len(borders); i++ {
		front, rear := borders[i-1], borders[i]
		slab := across(front, rear, slabOf(first, front, rear), slabOf(second, front, rear), keep)
		for j, r := range slab {
			at := slices.IndexFunc(open, func(o Rect) bool { return o.Left == r.Left && o.Right == r.Right })
			if at >= 0 {
				slab[j].Front = open[at].Front
				open = slices.Delete(open, at, at+1)
			}
		}
		done, open = append(done, open...), slab
	}
	done = append(done, open...)
	slices.SortFunc(done, func(a, b Rect) int {
		return cmp.Or(cmp.Compare(a.Front, b.Front), cmp.Compare(a.Left, b.Left))
	})
	return done
}

// slabOf is what the rectangles cover between two neighbouring borders, from
// left to right.
func slabOf(rects []Rect, front, rear int64) []Rect {
	var slab []Rect
	for _, r := range rects {
		if r.Front <= front && rear <= r.Rear {
			slab = append(slab, Rect{front, rear, r.Left, r.Right})
		}
	}
	slices.SortFunc(slab, func(a, b Rect) int { return cmp.Compare(a.Left, b.Left) })
	joined := slab[:0]
	for _, r := range slab {
		joined = join(joined, r)
	}
	return joined
}

// join adds a rectangle at the right end of a slab, to the last one where they
// touch.
func join(slab []Rect, r Rect) []Rect {
	if n := len(slab); n > 0 && r.Left <= slab[n-1].Right {
		slab[n-1].Right = max(slab[n-1].Right, r.Right)
		return slab
	}
	return append(slab, r)
}

// across combines two slabs between the same borders.
func across(front, rear int64, first, second []Rect, keep func(a, b bool) bool) []Rect {
	var stops []int64
	for _, r := range slices.Concat(first, second) {
		stops = append(stops, r.Left, r.Right)
	}
	slices.Sort(stops)
	stops = slices.Compact(stops)
	covers := func(slab *[]Rect, left int64) bool {
		for len(*slab) > 0 && (*slab)[0].Right <= left {
			*slab = (*slab)[1:]
		}
		return len(*slab) > 0 && (*slab)[0].Left <= left
	}
	var kept []Rect
	for i := 1; i < len(stops); i++ {
		left, right := stops[i-1], stops[i]
		a, b := covers(&first, left), covers(&second, left)
		if keep(a, b) {
			kept = join(kept, Rect{front, rear, left, right})
		}
	}
	return kept
}

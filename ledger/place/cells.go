package place

import "slices"

// Cell is one piece of a region, as it is drawn.
type Cell struct {
	Plane   Plane
	Box     Rect    // the rectangle it is, or, where the deck tapers, the widest it takes
	Corners []Point // clockwise from the front left, rounded half up to mm
}

// Cells returns the cells of the region, by plane, then from the front, then
// from the left. They share nothing; boxes of slanted cells may overlap.
func (r Region) Cells() []Cell {
	var cells []Cell
	for _, c := range r.cells {
		var corners []Point
		for _, v := range c.polygon() {
			corners = append(corners, Point{nearest(v.aft), nearest(v.off)})
		}
		if corners = slices.Compact(corners); corners[0] == corners[len(corners)-1] {
			corners = corners[:len(corners)-1]
		}
		cells = append(cells, Cell{c.plane, c.rect, corners})
	}
	return cells
}

// Rects returns the boxes of the cells on one plane, in the order of Cells.
// Unless the deck tapers they are the region.
func (r Region) Rects(on Plane) []Rect {
	var rects []Rect
	for _, c := range r.cells {
		if c.plane == on {
			rects = append(rects, c.rect)
		}
	}
	return rects
}

// Bounds returns the smallest rectangle of whole mm round all of the region on
// one plane; ok is false when nothing of it lies there.
func (r Region) Bounds(on Plane) (box Rect, ok bool) {
	for _, c := range r.Rects(on) {
		if !ok {
			box, ok = c, true
			continue
		}
		box = Rect{min(box.Front, c.Front), max(box.Rear, c.Rear), min(box.Left, c.Left), max(box.Right, c.Right)}
	}
	return box, ok
}

// Planes returns the planes the region lies on, sorted.
func (r Region) Planes() []Plane {
	var planes []Plane
	for _, c := range r.cells {
		planes = append(planes, c.plane)
	}
	return slices.Compact(planes)
}

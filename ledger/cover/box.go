package cover

// distance is the shortest straight line from a box to a point in mm, rounded
// up; 0 inside and on its edges.
func (b Box) distance(p Point) int64 {
	return rootUp(square(beyond(b.Front, b.Rear, p.Aft)) + square(beyond(b.Left, b.Right, p.Off)))
}

// beyond is how far n lies outside a range.
func beyond(from, to, n int64) int64 { return max(from-n, n-to, 0) }

func square(n int64) int64 { return n * n }

// rootUp is the smallest whole number of which the square is at least n.
func rootUp(n int64) int64 {
	low, high := int64(0), int64(1)
	for high*high < n {
		high *= 2
	}
	for low < high {
		if mid := (low + high) / 2; mid*mid >= n {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low
}

// nearest is the point of a box that is nearest to p.
func (b Box) nearest(p Point) Point {
	return Point{min(max(p.Aft, b.Front), b.Rear), min(max(p.Off, b.Left), b.Right)}
}

// Middle is the middle of a box, rounded down to whole mm.
func (b Box) Middle() Point { return Point{halfDown(b.Front + b.Rear), halfDown(b.Left + b.Right)} }

func halfDown(n int64) int64 {
	if n < 0 && n%2 != 0 {
		return n/2 - 1
	}
	return n / 2
}

// wellInside says whether p lies more than touch inside each side of a box; a
// side on the deck's own edge is no border.
func (b Box) wellInside(p Point, touch int64, deck Box) bool {
	return b.within(p, 0) && (p.Aft-b.Front > touch || b.Front <= deck.Front) && (b.Rear-p.Aft > touch || b.Rear >= deck.Rear) &&
		(p.Off-b.Left > touch || b.Left <= deck.Left) && (b.Right-p.Off > touch || b.Right >= deck.Right)
}

// nearestOf is the distance of the nearest of some boxes.
func nearestOf(boxes []Box, p Point) (mm int64) {
	for i, b := range boxes {
		if d := b.distance(p); i == 0 || d < mm {
			mm = d
		}
	}
	return mm
}

// within says whether a point is at most mm from a box: the distance, rounded
// up, is at most mm exactly when the true one is.
func (b Box) within(p Point, mm int64) bool {
	return square(beyond(b.Front, b.Rear, p.Aft))+square(beyond(b.Left, b.Right, p.Off)) <= square(mm)
}

// Inside says whether a box lies in another one.
func (b Box) Inside(o Box) bool {
	return o.Front <= b.Front && b.Rear <= o.Rear && o.Left <= b.Left && b.Right <= o.Right
}

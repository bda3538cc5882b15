package place

// Rect is an axis-parallel rectangle on one plane of the coach, in whole
// millimetres. Front and Rear are aft values (Front < Rear), Left and Right
// are off values (Left < Right; left of the centreline is negative).
//
// On a side wall Left and Right are down values; on an end wall Front and Rear
// are; on a slide-out Left and Right are out values.
type Rect struct {
	Front, Rear, Left, Right int64
}

// Empty says whether the rectangle has no area.
func (r Rect) Empty() bool { return r.Front >= r.Rear || r.Left >= r.Right }

// meet is what two rectangles share.
func (r Rect) meet(o Rect) Rect {
	return Rect{max(r.Front, o.Front), min(r.Rear, o.Rear), max(r.Left, o.Left), min(r.Right, o.Right)}
}

// grow is the rectangle with so many mm more on each side.
func (r Rect) grow(mm int64) Rect {
	return Rect{r.Front - mm, r.Rear + mm, r.Left - mm, r.Right + mm}
}

func (r Rect) area() int64 { return (r.Rear - r.Front) * (r.Right - r.Left) }

// without returns what is left of r when o is taken away: at most four
// rectangles, in front, behind, left and right of it.
func (r Rect) without(o Rect) []Rect {
	in := r.meet(o)
	if in.Empty() {
		return []Rect{r}
	}
	var rest []Rect
	for _, piece := range [...]Rect{
		{r.Front, in.Front, r.Left, r.Right},
		{in.Rear, r.Rear, r.Left, r.Right},
		{in.Front, in.Rear, r.Left, in.Left},
		{in.Front, in.Rear, in.Right, r.Right},
	} {
		if !piece.Empty() {
			rest = append(rest, piece)
		}
	}
	return rest
}

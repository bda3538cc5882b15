package place

// Rect is an axis-parallel rectangle on one plane of the coach, in whole
// millimetres. Front and Rear are aft values (Front < Rear), Left and Right
// are off values (Left < Right; left of the centreline is negative).
type Rect struct {
	Front, Rear, Left, Right int64
}

// Empty says whether the rectangle has no area.
func (r Rect) Empty() bool { return r.Front >= r.Rear || r.Left >= r.Right }

package plan

// texture is how a hatch is drawn: the direction of its lines, how far apart
// they are along the axis that crosses them, where the first lies from the
// datum, and its pen.
type texture struct {
	dx, dy     Unit
	step, lead Unit
	pen        Pen
}

// texture returns the lines of a hatch. The pitch is measured across the
// lines, the step along an axis: √2 times as much for a slanting line.
func (h Hatch) texture() texture {
	switch h {
	case SkinNarrow:
		return texture{dx: 1, dy: -1, step: 127, pen: Pen{Width: 16}}
	case Bond:
		return texture{dx: 1, dy: 1, step: 566, pen: Pen{Width: 10}}
	case Frame:
		return texture{dx: 1, step: 40, pen: Pen{Width: 22}}
	case Lining:
		return texture{dy: 1, step: 300, lead: 150, pen: Pen{Width: 10, Dash: []Unit{30, 70}}}
	default:
		return texture{dx: 1, dy: -1, step: 283, pen: Pen{Width: 14}}
	}
}

// shortest is the shortest piece of a hatch line that is drawn.
const shortest Unit = 8

// ray returns the line of a texture with this offset from the datum.
func (t texture) ray(datum Point, offset Unit) ray {
	switch {
	case t.dy == 0:
		return ray{Point{datum.X, datum.Y + offset}, 1, 0}
	case t.dx == 0:
		return ray{Point{datum.X + offset, datum.Y}, 0, 1}
	default:
		return ray{Point{datum.X, datum.Y + offset}, t.dx, t.dy}
	}
}

// offset returns which line of a texture goes through a point.
func (t texture) offset(datum, p Point) Unit {
	x, y := p.X-datum.X, p.Y-datum.Y
	switch {
	case t.dy == 0:
		return y
	case t.dx == 0:
		return x
	default:
		return y - x*t.dx*t.dy
	}
}

// holes is what a hatch leaves out.
type holes struct {
	boxes   []box
	circles []Circle
}

// spans returns the stretches of a ray inside the holes.
func (h holes) spans(r ray) []span {
	var out []span
	for _, b := range h.boxes {
		out = append(out, r.inside(everywhere, b.halves()))
	}
	for _, c := range h.circles {
		out = append(out, r.through(c))
	}
	return out
}

// everywhere is longer than any sheet of paper.
var everywhere = span{-1 << 30, 1 << 30}

// hatched returns the finished pieces of a hatch in the union of boxes, inside
// the deck and outside the holes. Its lines are tied to the datum, so those of
// neighbours join.
func hatched(t texture, datum Point, boxes []box, deck []half, h holes) []Mark {
	if len(boxes) == 0 {
		return nil
	}
	low, high := offsets(t, datum, boxes)
	var out []Mark
	for o := low - floorMod(low-t.lead, t.step); o <= high; o += t.step {
		r := t.ray(datum, o)
		var in []span
		for _, b := range boxes {
			in = append(in, r.inside(r.inside(everywhere, b.halves()), deck))
		}
		for _, s := range without(in, h.spans(r)) {
			if s.hi-s.lo >= shortest {
				out = append(out, Line{r.at(s.lo), r.at(s.hi), t.pen})
			}
		}
	}
	return out
}

// offsets returns the first and last offset of a line that meets a box.
func offsets(t texture, datum Point, boxes []box) (low, high Unit) {
	for i, b := range boxes {
		for _, p := range []Point{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}} {
			o := t.offset(datum, p)
			if i == 0 && p == (Point{b.left, b.top}) {
				low, high = o, o
			}
			low, high = min(low, o), max(high, o)
		}
	}
	return low, high
}

// floorMod returns the remainder of a division that rounds down.
func floorMod(a, b Unit) Unit { return a - floorDiv(a, b)*b }

package plan

import (
	"fmt"

	"lapmark/ledger/place"
	"pgregory.net/rapid"
)

// The tests read a finished drawing as its reader does: hatch lines by their
// pen, tags by their white square, leaders by their elbow. None of this uses
// the arithmetic that made the drawing.

// hatchOf returns the hatch a mark is a piece of.
func hatchOf(m Mark) (Line, Hatch, bool) {
	l, ok := m.(Line)
	if !ok {
		return Line{}, 0, false
	}
	dx, dy := l.To.X-l.From.X, l.To.Y-l.From.Y
	switch {
	case l.Pen.Width == 14 && dx == -dy:
		return l, Skin, true
	case l.Pen.Width == 16 && dx == -dy:
		return l, SkinNarrow, true
	case l.Pen.Width == 10 && dx == dy && len(l.Pen.Dash) == 0:
		return l, Bond, true
	case l.Pen.Width == 22 && dy == 0:
		return l, Frame, true
	case l.Pen.Width == 10 && dx == 0 && len(l.Pen.Dash) == 2 && l.Pen.Dash[0] == 30:
		return l, Lining, true
	}
	return Line{}, 0, false
}

// tagsOf returns the white squares with a bold number on them, by number.
func tagsOf(d Drawing) map[string][]box {
	out := map[string][]box{}
	for i, m := range d.Marks {
		b, ok := m.(Box)
		if !ok || b.Height != tagSide || b.Fill != White || i+1 == len(d.Marks) {
			continue
		}
		if w, ok := d.Marks[i+1].(Words); ok && w.Bold {
			out[w.Text] = append(out[w.Text], box{b.At.X, b.At.Y, b.At.X + b.Width, b.At.Y + b.Height})
		}
	}
	return out
}

// leadersOf returns the lines with one elbow, and the dot each begins with.
func leadersOf(d Drawing) []Polyline {
	var out []Polyline
	for i, m := range d.Marks {
		l, ok := m.(Polyline)
		if !ok || l.Closed || len(l.Points) != 3 || l.Pen.Width != 15 || i == 0 {
			continue
		}
		if c, ok := d.Marks[i-1].(Circle); ok && c.Fill == Black && c.Middle == l.Points[0] {
			out = append(out, l)
		}
	}
	return out
}

// deckOf returns the corners of the deck: front left, front right, rear right,
// rear left.
func deckOf(t rapid.TB, d Drawing) []Point {
	t.Helper()
	for _, m := range d.Marks {
		if l, ok := m.(Polyline); ok && l.Closed && l.Pen.Width == 60 {
			return l.Points
		}
	}
	t.Fatal("no deck outline")
	return nil
}

// paperRoof turns roof millimetres to paper, in floating point.
type paperRoof struct{ x, y, scale float64 }

func onPaper(t rapid.TB, d Drawing, scale int64) paperRoof {
	c := deckOf(t, d)
	return paperRoof{float64(c[0].X+c[1].X) / 2, float64(c[0].Y), float64(scale)}
}

func (p paperRoof) rect(r place.Rect) [4]float64 {
	k := 100 / p.scale
	return [4]float64{p.x + float64(r.Left)*k, p.y + float64(r.Front)*k, p.x + float64(r.Right)*k, p.y + float64(r.Rear)*k}
}

// lengthIn returns the length of a line inside a rectangle left, top, right,
// bottom (the clipping of Liang and Barsky, in floating point).
func lengthIn(l Line, r [4]float64) float64 {
	x, y := float64(l.From.X), float64(l.From.Y)
	dx, dy := float64(l.To.X)-x, float64(l.To.Y)-y
	lo, hi := 0.0, 1.0
	for _, e := range [][2]float64{{-dx, x - r[0]}, {dx, r[2] - x}, {-dy, y - r[1]}, {dy, r[3] - y}} {
		switch {
		case e[0] < 0:
			lo = max(lo, e[1]/e[0])
		case e[0] > 0:
			hi = min(hi, e[1]/e[0])
		case e[1] < 0:
			return 0
		}
	}
	if hi <= lo {
		return 0
	}
	return (hi - lo) * hypot(dx, dy)
}

// allInside reports marks that reach out of the drawing.
func allInside(t rapid.TB, d Drawing) {
	face := newTypeface()
	in := func(what string, left, top, right, bottom Unit) {
		if left < 0 || top < 0 || right > d.Width || bottom > d.Height {
			t.Errorf("%s reaches out of the drawing of %s × %s: %s %s to %s %s", what, d.Width, d.Height, left, top, right, bottom)
		}
	}
	points := func(what string, pen Pen, p ...Point) {
		// A line that ends blunt reaches half its pen to the side alone.
		h, half := hullOf(p), pen.Width/2
		switch {
		case len(p) == 2 && h.width() == 0:
			h = h.grownBy(half, 0)
		case len(p) == 2 && h.height() == 0:
			h = h.grownBy(0, half)
		case len(p) == 2:
			h = h.grown(half * 71 / 100)
		default:
			h = h.grown(half)
		}
		in(what, h.left, h.top, h.right, h.bottom)
	}
	for _, m := range d.Marks {
		switch m := m.(type) {
		case Line:
			points("line", m.Pen, m.From, m.To)
		case Polyline:
			points("polyline", m.Pen, m.Points...)
		case Box:
			points("box", m.Pen, m.At, Point{m.At.X + m.Width, m.At.Y}, Point{m.At.X + m.Width, m.At.Y + m.Height})
		case Circle:
			points("circle", m.Pen, m.Middle, Point{m.Middle.X - m.Radius, m.Middle.Y - m.Radius}, Point{m.Middle.X + m.Radius, m.Middle.Y + m.Radius})
		case Words:
			wide := face.width(m.Text, m.Size, m.Bold)
			left := m.At.X - wide*Unit([...]int{0, 1, 2}[m.Anchor])/2
			in(fmt.Sprintf("%q", m.Text), left, m.At.Y-m.Size*capHeight/100, left+wide, m.At.Y)
			if m.Size < 335 {
				t.Errorf("%q is smaller than 9.5 pt", m.Text)
			}
		}
	}
}

// noneOverlap reports tags that share an area.
func noneOverlap(t rapid.TB, d Drawing) {
	var all []box
	for _, list := range tagsOf(d) {
		all = append(all, list...)
	}
	for i, a := range all {
		for _, b := range all[:i] {
			if a.meets(b) {
				t.Errorf("tags overlap: %v %v", a, b)
			}
		}
	}
}

// noneCross reports leaders that cross and names that stand too near.
func noneCross(t rapid.TB, d Drawing) {
	all := leadersOf(d)
	side := func(a, b, c Point) float64 {
		return float64(b.X-a.X)*float64(c.Y-a.Y) - float64(b.Y-a.Y)*float64(c.X-a.X)
	}
	for i, a := range all {
		for _, b := range all[:i] {
			p, q, r, s := a.Points[0], a.Points[1], b.Points[0], b.Points[1]
			if side(p, q, r)*side(p, q, s) < 0 && side(r, s, p)*side(r, s, q) < 0 {
				t.Errorf("leaders cross: %v and %v", a.Points, b.Points)
			}
			if gap := q.Y - s.Y; gap > -430 && gap < 430 {
				t.Errorf("names stand %s apart", gap)
			}
		}
	}
}

package plan

import "lapmark/ledger/place"

// scales are the scales of the large plan, the largest first (1:20, 1:50 and
// 1:100 are in ISO 5455, from memory; the others common practice, no source).
var scales = [...]int64{20, 25, 30, 40, 50, 60, 75, 100}

// The largest deck on the large plan.
const (
	mostLong Unit = 15000
	mostWide Unit = 5600
)

// scaleOf returns the largest scale at which the deck is no longer and no
// wider than this on paper. For a deck too large for all of them the last
// is halved until it fits.
func scaleOf(r Roof, among []int64, long, wide Unit) int64 {
	scale := among[len(among)-1]
	for _, s := range among {
		if fits(r, s, long, wide) {
			return s
		}
	}
	for !fits(r, scale, long, wide) {
		scale *= 2
	}
	return scale
}

func fits(r Roof, scale int64, long, wide Unit) bool {
	return r.Length <= int64(long)*scale/100 && max(r.Front, r.Rear) <= int64(wide)*scale/100
}

// sheet is the deck on paper: its scale, its datum (the middle of the front
// edge), its length and half its width in front and behind.
type sheet struct {
	roof                Roof
	scale               int64
	datum               Point
	length, front, rear Unit
}

// newSheet puts the deck at a datum.
func newSheet(r Roof, scale int64, datum Point) sheet {
	s := sheet{roof: r, scale: scale, datum: datum}
	s.length = paper(r.Length, scale)
	s.front = max(1, paper(r.Front, 2*scale))
	s.rear = max(1, paper(r.Rear, 2*scale))
	return s
}

// paper returns a length of so many millimetres on paper, rounded, halves away
// from 0.
func paper(mm, scale int64) Unit {
	if mm < 0 {
		return -paper(-mm, scale)
	}
	return Unit((mm*100 + scale/2) / scale)
}

// wide returns half the width of the deck where it is widest.
func (s sheet) wide() Unit { return max(s.front, s.rear) }

// deck returns the rectangle the deck lies in.
func (s sheet) deck() box {
	return box{s.datum.X - s.wide(), s.datum.Y, s.datum.X + s.wide(), s.datum.Y + s.length}
}

// half returns half the width of the deck at a height on paper.
func (s sheet) half(y Unit) Unit {
	return s.front + (s.rear-s.front)*(y-s.datum.Y)/max(1, s.length)
}

// aft returns the height on paper of a station.
func (s sheet) aft(mm int64) Unit { return s.datum.Y + paper(mm, s.scale) }

// box returns a rectangle on paper, cut off at the deck: the smallest
// rectangle round what of it lies on the deck.
func (s sheet) box(r place.Rect) box {
	side := max(s.roof.Front, s.roof.Rear)
	r.Front, r.Rear = max(r.Front, 0), min(r.Rear, s.roof.Length)
	r.Left, r.Right = max(r.Left, -side), min(r.Right, side)
	if r.Empty() {
		return box{}
	}
	b := box{s.datum.X + paper(r.Left, s.scale), s.aft(r.Front), s.datum.X + paper(r.Right, s.scale), s.aft(r.Rear)}
	half := max(s.half(b.top), s.half(b.bottom))
	return b.overlap(box{s.datum.X - half, s.datum.Y, s.datum.X + half, s.datum.Y + s.length})
}

// boxes returns the rectangles on paper that have an area there.
func (s sheet) boxes(rects []place.Rect) []box {
	var out []box
	for _, r := range rects {
		if b := s.box(r); !b.empty() {
			out = append(out, b)
		}
	}
	return out
}

// spot returns a rectangle on paper, at least so large; one that has to be
// made larger stays on the deck where it can. It is empty where the place is
// not on the deck at all.
func (s sheet) spot(r place.Rect, least Unit) box {
	b := s.box(r)
	if b.empty() {
		return b
	}
	large := b.atLeast(least, least).within(s.deck())
	half := min(s.half(large.top), s.half(large.bottom))
	if in := large.within(box{s.datum.X - half, large.top, s.datum.X + half, large.bottom}); in.holds(b) {
		return in
	}
	return large
}

// halves returns the deck as half planes: front, rear and the straight sides.
func (s sheet) halves() []half {
	d, run, n := s.deck(), s.rear-s.front, max(1, s.length)
	room := s.front*n - run*s.datum.Y
	return []half{
		{0, -1, -d.top},
		{0, 1, d.bottom},
		{n, -run, room + n*s.datum.X},
		{-n, -run, room - n*s.datum.X},
	}
}

// outline returns the four corners of the deck.
func (s sheet) outline() []Point {
	d := s.deck()
	return []Point{
		{s.datum.X - s.front, d.top},
		{s.datum.X + s.front, d.top},
		{s.datum.X + s.rear, d.bottom},
		{s.datum.X - s.rear, d.bottom},
	}
}

// onSide says whether a stretch between two points runs along the edge of the
// deck, where the deck's own outline is drawn.
func (s sheet) onSide(p, q Point) bool {
	c := s.outline()
	for i := range c {
		a, b := c[i], c[(i+1)%4]
		if near(a, b, p) && near(a, b, q) {
			return true
		}
	}
	return false
}

// near says whether c lies within 0.03 mm of the line from a to b.
func near(a, b, c Point) bool {
	t := turn(a, b, c)
	if t < 0 {
		t = -t
	}
	return t <= 3*max(b.X-a.X, a.X-b.X, b.Y-a.Y, a.Y-b.Y)
}

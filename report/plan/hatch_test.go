package plan

import (
	"math"
	"reflect"
	"testing"

	"lapmark/ledger/place"
)

// The published rule of the drawing: an opening is white. The length of every
// hatch inside every opening is computed by another method than it was made.
func TestNoHatchInAnOpening(t *testing.T) {
	for name, in := range map[string]Input{"demo": q7(), "trailer": trailer(), "long": longCoach()} {
		d, _ := Certificate(in)
		p := onPaper(t, d, scaleOf(in.Roof, scales[:], mostLong, mostWide))
		for _, o := range in.Roof.Openings {
			r := p.rect(o.Clear)
			var sum float64
			for _, m := range d.Marks {
				l, _, ok := hatchOf(m)
				switch {
				case !ok:
				case o.Round:
					sum += inCircle(l, (r[0]+r[2])/2, (r[1]+r[3])/2, min(r[2]-r[0], r[3]-r[1])/2-1)
				default:
					// Half a hundredth is rounding of the opening's edge.
					sum += lengthIn(l, [4]float64{r[0] + 0.5, r[1] + 0.5, r[2] - 0.5, r[3] - 0.5})
				}
			}
			if sum > 0 {
				t.Errorf("%s: %.2f hundredths of hatch in %s", name, sum, o.Name)
			}
		}
	}
}

// inCircle returns the length of a line inside a circle, by small steps.
func inCircle(l Line, x, y, r float64) float64 {
	const steps = 400
	dx, dy := float64(l.To.X-l.From.X), float64(l.To.Y-l.From.Y)
	var sum float64
	for i := range steps {
		k := (float64(i) + 0.5) / steps
		if hypot(float64(l.From.X)+k*dx-x, float64(l.From.Y)+k*dy-y) < r {
			sum += hypot(dx, dy) / steps
		}
	}
	return sum
}

// Every hatch line lies in the union of its lines' regions, from end to end.
func TestHatchStaysInItsRegions(t *testing.T) {
	in := q7()
	d, _ := Certificate(in)
	p := onPaper(t, d, 50)
	seen := map[Hatch]int{}
	for _, m := range d.Marks {
		l, h, ok := hatchOf(m)
		if !ok {
			continue
		}
		seen[h]++
		var inside float64
		for _, c := range in.Covers {
			for _, r := range c.Regions {
				if c.Hatch == h {
					b := p.rect(r)
					inside += lengthIn(l, [4]float64{b[0] - 0.5, b[1] - 0.5, b[2] + 0.5, b[3] + 0.5})
				}
			}
		}
		if long := hypot(float64(l.To.X-l.From.X), float64(l.To.Y-l.From.Y)); inside < long-1 {
			t.Errorf("hatch %d: %v lies outside its regions", h, l)
		}
	}
	for _, h := range []Hatch{Skin, SkinNarrow, Bond, Frame} {
		if seen[h] == 0 {
			t.Errorf("hatch %d is not drawn", h)
		}
	}
}

// The field's hatch is left out where a narrow place or a member lies; the
// hatch of the bond goes on under the narrow place.
func TestNarrowInsteadOfField(t *testing.T) {
	in := q7()
	d, _ := Certificate(in)
	p := onPaper(t, d, 50)
	length := func(h Hatch, covers ...int) float64 {
		var sum float64
		for _, m := range d.Marks {
			l, is, ok := hatchOf(m)
			for _, c := range covers {
				for _, r := range in.Covers[c].Regions {
					if b := p.rect(r); ok && is == h {
						sum += lengthIn(l, [4]float64{b[0] + 0.5, b[1] + 0.5, b[2] - 0.5, b[3] - 0.5})
					}
				}
			}
		}
		return sum
	}
	if sum := length(Skin, 2, 3, 4, 5); sum > 0 {
		t.Errorf("%.1f hundredths of the field's hatch in narrow places and members", sum)
	}
	if sum := length(Bond, 2); sum > 0 {
		t.Errorf("%.1f hundredths of the bond's hatch in members", sum)
	}
	if length(Bond, 3) == 0 || length(Bond, 4) == 0 {
		t.Error("the bond's hatch stops at narrow places")
	}
}

// The length of a hatch is the area divided by the pitch of the table: 2.0,
// 0.9, 4.0, 0.4 and 3.0 mm across the lines.
func TestPitch(t *testing.T) {
	for h, pitch := range map[Hatch]float64{Skin: 2, SkinNarrow: 0.9, Bond: 4, Frame: 0.4, Lining: 3} {
		var sum float64
		for _, m := range hatched(h.texture(), Point{500, 700}, []box{{0, 0, 12000, 9000}}, nil, holes{}) {
			l := m.(Line)
			sum += hypot(float64(l.To.X-l.From.X), float64(l.To.Y-l.From.Y)) / 100
		}
		if got := 120 * 90 / sum; math.Abs(got-pitch) > 0.02*pitch {
			t.Errorf("hatch %d has a pitch of %.3f mm, not %.1f", h, got, pitch)
		}
	}
}

// Lines of neighbours join: two boxes side by side are hatched as one, also
// where each is hatched by itself, wherever it begins.
func TestNeighboursJoin(t *testing.T) {
	datum := Point{130, 77}
	left, right, both := box{0, 0, 517, 903}, box{517, 0, 1310, 903}, box{0, 0, 1310, 903}
	for h := Skin; h <= Lining; h++ {
		one := hatched(h.texture(), datum, []box{both}, nil, holes{})
		if two := hatched(h.texture(), datum, []box{left, right}, nil, holes{}); !reflect.DeepEqual(one, two) {
			t.Errorf("hatch %d: neighbours do not join", h)
		}
		for _, part := range []box{left, right} {
			for _, m := range hatched(h.texture(), datum, []box{part}, nil, holes{}) {
				piece, found := m.(Line), false
				for _, w := range one {
					whole := w.(Line)
					found = found || turn(whole.From, whole.To, piece.From) == 0 && turn(whole.From, whole.To, piece.To) == 0
				}
				if !found {
					t.Errorf("hatch %d: %v is out of step with its neighbour", h, piece)
				}
			}
		}
	}
}

func TestSwatch(t *testing.T) {
	pens := map[Hatch]Unit{Skin: 14, SkinNarrow: 16, Bond: 10, Frame: 22, Lining: 10}
	for h, pen := range pens {
		d := Swatch(h)
		allInside(t, d)
		if d.Width != 1100 || d.Height != 620 || d.Says == "" {
			t.Errorf("swatch %d is %s × %s, %q", h, d.Width, d.Height, d.Says)
		}
		var n int
		for _, m := range d.Marks {
			if l, ok := m.(Line); ok {
				n++
				if l.Pen.Width != pen {
					t.Errorf("swatch %d has a pen of %s", h, l.Pen.Width)
				}
			}
		}
		if n < 2 {
			t.Errorf("swatch %d has %d lines", h, n)
		}
	}
}

// Two lines over one place with the same hatch draw it once.
func TestSameHatchOnce(t *testing.T) {
	in := Input{Roof: fellside()}
	over := []place.Rect{field(3700, 7400, -1100, 1100)}
	in.Covers = []Cover{{Line: 1, Hatch: Skin, Regions: over}}
	one, _ := Certificate(in)
	in.Covers = append(in.Covers, Cover{Line: 2, Hatch: Skin, Regions: over})
	two, _ := Certificate(in)
	count := func(d Drawing) (n int) {
		for _, m := range d.Marks {
			if _, _, ok := hatchOf(m); ok {
				n++
			}
		}
		return n
	}
	if count(one) != count(two) || count(one) == 0 {
		t.Errorf("%d lines for one, %d for two", count(one), count(two))
	}
}

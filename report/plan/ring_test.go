package plan

import (
	"math"
	"testing"

	"lapmark/ledger/place"
)

// raster is the deck in cells of step millimetres: which of their middles lie
// within the margin of a place, pockets filled. It shares nothing with the way
// the ring is made.
type raster struct {
	step, wide, tall int
	left             int
	full             []bool
}

func newRaster(r Roof, places []place.Rect, margin, step int) raster {
	side := int(max(r.Front, r.Rear)) / 2
	g := raster{step: step, wide: 2 * side / step, tall: int(r.Length) / step, left: -side}
	g.full = make([]bool, g.wide*g.tall)
	for k := range g.full {
		x, y := g.middle(k%g.wide, k/g.wide)
		for _, p := range places {
			dx := max(float64(p.Left)-x, x-float64(p.Right), 0)
			dy := max(float64(p.Front)-y, y-float64(p.Rear), 0)
			g.full[k] = g.full[k] || math.Hypot(dx, dy) <= float64(margin)
		}
	}
	g.fill()
	return g
}

func (g raster) middle(i, j int) (x, y float64) {
	return float64(g.left+i*g.step) + float64(g.step)/2, float64(j*g.step) + float64(g.step)/2
}

// fill spreads the open cells from the deck's edge until nothing changes, and
// fills all that was not reached.
func (g raster) fill() {
	open := make([]bool, len(g.full))
	for again := true; again; {
		again = false
		for k := range open {
			i, j := k%g.wide, k/g.wide
			edge := i == 0 || j == 0 || i == g.wide-1 || j == g.tall-1
			if open[k] || g.full[k] || !edge && !open[k-1] && !open[k+1] && !open[k-g.wide] && !open[k+g.wide] {
				continue
			}
			open[k], again = true, true
		}
	}
	for k := range open {
		g.full[k] = !open[k]
	}
}

func TestRingAgainstRaster(t *testing.T) {
	roof := fellside()
	tight := []place.Rect{about(3000, -340, 100, 100), about(3000, 340, 100, 100), about(3680, -340, 100, 100), about(3680, 340, 100, 100)}
	for name, c := range map[string]struct {
		roof   Roof
		places []place.Rect
	}{
		"one in the middle":        {roof, []place.Rect{about(4000, 0, 400, 300)}},
		"R1 and S1":                {roof, []place.Rect{roof.Openings[0].Clear, roof.Openings[1].Clear}},
		"a pocket between four":    {roof, tight},
		"far apart":                {roof, []place.Rect{about(1000, -500, 100, 100), about(5000, 500, 100, 100)}},
		"over the rear corner":     {roof, []place.Rect{about(7300, 1000, 150, 150)}},
		"one inside another":       {roof, []place.Rect{about(4000, 0, 800, 900), about(4000, 0, 100, 100)}},
		"a pocket at the edge":     {roof, []place.Rect{about(3000, -900, 100, 100), about(3680, -900, 100, 100), about(3340, -500, 700, 60)}},
		"twice the same":           {roof, []place.Rect{about(4000, 0, 400, 300), about(4000, 0, 400, 300)}},
		"overlapping a little":     {roof, []place.Rect{about(2000, 0, 200, 200), about(2740, 0, 200, 200)}},
		"three in a row, one edge": {roof, []place.Rect{about(2000, 0, 200, 200), about(2300, 0, 200, 200), about(2600, 0, 200, 200)}},
	} {
		t.Run(name, func(t *testing.T) {
			againstRaster(t, c.roof, c.places)
		})
	}
}

func againstRaster(t *testing.T, roof Roof, places []place.Rect) {
	t.Helper()
	const step, scale = 20, 50
	g := newRaster(roof, places, 300, step)
	s := newSheet(roof, scale, Point{})
	// The ring in millimetres, a point at least every 5 mm.
	var line [][2]float64
	for _, c := range s.ring(places, 300) {
		for i := 1; i < len(c); i++ {
			x, y := float64(c[i-1].X)/2, float64(c[i-1].Y)/2
			dx, dy := float64(c[i].X)/2-x, float64(c[i].Y)/2-y
			n := math.Ceil(math.Hypot(dx, dy)/5) + 1
			for k := range int(n) {
				line = append(line, [2]float64{x + dx*float64(k)/n, y + dy*float64(k)/n})
			}
		}
	}
	near := func(x, y, r float64) bool {
		for _, p := range line {
			if math.Hypot(p[0]-x, p[1]-y) <= r {
				return true
			}
		}
		return false
	}
	// Wherever a full cell lies beside an open one, the ring runs between.
	border := map[[2]int]bool{}
	for k := range g.full {
		for _, by := range []int{1, g.wide} {
			if by == 1 && k%g.wide == g.wide-1 || k+by >= len(g.full) || g.full[k] == g.full[k+by] {
				continue
			}
			border[[2]int{k % g.wide, k / g.wide}] = true
			x, y := g.middle(k%g.wide, k/g.wide)
			if by == 1 {
				x += step / 2
			} else {
				y += step / 2
			}
			if !near(x, y, step) {
				t.Fatalf("no ring at %.0f off, %.0f aft", x, y)
			}
		}
	}
	// And it runs nowhere else: not through pockets, not along the deck.
	for _, p := range line {
		i, j := int(math.Floor((p[0]-float64(g.left))/step)), int(math.Floor(p[1]/step))
		found := false
		for di := -2; di <= 2; di++ {
			for dj := -2; dj <= 2; dj++ {
				found = found || border[[2]int{i + di, j + dj}]
			}
		}
		if !found {
			t.Fatalf("ring at %.0f off, %.0f aft, where nothing ends", p[0], p[1])
		}
	}
}

// Every point of the ring is 300 mm from the nearest place, to a quarter of a
// millimetre on paper.
func TestRingDistance(t *testing.T) {
	places := []place.Rect{about(2100, -800, 400, 400), about(2900, -350, 600, 500)}
	s := newSheet(fellside(), 50, Point{})
	var n int
	for _, c := range s.ring(places, 300) {
		for _, p := range c {
			x, y := float64(p.X)/2, float64(p.Y)/2
			dist := math.Inf(1)
			for _, r := range places {
				dx := max(float64(r.Left)-x, x-float64(r.Right), 0)
				dy := max(float64(r.Front)-y, y-float64(r.Rear), 0)
				dist = min(dist, math.Hypot(dx, dy))
			}
			if math.Abs(dist-300) > 12.5 {
				t.Errorf("%.0f off, %.0f aft is %.1f mm from the nearest", x, y, dist)
			}
			n++
		}
	}
	if n < 100 {
		t.Errorf("the ring has only %d points", n)
	}
}

// On a tapering deck the ring ends at the slanting side.
func TestRingOnTaper(t *testing.T) {
	roof := Roof{Length: 7400, Front: 2200, Rear: 1500}
	s := newSheet(roof, 50, Point{})
	lines := s.ring([]place.Rect{about(5000, -700, 300, 300)}, 300)
	if len(lines) != 1 {
		t.Fatalf("%d lines, not one that begins and ends at the side", len(lines))
	}
	for _, p := range []Point{lines[0][0], lines[0][len(lines[0])-1]} {
		side := -(1100 - 350*float64(p.Y)/2/7400) * 2 // half the width there, at 1:50
		if math.Abs(float64(p.X)-side) > 2 {
			t.Errorf("the ring ends at %v, the side is at %.1f", p, side)
		}
	}
}

func TestNoMarginNoRing(t *testing.T) {
	in := q7()
	in.Margins = nil
	d, l := Certificate(in)
	for _, m := range d.Marks {
		if p, ok := m.(Polyline); ok && len(p.Pen.Dash) > 0 {
			t.Errorf("dashed line without a margin: %v", p.Points)
		}
	}
	for _, s := range l.Samples {
		if s.Says == "long dashes: 300 mm round such a trouble" {
			t.Error("the legend explains a margin that is not drawn")
		}
	}
}

package place

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// narrow is a deck narrower in front: half widths 1050 and 1100, so that the
// sides move out 50 mm over 7400, 1 mm in 148.
func narrow() Roof {
	return Roof{Deck: &Deck{7400, 2100, 2200}, RaftersEvery: 740}
}

// Trapezoids by hand: length × the mean of the two widths.
func TestTaperedAreas(t *testing.T) {
	for name, c := range map[string]struct {
		place Place
		area  int64
		box   Rect
	}{
		// 7400 × 2150; the same by d3-polygon, reference row "deck narrower in front"
		"whole roof": {field(nil, nil), 15_910_000, Rect{0, 7400, -1100, 1100}},
		// widths at 5920 and 6660: 2180 and 2190; half of 740 × 2185
		"bay 9 left": {bay(9, Left), 808_450, Rect{5920, 6660, -1095, 0}},
		// a quarter of the width each side: half of 740 × 2185
		"bay 9 middle": {bay(9, Middle), 808_450, Rect{5920, 6660, -548, 548}},
		// 75 mm along a side that slants, measured across: 7400 × 75
		"left-edge": {part("left-edge"), 555_000, Rect{0, 7400, -1100, -975}},
		// widths at 7325 and 7400: 2200 − 150/148 and 2200; 75 × (2200 − 75/148) = 164961.99…
		"rear-joint": {part("rear-joint"), 164_962, Rect{7325, 7400, -1100, 1100}},
		// between 1050 and 1060 L over the full length: the side reaches 1060 at 1480:
		// a triangle of 1480 × 10 / 2 and 5920 × 10 behind it
		"field over the slant": {field(nil, Over(-1060, -1050)), 66_600, Rect{0, 7400, -1060, -1050}},
		// beyond 1090 L there is deck only from 5920 back: a triangle of 1480 × 10 / 2
		"field at the rear corner": {field(nil, Over(-1200, -1090)), 7_400, Rect{5920, 7400, -1100, -1090}},
		"field beside the deck":    {field(Over(0, 740), Over(-1200, -1060)), 0, Rect{}},
		// forward of the datum and behind the deck the width stays: 100 × 2100, 100 × 2200
		"forward": {field(Over(-100, 0), nil), 210_000, Rect{-100, 0, -1050, 1050}},
		"behind":  {field(Over(7400, 7500), nil), 220_000, Rect{7400, 7500, -1100, 1100}},
		// 60 × 2180 at rafter 8, which stands at 5920
		"rafter 8": {rafter(8, 0), 130_800, Rect{5890, 5950, -1091, 1091}},
	} {
		r := work(t, narrow(), c.place)
		require.Equal(t, c.area, r.Area(), name)
		box, ok := r.Bounds(RoofPlane)
		require.Equal(t, c.area > 0, ok, name)
		require.Equal(t, c.box, box, name)
	}
}

// The corners of what is drawn.
func TestTaperedCorners(t *testing.T) {
	whole := work(t, narrow(), field(nil, nil)).Cells()
	require.Equal(t, []Cell{{
		Plane: RoofPlane, Box: Rect{0, 7400, -1100, 1100},
		Corners: []Point{{0, -1050}, {0, 1050}, {7400, 1100}, {7400, -1100}},
	}}, whole)
	outline, err := narrow().Outline()
	require.NoError(t, err)
	require.Equal(t, outline, whole[0].Corners)

	edge := work(t, narrow(), part("left-edge")).Cells()
	require.Equal(t, []Point{{0, -1050}, {0, -975}, {7400, -1025}, {7400, -1100}}, edge[0].Corners)
	plain := work(t, fellside(), bay(9, Left)).Cells()
	require.Equal(t, []Point{{5920, -1100}, {5920, 0}, {6660, 0}, {6660, -1100}}, plain[0].Corners)
	rear := work(t, narrow(), field(nil, Over(-1200, -1090))).Cells()
	require.Equal(t, []Point{{5920, -1090}, {7400, -1090}, {7400, -1100}}, rear[0].Corners)
}

// A deck in two parts is the deck; in two measures it is not.
func TestTaperedPartsAddUp(t *testing.T) {
	roof := narrow()
	whole := work(t, roof, field(nil, nil))
	var joined Region
	for n := int64(1); n <= 10; n++ {
		for _, side := range []Side{Left, Right} {
			one := work(t, roof, bay(n, side))
			require.False(t, joined.Overlaps(one))
			joined = joined.Union(one)
		}
	}
	require.Equal(t, whole.Area(), joined.Area())
	require.True(t, whole.Minus(joined).Empty())
	require.True(t, joined.Holds(whole, 0))

	edges := work(t, roof, part("edge-member"))
	inner := whole.Minus(edges)
	require.Equal(t, int64(15_910_000-2*555_000), inner.Area())
	require.True(t, edges.Union(inner).Minus(whole).Empty())
	require.True(t, edges.Intersect(inner).Empty())

	// measured again as 7400 × 2200 in front too: two triangles of 7400 × 50 / 2 more
	again := work(t, fellside(), field(nil, nil))
	require.Equal(t, int64(7400*50), again.Minus(whole).Area())
	require.Equal(t, again.Area(), again.Minus(whole).Union(whole).Area())
	require.Equal(t, whole.Area(), whole.Intersect(again).Area())
	require.True(t, again.Holds(whole, 0))
	require.True(t, whole.Holds(again, 0), "beside the deck there is no roof")
	require.True(t, whole.Grow(50).Union(whole).Minus(again.Grow(50)).Empty())
}

// Where half the width runs at 3 in 4, ways square to the side are whole: the
// foot of (100, 300) is (160, 220), and 60, 80, 100 is a right triangle.
func TestDistanceToASlant(t *testing.T) {
	deck := Roof{Deck: &Deck{400, 200, 800}}
	whole := work(t, deck, field(nil, nil))
	for p, want := range map[Point]int64{
		{100, 175}: 0, {160, 220}: 0, {100, 300}: 100, {100, 301}: 101, {100, 299}: 100, {100, -300}: 100,
		{-30, 140}: 50, {430, 440}: 50, {0, 0}: 0, {200, 9}: 0,
	} {
		mm, ok := whole.DistanceTo(p)
		require.True(t, ok)
		require.Equal(t, want, mm, "%v", p)
	}
	spot := work(t, Roof{}, Place{Shape: Spot, Aft: At(75), Off: At(325)}) // nearest corner (100, 300)
	mm, ok := spot.Distance(whole)
	require.True(t, ok)
	require.Equal(t, int64(100), mm)
}

// A wall beside a slanted side: down is laid straight outward.
func TestWallBesideASlant(t *testing.T) {
	deck := Roof{Deck: &Deck{400, 200, 800}}
	edge := work(t, deck, part("right-edge"))
	wall := work(t, deck, Place{Shape: Wall, Wall: Right, Along: Over(-100, 500), Down: Over(125, 200)})
	mm, ok := edge.Distance(wall)
	require.True(t, ok)
	require.Equal(t, int64(100), mm, "125 outward of a side at 3 in 4 is 100 square to it")
	mm, ok = work(t, deck, Place{Shape: Wall, Wall: Left, Along: Over(0, 100), Down: Over(0, 200)}).Distance(edge)
	require.True(t, ok)
	require.Positive(t, mm)
	forward := work(t, deck, Place{Shape: Wall, Wall: Right, Along: Over(-100, -50), Down: Over(0, 10)})
	mm, ok = forward.DistanceTo(Point{-70, 75})
	require.True(t, ok)
	require.Equal(t, int64(25), mm, "forward of the datum the half width stays 100")
	touching := work(t, deck, Place{Shape: Wall, Wall: Right, Along: Over(0, 100), Down: Over(0, 200)})
	mm, ok = touching.Distance(edge)
	require.True(t, ok)
	require.Zero(t, mm)
}

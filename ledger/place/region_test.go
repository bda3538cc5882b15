package place

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// side is the edge of the small world: every rectangle with corners from 0 to
// side.
const side = 3

// squares is an area of the small world, one bit a square millimetre.
type squares uint16

func small() []Rect {
	var all []Rect
	for front := int64(0); front < side; front++ {
		for rear := front + 1; rear <= side; rear++ {
			for left := int64(0); left < side; left++ {
				for right := left + 1; right <= side; right++ {
					all = append(all, Rect{front, rear, left, right})
				}
			}
		}
	}
	return all
}

func (r Rect) squares() squares {
	var s squares
	for aft := r.Front; aft < r.Rear; aft++ {
		for off := r.Left; off < r.Right; off++ {
			s |= 1 << (aft*side + off)
		}
	}
	return s
}

// cover paints the rectangles of a region square by square, and fails when two
// lie over one another.
func cover(t *testing.T, r Region) squares {
	t.Helper()
	var s squares
	for _, one := range r.Rects(RoofPlane) {
		if s&one.squares() != 0 {
			t.Fatalf("%v overlap", r.Rects(RoofPlane))
		}
		s |= one.squares()
	}
	return s
}

// Every three rectangles of a small world, square by square.
func TestSmallWorld(t *testing.T) {
	all := small()
	require.Len(t, all, 36)
	regions := make([]Region, len(all))
	for i, r := range all {
		regions[i] = RegionOf(RoofPlane, r)
	}
	for i, a := range all {
		for j, b := range all {
			union, sa, sb := regions[i].Union(regions[j]), a.squares(), b.squares()
			for k, c := range all {
				sc, third := c.squares(), regions[k]
				rest, shared := union.Minus(third), third.Intersect(union)
				if cover(t, rest) != (sa|sb)&^sc || cover(t, shared) != (sa|sb)&sc {
					t.Fatalf("%v ∪ %v with %v: %v, %v", a, b, c, rest, shared)
				}
				if union.Holds(third, 0) != (sc&^(sa|sb) == 0) || union.Overlaps(third) != (sc&(sa|sb) != 0) {
					t.Fatalf("%v ∪ %v holds or overlaps %v", a, b, c)
				}
			}
		}
	}
}

// The same area is the same rectangles, however it was put together.
func TestSmallWorldIsCanonical(t *testing.T) {
	seen := map[squares][]Rect{}
	all := small()
	for _, a := range all {
		for _, b := range all {
			for _, c := range all {
				r := RegionOf(RoofPlane, a, b, c)
				area := a.squares() | b.squares() | c.squares()
				if first, ok := seen[area]; !ok {
					seen[area] = r.Rects(RoofPlane)
				} else {
					require.Equal(t, first, r.Rects(RoofPlane))
				}
			}
		}
	}
	require.Greater(t, len(seen), 200)
}

// Every two rectangles of a small world: the nearest pair of whole points of
// both decides, and growing by the distance is what makes them meet.
func TestSmallWorldDistances(t *testing.T) {
	all := small()
	far := Rect{9, 10, 11, 12}
	for _, a := range all {
		for _, b := range append(all, far) {
			least := int64(1 << 30)
			for p := a.Front; p <= a.Rear; p++ {
				for q := a.Left; q <= a.Right; q++ {
					for u := b.Front; u <= b.Rear; u++ {
						for v := b.Left; v <= b.Right; v++ {
							least = min(least, (p-u)*(p-u)+(q-v)*(q-v))
						}
					}
				}
			}
			mm, ok := RegionOf(RoofPlane, a).Distance(RegionOf(RoofPlane, b))
			require.True(t, ok)
			require.True(t, mm*mm >= least && (mm == 0 || (mm-1)*(mm-1) < least), "%v %v", a, b)
			exact := new(big.Rat).SetInt64(least)
			require.Zero(t, exact.Cmp(a.polygon().gap2(b.polygon())), "%v %v", a, b)
		}
	}
	mm, ok := RegionOf(RoofPlane, Rect{0, 1, 0, 1}).Distance(RegionOf(RoofPlane, Rect{201, 202, 51, 52}))
	require.True(t, ok)
	require.Equal(t, int64(207), mm, "206.2 is 207")
}

func TestRoofAndWallAreUnfolded(t *testing.T) {
	roof := fellside()
	wall := func(on Side, along, down *Range) Region {
		return work(t, roof, Place{Shape: Wall, Wall: on, Along: along, Down: down})
	}
	spot := work(t, roof, Place{Shape: Spot, Aft: At(6200), Off: At(-1000)}) // to 1025 L
	left := wall(Left, Over(6000, 6400), Over(100, 300))
	for name, c := range map[string]struct {
		a, b Region
		mm   int64
		ok   bool
	}{
		"over the left edge":   {spot, left, 175, true},
		"and back":             {left, spot, 175, true},
		"touching at the edge": {work(t, roof, part("left-edge")), wall(Left, Over(0, 100), Over(0, 300)), 0, true},
		"from the other side":  {spot, wall(Right, Over(6000, 6400), Over(0, 300)), 2075, true},
		"3, 4, 5":              {work(t, roof, Place{Shape: Spot, Aft: At(5945), Off: At(1035)}), wall(Right, Over(6000, 6400), Over(0, 300)), 50, true},
		"over the rear edge":   {work(t, roof, part("rear-joint")), wall(Rear, Over(0, 400), Over(50, 200)), 50, true},
		"over the front edge":  {work(t, roof, part("front-joint")), wall(Front, Over(0, 400), Over(60, 200)), 60, true},
		"within a wall":        {left, wall(Left, Over(6430, 6500), Over(340, 400)), 50, true},
		"from wall to wall":    {left, wall(Front, Over(0, 400), Over(0, 200)), 0, false},
		"a slide-out":          {spot, work(t, roof, Place{Shape: Slide, Slide: "S1", Aft: Over(0, 600), Out: Over(0, 400)}), 0, false},
		"nothing":              {spot, Region{}, 0, false},
	} {
		mm, ok := c.a.Distance(c.b)
		require.Equal(t, c.ok, ok, name)
		require.Equal(t, c.mm, mm, name)
	}
	mm, ok := left.DistanceTo(Point{6200, -1000})
	require.True(t, ok)
	require.Equal(t, int64(200), mm)
	require.Equal(t, int64(2500+80_000), spot.Union(left).Area())
	require.Equal(t, []Plane{RoofPlane, "wall-left"}, left.Union(spot).Planes())
	require.True(t, left.Minus(spot).Holds(left, 0))
	require.False(t, left.Overlaps(work(t, roof, field(Over(6000, 6400), Over(100, 300)))))

	roof.Deck = nil // without a deck only the front edge, the datum, is known
	_, ok = wall(Left, Over(0, 1), Over(0, 1)).Distance(RegionOf(RoofPlane, Rect{0, 1, 0, 1}))
	require.False(t, ok)
	mm, ok = wall(Front, Over(0, 1), Over(5, 6)).Distance(RegionOf(RoofPlane, Rect{0, 1, 0, 1}))
	require.True(t, ok)
	require.Equal(t, int64(5), mm)
}

// The tape speaks 10 mm all round and no more; the deck's own side is no
// border.
func TestHoldsWithinTheTape(t *testing.T) {
	roof := fellside()
	closed := work(t, roof, field(Over(3700, 7400), Over(-1100, 500)))
	for _, c := range []struct {
		place Place
		held  bool
	}{
		{field(Over(3690, 4000), Over(0, 510)), true},
		{field(Over(3689, 4000), Over(0, 510)), false},
		{field(Over(3690, 4000), Over(0, 511)), false},
		{Place{Shape: Spot, Aft: At(5000), Off: At(-1090)}, true},              // its square runs over the side
		{Place{Shape: Spot, Aft: At(5000), Off: At(-1090), Radius: 500}, true}, //
		{Place{Shape: Spot, Aft: At(3710), Off: At(-1090)}, false},             // and over the front border
		{Place{Shape: Spot, Aft: At(5000), Off: At(1090)}, false},              // the other side
		{Place{Shape: Wall, Wall: Left, Along: Over(5000, 6000), Down: Over(0, 10)}, false},
	} {
		require.Equal(t, c.held, closed.Holds(work(t, roof, c.place), 10), "%+v", c.place)
	}
	patch := work(t, roof, field(Over(3700, 4000), Over(-1100, 500)))
	require.True(t, patch.Holds(work(t, roof, Place{Shape: Spot, Aft: At(3985), Off: At(-1090)}), 10))
	require.False(t, patch.Holds(work(t, roof, Place{Shape: Spot, Aft: At(3986), Off: At(-1090)}), 10))
	inner := work(t, roof, field(Over(3700, 7400), Over(-1089, 500)))
	over := work(t, roof, Place{Shape: Spot, Aft: At(5000), Off: At(-1090)})
	require.False(t, inner.Holds(over, 10), "11 mm short of the side")
	require.True(t, inner.Holds(over, 11))
	require.True(t, inner.Holds(Region{}, 0))
	require.False(t, Region{}.Holds(inner, 1000))

	slanted := work(t, narrow(), part("left-edge"))
	require.True(t, slanted.Holds(work(t, narrow(), Place{Shape: Spot, Aft: At(3000), Off: At(-1060)}), 0))
	require.False(t, slanted.Holds(work(t, narrow(), Place{Shape: Spot, Aft: At(3000), Off: At(-980)}), 0))

	// 1080 L is the side at 4440: forward of there the field reaches it
	short := work(t, narrow(), field(nil, Over(-1080, 0)))
	require.True(t, short.Holds(work(t, narrow(), Place{Shape: Spot, Aft: At(4400), Off: At(-1060)}), 0))
	require.False(t, short.Holds(work(t, narrow(), Place{Shape: Spot, Aft: At(4500), Off: At(-1060)}), 0))
	require.True(t, short.Holds(work(t, narrow(), Place{Shape: Spot, Aft: At(4500), Off: At(-1060)}), 25))
}

func TestGrow(t *testing.T) {
	a := RegionOf(RoofPlane, Rect{0, 10, 0, 10}, Rect{12, 20, 0, 10})
	require.Equal(t, []Rect{{-1, 21, -1, 11}}, a.Grow(1).Rects(RoofPlane))
	require.Equal(t, a, a.Grow(0))
	require.Equal(t, a, a.Grow(-5))
	require.Equal(t, a.Grow(Farthest), a.Grow(1<<60))
	require.True(t, Region{}.Grow(100).Empty())

	// half a deck with slanted sides: each side and end moves out 10 mm, the
	// slanted side by 10 and a 148th of 10, for the corner that leads
	whole := work(t, narrow(), field(nil, nil))
	grown := whole.Grow(10)
	require.True(t, grown.Holds(whole, 0))
	box, _ := grown.Bounds(RoofPlane)
	require.Equal(t, Rect{-10, 7410, -1110, 1110}, box)
	mm, ok := grown.DistanceTo(Point{0, -1060})
	require.True(t, ok)
	require.Zero(t, mm)
	mm, ok = grown.DistanceTo(Point{0, -1062})
	require.True(t, ok)
	require.Positive(t, mm)
}

// area draws some rectangles of a roof, on a deck that tapers or does not.
func area(t *rapid.T, name string) Region {
	deck := rapid.SampledFrom([]outline{{}, {40, 10, 10}, {40, 8, 13}, {37, 12, 7}}).Draw(t, name+" deck")
	coordinate := rapid.Int64Range(-15, 45)
	out := Region{deck: deck}
	for range rapid.IntRange(0, 4).Draw(t, name+" rects") {
		r := Rect{Front: coordinate.Draw(t, "front"), Left: coordinate.Draw(t, "left") - 20}
		r.Rear = r.Front + rapid.Int64Range(1, 30).Draw(t, "long")
		r.Right = r.Left + rapid.Int64Range(1, 30).Draw(t, "wide")
		cells := roof(r)
		if deck.known() {
			cells = deck.between(r)
		}
		out = out.Union(region(deck, cells))
	}
	return out
}

// exact is the area as it is before rounding.
func (r Region) exact() *big.Rat {
	sum := new(big.Rat)
	for _, c := range r.cells {
		sum.Add(sum, c.polygon().area())
	}
	return sum
}

// in says whether a point lies inside some cell, borders left out.
func (r Region) in(v vec) bool {
	for _, c := range r.cells {
		inside := true
		for _, l := range append(c.cuts,
			line{-1, 0, -c.rect.Front}, line{1, 0, c.rect.Rear}, line{0, -1, -c.rect.Left}, line{0, 1, c.rect.Right}) {
			inside = inside && l.beyond(v).Sign() < 0
		}
		if inside {
			return true
		}
	}
	return false
}

func TestAreasAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := area(t, "a"), area(t, "b")
		union, shared, rest := a.Union(b), a.Intersect(b), a.Minus(b)
		sum := func(x, y Region) *big.Rat { return new(big.Rat).Add(x.exact(), y.exact()) }
		require.Zero(t, sum(a, b).Cmp(sum(union, shared)), "a + b = a ∪ b + a ∩ b")
		require.Zero(t, a.exact().Cmp(sum(rest, shared)), "a = a − b + a ∩ b")
		require.Zero(t, union.exact().Cmp(b.Union(a).exact()))
		require.Equal(t, !shared.Empty(), a.Overlaps(b))
		require.True(t, a.Minus(a).Empty() && rest.Intersect(b).Empty())
		require.True(t, union.Holds(a, 0) && union.Holds(b, 0) && a.Holds(rest, 0))
		require.Equal(t, union.Area(), nearest(union.exact()))
		for i, c := range union.cells {
			for _, d := range union.cells[i+1:] {
				_, ok := c.meet(d)
				require.False(t, ok, "cells of a region share nothing")
			}
		}
	})
}

// Points are in the results that they should be in. They lie on thirds of a
// millimetre, where no border of a cell runs but slanted ones.
func TestPointByPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := area(t, "a"), area(t, "b")
		union, shared, rest := a.Union(b), a.Intersect(b), a.Minus(b)
		for range 40 {
			v := vec{
				big.NewRat(3*rapid.Int64Range(-20, 80).Draw(t, "aft")+1, 3),
				big.NewRat(3*rapid.Int64Range(-40, 60).Draw(t, "off")+1, 3),
			}
			if onSlant(v, a, b) {
				continue
			}
			require.Equal(t, a.in(v) || b.in(v), union.in(v))
			require.Equal(t, a.in(v) && b.in(v), shared.in(v))
			require.Equal(t, a.in(v) && !b.in(v), rest.in(v))
		}
	})
}

func onSlant(v vec, regions ...Region) bool {
	for _, r := range regions {
		for _, c := range r.cells {
			for _, l := range c.cuts {
				if l.beyond(v).Sign() == 0 {
					return true
				}
			}
		}
	}
	return false
}

func TestGrowIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := area(t, "a"), area(t, "b")
		mm, more := rapid.Int64Range(0, 9).Draw(t, "mm"), rapid.Int64Range(0, 9).Draw(t, "more")
		grown := a.Grow(mm)
		require.True(t, a.Minus(grown).Empty())
		require.True(t, grown.Minus(a.Grow(mm+more)).Empty())
		require.True(t, grown.Minus(a.Union(b).Grow(mm)).Empty(), "the more there is, the more it grows to")
		if a.Holds(b, mm) {
			require.True(t, a.Holds(b, mm+more))
		}

		there, ok := a.Distance(b)
		back, also := b.Distance(a)
		require.Equal(t, ok, also)
		require.Equal(t, there, back)
		require.Equal(t, ok, !a.Empty() && !b.Empty())
		if a.Overlaps(b) {
			require.Zero(t, there)
		}
		if ok && there <= mm { // a straight way is no shorter than its longer leg
			_, reached := grown.Grow(1).Distance(b)
			require.True(t, reached)
			require.True(t, grown.Grow(1).Overlaps(b))
		}
	})
}

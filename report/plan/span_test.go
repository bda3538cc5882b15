package plan

import (
	"math/big"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// Spans against a row of cells that are marked one by one.
func TestSpansAgainstCells(t *testing.T) {
	draw := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) span {
		return span{Unit(rapid.IntRange(0, 40).Draw(t, "lo")), Unit(rapid.IntRange(0, 40).Draw(t, "hi"))}
	}), 0, 6)
	rapid.Check(t, func(t *rapid.T) {
		in, out := draw.Draw(t, "spans"), draw.Draw(t, "holes")
		var want, got [41]bool
		for _, s := range in {
			for i := s.lo; i < s.hi; i++ {
				want[i] = true
			}
		}
		for _, s := range out {
			for i := s.lo; i < s.hi; i++ {
				want[i] = false
			}
		}
		last := Unit(-1)
		for _, s := range without(in, out) {
			if s.lo <= last && last >= 0 && s.lo < last || s.lo >= s.hi {
				t.Fatalf("spans out of order or empty: %v", s)
			}
			last = s.hi
			for i := s.lo; i < s.hi; i++ {
				got[i] = true
			}
		}
		if got != want {
			t.Fatalf("%v without %v", in, out)
		}
	})
}

// Roots against math/big.
func TestRoots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(0, 1<<52).Draw(t, "n")
		floor := new(big.Int).Sqrt(big.NewInt(n)).Int64()
		ceil := floor
		if floor*floor < n {
			ceil++
		}
		if floorRoot(Unit(n)) != Unit(floor) || ceilRoot(Unit(n)) != Unit(ceil) {
			t.Fatalf("root of %d: %d %d", n, floorRoot(Unit(n)), ceilRoot(Unit(n)))
		}
	})
}

// Whole points of a ray against the half planes and the circle themselves.
func TestRayAgainstPoints(t *testing.T) {
	small := rapid.Int64Range(-30, 30)
	rapid.Check(t, func(t *rapid.T) {
		unit := func(name string) Unit { return Unit(small.Draw(t, name)) }
		way := ways[rapid.IntRange(0, 3).Draw(t, "way")]
		r := ray{Point{unit("x"), unit("y")}, Unit(way[0]), Unit(way[1])}
		if rapid.Bool().Draw(t, "slant") {
			r.dx, r.dy = 1, Unit(2*rapid.IntRange(0, 1).Draw(t, "down")-1)
		}
		h := []half{{unit("a"), unit("b"), unit("c")}, {unit("d"), unit("e"), unit("f")}}
		in := r.inside(span{-50, 50}, h)
		c := Circle{Middle: Point{unit("cx"), unit("cy")}, Radius: Unit(rapid.IntRange(0, 30).Draw(t, "r"))}
		hole := r.through(c)
		for k := Unit(-50); k <= 50; k++ {
			p := r.at(k)
			ok := true
			for _, q := range h {
				ok = ok && q.a*p.X+q.b*p.Y <= q.c
			}
			if is := in != (span{}) && k >= in.lo && k <= in.hi; is != ok && in.lo < in.hi {
				t.Fatalf("%v at %d: inside %v, said %v", r, k, ok, is)
			}
			x, y := p.X-c.Middle.X, p.Y-c.Middle.Y
			if x*x+y*y < c.Radius*c.Radius && (k < hole.lo || k > hole.hi) {
				t.Fatalf("%v at %d is inside %v, not in %v", r, k, c, hole)
			}
		}
	})
}

func TestContours(t *testing.T) {
	frame := []box{{0, 0, 30, 10}, {0, 20, 30, 30}, {0, 0, 10, 30}, {20, 0, 30, 30}}
	g := newGrid(frame)
	outer, inner := []Point{{0, 0}, {30, 0}, {30, 30}, {0, 30}}, []Point{{10, 10}, {10, 20}, {20, 20}, {20, 10}}
	loops := g.contours()
	if len(loops) != 2 || !reflect.DeepEqual(turned(loops[0]), outer) || !reflect.DeepEqual(turned(loops[1]), inner) {
		t.Errorf("contours of a frame: %v", loops)
	}
	g.fillPockets()
	if loops := g.contours(); len(loops) != 1 || !reflect.DeepEqual(turned(loops[0]), outer) {
		t.Errorf("contour of a frame without its pocket: %v", loops)
	}
	// Two boxes that meet in a corner alone are apart.
	if loops := newGrid([]box{{0, 0, 10, 10}, {10, 10, 20, 20}}).contours(); len(loops) != 2 {
		t.Errorf("contours of two boxes at a corner: %v", loops)
	}
}

// turned returns a loop beginning with its upper left corner.
func turned(loop []Point) []Point {
	first := 0
	for i, p := range loop {
		if p.X+p.Y < loop[first].X+loop[first].Y {
			first = i
		}
	}
	return append(append([]Point{}, loop[first:]...), loop[:first]...)
}

package place

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/testdata"
)

// Rows of testdata/reference/geometry.csv: polygon areas by d3-polygon, areas
// of unions, differences and intersections by three libraries that agree, the
// rest by hand; all named in the rows.
func TestReferenceGeometry(t *testing.T) {
	tried := map[string]int{}
	for _, row := range testdata.Reference(t, "geometry.csv") {
		in := row.Named()
		first, rest := in["first"], in["rest"]
		got := new(big.Rat)
		switch row.Quantity {
		case "area of a polygon":
			got.Abs(points(t, in["points"]).area())
		case "area of a union":
			got.SetInt64(rects(t, first).Union(rects(t, rest)).Area())
		case "area of a difference":
			got.SetInt64(rects(t, first).Minus(rects(t, rest)).Area())
		case "area of an intersection":
			got.SetInt64(rects(t, first).Intersect(rects(t, rest)).Area())
		case "area of a rectangle": // in m²
			got.SetFrac64(rects(t, in["rect"]).Area(), 1_000_000)
		case "area of a spot":
			radius, err := strconv.ParseInt(in["radius_mm"], 10, 64)
			require.NoError(t, err)
			got.SetInt64(work(t, Roof{}, Place{Shape: Spot, Aft: At(5000), Off: At(-300), Radius: radius}).Area())
		case "distance from a point to a rectangle":
			checkDistance(t, in["point"], in["rect"], row.Value, row.Tolerance)
			tried[row.Quantity]++
			continue
		default:
			t.Fatalf("%s: no test for %q", row.ID, row.Quantity)
		}
		exact, ok := new(big.Rat).SetString(row.Value)
		require.True(t, ok, row.ID)
		require.Equal(t, exact, got, row.ID)
		tried[row.Quantity]++
	}
	require.Len(t, tried, 7)
}

// checkDistance compares the exact distance with the published one, and the
// whole mm with that rounded up.
func checkDistance(t *testing.T, point, rect, want, tolerance string) {
	t.Helper()
	p := points(t, point)[0]
	at := Point{nearest(p.aft), nearest(p.off)}
	published, err := strconv.ParseFloat(want, 64)
	require.NoError(t, err)
	within, err := strconv.ParseFloat(tolerance, 64)
	require.NoError(t, err)
	square, _ := (polygon{p}).gap2(rects(t, rect).cells[0].polygon()).Float64()
	require.InDelta(t, published, math.Sqrt(square), within)
	mm, ok := rects(t, rect).DistanceTo(at)
	require.True(t, ok)
	require.Equal(t, int64(math.Ceil(published)), mm)
}

// points reads "0,0 4000,0 …".
func points(t *testing.T, text string) polygon {
	t.Helper()
	var p polygon
	for pair := range strings.FieldsSeq(text) {
		var aft, off int64
		_, err := fmt.Sscanf(pair, "%d,%d", &aft, &off)
		require.NoError(t, err)
		p = append(p, whole(aft, off))
	}
	return p
}

// rects reads "3700..7400x-1100..1100 …": aft x off.
func rects(t *testing.T, text string) Region {
	t.Helper()
	var all []Rect
	for part := range strings.FieldsSeq(text) {
		var r Rect
		_, err := fmt.Sscanf(strings.ReplaceAll(part, "..", " "), "%d %dx%d %d", &r.Front, &r.Rear, &r.Left, &r.Right)
		require.NoError(t, err)
		all = append(all, r)
	}
	return RegionOf(RoofPlane, all...)
}

func work(t *testing.T, roof Roof, p Place) Region {
	t.Helper()
	r, err := roof.Work(p)
	require.NoError(t, err)
	return r
}

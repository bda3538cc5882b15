package facts

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/place"
)

// On a tapering deck a strip along an edge is drawn in slices: they hold all of
// it and little more, where one rectangle round it would hold five times as
// much. 7400 mm long, the side runs in by 350 mm: a strip of 75 mm is drawn at
// most 350 × 100 / 7400 = 4.7 mm wider.
func TestTaperedStripsAreDrawnInSlices(t *testing.T) {
	roof := place.Roof{Deck: &place.Deck{Length: 7400, Front: 2200, Rear: 1500}}
	edge, err := roof.Work(place.Place{Shape: place.Part, Part: "left-edge"})
	require.NoError(t, err)
	rects := drawn(edge)
	require.Len(t, rects, 74)
	sum := int64(0)
	for _, r := range rects {
		sum += area(r)
		require.LessOrEqual(t, r.Right-r.Left, int64(75+6))
	}
	require.True(t, edge.Minus(place.RegionOf(place.RoofPlane, rects...)).Empty())
	require.InEpsilon(t, edge.Area(), sum, 0.08)
	straight := place.RegionOf(place.RoofPlane, place.Rect{Front: 3700, Rear: 7400, Left: -1100, Right: 1100})
	require.Equal(t, []place.Rect{{Front: 3700, Rear: 7400, Left: -1100, Right: 1100}}, drawn(straight))
}

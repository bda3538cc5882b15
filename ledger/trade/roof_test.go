package trade

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Worked by hand: legs and layers in µm, because 5/8 in is 15.875 mm.
func TestBite(t *testing.T) {
	for _, c := range []struct {
		leg    Micrometre
		passes []Micrometre
		want   Micrometre
	}{
		{16_000, []Micrometre{6_000}, 10_000},
		{15_875, []Micrometre{6_350}, 9_525},
		{15_875, []Micrometre{5_200}, 10_675},
		{25_400, []Micrometre{12_700}, 12_700},
		{25_400, []Micrometre{6_350, 6_350}, 12_700},
		{6_000, []Micrometre{6_350}, 0},
		{16_000, nil, 16_000},
	} {
		got, err := Bite(c.leg, c.passes...)
		require.NoError(t, err)
		require.Equal(t, c.want, got, "%v through %v", c.leg, c.passes)
	}
}

// Worked by hand.
func TestSpread(t *testing.T) {
	const lines SquareMillimetre = 13_420_000 // 8.14 + 5.28 m²
	for glue, want := range map[Gram]float64{3600: 268, 2600: 194, 2200: 164} {
		got, err := Spread(glue, lines)
		require.NoError(t, err)
		require.InDelta(t, want, float64(got), 0.5)
	}
}

// Worked by hand: 41 kg under the feet of a unit, water of a strip, a pond.
func TestLoadsAndWater(t *testing.T) {
	for area, want := range map[SquareMillimetre]float64{
		4 * 60 * 60: 27.9, 560*560 - 356*356: 2.2, 4 * 100 * 100: 10.1,
	} {
		got, err := Bearing(41_000, area)
		require.NoError(t, err)
		require.InDelta(t, want, float64(got)/1000, 0.06)
	}
	for area, want := range map[SquareMillimetre]float64{2_035_000: 6.9, 600_000: 2.0, 1_000_000: 3.4} {
		got, err := Spray(area)
		require.NoError(t, err)
		require.InDelta(t, want, float64(got), 0.05)
	}
	pond, err := Pond(630_000, 14)
	require.NoError(t, err)
	require.InDelta(t, 2.9, float64(pond), 0.05)
	for wet, want := range map[Milligram]float64{46_200: 120.0, 21_800: 3.8} {
		got, err := CoreSample(wet, 21_000)
		require.NoError(t, err)
		require.InDelta(t, want, float64(got), 0.05)
	}
}

func TestRoofRefuses(t *testing.T) {
	refuses := func(_ any, err error) {
		t.Helper()
		require.ErrorIs(t, err, ErrRange)
	}
	refuses(Bite(-1))
	refuses(Bite(1_000_001))
	refuses(Bite(10_000, -1))
	refuses(Bite(10_000, 5, 1_000_001))
	refuses(Spread(0, 1))
	refuses(Spread(1, 0))
	refuses(Spray(0))
	refuses(Bearing(-1, 1))
	refuses(Bearing(1, 0))
	refuses(Pond(0, 1))
	refuses(Pond(1, -1))
	refuses(CoreSample(1, 0))
	refuses(CoreSample(1, 2))
	refuses(Fall(0, 1))
	refuses(Fall(1, 0))
	refuses(Splice(0, 1))
	refuses(Splice(101, 1))
	refuses(Splice(8, 0))
	refuses(FreeMovement(-1, 1, 1))
	refuses(FreeMovement(301, 1, 1))
	refuses(FreeMovement(1, -1, 1))
	refuses(FreeMovement(1, 1, 201))
}

package trade

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The estimate of a roof at 55, 65 and 75 mph; at 65, 16 gauge staples 4 by 16
// in apart, 3/8 in into spruce. Worked by hand with the formulas of ASCE 7, EN
// 1991-1-4 and NDS-2018.
func TestUpliftOfARoof(t *testing.T) {
	for mph, want := range map[float64]float64{55: 370, 65: 517, 75: 689} {
		q, err := RoadPressure(MetrePerSecond(mph * 0.44704))
		require.NoError(t, err)
		require.InDelta(t, want, float64(q), 0.5)
	}
	q, err := RoadPressure(65 * 0.44704)
	require.NoError(t, err)
	pull, err := Uplift(q, Zones()[0].Suck1, 41_290) // 101.6 x 406.4 mm
	require.NoError(t, err)
	require.InDelta(t, 53, float64(pull), 0.5)
	wire, made := Wire(16)
	require.True(t, made)
	held, err := Hold(Held{Kind: "staple", Density: Woods()["spruce-pine-fir"], Shank: wire, Bite: Micrometre(9_525).Inches()})
	require.NoError(t, err)
	require.InDelta(t, 33, float64(held), 0.5)
	require.InDelta(t, 1.62, OverHold(pull, held), 0.005)
}

func TestUpliftRefuses(t *testing.T) {
	refuses := func(_ any, err error) {
		t.Helper()
		require.ErrorIs(t, err, ErrRange)
	}
	nan := math.NaN()
	good := Held{Kind: "nail", Density: 0.42, Shank: 0.131, Bite: 1}
	_, err := Hold(good)
	require.NoError(t, err)
	refuses(RoadPressure(-1))
	refuses(RoadPressure(61))
	refuses(RoadPressure(MetrePerSecond(nan)))
	refuses(Uplift(-1, 1, 1))
	refuses(Uplift(1, 6, 1))
	refuses(Uplift(1, 1, 0))
	for _, spoil := range []func(*Held){
		func(h *Held) { h.Kind = "hook" }, func(h *Held) { h.Density = 0.2 }, func(h *Held) { h.Density = nan },
		func(h *Held) { h.Shank = 0 }, func(h *Held) { h.Bite = -1 }, func(h *Held) { h.Bite = 11 },
	} {
		h := good
		spoil(&h)
		refuses(Hold(h))
	}
	refuses(Held{Kind: "lag", Density: 0.42, Shank: 0.5, Bite: 1}.hold(true)) // no ultimate value is known
	_, made := Wire(21)
	require.False(t, made)
	refuses(FromPolystyrene(Solubility{51, 0, 0}))
	refuses(FromPolystyrene(Solubility{0, nan, 0}))
	_, same := Convert(1, "mm", "g")
	require.False(t, same)
}

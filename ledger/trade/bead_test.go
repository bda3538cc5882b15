package trade

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Days by the square-root law and the doubling rule, worked by hand:
// (depth/k)² / 2^((T−23)/10), × 50/RH.
func TestDaysThrough(t *testing.T) {
	dry := DeciPercent(300)
	for _, c := range []struct {
		bead Micrometre
		temp DeciCelsius
		mean *DeciPercent
		days float64
	}{
		{6000, 230, nil, 4.00},
		{6000, 190, nil, 5.28},
		{6000, 175, nil, 5.86},
		{6000, 100, nil, 9.85},
		{9000, 175, nil, 13.18},
		{6000, 175, &dry, 9.76},
	} {
		need, err := BeadNeed(c.bead, UsualRootDay, c.mean)
		require.NoError(t, err)
		r, err := BeadDose([]Point{{Temp: c.temp}}, BeadSheet())
		require.NoError(t, err)
		at, ok := r.Forecast(need)
		require.True(t, ok)
		require.InDelta(t, c.days, float64(at)/(24*60), 0.005, "%v µm at %v", c.bead, c.temp)
	}
}

// Damp air is not credited.
func TestHumidityOnlyTakesAway(t *testing.T) {
	for mean, want := range map[DeciPercent]float64{1: 48_000, 250: 192, 499: 24 * 4 * 500 / 499.0, 500: 96, 501: 96, 1000: 96} {
		need, err := BeadNeed(6000, 3000, &mean)
		require.NoError(t, err)
		require.InDelta(t, want, need, 1e-9, "%d", mean)
	}
}

// The sealant of the rebuilt aft half: 17 April 11:00 at 17.5 °C; and the bead
// of the patch under claim: 8 June 15:00 at 19 °C. Both hold the lowest since
// the point before.
func TestBeadsOfTheCoach(t *testing.T) {
	need, err := BeadNeed(6000, 3000, nil)
	require.NoError(t, err)
	require.Equal(t, 96.0, need)
	for _, c := range []struct {
		temp              DeciCelsius
		start, end, first int64
		dose              int64
	}{
		{175, clock(17, 11, 0), clock(23, 9, 0), clock(23, 7, 34), 9699},
		{190, clock(8, 15, 0), clock(14, 9, 0), clock(13, 21, 41), 10458},
	} {
		r, err := BeadDose([]Point{{At: c.start, Temp: c.temp}, {At: c.end, Temp: c.temp, Lowest: &c.temp}}, BeadSheet())
		require.NoError(t, err)
		require.Equal(t, c.dose, r.Hundredths())
		at, ok := r.Reached(need)
		require.True(t, ok)
		require.Equal(t, c.first, at)
		require.Empty(t, r.Gaps)
	}
}

func TestBeadRefuses(t *testing.T) {
	zero, over := DeciPercent(0), DeciPercent(1001)
	for _, c := range []struct {
		bead Micrometre
		k    MicrometrePerRootDay
		mean *DeciPercent
	}{{1999, 3000, nil}, {10001, 3000, nil}, {6000, 0, nil}, {6000, -1, nil}, {6000, 3000, &zero}, {6000, 3000, &over}} {
		_, err := BeadNeed(c.bead, c.k, c.mean)
		require.ErrorIs(t, err, ErrRange, "%+v", c)
	}
	for _, bead := range []Micrometre{2000, 10000} {
		_, err := BeadNeed(bead, 3000, nil)
		require.NoError(t, err)
	}
	for log, want := range map[[2]int64]error{
		{50, 50}: nil, {50, 49}: ErrRange, {40, 60}: nil, {400, 400}: nil, {400, 401}: ErrRange,
	} {
		_, err := BeadDose(hall(0, log[0], 60, log[1]), BeadSheet())
		require.ErrorIs(t, err, want, "%v", log)
	}
	_, err := BeadDose(hall(0, 900), BeadSheet())
	require.ErrorIs(t, err, ErrRange)
	_, err = BeadDose(nil, BeadSheet())
	require.NoError(t, err)
	require.Equal(t, `logged temperature -40.1 °C: outside the range`, outside("logged temperature", DeciCelsius(-401)).Error())
}

package trade

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Days by the square-root law and the doubling rule, worked by hand:
// (depth/k)² / 2^((T−23)/10), × 50/RH.
func TestDaysThrough(t *testing.T) {
	for _, c := range []struct {
		bead Micrometre
		temp DeciCelsius
		air  []DeciPercent
		days float64
	}{
		{6000, 230, nil, 4.00},
		{6000, 190, nil, 5.28},
		{6000, 175, nil, 5.86},
		{6000, 100, nil, 9.85},
		{9000, 175, nil, 13.18},
		{6000, 175, []DeciPercent{300}, 9.76},
	} {
		need, err := BeadNeed(c.bead, UsualRootDay)
		require.NoError(t, err)
		need, err = InDryAir(need, c.air)
		require.NoError(t, err)
		r, err := BeadDose([]Point{{Temp: c.temp}}, BeadSheet())
		require.NoError(t, err)
		at, ok := r.Forecast(need)
		require.True(t, ok)
		require.InDelta(t, c.days, float64(at)/(24*60), 0.005, "%v µm at %v", c.bead, c.temp)
	}
}

// Damp air is not credited; under 50 % the mean of the log takes away.
func TestHumidityOnlyTakesAway(t *testing.T) {
	for _, c := range []struct {
		logged []DeciPercent
		want   float64
	}{
		{nil, 96},
		{[]DeciPercent{1}, 48_000},
		{[]DeciPercent{250}, 192},
		{[]DeciPercent{499}, 96 * 500 / 499.0},
		{[]DeciPercent{500}, 96},
		{[]DeciPercent{501}, 96},
		{[]DeciPercent{1000}, 96},
		{[]DeciPercent{200, 400}, 160},
		{[]DeciPercent{499, 500}, 96 * 1000 / 999.0},
		{[]DeciPercent{0, 500}, 192},
		{[]DeciPercent{300, 700}, 96},
	} {
		need, err := InDryAir(96, c.logged)
		require.NoError(t, err)
		require.InDelta(t, c.want, need, 1e-9, "%v", c.logged)
	}
}

// The sealant of the rebuilt aft half: 17 April 11:00 at 17.5 °C; and the bead
// of the patch under claim: 8 June 15:00 at 19 °C. Both hold the lowest since
// the point before.
func TestBeadsOfTheCoach(t *testing.T) {
	need, err := BeadNeed(6000, 3000)
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
	for _, c := range []struct {
		bead Micrometre
		k    MicrometrePerRootDay
	}{{1999, 3000}, {10001, 3000}, {6000, 0}, {6000, -1}} {
		_, err := BeadNeed(c.bead, c.k)
		require.ErrorIs(t, err, ErrRange, "%+v", c)
	}
	for _, logged := range [][]DeciPercent{{0}, {0, 0}, {500, -1}, {500, 1001}} {
		_, err := InDryAir(96, logged)
		require.ErrorIs(t, err, ErrRange, "%v", logged)
	}
	for _, bead := range []Micrometre{2000, 10000} {
		_, err := BeadNeed(bead, 3000)
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

package trade

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The air of the coaches of the shop; psychro.csv and emc.csv say the same with
// their sources.
func TestAirOfTheCoaches(t *testing.T) {
	for _, c := range []struct {
		air, humidity float64
		dew, wood     float64
	}{
		{air: 20, humidity: 50, dew: 9.3, wood: 9.3},
		{air: 17, humidity: 62, dew: 9.7, wood: 11.5},
		{air: 14, humidity: 88, dew: 12.0, wood: 19.7},
		{air: 16, humidity: 64, dew: 9.2, wood: 11.9},
		{air: 23, humidity: 50, dew: 12.0, wood: 9.2},
		{air: 21.1, humidity: 65, dew: 14.3, wood: 12.0},
		{air: 24, humidity: 38, dew: 8.8, wood: 7.3},
		{air: 20, humidity: 80, dew: 16.4, wood: 16.0},
	} {
		dew, err := DewPoint(Celsius(c.air), Percent(c.humidity))
		require.NoError(t, err)
		require.InDelta(t, c.dew, float64(dew), 0.051, "%v/%v", c.air, c.humidity)
		wood, err := WoodMoisture(Celsius(c.air), Percent(c.humidity))
		require.NoError(t, err)
		require.InDelta(t, c.wood, float64(wood), 0.051, "%v/%v", c.air, c.humidity)
	}
}

// Air that holds all it can has its dew point where it is, and the gap of a
// ground is nothing there.
func TestDewPointOfFullAir(t *testing.T) {
	for air := Celsius(-45); air <= 60; air++ {
		dew, err := DewPoint(air, 100)
		require.NoError(t, err)
		require.InDelta(t, float64(air), float64(dew), 1e-9)
		gap, err := AboveDewPoint(air, air, 100)
		require.NoError(t, err)
		require.InDelta(t, 0, float64(gap), 1e-9)
	}
}

// HallHumidity is WoodMoisture turned round, everywhere in its range.
func TestHallHumidityTurnsRound(t *testing.T) {
	for air := Celsius(0); air <= 54; air += 3 {
		for h := woodDry; h <= woodDamp; h += 5 {
			settles, err := WoodMoisture(air, h)
			require.NoError(t, err)
			back, err := HallHumidity(air, settles)
			require.NoError(t, err)
			require.InDelta(t, float64(h), float64(back), 1e-9)
		}
	}
}

func TestColdMeter(t *testing.T) {
	for wood, want := range map[Celsius]float64{20: 0, 10: 2, 5.5: 2.9, 30: 0, -10: 6} {
		low, err := ColdMeter(wood)
		require.NoError(t, err)
		require.InDelta(t, want, float64(low), 1e-9)
	}
}

// 31.0 to 21.5 % in 11 days in air that wood settles at 7.3 % in: worked by
// hand.
func TestDaysToLimit(t *testing.T) {
	days, ever, err := DaysToLimit(Drying{First: 31, Then: 21.5, Days: 11, Settles: 7.3, Limit: 15})
	require.NoError(t, err)
	require.True(t, ever)
	require.InDelta(t, 13.1, days, 0.05)
	require.InDelta(t, 21.5, 11/math.Log((31-7.3)/(21.5-7.3)), 0.05, "the days it takes to lose all but 1/e")

	for _, c := range []struct {
		d    Drying
		ever bool
	}{
		{Drying{31, 15, 11, 7.3, 15}, true},      // there already
		{Drying{31, 14, 11, 16, 15}, true},       // there already, in any air
		{Drying{21.5, 21.5, 11, 7.3, 15}, false}, // it did not dry
		{Drying{21, 22, 11, 7.3, 15}, false},     // it took water
		{Drying{31, 21.5, 11, 15, 15}, false},    // this air lets it no lower
		{Drying{31, 21.5, 11, 16, 15}, false},
	} {
		days, ever, err := DaysToLimit(c.d)
		require.NoError(t, err)
		require.Equal(t, c.ever, ever, "%+v", c.d)
		require.Zero(t, days)
	}
}

func TestAirRefuses(t *testing.T) {
	refuses := func(_ any, err error) {
		t.Helper()
		require.ErrorIs(t, err, ErrRange)
	}
	nan := math.NaN()
	for _, air := range []float64{-45.1, 60.1, nan} {
		refuses(DewPoint(Celsius(air), 50))
		refuses(AboveDewPoint(Celsius(air), 20, 50))
		refuses(AboveDewPoint(20, Celsius(air), 50))
	}
	for _, h := range []float64{0, -1, 100.1, nan} {
		refuses(DewPoint(20, Percent(h)))
	}
	for _, air := range []float64{-1.3, 54.6, nan} {
		refuses(WoodMoisture(Celsius(air), 50))
		refuses(HallHumidity(Celsius(air), 12))
	}
	for _, h := range []float64{4.9, 95.1, nan} {
		refuses(WoodMoisture(20, Percent(h)))
	}
	for _, m := range []float64{1.2, 24.4, nan} {
		refuses(HallHumidity(20, Percent(m)))
	}
	for _, wood := range []float64{-10.1, 40.1, nan} {
		refuses(ColdMeter(Celsius(wood)))
	}
	for _, d := range []Drying{
		{-1, 20, 1, 7, 15},
		{31, 201, 1, 7, 15},
		{31, 20, 0, 7, 15},
		{31, 20, -1, 7, 15},
		{31, 20, 1, Percent(nan), 15},
		{31, 20, 1, 7, -1},
		{31, 20, nan, 7, 15},
	} {
		_, _, err := DaysToLimit(d)
		require.ErrorIs(t, err, ErrRange, "%+v", d)
	}
}

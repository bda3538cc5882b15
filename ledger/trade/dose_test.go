package trade

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// glue is the invented sheet of a two-part laminating glue.
func glue() CureSheet {
	return CureSheet{Ref: 200, Least: 100, Cap: 300, Doubling: 100, Straight: StraightGap, Low: LowGap}
}

// hall makes a log of pairs: minutes, tenths of a degree.
func hall(pairs ...int64) []Point {
	var log []Point
	for i := 0; i < len(pairs); i += 2 {
		log = append(log, Point{At: pairs[i], Temp: DeciCelsius(pairs[i+1])})
	}
	return log
}

func clock(day, hour, minute int64) int64 { return day*24*60 + hour*60 + minute }

func lowest(t DeciCelsius) *DeciCelsius { return &t }

func dose(t *testing.T, log []Point, sheet CureSheet) Result {
	t.Helper()
	r, err := Dose(log, sheet)
	require.NoError(t, err)
	return r
}

// A night in the hall after laminating, day 9. Doses by the closed form, worked
// apart from this code and compared with a numeric integral.
func TestNightAfterLaminating(t *testing.T) {
	night := hall(
		clock(9, 16, 30), 190, clock(9, 20, 30), 170, clock(10, 0, 30), 140,
		clock(10, 4, 30), 120, clock(10, 8, 30), 150)
	for i, want := range []int64{0, 348, 642, 888, 1144} {
		require.Equal(t, want, dose(t, night[:i+1], glue()).Hundredths(), "after point %d", i)
	}

	early := dose(t, night, glue())
	_, ok := early.Reached(12)
	require.False(t, ok, "11.44 of 12 h")
	at, ok := early.Forecast(12)
	require.True(t, ok)
	require.Equal(t, clock(10, 9, 18), at, "if it stays at 15 °C")

	later := dose(t, append(night, hall(clock(10, 9, 30), 160)...), glue())
	require.Equal(t, int64(1217), later.Hundredths())
	at, ok = later.Reached(12)
	require.True(t, ok)
	require.Equal(t, clock(10, 9, 17), at)
	forecast, ok := later.Forecast(12)
	require.True(t, ok)
	require.Equal(t, at, forecast, "what is reached needs no forecast")

	at, ok = dose(t, append(night, hall(clock(10, 12, 30), 190)...), glue()).Reached(12)
	require.True(t, ok)
	require.Equal(t, clock(10, 9, 17), at, "the same line through 16 °C at 09:30")
}

func TestGapsCountLow(t *testing.T) {
	log := hall(
		clock(9, 16, 30), 190, clock(9, 20, 30), 170, clock(10, 0, 30), 140,
		clock(10, 4, 30), 120, clock(10, 8, 30), 150, clock(10, 12, 30), 190,
		clock(10, 18, 30), 200, clock(11, 8, 30), 160, clock(12, 8, 30), 170,
		clock(13, 8, 30), 170, clock(13, 14, 0), 170)
	for i, want := range map[int]int64{5: 1470, 6: 2049, 7: 3110, 8: 4929, 9: 6879, 10: 7325} {
		require.Equal(t, want, dose(t, log[:i+1], glue()).Hundredths(), "after point %d", i)
	}
	r := dose(t, log, glue())
	at, ok := r.Reached(72)
	require.True(t, ok)
	require.Equal(t, clock(13, 12, 28), at)
	require.Equal(t, []Gap{
		{From: clock(10, 18, 30), To: clock(11, 8, 30), Counted: true, Temp: 160},
		{From: clock(11, 8, 30), To: clock(12, 8, 30), Counted: true, Temp: 160},
		{From: clock(12, 8, 30), To: clock(13, 8, 30), Counted: true, Temp: 170},
	}, r.Gaps)
}

func TestGapLimits(t *testing.T) {
	for _, c := range []struct {
		minutes int64
		hours   float64
		gaps    []Gap
	}{
		{12 * 60, 12 * (math.Exp2(0.6) - 1) / (math.Ln2 * 0.6), nil}, // h·(g₂−g₁)/((ln 2/s)(T₂−T₁))
		{12*60 + 1, (12*60 + 1) / 60.0, []Gap{{To: 12*60 + 1, Counted: true, Temp: 200}}},
		{24 * 60, 24, []Gap{{To: 24 * 60, Counted: true, Temp: 200}}},
		{24*60 + 1, 0, []Gap{{To: 24*60 + 1, Temp: 200}}},
	} {
		r := dose(t, hall(0, 200, c.minutes, 260), glue())
		require.InDelta(t, c.hours, r.Hours(), 1e-9, "%d min", c.minutes)
		require.Equal(t, c.gaps, r.Gaps)
	}

	strict := glue()
	strict.Straight, strict.Low = 60, 120 // a shop's own terms
	require.Zero(t, dose(t, hall(0, 200, 121, 200), strict).Hours())
	require.Equal(t, 2.0, dose(t, hall(0, 300, 60, 300), strict).Hours())
}

// The lowest since the point before counts for the whole gap, however long,
// and however warm it is by then.
func TestLowestSinceTheLast(t *testing.T) {
	log := hall(0, 200, clock(4, 0, 0), 250)
	log[1].Lowest = lowest(100)
	r := dose(t, log, glue())
	require.Equal(t, 48.0, r.Hours())
	require.Empty(t, r.Gaps)
	log[1].Lowest = lowest(99)
	require.Zero(t, dose(t, log, glue()).Hours())
}

func TestColdNight(t *testing.T) {
	log := hall(
		clock(1, 15, 0), 140, clock(1, 19, 0), 110, clock(1, 22, 0), 90,
		clock(2, 6, 0), 70, clock(2, 10, 0), 120, clock(2, 16, 0), 160)
	by22 := dose(t, log[:3], glue())
	require.Equal(t, int64(316), by22.Hundredths())
	_, ok := by22.Forecast(4)
	require.False(t, ok, "at 9 °C it never cures")

	whole := dose(t, log, glue())
	require.Equal(t, int64(799), whole.Hundredths())
	at, ok := whole.Reached(math.Nextafter(by22.Hours(), 100))
	require.True(t, ok)
	require.InDelta(t, clock(2, 8, 24), at, 1, "the first minute that counts again")
}

func TestReachedIsDecidedUnrounded(t *testing.T) {
	r := dose(t, hall(0, 200, 719, 200), glue()) // 11.98 h and a bit
	require.Equal(t, int64(1198), r.Hundredths())
	_, ok := r.Reached(11.99)
	require.False(t, ok)
	r = dose(t, hall(0, 200, 720, 200), glue())
	at, ok := r.Reached(12)
	require.True(t, ok)
	require.Equal(t, int64(720), at)

	var log []Point // 720 single minutes are 12 hours exactly
	for m := int64(0); m <= 720; m++ {
		log = append(log, Point{At: m, Temp: 200})
	}
	at, ok = dose(t, log, glue()).Reached(12)
	require.True(t, ok)
	require.Equal(t, int64(720), at)
}

func TestNoLogNoDose(t *testing.T) {
	r := dose(t, nil, glue())
	require.Zero(t, r.Hours())
	_, ok := r.Reached(0)
	require.False(t, ok)
	_, ok = r.Forecast(1)
	require.False(t, ok)

	r = dose(t, hall(7, 150), glue())
	at, ok := r.Reached(0)
	require.True(t, ok)
	require.Equal(t, int64(7), at)
	at, ok = r.Forecast(1)
	require.True(t, ok)
	require.Equal(t, int64(7+85), at) // 60/0.7071 = 84.85 min
	for _, need := range []float64{math.NaN(), math.Inf(1), 1e12} {
		_, ok = r.Forecast(need)
		require.False(t, ok)
	}
}

func TestDoseRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		log   []Point
		sheet CureSheet
		want  error
	}{
		"too cold":         {hall(0, -401), glue(), ErrRange},
		"too hot":          {hall(0, 801), glue(), ErrRange},
		"lowest too cold":  {[]Point{{Temp: 200, Lowest: lowest(-401)}}, glue(), ErrRange},
		"lowest too hot":   {[]Point{{Temp: 200, Lowest: lowest(801)}}, glue(), ErrRange},
		"far away":         {hall(math.MinInt64, 200, math.MaxInt64, 200), glue(), ErrRange},
		"same minute":      {hall(5, 200, 5, 210), glue(), ErrOrder},
		"back in time":     {hall(5, 200, 4, 200), glue(), ErrOrder},
		"no sheet":         {hall(0, 200), CureSheet{}, ErrRange},
		"no doubling":      {nil, CureSheet{Ref: 200, Cap: 300}, ErrRange},
		"limits crossed":   {nil, CureSheet{Doubling: 100, Straight: 2, Low: 1}, ErrRange},
		"sheet beyond all": {nil, CureSheet{Ref: 801, Doubling: 100}, ErrRange},
	} {
		_, err := Dose(c.log, c.sheet)
		require.ErrorIs(t, err, c.want, name)
	}
	_, err := Dose(hall(0, -400, 60, 800), glue())
	require.NoError(t, err)
}

// The closed form against a sum of 20,000 thin slices of the rate itself.
func TestRampAgainstSlices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temp := rapid.Int64Range(-400, 800)
		s := glue()
		s.Least, s.Cap = DeciCelsius(temp.Draw(t, "least")), DeciCelsius(temp.Draw(t, "cap"))
		s.Doubling = DeciKelvin(rapid.Int64Range(50, 200).Draw(t, "doubling"))
		from, to := float64(temp.Draw(t, "from")), float64(temp.Draw(t, "to"))
		const slices, minutes = 20_000, 600.0
		sum, most := 0.0, 0.0
		for i := range slices {
			g := s.rate(from + (to-from)*(float64(i)+0.5)/slices)
			sum += g * minutes / slices
			most = math.Max(most, g)
		}
		// a slice that Least or Cap cuts is wrong by one slice at the most
		require.InDelta(t, sum, s.ramp(from, to, minutes), most*minutes/slices+1e-5*sum)
	})
}

// A warmer log never has less dose, a later point never takes any away, and
// the minute reached is the first one.
func TestDoseOnlyGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var log, warmer []Point
		at := int64(0)
		for range rapid.IntRange(1, 8).Draw(t, "points") {
			at += rapid.Int64Range(1, 30*60).Draw(t, "gap")
			temp := rapid.Int64Range(-50, 400).Draw(t, "temp")
			log = append(log, Point{At: at, Temp: DeciCelsius(temp)})
			warmer = append(warmer, Point{At: at, Temp: DeciCelsius(temp + rapid.Int64Range(0, 50).Draw(t, "more"))})
		}
		r, err := Dose(log, glue())
		require.NoError(t, err)
		w, err := Dose(warmer, glue())
		require.NoError(t, err)
		require.GreaterOrEqual(t, w.Hours()+1e-9, r.Hours())
		shorter, err := Dose(log[:len(log)-1], glue())
		require.NoError(t, err)
		require.GreaterOrEqual(t, r.Hours(), shorter.Hours())

		need := rapid.Float64Range(0.1, 40).Draw(t, "need")
		reached, ok := r.Reached(need)
		require.Equal(t, r.Hours() >= need, ok)
		if ok {
			require.LessOrEqual(t, reached, at)
			require.Greater(t, reached, log[0].At)
		} else if f, ok := r.Forecast(need); ok {
			require.Greater(t, f, at)
			held, err := Dose(append(log, Point{At: f, Temp: log[len(log)-1].Temp, Lowest: &log[len(log)-1].Temp}), glue())
			require.NoError(t, err)
			require.GreaterOrEqual(t, held.Hours()+1e-9, need)
		}
	})
}

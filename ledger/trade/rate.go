package trade

import "math"

// The range of a logged temperature and of the temperatures of a sheet
// (common practice, no source).
const (
	coldest DeciCelsius = -400
	hottest DeciCelsius = 800
)

// How long a gap between two log points may be: up to straight the temperature
// runs in a straight line, up to low the gap counts at its lower end, beyond
// it counts nothing. Defaults of the shop term log-gap, minutes (common
// practice, no source).
const (
	StraightGap int64 = 12 * 60
	LowGap      int64 = 24 * 60
)

// CureSheet is what a maker's sheet says about a cure, and how far the shop
// trusts a log with gaps.
type CureSheet struct {
	Ref      DeciCelsius // the temperature the hours of the sheet are given at
	Least    DeciCelsius // below it nothing cures; exactly at it, it does
	Cap      DeciCelsius // above it nothing is gained
	Doubling DeciKelvin  // the step that doubles the speed
	Table    CureTable   // the maker's own hours; goes before Least, Cap and Doubling
	Straight int64       // minutes: StraightGap by default
	Low      int64       // minutes: LowGap by default
}

// BeadSheet returns the sheet of a bead of sealant when its lot says nothing
// else: hours at 23 °C, least 5, cap 30, doubling per 10 K (common practice,
// no source).
func BeadSheet() CureSheet {
	return CureSheet{Ref: 230, Least: 50, Cap: 300, Doubling: 100, Straight: StraightGap, Low: LowGap}
}

// leastDoubling is 1 K: under it a rate would run out of the numbers.
const leastDoubling DeciKelvin = 10

// check answers ErrRange for a sheet that no figure can be worked out with.
func (s CureSheet) check() error {
	if s.Table != nil {
		if err := s.Table.check(s.Ref); err != nil {
			return err
		}
		s.Doubling = leastDoubling // not asked
	}
	for _, t := range []DeciCelsius{s.Ref, s.Least, s.Cap} {
		if t < coldest || t > hottest {
			return outside("sheet temperature", t)
		}
	}
	switch {
	case s.Doubling < leastDoubling:
		return outside("doubling step", tenth(int64(s.Doubling))+" K")
	case s.Straight < 0 || s.Low < s.Straight:
		return outside("gap limits", [2]int64{s.Straight, s.Low})
	}
	return nil
}

// Rate is rate for a temperature in its range.
func (s CureSheet) Rate(temp DeciCelsius) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if temp < coldest || temp > hottest {
		return 0, outside("temperature", temp)
	}
	return s.rate(float64(temp)), nil
}

// rate returns how fast the cure runs at a temperature, in tenths of a degree:
// hours at Ref per hour. It doubles with every Doubling (rule of thumb of the
// trade, real glues 1.5 to 2.5 per 10 K: adhesive process article; the maker's
// table goes first).
func (s CureSheet) rate(temp float64) float64 {
	if s.Table != nil {
		return s.Table.rate(float64(s.Ref), temp)
	}
	if temp < float64(s.Least) {
		return 0
	}
	return math.Exp2((math.Min(temp, float64(s.Cap)) - float64(s.Ref)) / float64(s.Doubling))
}

// ramp returns the minutes at Ref that so many minutes are worth while the
// temperature runs straight from one value to the other, in tenths of a
// degree: the integral of rate in closed form, split where the line crosses
// Least or Cap.
func (s CureSheet) ramp(from, to, minutes float64) float64 {
	if from == to {
		return minutes * s.rate(from)
	}
	if s.Table != nil {
		return s.Table.ramp(float64(s.Ref), from, to, minutes)
	}
	least, most := float64(s.Least), float64(s.Cap)
	low, high := math.Min(from, to), math.Max(from, to)
	perStep := minutes / (high - low)
	dose := 0.0
	if a, b := math.Max(low, least), math.Min(high, most); a < b {
		fold := math.Ln2 / float64(s.Doubling)
		dose += perStep * s.rate(a) * math.Expm1(fold*(b-a)) / fold
	}
	if a := math.Max(low, math.Max(least, most)); a < high {
		dose += perStep * (high - a) * s.rate(a)
	}
	return dose
}

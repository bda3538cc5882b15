package trade

import "math"

// CureTable is what a maker says a stage needs, the coldest row first: hours at
// a temperature held. Between two rows the need changes by the same share with
// each degree; below the first nothing cures, above the last nothing is gained.
type CureTable []TableRow

// TableRow is one row of a maker's table.
type TableRow struct {
	Temp  DeciCelsius
	Hours float64
}

// check answers ErrRange unless the rows rise, need no more the warmer it is,
// and hold the temperature that the need is given at.
func (t CureTable) check(ref DeciCelsius) error {
	for i, row := range t {
		switch {
		case row.Temp < coldest || row.Temp > hottest:
			return outside("row of the table", row.Temp)
		case !(row.Hours > 0 && row.Hours <= mostMinutes/60):
			return outside("hours of the table", row.Hours)
		case i > 0 && (row.Temp <= t[i-1].Temp || row.Hours > t[i-1].Hours):
			return outside("order of the table at", row.Temp)
		}
	}
	if len(t) == 0 || ref < t[0].Temp || ref > t[len(t)-1].Temp {
		return outside("reference temperature", ref)
	}
	return nil
}

// hours are needed at a temperature, in tenths of a degree, that is not below
// the first row.
func (t CureTable) hours(temp float64) float64 {
	last := t[0]
	for _, row := range t[1:] {
		if at := float64(row.Temp); temp < at {
			share := (temp - float64(last.Temp)) / (at - float64(last.Temp))
			return last.Hours * math.Pow(row.Hours/last.Hours, share)
		}
		last = row
	}
	return last.Hours
}

// rate is that of CureSheet.rate.
func (t CureTable) rate(ref, temp float64) float64 {
	if temp < float64(t[0].Temp) {
		return 0
	}
	return t.hours(ref) / t.hours(temp)
}

// ramp is that of CureSheet.ramp, in closed form from row to row.
func (t CureTable) ramp(ref, from, to, minutes float64) float64 {
	low, high := math.Min(from, to), math.Max(from, to)
	perStep := minutes / (high - low)
	dose := 0.0
	for i, row := range t {
		end := high
		if i+1 < len(t) {
			end = math.Min(high, float64(t[i+1].Temp))
		}
		if start := math.Max(low, float64(row.Temp)); start < end {
			dose += perStep * (end - start) * middle(t.rate(ref, start), t.rate(ref, end))
		}
	}
	return dose
}

// middle is the mean of a rate that grows by the same share with each degree.
func middle(a, b float64) float64 {
	if math.Abs(b-a) < 1e-9*a {
		return (a + b) / 2
	}
	return (b - a) / math.Log(b/a)
}

package trade

import "math"

// The constants of Magnus over water, stated for -45 to 60 °C (WMO-No. 8,
// Guide to Instruments and Methods of Observation, annex 4.B). Below 0 °C the
// dew point is the one over water too, never over ice.
const (
	magnusSlope = 17.62
	magnusShift = 243.12 // °C
)

// magnus is the logarithm of the pressure of damp air that holds all it can,
// against that at 0 °C.
func magnus(air Celsius) float64 { return magnusSlope * float64(air) / (magnusShift + float64(air)) }

// DewPoint returns the temperature at which air of that humidity begins to
// leave water on what it touches. Range: -45 to 60 °C, over 0 to 100 %.
func DewPoint(air Celsius, humidity Percent) (Celsius, error) {
	switch {
	case !(air >= -45 && air <= 60):
		return 0, outside("air", air)
	case !(humidity > 0 && humidity <= 100):
		return 0, outside("humidity", humidity)
	}
	x := math.Log(float64(humidity)/100) + magnus(air)
	return Celsius(magnusShift * x / (magnusSlope - x)), nil
}

// AboveDewPoint returns how far a ground is warmer than the dew point of the
// air over it; under 0 it is wet. Range: that of DewPoint, for the ground too.
func AboveDewPoint(ground, air Celsius, humidity Percent) (Kelvin, error) {
	if !(ground >= -45 && ground <= 60) {
		return 0, outside("ground", ground)
	}
	dew, err := DewPoint(air, humidity)
	return Kelvin(ground - dew), err
}

// The range of the moisture that wood settles at: 30 to 130 °F, 5 to 95 %, the
// table of the Wood Handbook.
const (
	woodCold, woodHot Celsius = -1.2, 54.5
	woodDry, woodDamp Percent = 5, 95
)

// WoodMoisture returns the moisture that wood settles at in such air, in
// percent of its dry mass (Wood Handbook FPL-GTR-190, equation 4-5; Simpson
// 1998, FPL-RN-0268).
func WoodMoisture(air Celsius, humidity Percent) (Percent, error) {
	switch {
	case !(air >= woodCold && air <= woodHot):
		return 0, outside("air", air)
	case !(humidity >= woodDry && humidity <= woodDamp):
		return 0, outside("humidity", humidity)
	}
	t, h := float64(air), float64(humidity)/100
	k := woodK.at(t)
	kh := k * h
	k1kh, k1k2 := woodK1.at(t)*kh, woodK1.at(t)*woodK2.at(t)*kh*kh
	return Percent(1800 / woodW.at(t) * (kh/(1-kh) + (k1kh+2*k1k2)/(1+k1kh+k1k2))), nil
}

// quadratic is a coefficient of equation 4-5 over the temperature in °C.
type quadratic [3]float64

func (q quadratic) at(t float64) float64 { return q[0] + q[1]*t + q[2]*t*t }

var (
	woodW  = quadratic{349, 1.29, 0.0135}
	woodK  = quadratic{0.805, 0.000736, -0.00000273}
	woodK1 = quadratic{6.27, -0.00938, -0.000303}
	woodK2 = quadratic{1.91, 0.0407, -0.000293}
)

// HallHumidity returns the humidity of the air in which wood settles at a
// moisture: in damper air it never gets so dry, however long one waits. It
// answers ErrRange where that is no humidity of 5 to 95 %.
func HallHumidity(air Celsius, moisture Percent) (Percent, error) {
	low, high := woodDry, woodDamp
	driest, err := WoodMoisture(air, low)
	if err != nil {
		return 0, err
	}
	dampest, _ := WoodMoisture(air, high)
	if !(moisture >= driest && moisture <= dampest) {
		return 0, outside("moisture", moisture)
	}
	for range 60 { // halving: the moisture only grows with the humidity
		middle := (low + high) / 2
		if settles, _ := WoodMoisture(air, middle); settles < moisture {
			low = middle
		} else {
			high = middle
		}
	}
	return high, nil
}

// ColdMeter returns by how much a pin meter that does not correct for it reads
// low in wood of that temperature: about 0.2 % for each degree below 20 °C, at
// 15 % (user guide of a pin meter: 2 % at 10 °C). Warm wood gets nothing; a
// reading is never changed by it. Range: -10 to 40 °C (common practice, no
// source).
func ColdMeter(wood Celsius) (Percent, error) {
	if !(wood >= -10 && wood <= 40) {
		return 0, outside("wood", wood)
	}
	return Percent(0.2 * math.Max(0, 20-float64(wood))), nil
}

// Drying is two readings of one place in the same air.
type Drying struct {
	First, Then Percent // the readings
	Days        float64 // between them
	Settles     Percent // what the wood settles at in this air: WoodMoisture
	Limit       Percent // what is waited for
}

// DaysToLimit returns how many days after the second reading the place reads
// the limit, if it goes on drying as it did: what is over the settling point
// shrinks by the same share each day (first-order drying, an aid). ever is
// false where it will not: it did not dry, or the air does not let it.
//
// It answers ErrRange for a moisture outside 0 to 200 % and for no days.
func DaysToLimit(d Drying) (days float64, ever bool, err error) {
	for _, m := range []Percent{d.First, d.Then, d.Settles, d.Limit} {
		if !(m >= 0 && m <= 200) {
			return 0, false, outside("moisture", m)
		}
	}
	if !(d.Days > 0 && d.Days <= 10_000) {
		return 0, false, outside("days", d.Days)
	}
	if d.Then <= d.Limit {
		return 0, true, nil
	}
	if d.Then >= d.First || d.Settles >= d.Limit {
		return 0, false, nil
	}
	over := func(m Percent) float64 { return float64(m - d.Settles) }
	scale := d.Days / math.Log(over(d.First)/over(d.Then))
	return scale * math.Log(over(d.Then)/over(d.Limit)), true, nil
}

package trade

import "math"

// gravity is the standard acceleration of free fall, m/s² (NIST SP 811,
// appendix B: 1 kgf = 9.80665 N).
const gravity = 9.80665

// Bite returns what is left of a leg behind the layers that it only passes
// through, not less than nothing. Whole micrometres, because 5/8 in through
// 1/4 in leaves 9.525 mm. A length under 0 or over 1 m is outside the range.
func Bite(leg Micrometre, passes ...Micrometre) (Micrometre, error) {
	left := leg
	for _, l := range append([]Micrometre{leg}, passes...) {
		if l < 0 || l > 1_000_000 {
			return 0, outside("length", l)
		}
	}
	for _, l := range passes {
		left -= l
	}
	return max(0, left), nil
}

// Spread returns how much glue came on the area of all glue lines. Both are
// above 0.
func Spread(glue Gram, lines SquareMillimetre) (GramPerSquareMetre, error) {
	switch {
	case glue <= 0:
		return 0, outside("glue", glue)
	case lines <= 0:
		return 0, outside("glue lines", lines)
	}
	return GramPerSquareMetre(float64(glue) / lines.squareMetres()), nil
}

// SprayRate is the water of a hose test: 5 US gallons an hour on each square
// foot (ASTM E1105, the rate from memory).
const SprayRate LitrePerMinute = 5 * usGallon / (squareFoot * 60) // on each m²

// Conversions, exact by definition (NIST SP 811, appendix B).
const (
	usGallon   = 3.785411784 // L
	squareFoot = 0.09290304  // m²
)

// Spray returns the water that a strip of a hose test needs.
func Spray(strip SquareMillimetre) (LitrePerMinute, error) {
	if strip <= 0 {
		return 0, outside("strip", strip)
	}
	return SprayRate * LitrePerMinute(strip.squareMetres()), nil
}

// Bearing returns how hard a mass presses on what it stands on.
func Bearing(mass Gram, on SquareMillimetre) (Pascal, error) {
	switch {
	case mass < 0:
		return 0, outside("mass", mass)
	case on <= 0:
		return 0, outside("area", on)
	}
	return Pascal(float64(mass) / 1000 * gravity / on.squareMetres()), nil
}

// Pond estimates the water that stands on an area: a third of area times depth,
// as in a cone (common practice, no source).
func Pond(area SquareMillimetre, depth Millimetre) (Litre, error) {
	switch {
	case area <= 0:
		return 0, outside("area", area)
	case depth < 0:
		return 0, outside("depth", depth)
	}
	return Litre(area.squareMetres() * float64(depth) / 3), nil
}

// CoreSample returns the water in a core sample, in percent of its dry mass
// (oven-dry basis, as in the Wood Handbook).
func CoreSample(wet, dry Milligram) (Percent, error) {
	switch {
	case dry <= 0:
		return 0, outside("dry mass", dry)
	case wet < dry:
		return 0, outside("wet mass", wet)
	}
	return Percent(100 * float64(wet-dry) / float64(dry)), nil
}

// Fall returns the slope of a roof as the n of 1:n. There is none on the level.
func Fall(rise, run Millimetre) (n float64, err error) {
	switch {
	case rise <= 0:
		return 0, outside("rise", rise)
	case run <= 0:
		return 0, outside("run", run)
	}
	return float64(run) / float64(rise), nil
}

// Splice returns how long a scarf of 1:n is in a member.
func Splice(n int64, thick Micrometre) (Micrometre, error) {
	switch {
	case n < 1 || n > 100:
		return 0, outside("scarf", n)
	case thick <= 0 || thick > 1_000_000:
		return 0, outside("thickness", thick)
	}
	return Micrometre(n) * thick, nil
}

// FreeMovement returns how much a part that nothing holds grows or shrinks.
// expands is in millionths a kelvin, 0 to 300.
func FreeMovement(expands float64, length Millimetre, change Kelvin) (Micrometre, error) {
	switch {
	case !(expands >= 0 && expands <= 300):
		return 0, outside("expansion", expands)
	case length < 0 || length > 100_000:
		return 0, outside("length", length)
	case !(math.Abs(float64(change)) <= 200):
		return 0, outside("change", change)
	}
	return Micrometre(math.Round(expands * 1e-6 * float64(length) * 1000 * math.Abs(float64(change)))), nil
}

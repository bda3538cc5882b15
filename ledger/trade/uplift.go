package trade

import "math"

// airDensity is that of the standard atmosphere at 15 °C, kg/m³ (ISO 2533).
const airDensity = 1.225

// RoadPressure returns the pressure of the air at road speed, half its density
// times the square of the speed (ASCE 7, SI form: 0.613 v²). Range: 0 to 60
// m/s.
func RoadPressure(speed MetrePerSecond) (Pascal, error) {
	if !(speed >= 0 && speed <= 60) {
		return 0, outside("speed", speed)
	}
	return Pascal(airDensity / 2 * float64(speed) * float64(speed)), nil
}

// Zone is a part of a flat roof with sharp eaves, by how hard the air sucks at
// it (EN 1991-1-4:2005, table 7.2, a building standard that stands in for the
// body of a coach).
type Zone struct {
	Name   string
	Suck1  float64 // coefficient on 1 m² and less
	Suck10 float64 // on 10 m² and more
}

// Zones returns the zones, the hardest first.
func Zones() []Zone {
	return []Zone{
		{"corner", 2.5, 1.8},
		{"leading-edge", 2.0, 1.2},
		{"field", 1.2, 0.7},
		{"rear-field", 0.2, 0.2},
	}
}

// Uplift estimates the pull on one fastener: pressure times coefficient times
// the area it holds. Suction alone, no gust and no pressure from inside; an
// estimate, never a limit.
func Uplift(pressure Pascal, coefficient float64, holds SquareMillimetre) (Newton, error) {
	switch {
	case !(pressure >= 0):
		return 0, outside("pressure", pressure)
	case !(coefficient >= 0 && coefficient <= 5):
		return 0, outside("coefficient", coefficient)
	case holds <= 0 || holds > 10_000_000:
		return 0, outside("area of one fastener", holds)
	}
	return Newton(coefficient * float64(pressure) * holds.squareMetres()), nil
}

// The design constants of withdrawal, in lbf and inches: a nail or a leg of a
// staple 1380·G^2.5·D, a wood screw 2850·G²·D, a lag screw 1800·G^1.5·D^0.75,
// each times the bite (NDS-2018, 12.2). The ultimate load of a nail is 7850 in
// place of 1380, of a screw 15700 in place of 2850 (Wood Handbook
// FPL-GTR-190, chapter 8).
var withdrawals = map[string]struct{ design, ultimate, density, shank float64 }{
	"nail":  {1380, 7850, 2.5, 1},
	"screw": {2850, 15700, 2, 1},
	"lag":   {1800, 0, 1.5, 0.75},
}

// poundForce is in N (NIST SP 811, appendix B).
const poundForce = 4.4482216152605

// Held is a fastener in solid wood.
type Held struct {
	Kind    string  // nail, staple, screw or lag
	Density float64 // G, dry mass against water: spruce 0.42 (NDS-2018, table 12.3.3A)
	Shank   Inch    // across; of a staple, its wire
	Bite    Inch
}

// Hold estimates what a fastener holds against being drawn, by the design value
// of its kind. A staple is two legs by the nail form: stretched, not proven by
// test (Wood Handbook, page 8-8).
func Hold(f Held) (Newton, error) { return f.hold(false) }

func (f Held) hold(ultimate bool) (Newton, error) {
	kind, legs := f.Kind, 1.0
	if kind == "staple" {
		kind, legs = "nail", 2
	}
	w, known := withdrawals[kind]
	constant := w.design
	if ultimate {
		constant = w.ultimate
	}
	switch {
	case !known || constant == 0:
		return 0, outside("fastener", f.Kind)
	case !(f.Density >= 0.3 && f.Density <= 0.8):
		return 0, outside("density", f.Density)
	case !(f.Shank >= 0.02 && f.Shank <= 1):
		return 0, outside("shank", f.Shank)
	case !(f.Bite >= 0 && f.Bite <= 10):
		return 0, outside("bite", f.Bite)
	}
	perInch := constant * math.Pow(f.Density, w.density) * math.Pow(float64(f.Shank), w.shank)
	return Newton(legs * perInch * float64(f.Bite) * poundForce), nil
}

// OverHold returns how often a pull is what a fastener holds; over 1 it does not
// hold by the design value.
func OverHold(pull, held Newton) float64 { return float64(pull / held) }

// LeastBite is the least bite of a nail or wood screw under load from the side,
// in times its shank (NDS-2018, 12.1.5.6 and 12.1.6.4).
const LeastBite = 6

// Wire returns the thickness of the wire of a staple by its gauge (US steel
// gauge; the imperial one differs); ok is false for one that is not made.
func Wire(gauge int64) (thick Inch, ok bool) {
	thick, ok = map[int64]Inch{
		14: 0.0800, 15: 0.0720, 16: 0.0625, 17: 0.0540, 18: 0.0475, 19: 0.0410, 20: 0.0348, 22: 0.0286, 23: 0.0258,
	}[gauge]
	return thick, ok
}

// Woods returns the density of woods, dry mass against water (NDS-2018, table
// 12.3.3A).
func Woods() map[string]float64 {
	return map[string]float64{
		"spruce-pine-fir": 0.42, "spruce-pine-fir-south": 0.36, "hem-fir": 0.43, "douglas-fir-larch": 0.50,
		"southern-pine": 0.55, "eastern-white-pine": 0.36, "aspen": 0.39, "western-cedars": 0.36,
		"yellow-poplar": 0.43, "ponderosa-pine": 0.43, "sitka-spruce": 0.43,
	}
}

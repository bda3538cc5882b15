package trade

import "math"

// Dimension is what a unit measures.
type Dimension string

// The dimensions of the trade.
const (
	Length      Dimension = "length"
	Area        Dimension = "area"
	Volume      Dimension = "volume"
	Temperature Dimension = "temperature"
	Step        Dimension = "step of temperature" // a gap has no 32 in it
	Mass        Dimension = "mass"
	Force       Dimension = "force"
	Peel        Dimension = "peel"
	Pressure    Dimension = "pressure"
	Speed       Dimension = "speed"
	Flow        Dimension = "flow"
	Rain        Dimension = "water on an area"
	SpreadOn    Dimension = "mass on an area"
	Coat        Dimension = "area of a volume"
	Density     Dimension = "density"
	Time        Dimension = "time"
	Share       Dimension = "share"
	RootDay     Dimension = "depth in the root of a day"
	Millionths  Dimension = "millionths a kelvin"
	Number      Dimension = "number"
)

// Measure is a unit: its word, what it measures and how much of the first unit
// of its dimension it is. Zero is where its scale begins, in that unit.
type Measure struct {
	Word   string
	Of     Dimension
	Factor float64
	Zero   float64
}

// Measures returns all units; the first of a dimension is the one the others
// are said in. Sources: NIST SP 811, appendix B; GNU units.
func Measures() []Measure {
	const (
		foot  = 304.8     // mm
		pound = 453.59237 // g
		fahr  = 5.0 / 9   // K
	)
	return []Measure{
		{"mm", Length, 1, 0},
		{"um", Length, 0.001, 0},
		{"cm", Length, 10, 0},
		{"m", Length, 1000, 0},
		{"km", Length, 1e6, 0},
		{"mil", Length, 0.0254, 0},
		{"in", Length, 25.4, 0},
		{"ft", Length, foot, 0},
		{"mi", Length, 5280 * foot, 0},
		{"mm2", Area, 1, 0},
		{"m2", Area, 1e6, 0},
		{"in2", Area, 645.16, 0},
		{"ft2", Area, squareFoot * 1e6, 0},
		{"L", Volume, 1, 0},
		{"ml", Volume, 0.001, 0},
		{"gal", Volume, usGallon, 0},
		{"C", Temperature, 1, 0},
		{"F", Temperature, fahr, -32 * fahr},
		{"K", Step, 1, 0},
		{"C", Step, 1, 0},
		{"F", Step, fahr, 0},
		{"g", Mass, 1, 0},
		{"mg", Mass, 0.001, 0},
		{"kg", Mass, 1000, 0},
		{"lb", Mass, pound, 0},
		{"oz", Mass, pound / 16, 0},
		{"N", Force, 1, 0},
		{"lbf", Force, poundForce, 0},
		{"kgf", Force, gravity, 0},
		{"N/50mm", Peel, 1, 0},
		{"lbf/in", Peel, poundForce * 50 / 25.4, 0},
		{"Pa", Pressure, 1, 0},
		{"kPa", Pressure, 1000, 0},
		{"lbf/ft2", Pressure, poundForce / squareFoot, 0},
		{"psi", Pressure, poundForce / squareFoot * 144, 0},
		{"inHg", Pressure, 3386.38864, 0},
		{"m/s", Speed, 1, 0},
		{"m/min", Speed, 1.0 / 60, 0},
		{"km/h", Speed, 1 / 3.6, 0},
		{"mph", Speed, 0.44704, 0},
		{"ft/min", Speed, 0.00508, 0},
		{"L/min", Flow, 1, 0},
		{"gal/min", Flow, usGallon, 0},
		{"L/m2min", Rain, 1, 0},
		{"gal/ft2h", Rain, usGallon / (60 * squareFoot), 0},
		{"g/m2", SpreadOn, 1, 0},
		{"kg/m2", SpreadOn, 1000, 0},
		{"oz/ft2", SpreadOn, pound / 16 / squareFoot, 0},
		{"lb/ft2", SpreadOn, pound / squareFoot, 0},
		{"m2/L", Coat, 1, 0},
		{"ft2/gal", Coat, squareFoot / usGallon, 0},
		{"kg/m3", Density, 1, 0},
		{"lb/ft3", Density, pound / 1000 / (foot * foot * foot / 1e9), 0},
		{"min", Time, 1, 0},
		{"h", Time, 60, 0},
		{"d", Time, 24 * 60, 0},
		{"%", Share, 1, 0},
		{"mm/rtd", RootDay, 1, 0},
		{"ppm/K", Millionths, 1, 0},
		{"", Number, 1, 0},
	}
}

// MeasureNamed returns a unit of a dimension by its word.
func MeasureNamed(of Dimension, word string) (m Measure, ok bool) {
	for _, m := range Measures() {
		if m.Of == of && m.Word == word {
			return m, true
		}
	}
	return Measure{}, false
}

// Convert says a value of one unit in another. ok is false unless both measure
// the same; a temperature goes before a step of one.
func Convert(value float64, from, to string) (out float64, ok bool) {
	for _, a := range Measures() {
		if b, same := MeasureNamed(a.Of, to); same && a.Word == from && !math.IsNaN(value) {
			return a.To(value, b), true
		}
	}
	return 0, false
}

// To says a value of this unit in another of the same dimension.
func (m Measure) To(value float64, other Measure) float64 {
	return (value*m.Factor + m.Zero - other.Zero) / other.Factor
}

package trade

import "math"

// Solubility are the three parameters of a liquid by Hansen, MPa^0.5: how it
// holds together by dispersion, by polarity and by hydrogen bonds.
type Solubility struct{ Dispersion, Polar, Hydrogen float64 }

// polystyrene is the middle of the sphere of what dissolves it, and reach its
// radius (a textbook problem on these parameters; other published spheres
// differ widely, this one sorts the labelled liquids of solvents.csv right).
var polystyrene = Solubility{18.6, 6.0, 4.5}

const reach = 12.7

// FromPolystyrene returns how far a liquid is from polystyrene; under 1 it
// dissolves or swells EPS and XPS foam. An aid: the table of fits and the
// coupon decide. Range: each parameter 0 to 50.
func FromPolystyrene(s Solubility) (distance float64, err error) {
	for _, p := range []float64{s.Dispersion, s.Polar, s.Hydrogen} {
		if !(p >= 0 && p <= 50) {
			return 0, outside("parameter", p)
		}
	}
	d, p, h := s.Dispersion-polystyrene.Dispersion, s.Polar-polystyrene.Polar, s.Hydrogen-polystyrene.Hydrogen
	return math.Sqrt(4*d*d+p*p+h*h) / reach, nil
}

package reckon

import (
	"sync"

	"lapmark/ledger"
	"lapmark/ledger/trade"
)

func materialCalcs() []Calc {
	var put, on []string
	for _, w := range ledger.WordsOf("material") {
		if ledger.GoesOn(w.Name) {
			put = append(put, w.Name)
		}
		on = append(on, w.Name)
	}
	on = append(on, ledger.OldBitumen)
	parameter := func(name, also, means string) Key { return plain(name, also, means, 0, 50) }
	return []Calc{
		{
			Name: "pair", Means: "how one material goes on another",
			Keys: []Key{
				{Name: "put", Words: put, Means: "what goes on"},
				{Name: "on", Words: on, Means: "what it goes on"},
				{Name: "carrier", Words: []string{"solvent", "alcohol", "water"}, Default: "solvent", Means: "of a primer, cleaner, preservative or coat"},
				{Name: "foam-safe", Words: []string{"no", "yes"}, Default: "no", Means: "what the sheet of a spray glue says"},
			},
			Formula: "the table of fits", Source: "common practice, no source; TPO: US VA master specification 07 54 23, note 8",
			Example: "put=glue-solvent-contact on=foam-xps", Do: pair,
		},
		{
			Name: "solvent", Tables: table("relative distance to polystyrene"), Means: "how far a liquid is from polystyrene; under 1 it attacks EPS and XPS foam",
			Keys: []Key{
				parameter("dispersion", "dd", "Hansen parameter, MPa^0.5"), parameter("polar", "dp", "the same"), parameter("hydrogen", "dh", "the same"),
				{Name: "liquid", Form: "acetone", Optional: true, Means: "its name, for the reader"},
			},
			Formula: "√(4 Δd² + Δp² + Δh²)/12.7 from 18.6, 6.0, 4.5", Source: "Hansen parameters; the sphere from a textbook problem",
			Example: "dispersion=15.5 polar=10.4 hydrogen=7.0 liquid=acetone",
			Do: func(g Given) (Answer, error) {
				d, err := trade.FromPolystyrene(trade.Solubility{Dispersion: g.number("dispersion"), Polar: g.number("polar"), Hydrogen: g.number("hydrogen")})
				a := number(d, "", 3)
				says := "It attacks polystyrene foam."
				if d >= 1 {
					says = "It is not expected to attack polystyrene foam."
				}
				a.Says = []string{says + " An aid: the table of fits and the coupon decide."}
				return a, err
			},
		},
		{
			Name: "convert", Tables: table("conversion"), Means: "a value in another unit",
			Keys: []Key{
				{Name: "value", Form: "40mil", Means: "with its unit, or bare with from"},
				{Name: "from", Form: "mil", Optional: true, Means: "its unit; a gap of temperature is \"F difference\""},
				{Name: "to", Form: "mm", Means: "the unit asked for"},
			},
			Formula: "exact factors", Source: "NIST SP 811, appendix B", Example: "value=40mil to=mm", Do: convert,
		},
	}
}

// fitSays says what each answer of the table of fits asks for.
var fitSays = sync.OnceValue(func() map[string]string {
	return map[string]string{
		ledger.FitHolds:      "It holds.",
		ledger.FitFoamCoupon: "Only after a foam coupon on both lots.",
		ledger.FitBondCoupon: "Only after a bond coupon on both lots.",
		ledger.FitPrimer:     "It needs primer first.",
		ledger.FitLayer:      "It needs a layer between.",
		ledger.FitNoBond:     "It does not bond.",
		ledger.FitEats:       "It dissolves it.",
	}
})

func pair(g Given) (Answer, error) {
	fit, known := ledger.Fit(g.texts["put"], g.texts["on"], g.texts["carrier"] == "solvent", g.texts["foam-safe"] == "yes")
	if !known {
		return Answer{Text: "not in the table", Says: []string{"Ask the maker or make a coupon."}}, nil
	}
	return Answer{Text: fit, Says: []string{fitSays()[fit] + " What the maker's sheet says of the pair comes first."}}, nil
}

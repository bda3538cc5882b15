package reckon

import (
	"math"
	"slices"
	"strconv"

	"lapmark/ledger/trade"
)

// Calcs returns all calculations in the order of a list.
func Calcs() []Calc {
	return slices.Concat(airCalcs(), cureCalcs(), fastenCalcs(), roofCalcs(), materialCalcs(), paperCalcs())
}

const handWorked = "worked by hand; common practice, no source"

func table(quantity string, pairs ...string) []Table { return []Table{{quantity, pairs}} }

func number[N ~float64 | ~int64](value N, unit string, decimals int) Answer {
	return Answer{Value: float64(value), Unit: unit, Decimals: decimals}
}

func temperature(name, also, means string, least, most float64) Key {
	return Key{Name: name, Of: trade.Temperature, Unit: "C", Least: least, Most: most, Also: also, Means: means}
}

func share(name, also, means string, least, most float64) Key {
	return Key{Name: name, Of: trade.Share, Unit: "%", Least: least, Most: most, Also: also, Means: means}
}

func length(name, also, means string, least, most float64) Key {
	return Key{Name: name, Of: trade.Length, Unit: "mm", Least: least, Most: most, Also: also, Means: means}
}

func area(name, also, means string) Key {
	return Key{Name: name, Of: trade.Area, Unit: "m2", Least: 0.000001, Most: 1000, Also: also, Means: means}
}

func mass(name, also, means string, least float64) Key {
	return Key{Name: name, Of: trade.Mass, Unit: "g", Least: least, Most: 10_000_000, Also: also, Means: means}
}

func plain(name, also, means string, least, most float64) Key {
	return Key{Name: name, Of: trade.Number, Least: least, Most: most, Also: also, Means: means}
}

func (k Key) usually(value string) Key { k.Default = value; return k }

func (k Key) orNot() Key { k.Optional = true; return k }

func airCalcs() []Calc {
	const magnus = "x = ln(RH/100) + 17.62 t/(243.12 + t); dew point = 243.12 x/(17.62 - x), over water"
	const magnusSource = "WMO-No. 8, annex 4.B (Magnus)"
	const simpson = "Wood Handbook FPL-GTR-190, equation 4-5 (Simpson 1998, FPL-RN-0268)"
	air := temperature("air", "temp", "the air", -45, 60)
	rh := share("rh", "", "its relative humidity", 0.1, 100)
	hall := temperature("air", "temp", "the air", -1.2, 54.5)
	return []Calc{
		{
			Name: "dew-point", Tables: table("dew point"), Means: "where the air begins to leave water", Keys: []Key{air, rh},
			Formula: magnus, Source: magnusSource, Example: "air=17C rh=62",
			Do: func(g Given) (Answer, error) {
				dew, err := trade.DewPoint(g.celsius("air"), g.percent("rh"))
				return number(dew, "C", 1), err
			},
		},
		{
			Name: "dew-gap", Tables: table("surface above dew point"), Means: "how far a ground is warmer than the dew point",
			Keys:    []Key{temperature("ground", "surface", "the face that is glued or welded", -45, 60), air, rh},
			Formula: "ground - dew point; " + magnus, Source: magnusSource, Example: "ground=15C air=17C rh=62",
			Do: func(g Given) (Answer, error) {
				gap, err := trade.AboveDewPoint(g.celsius("ground"), g.celsius("air"), g.percent("rh"))
				return number(gap, "K", 1), err
			},
		},
		{
			Name: "vapour-pressure", Tables: table("saturation vapour pressure over water"), Means: "the water that air can hold, as a pressure",
			Keys: []Key{air}, Formula: "611.2 exp(17.62 t/(243.12 + t)), over water", Source: magnusSource, Example: "air=20C",
			Do: func(g Given) (Answer, error) {
				p, err := trade.Saturation(g.celsius("air"))
				return number(p, "Pa", 0), err
			},
		},
		{
			Name: "wood-moisture", Tables: table("equilibrium moisture of wood"), Means: "the moisture that wood settles at in such air",
			Keys:    []Key{hall, share("rh", "", "its relative humidity", 5, 95)},
			Formula: "1800/W (Kh/(1-Kh) + (K1 Kh + 2 K1 K2 K² h²)/(1 + K1 Kh + K1 K2 K² h²))", Source: simpson, Example: "air=21.1C rh=65",
			Do: func(g Given) (Answer, error) {
				m, err := trade.WoodMoisture(g.celsius("air"), g.percent("rh"))
				return number(m, "%", 1), err
			},
		},
		{
			Name: "hall-humidity", Tables: table("hall humidity at which wood settles at the limit"),
			Means:   "the humidity of the air above which wood never dries to the limit",
			Keys:    []Key{hall, share("limit", "", "the moisture that is waited for", 0, 30).usually("15")},
			Formula: "wood-moisture, solved for RH", Source: simpson, Example: "air=20C limit=15",
			Do: func(g Given) (Answer, error) {
				h, err := trade.HallHumidity(g.celsius("air"), g.percent("limit"))
				return number(h, "%", 1), err
			},
		},
		{
			Name: "cold-meter", Means: "by how much a pin meter that does not correct for it reads low in cold wood",
			Keys:    []Key{temperature("wood", "", "the wood", -10, 40)},
			Formula: "0.2 % for each degree below 20 °C, at 15 %", Source: "user guide of a pin meter: 2 % at 10 °C", Example: "wood=10C",
			Do: func(g Given) (Answer, error) {
				low, err := trade.ColdMeter(g.celsius("wood"))
				a := number(low, "%", 1)
				a.Says = []string{"For the note only: a reading is never changed by it."}
				return a, err
			},
		},
		daysToLimit(hall),
	}
}

func daysToLimit(hall Key) Calc {
	reading := func(name, means string) Key { return share(name, "", means, 0, 200) }
	return Calc{
		Name: "days-to-limit", Means: "how long a place goes on drying to the limit, from two readings in the same air",
		Keys: []Key{
			reading("first", "the first reading"), reading("then", "the second reading"),
			{Name: "days", Of: trade.Time, Unit: "d", Least: 0.01, Most: 10_000, Means: "between the two"},
			hall.orNot(), share("rh", "", "humidity of the air", 5, 95).orNot(),
			reading("settles", "what the wood settles at, in place of air and rh").orNot(),
			reading("limit", "the moisture that is waited for").usually("15"),
		},
		Formula: "τ = days/ln((first-E)/(then-E)); τ ln((then-E)/(limit-E)), E = wood-moisture",
		Source:  "first-order drying, an aid; common practice, no source", Example: "first=31 then=21.5 days=11 air=24C rh=38",
		Do: func(g Given) (Answer, error) {
			settles := g.percent("settles")
			if !g.Has("settles") {
				if err := g.needs("air", "rh"); err != nil {
					return Answer{}, err
				}
				var err error
				if settles, err = trade.WoodMoisture(g.celsius("air"), g.percent("rh")); err != nil {
					return Answer{}, err
				}
			}
			days, ever, err := trade.DaysToLimit(trade.Drying{
				First: g.percent("first"), Then: g.percent("then"), Days: g.number("days"), Settles: settles, Limit: g.percent("limit"),
			})
			if err == nil && !ever {
				return Answer{Text: "never in this air"}, nil
			}
			a := number(days, "d", 1)
			a.Says = []string{"Wood settles at " + rounded(float64(settles), 1) + " % in this air. Read it again before it is closed."}
			return a, err
		},
	}
}

func roofCalcs() []Calc {
	return []Calc{
		{
			Name: "spread", Tables: table("glue spread"), Means: "glue on the area of all glue lines",
			Keys:    []Key{mass("glue", "grams:g", "the glue that went on", 1), area("lines", "area", "all glue lines together")},
			Formula: "glue/lines", Source: handWorked, Example: "glue=3600g lines=13.42m2",
			Do: func(g Given) (Answer, error) {
				s, err := trade.Spread(trade.Gram(g.whole("glue")), g.squareMillimetres("lines"))
				return number(s, "g/m2", 0), err
			},
		},
		{
			Name: "bearing", Tables: table("pressure under feet"), Means: "how hard a mass presses on what it stands on",
			Keys:    []Key{mass("mass", "kg:kg", "what stands there", 1), area("on", "area", "all its feet together")},
			Formula: "mass × 9.80665/area", Source: "NIST SP 811, appendix B", Example: "mass=41kg on=14400mm2",
			Do: func(g Given) (Answer, error) {
				p, err := trade.Bearing(trade.Gram(g.whole("mass")), g.squareMillimetres("on"))
				return number(p/1000, "kPa", 1), err
			},
		},
		{
			Name: "spray", Tables: table("water for one strip"), Means: "the water that a strip of a hose test needs",
			Keys: []Key{
				area("strip", "area", "the strip"),
				{Name: "rate", Of: trade.Rain, Unit: "L/m2min", Least: 0.1, Most: 20, Default: "5gal/ft2h", Means: "water on each square metre"},
			},
			Formula: "rate × strip; 5 US gal/(ft² h) is 3.4 L/(m² min)", Source: "ASTM E1105, the rate from memory", Example: "strip=2.035m2",
			Do: func(g Given) (Answer, error) {
				w, err := trade.Spray(g.squareMillimetres("strip"), trade.LitrePerMinute(g.number("rate")))
				return number(w, "L/min", 1), err
			},
		},
		{
			Name: "pond", Tables: table("water standing"), Means: "the water in a pond on the roof, an estimate",
			Keys: []Key{
				length("length", "length", "of the pond", 1, 20_000), length("width", "width", "of the pond", 1, 5_000),
				length("depth", "depth", "at its deepest", 0, 300),
			},
			Formula: "length × width × depth/3, as in a cone", Source: "common practice, no source", Example: "length=900mm width=700mm depth=14mm",
			Do: func(g Given) (Answer, error) {
				on := trade.SquareMillimetre(g.whole("length") * g.whole("width"))
				v, err := trade.Pond(on, trade.Millimetre(g.whole("depth")))
				return number(v, "L", 1), err
			},
		},
		{
			Name: "core-sample", Tables: table("moisture by weighing"), Means: "water in a core sample by weight",
			Keys:    []Key{mass("wet", "wet", "as taken", 0.001), mass("dry", "dry", "dried", 0.001)},
			Formula: "(wet - dry)/dry", Source: "oven-dry basis, as in the Wood Handbook", Example: "wet=46.2g dry=21.0g",
			Do: func(g Given) (Answer, error) {
				mg := func(key string) trade.Milligram { return trade.Milligram(math.Round(1000 * g.number(key))) }
				p, err := trade.CoreSample(mg("wet"), mg("dry"))
				return number(p, "%", 1), err
			},
		},
		{
			Name: "fall", Tables: table("fall"), Means: "the slope of a roof",
			Keys:    []Key{length("rise", "rise", "from end to end", 1, 5_000), length("run", "run", "level", 1, 100_000)},
			Formula: "1 : run/rise", Source: handWorked, Example: "rise=22mm run=1100mm",
			Do: func(g Given) (Answer, error) {
				n, err := trade.Fall(trade.Millimetre(g.whole("rise")), trade.Millimetre(g.whole("run")))
				return Answer{Value: n, Text: "1:" + strconv.FormatFloat(n, 'f', -1, 64)}, err
			},
		},
		{
			Name: "splice", Tables: table("splice length"), Means: "how long a scarf is",
			Keys:    []Key{plain("ratio", "", "the n of 1:n", 1, 100), length("thickness", "thickness", "of the member", 1, 1000)},
			Formula: "n × thickness", Source: handWorked, Example: "ratio=8 thickness=45mm",
			Do: func(g Given) (Answer, error) {
				l, err := trade.Splice(g.whole("ratio"), g.micrometres("thickness"))
				return number(float64(l)/1000, "mm", 0), err
			},
		},
		{
			Name: "free-movement", Tables: table("free movement"), Means: "how much a part that nothing holds grows or shrinks",
			Keys: []Key{
				{Name: "expands", Of: trade.Millionths, Unit: "ppm/K", Most: 300, Also: "alpha_ppm:ppm/K", Means: "for each degree"},
				length("length", "length", "of the part", 0, 100_000),
				{Name: "change", Of: trade.Step, Unit: "K", Least: -200, Most: 200, Also: "kelvin:K", Means: "of its temperature"},
			},
			Formula: "expands × length × change", Source: handWorked, Example: "expands=23.6 length=6000mm change=60K",
			Do: func(g Given) (Answer, error) {
				m, err := trade.FreeMovement(g.number("expands"), trade.Millimetre(g.whole("length")), trade.Kelvin(g.number("change")))
				return number(float64(m)/1000, "mm", 1), err
			},
		},
	}
}

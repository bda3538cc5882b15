package reckon

import (
	"maps"
	"slices"

	"lapmark/ledger/trade"
)

const (
	withdrawalSource = "NDS-2018, 12.2; a staple is two legs by the nail form, stretched and not proven"
	anEstimate       = "An estimate by a building standard, never a limit."
)

func fastenCalcs() []Calc {
	var zones []string
	for _, z := range trade.Zones() {
		zones = append(zones, z.Name)
	}
	return []Calc{
		{
			Name: "bite", Tables: table("bite"), Means: "what of a leg is left in solid behind what it only passes",
			Keys: []Key{
				length("leg", "leg", "of the staple, nail or screw", 0, 1000),
				length("over", "over", "the layers it passes, with + between them", 0, 1000),
			},
			Formula: "leg - over, not less than 0", Source: "arithmetic; whole fractions of an inch stay exact", Example: "leg=5/8in over=1/4in",
			Do: func(g Given) (Answer, error) {
				b, err := trade.Bite(g.micrometres("leg"), g.micrometres("over"))
				return number(float64(b)/1000, "mm", 1), err
			},
		},
		{
			Name: "least-bite", Tables: table("least bite, nails and wood screws"), Means: "the least bite under load from the side",
			Keys: []Key{length("shank", "d", "across, or the wire of a staple", 0.5, 25.4)}, Formula: "6 × shank",
			Source: "NDS-2018, 12.1.5.6 and 12.1.6.4", Example: "shank=1/16in",
			Do: func(g Given) (Answer, error) { return number(trade.LeastBite*g.number("shank"), "mm", 1), nil },
		},
		{
			Name: "road-pressure", Tables: table("dynamic pressure at road speed"), Means: "the pressure of the air at road speed",
			Keys:    []Key{speed()},
			Formula: "½ × 1.225 × speed²", Source: "ASCE 7, SI form; ISO 2533", Example: "speed=65mph",
			Do: func(g Given) (Answer, error) {
				q, err := trade.RoadPressure(trade.MetrePerSecond(g.number("speed") / 3.6))
				return number(q, "Pa", 0), err
			},
		},
		{
			Name: "uplift", Tables: table("demand on one fastener"), Means: "the pull of the air on one fastener, an estimate",
			Keys: []Key{
				speed(),
				{Name: "zone", Words: zones, Default: "corner", Means: "where on the roof"},
				plain("coefficient", "", "in place of the zone", 0, 5).orNot(),
				length("spacing", "spacing", "in the row", 1, 3000), length("row", "row", "from row to row", 1, 3000),
			},
			Formula: "½ × 1.225 × speed² × coefficient × spacing × row", Source: "EN 1991-1-4:2005, table 7.2, on 1 m²; a building standard",
			Example: "speed=65mph zone=corner spacing=4in row=16in", Do: uplift,
		},
		{
			Name: "hold", Tables: holdTables(), Means: "what a fastener holds against being drawn, an estimate",
			Keys: holdKeys(), Formula: "legs × constant × G^a × D^b × bite; nail, staple 1380 G^2.5 D, screw 2850 G² D, lag 1800 G^1.5 D^0.75",
			Source: withdrawalSource, Example: "kind=staple wood=spruce-pine-fir gauge=16 bite=3/8in", Do: hold,
		},
		{
			Name: "over-hold", Tables: table("demand over holding power"), Means: "how often the pull is what a fastener holds",
			Keys:    []Key{force("pull", "demand", "uplift"), force("held", "holding", "hold")},
			Formula: "pull/held; over 1 it does not hold by the design value", Source: "quotient", Example: "pull=53N held=33N",
			Do: func(g Given) (Answer, error) {
				a := number(trade.OverHold(trade.Newton(g.number("pull")), trade.Newton(g.number("held"))), "", 2)
				a.Says = []string{anEstimate}
				return a, nil
			},
		},
		{
			Name: "wire", Tables: table("staple wire thickness, US steel gauge"), Means: "the wire of a staple by its gauge",
			Keys: []Key{plain("gauge", "", "US steel gauge", 14, 23)}, Formula: "table; the imperial gauge differs",
			Source: "US steel wire gauge", Example: "gauge=16",
			Do: func(g Given) (Answer, error) {
				thick, made := trade.Wire(g.whole("gauge"))
				if !made || float64(g.whole("gauge")) != g.number("gauge") {
					return Answer{}, badf("no wire of gauge %s", figure(g.number("gauge")))
				}
				return number(thick, "in", 4), nil
			},
		},
		{
			Name: "wood-density", Tables: table("assigned specific gravity"), Means: "the density of a wood, dry mass against water",
			Keys: []Key{{Name: "wood", Form: "spruce-pine-fir", Also: "species", Means: "its name"}}, Formula: "table",
			Source: "NDS-2018, table 12.3.3A", Example: "wood=spruce-pine-fir",
			Do: func(g Given) (Answer, error) {
				d, known := trade.Woods()[hyphened(g.texts["wood"])]
				if !known {
					return Answer{}, badf("no such wood: %s", woods())
				}
				return number(d, "", 2), nil
			},
		},
	}
}

func woods() string { return Key{Words: slices.Sorted(maps.Keys(trade.Woods()))}.Range() }

func speed() Key {
	return Key{Name: "speed", Of: trade.Speed, Unit: "km/h", Most: 216, Also: "mph:mph kmh:km/h", Means: "on the road"}
}

func force(name, also, means string) Key {
	return Key{Name: name, Of: trade.Force, Unit: "N", Least: 0.01, Most: 1_000_000, Also: also, Means: means}
}

func uplift(g Given) (Answer, error) {
	q, err := trade.RoadPressure(trade.MetrePerSecond(g.number("speed") / 3.6))
	if err != nil {
		return Answer{}, err
	}
	coefficient := g.number("coefficient")
	for _, z := range trade.Zones() {
		if !g.Has("coefficient") && z.Name == g.texts["zone"] {
			coefficient = z.Suck1
		}
	}
	holds := g.number("spacing") * g.number("row")
	pull, err := trade.Uplift(q, coefficient, trade.SquareMillimetre(holds))
	a := number(pull, "N", 0)
	a.Says = []string{anEstimate + " Suction alone, no gust and no pressure from inside."}
	return a, err
}

func holdTables() []Table {
	return slices.Concat(
		table("nail withdrawal, NDS", "kind=nail"), table("nail withdrawal per length, NDS", "kind=nail", "bite=1in"),
		table("wood screw withdrawal per length, NDS", "kind=screw", "bite=1in"), table("lag screw withdrawal, NDS", "kind=lag"),
		table("staple withdrawal, two legs by the nail form, design", "kind=staple"),
	)
}

func holdKeys() []Key {
	return []Key{
		{Name: "kind", Words: []string{"nail", "staple", "screw", "lag"}, Default: "staple", Means: "the fastener"},
		plain("density", "g", "of the wood, dry mass against water", 0.3, 0.8).orNot(),
		{Name: "wood", Words: slices.Sorted(maps.Keys(trade.Woods())), Optional: true, Means: "in place of the density"},
		length("shank", "d", "across", 0.508, 25.4).orNot(),
		plain("gauge", "", "of a staple, in place of the shank", 14, 23).orNot(),
		length("bite", "bite", "in solid wood", 0, 254),
	}
}

func hold(g Given) (Answer, error) {
	f := trade.Held{
		Kind: g.texts["kind"], Density: g.number("density"), Shank: trade.Inch(g.number("shank") / 25.4), Bite: trade.Inch(g.number("bite") / 25.4),
	}
	if !g.Has("density") {
		if err := g.needs("wood"); err != nil {
			return Answer{}, badf("density or wood is missing")
		}
		f.Density = trade.Woods()[g.texts["wood"]]
	}
	if !g.Has("shank") {
		wire, made := trade.Wire(g.whole("gauge"))
		if !made {
			return Answer{}, badf("shank, or gauge of a staple, is missing")
		}
		f.Shank = wire
	}
	n, err := trade.Hold(f)
	a := number(n, "N", 0)
	a.Says = []string{anEstimate}
	return a, err
}

package rules

import (
	"math"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/ledger/trade"
)

const (
	keySpread  = "spread"
	keyNearDew = "near-dew"
	keySheet   = "outside-sheet"

	saysSpread  = "{x} g/m² at {place}; the sheet says {low}–{high}."
	saysStarved = "{x} g/m² at {place} is under {p} % of the least {low}: starved."
	saysNearDew = "Ground {t} °C, dew point {d} °C: {gap} K apart, {limit} K needed."
	saysSheet   = "{quantity} {x}: the sheet of {lot} says {low}–{high}."
)

var glueRules = []Rule{
	{
		Key: keySpread, Degree: Stopped, Kinds: forWork, Sentences: []string{saysSpread, saysStarved},
		Plain: "less glue was spread than its sheet asks for", Look: known(spread),
	},
	{
		Key: keyNearDew, Degree: Stopped, Kinds: forWork, Sentences: []string{saysNearDew},
		Plain: "the ground was too near the dew point", Look: known(nearDew),
	},
	{
		Key: keySheet, Degree: Stopped, Kinds: forWork, Sentences: []string{saysSheet},
		Plain: "the work lay outside the figures of a maker's sheet", Look: known(outsideSheet),
	},
}

// spreading are the operations whose glue is weighed by its area.
var spreading = []string{"laminate", "lay-membrane", "reskin"}

func spread(c Case) []Outcome {
	var out []Outcome
	for _, op := range Ops(c.Act) {
		if !slices.Contains(spreading, op.Word) {
			continue
		}
		low, high, ok := c.spreadRange(op)
		x, known := c.spread(op)
		if !ok || !known {
			continue
		}
		least := c.Limits.numbers(keySpread)[0] // tenths of a percent
		says, at := int64(math.Floor(float64(x)+0.5)), c.say(barePlaces(op.Places)...)
		switch {
		case float64(x)*1000 < float64(low*least):
			out = append(out, stopped(keySpread, keySpread, saysStarved,
				ledger.Decimal(says), at, trimZeros(least, 1), ledger.Decimal(low)))
		case float64(x) < float64(low):
			out = append(out, noted(keySpread, keySpread, saysSpread, ledger.Decimal(says), at, ledger.Decimal(low), ledger.Decimal(high)))
		case float64(x) > float64(high):
			out = append(out, noted(keySpread, "", saysSpread, ledger.Decimal(says), at, ledger.Decimal(low), ledger.Decimal(high)))
		}
	}
	return out
}

func barePlaces(places []place.Place) []place.Place {
	out := slices.Clone(places)
	for i := range out {
		out[i].Layers = nil
	}
	return out
}

// spreadRange is what the sheet of the first glue of an operation that says it
// asks for.
func (c Case) spreadRange(op Op) (low, high int64, ok bool) {
	for _, id := range op.Lots {
		if r := ledger.Ints(object(c.lot(id)["values"])["spread-range"]); len(r) == 2 {
			return r[0], r[1], true
		}
	}
	return 0, 0, false
}

// spread is the glue of an operation on the area of all its glue lines: the area
// as typed, else that of each of its places. One that was typed as a spread and
// not weighed is taken as it is.
func (c Case) spread(op Op) (x trade.GramPerSquareMetre, ok bool) {
	glue := int64(0)
	for _, u := range ledger.Objects(op.Object["uses"]) {
		if strings.HasPrefix(c.material(text(u, "lot")), "glue-") && text(u, "unit") == "g" {
			glue += ledger.Int(u, "amount")
		}
	}
	values := object(op.Object["values"])
	if typed, said := values["spread"].(int64); glue == 0 && said {
		return trade.GramPerSquareMetre(typed), true
	}
	area := ledger.Int(values, "area")
	if area == 0 {
		for _, s := range op.spots(c.Replay) {
			area += s.Region.Area()
		}
	}
	x, err := trade.Spread(trade.Gram(glue), trade.SquareMillimetre(area))
	return x, err == nil
}

// joins are the operations that put down what must dry or cure on its ground.
var joins = []string{"laminate", "prime", "bond-seam", "bed", "cap-seal", "coat"}

// nearDew compares the ground with the dew point of the air where something is
// glued, sealed or coated. A sheet that asks for more stands over the shop.
func nearDew(c Case) []Outcome {
	values := object(c.Act.Body["values"])
	air, a := values["air-temp"].(int64)
	humidity, h := values["humidity"].(int64)
	under, g := values["ground-temp"].(int64)
	glued := slices.ContainsFunc(Ops(c.Act), func(op Op) bool {
		return slices.Contains(joins, op.Word) || slices.ContainsFunc(op.Lots, func(id string) bool { return ledger.Cures(c.material(id)) })
	})
	if !a || !h || !g || !glued {
		return nil
	}
	dew, err := trade.DewPoint(trade.DeciCelsius(air).Celsius(), trade.DeciPercent(humidity).Percent())
	if err != nil {
		return nil
	}
	limit, by := c.Limits.numbers(keyNearDew)[0], keyNearDew
	for _, id := range lotsOf(c.Act) {
		if own := ledger.Int(object(c.lot(id)["values"]), "dew-gap"); own > limit {
			limit, by = own, ""
		}
	}
	at := int64(math.Floor(float64(dew)*10 + 0.5)) // decided on what is printed
	if under-at >= limit {
		return nil
	}
	return []Outcome{stopped(keyNearDew, by, saysNearDew, trade1(under), trade1(at), trade1(under-at), trade1(limit))}
}

// outsideSheet compares air, ground and humidity with the sheets of the lots.
func outsideSheet(c Case) []Outcome {
	var out []Outcome
	values := object(c.Act.Body["values"])
	for _, id := range lotsOf(c.Act) {
		sheet := object(c.lot(id)["values"])
		outside := func(name string, low, high int64, unit string) {
			x, said := values[name].(int64)
			if said && (x < low || x > high) {
				out = append(out, stopped(keySheet, "", saysSheet, capital(strings.ReplaceAll(name, "-", " ")),
					trade1(x)+unit, id, trade1(low), trade1(high)+unit))
			}
		}
		if use := ledger.Ints(sheet["use-temp"]); len(use) == 2 {
			outside("air-temp", use[0], use[1], " °C")
			outside("ground-temp", use[0], use[1], " °C")
		}
		if least, ok := sheet["least-humidity"].(int64); ok {
			outside("humidity", least, 1000, " %")
		}
	}
	return out
}

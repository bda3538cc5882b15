package ledger

import (
	"slices"
	"sync"
)

// Quantities returns all quantities in the order in which they are printed.
func Quantities() []Quantity { return slices.Clone(quantityTable) }

// QuantityNamed returns the quantity of that name; ok is false where there is
// none.
func QuantityNamed(name string) (q Quantity, ok bool) {
	rank, ok := quantityRanks()[name]
	if !ok {
		return Quantity{}, false
	}
	return quantityTable[rank], true
}

// QuantityRank returns the place of a quantity in the order of printing, from
// 0. One that this table does not know comes after all that it knows.
func QuantityRank(name string) int {
	if rank, ok := quantityRanks()[name]; ok {
		return rank
	}
	return len(quantityTable)
}

var quantityRanks = sync.OnceValue(func() map[string]int { return rankQuantities(quantityTable) })

func rankQuantities(table []Quantity) map[string]int {
	ranks := make(map[string]int, len(table))
	for i, q := range table {
		ranks[q.Name] = i
	}
	return ranks
}

// quantityTable stands in the order of printing. Masses of core samples are
// milligrams, because whole grams cannot hold 46.2 g; legs and layers are
// micrometres, because 5/8 in is 15.875 mm.
var quantityTable = []Quantity{
	{"depth", UnitMm, OneNumber, "how deep: probe, water, lap still held"},
	{"thickness", UnitUm, OneNumber, "full or nominal thickness"},
	{"left", UnitUm, OneNumber, "thickness left"},
	{"film", UnitUm, OneNumber, "wet film"},
	{"loss", UnitUm, OneNumber, "thickness lost on a coupon"},
	{"groove", UnitUm, OneNumber, "depth of eaten foam"},
	{"length", UnitMm, OneNumber, "length"},
	{"width", UnitMm, OneNumber, "width, or size across"},
	{"height", UnitMm, OneNumber, "height of a lip, curb, upstand"},
	{"diameter", UnitMm, OneNumber, "diameter"},
	{"size", UnitMm, PairOfNumbers, "two sides of a patch or plate"},
	{"section", UnitMm, PairOfNumbers, "section of a member"},
	{"clear", UnitMm, PairOfNumbers, "clear size of an opening, along x across"},
	{"gap", UnitMm, OneNumber, "open width"},
	{"pull", UnitMm, OneNumber, "drawn in from its place"},
	{"leg", UnitUm, OneNumber, "length of staple, nail, screw"},
	{"over-layer", UnitUm, OneNumber, "what the fastener first passes through"},
	{"spacing", UnitMm, OneNumber, "centre to centre"},
	{"overlap", UnitMm, OneNumber, "lap"},
	{"flange", UnitMm, OneNumber, "flange found or built"},
	{"needed", UnitMm, OneNumber, "flange or curb needed"},
	{"short-by", UnitMm, OneNumber, "missing length"},
	{"beyond-rot", UnitMm, OneNumber, "cut into sound wood"},
	{"bead", UnitUm, OneNumber, "depth of a sealant bead"},
	{"deflection", UnitMm, OneNumber, "gives under load"},
	{"under", UnitMm, OneNumber, "length of the straight-edge"},
	{"area", UnitMm2, OneNumber, "hollow area, or area of glue lines; areas of places are never typed"},
	{"voids", UnitMm, ListOfNumbers, "length of each open place in a lap; none = looked, none found"},
	{"count", UnitCount, OneNumber, "pieces, screws, blisters, holes"},
	{"coats", UnitCount, OneNumber, "coats"},
	{"strip", UnitCount, OneNumber, "number of the water-test strip"},
	{"bubbles", UnitCount, OneNumber, "places that bubbled"},
	{"moisture", UnitPerMille, OneNumber, "pins, timber or ply"},
	{"rise", UnitPerMille, OneNumber, "rise of indoor moisture during a test"},
	{"number", UnitCount, OneNumber, "reading of a pinless meter, no unit"},
	{"dry-number", UnitCount, OneNumber, "the same meter on a dry place"},
	{"wet-mass", UnitMg, OneNumber, "core sample as taken"},
	{"dry-mass", UnitMg, OneNumber, "core sample dried"},
	{"mass", UnitG, OneNumber, "mass"},
	{"pressure", UnitPa, OneNumber, "press, bearing load, blower"},
	{"force", UnitN, OneNumber, "force"},
	{"peel", UnitPeel, ListOfNumbers, "peel strength, one number a strip"},
	{"air-temp", UnitDeciC, OneNumber, "air"},
	{"lowest-temp", UnitDeciC, OneNumber, "lowest air since the log point before, from a min-max thermometer or logger"},
	{"ground-temp", UnitDeciC, OneNumber, "face that is glued, welded or measured"},
	{"surface-temp", UnitDeciC, OneNumber, "face indoors"},
	{"outside-temp", UnitDeciC, OneNumber, "outside air"},
	{"weld-temp", UnitDeciC, OneNumber, "hot-air setting"},
	{"difference", UnitDeciK, OneNumber, "difference of temperature"},
	{"humidity", UnitPerMille, OneNumber, "relative humidity"},
	{"speed", UnitSpeed, OneNumber, "welding speed"},
	{"flow", UnitFlow, OneNumber, "water"},
	{"lasted", UnitMin, OneNumber, "how long a test, a coupon, a dry-out ran"},
	{"after", UnitMin, OneNumber, "time until water showed"},
	{"open-for", UnitMin, OneNumber, "glue: first spread to closed"},
	{"flash", UnitMin, OneNumber, "primer: flash time"},
	{"spread", UnitSpread, OneNumber, "glue spread, where it is typed"},
	{"treated", UnitTreated, OneNumber, "preservative"},
	{"density", UnitDensity, OneNumber, "density"},
	{"slope", UnitSlope, OneNumber, "fall"},
	{"scarf", UnitSlope, OneNumber, "scarf joint"},
	{"section-left", UnitPerMille, OneNumber, "section left"},
	{"shore", UnitCount, OneNumber, "hardness, Shore A"},
	{"stone", UnitMm, OneNumber, "hail stone"},
	{"age", UnitYears, OneNumber, "age of a sealant, of weathering"},
	{"missed", UnitMonths, OneNumber, "upkeep missed"},
	{"use-temp", UnitDeciC, LowHigh, "sheet: air and ground in use"},
	{"store-temp", UnitDeciC, LowHigh, "sheet: store"},
	{"dew-gap", UnitDeciK, OneNumber, "sheet: ground above dew point"},
	{"spread-range", UnitSpread, LowHigh, "sheet: spread"},
	{"open-time", UnitMin, OneNumber, "sheet: longest open time"},
	{"open-life", UnitMin, OneNumber, "sheet: life after opening"},
	{"ref-temp", UnitDeciC, OneNumber, "sheet: temperature the cure hours are given at"},
	{"least-temp", UnitDeciC, OneNumber, "sheet: below it nothing cures"},
	{"cap-temp", UnitDeciC, OneNumber, "sheet: above it no further gain"},
	{"doubling", UnitDeciK, OneNumber, "sheet: step that doubles the speed"},
	{"least-humidity", UnitPerMille, OneNumber, "sheet: moisture cure"},
	{"through-cure", UnitRootDay, OneNumber, "sheet: k, depth cured = k x root of days"},
	{"press-least", UnitPa, OneNumber, "sheet: press"},
	{"report-days", UnitDays, OneNumber, "certificate: days to report"},
	{"notice-days", UnitDays, OneNumber, "certificate: days to tell of a sale"},
	{"transfers-most", UnitCount, OneNumber, "certificate: sales that carry it on"},
	{"margin", UnitMm, OneNumber, "certificate: reach of undeclared work and left trouble"},
	{"tie-in-reach", UnitMm, OneNumber, "certificate: reach of declared work"},
	{"touch", UnitMm, OneNumber, "certificate: tape tolerance"},
	{"declare-days", UnitDays, OneNumber, "certificate: days to declare later work by others"},
	{"upkeep-every", UnitMonths, OneNumber, "certificate: upkeep falls due every so many months"},
	{"upkeep-early", UnitDays, OneNumber, "certificate: counts from so many days before it is due"},
	{"upkeep-grace", UnitDays, OneNumber, "certificate: and to so many days after"},
	{"upkeep-missed-most", UnitCount, OneNumber, "certificate: missed in a row without ending"},
	{"load-limit", UnitLoad, OneNumber, "certificate: load on the roof"},
}

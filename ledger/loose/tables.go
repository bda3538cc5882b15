package loose

import "lapmark/ledger"

// fillerWords have no meaning of their own where nothing else fits.
var fillerWords = []string{
	"a", "an", "the", "at", "is", "are", "was", "were", "of", "on", "in", "to", "and", "with", "it", "under", "calls",
	"meter", "reading", "reads", "about", "us", "told", "for", "that", "this", "there", "we", "has", "have",
	"had", "been", "by",
}

// grammarWords are read by the grammar of places, days and parts.
var grammarWords = []string{
	"bay", "spot", "run", "aft", "forward", "full", "width", "length", "whole", "roof", "wall", "slide", "skirt",
	"layer", "down", "out", "left", "right", "middle", "today", "yesterday", "noon", "half", "past", "none", "no",
	"ok", "good", "bad", "pass", "fail", "not", "above", "line", "opening", "lot", "end",
}

// measure is how a typed unit becomes a kept one: times num, divided by den,
// of the base unit of its dimension.
type measure struct {
	dim      dimension
	num, den int64
}

// dimension is what a unit measures.
type dimension int

const (
	dimNone dimension = iota
	dimLength
	dimMil // thousandths of an inch, for thicknesses alone
	dimTemp
	dimKelvin
	dimPercent
	dimMass
	dimVolume
	dimMinutes
	dimDays
	dimSpeed
	dimFlow
	dimPressure
	dimForce
	dimArea
	dimSpread
	dimTreated
	dimDensity
	dimLoad
	dimShore
	dimRoad
	dimMonths
	dimPiece
	dimRootDay
	dimPeel
	dimFahrenheit
)

// unitTable are all units as typed. Bases: micrometre, tenth of a degree,
// tenth of a percent, milligram, millilitre, minute, day, mm/min, ml/min, Pa,
// N, mm2, month. Inch, foot and pound: exact, international yard and pound,
// 1959; gallon and fluid ounce: exact, 231 cubic inches; psi: from memory.
var unitTable = map[string]measure{
	"mm": {dimLength, 1000, 1}, "cm": {dimLength, 10_000, 1}, "m": {dimLength, 1_000_000, 1},
	"millimetre": {dimLength, 1000, 1}, "millimetres": {dimLength, 1000, 1}, "millimeters": {dimLength, 1000, 1},
	"metre": {dimLength, 1_000_000, 1}, "metres": {dimLength, 1_000_000, 1}, "meters": {dimLength, 1_000_000, 1},
	"um": {dimLength, 1, 1}, "micron": {dimLength, 1, 1}, "microns": {dimLength, 1, 1}, "µm": {dimLength, 1, 1},
	"mil": {dimMil, 254, 10}, "mils": {dimMil, 254, 10},
	"in": {dimLength, 25_400, 1}, "inch": {dimLength, 25_400, 1}, "inches": {dimLength, 25_400, 1},
	"ft": {dimLength, 304_800, 1}, "foot": {dimLength, 304_800, 1}, "feet": {dimLength, 304_800, 1},
	"c": {dimTemp, 10, 1}, "degrees": {dimTemp, 10, 1}, "degree": {dimTemp, 10, 1}, "deg": {dimTemp, 10, 1},
	"degrees c": {dimTemp, 10, 1}, "degree c": {dimTemp, 10, 1}, "deg c": {dimTemp, 10, 1},
	"degrees celsius": {dimTemp, 10, 1}, "degrees f": {dimFahrenheit, 10, 1}, "degree f": {dimFahrenheit, 10, 1},
	"deg f": {dimFahrenheit, 10, 1}, "degrees fahrenheit": {dimFahrenheit, 10, 1}, "celsius": {dimTemp, 10, 1}, "f": {dimFahrenheit, 10, 1}, "fahrenheit": {dimFahrenheit, 10, 1},
	"k": {dimKelvin, 10, 1}, "kelvin": {dimKelvin, 10, 1},
	"%": {dimPercent, 10, 1}, "percent": {dimPercent, 10, 1}, "per cent": {dimPercent, 10, 1},
	"pct": {dimPercent, 10, 1}, "points": {dimPercent, 10, 1},
	"g": {dimMass, 1000, 1}, "kg": {dimMass, 1_000_000, 1}, "gram": {dimMass, 1000, 1}, "grams": {dimMass, 1000, 1},
	"kilo": {dimMass, 1_000_000, 1}, "kilos": {dimMass, 1_000_000, 1},
	"lb": {dimMass, 45_359_237, 100}, "lbs": {dimMass, 45_359_237, 100}, "pound": {dimMass, 45_359_237, 100},
	"pounds": {dimMass, 45_359_237, 100},
	"ml":     {dimVolume, 1, 1}, "l": {dimVolume, 1000, 1}, "litre": {dimVolume, 1000, 1}, "litres": {dimVolume, 1000, 1},
	"liter": {dimVolume, 1000, 1}, "liters": {dimVolume, 1000, 1},
	"fl oz": {dimVolume, 295_735_295_625, 10_000_000_000}, "gal": {dimVolume, 3_785_411_784, 1_000_000},
	"gallon": {dimVolume, 3_785_411_784, 1_000_000}, "gallons": {dimVolume, 3_785_411_784, 1_000_000},
	"min": {dimMinutes, 1, 1}, "mins": {dimMinutes, 1, 1}, "minute": {dimMinutes, 1, 1}, "minutes": {dimMinutes, 1, 1},
	"h": {dimMinutes, 60, 1}, "hr": {dimMinutes, 60, 1}, "hrs": {dimMinutes, 60, 1}, "hour": {dimMinutes, 60, 1},
	"hours": {dimMinutes, 60, 1},
	"d":     {dimDays, 1, 1}, "day": {dimDays, 1, 1}, "days": {dimDays, 1, 1},
	"m/min": {dimSpeed, 1000, 1}, "ft/min": {dimSpeed, 3048, 10},
	"l/min": {dimFlow, 1000, 1}, "gal/min": {dimFlow, 3_785_411_784, 1_000_000},
	"pa": {dimPressure, 1, 1}, "kpa": {dimPressure, 1000, 1}, "psi": {dimPressure, 6_894_757, 1000},
	"n": {dimForce, 1, 1}, "newton": {dimForce, 1, 1}, "n/50": {dimPeel, 1, 1}, "n/50mm": {dimPeel, 1, 1},
	"m2": {dimArea, 1_000_000, 1}, "sq m": {dimArea, 1_000_000, 1}, "sq ft": {dimArea, 9_290_304, 100},
	"sqm": {dimArea, 1_000_000, 1}, "sqft": {dimArea, 9_290_304, 100},
	"g/m2": {dimSpread, 1, 1}, "ml/m2": {dimTreated, 1, 1}, "kg/m3": {dimDensity, 1, 1}, "kg/m2": {dimLoad, 1, 1},
	"shore": {dimShore, 1, 1}, "km": {dimRoad, 1, 1}, "mi": {dimRoad, 1, 1}, "mile": {dimRoad, 1, 1},
	"miles": {dimRoad, 1, 1}, "month": {dimMonths, 1, 1}, "months": {dimMonths, 1, 1}, "year": {dimMonths, 12, 1},
	"years": {dimMonths, 12, 1}, "piece": {dimPiece, 1, 1}, "pieces": {dimPiece, 1, 1}, "mm/rtd": {dimRootDay, 1000, 1},
}

// unitDims are the dimension of each unit of the ledger and how many of it are
// one of the base above.
var unitDims = map[ledger.Unit]measure{
	ledger.UnitMm: {dimLength, 1000, 1}, ledger.UnitUm: {dimLength, 1, 1}, ledger.UnitRootDay: {dimRootDay, 1, 1},
	ledger.UnitMm2: {dimArea, 1, 1}, ledger.UnitPerMille: {dimPercent, 1, 1}, ledger.UnitMg: {dimMass, 1, 1},
	ledger.UnitG: {dimMass, 1000, 1}, ledger.UnitPa: {dimPressure, 1, 1}, ledger.UnitN: {dimForce, 1, 1},
	ledger.UnitPeel: {dimPeel, 1, 1}, ledger.UnitDeciC: {dimTemp, 1, 1}, ledger.UnitDeciK: {dimKelvin, 1, 1},
	ledger.UnitSpeed: {dimSpeed, 1, 1}, ledger.UnitFlow: {dimFlow, 1, 1}, ledger.UnitMin: {dimMinutes, 1, 1},
	ledger.UnitSpread: {dimSpread, 1, 1}, ledger.UnitTreated: {dimTreated, 1, 1}, ledger.UnitDensity: {dimDensity, 1, 1},
	ledger.UnitYears: {dimMonths, 12, 1}, ledger.UnitMonths: {dimMonths, 1, 1}, ledger.UnitDays: {dimDays, 1, 1},
	ledger.UnitLoad: {dimLoad, 1, 1}, ledger.UnitCount: {dimNone, 1, 1}, ledger.UnitSlope: {dimNone, 1, 1},
}

var numberWords = map[string]int64{
	"zero": 0, "oh": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
	"nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
	"seventeen": 17, "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60,
	"seventy": 70, "eighty": 80, "ninety": 90, "hundred": 100, "thousand": 1000,
}

func numberNames() []string {
	out := []string{"point"}
	for name := range numberWords {
		out = append(out, name)
	}
	return out
}

// phraseTable are phrases of the grammar: what they stand for, how they are
// typed.
var phraseTable = map[string][]string{
	"whole roof":   {"whole roof", "the whole roof", "entire roof", "all over"},
	"full width":   {"full width", "whole width", "full with"},
	"full length":  {"full length", "whole length"},
	"came in":      {"came in at", "came in", "entry at", "came through at", "water came in at", "water came in"},
	"called":       {"calls it", "called", "call it", "named", "calls this"},
	"should be":    {"should be", "should have been", "ought to be", "must be"},
	"told us":      {"told us", "told me", "says so"},
	"closed over":  {"closed over", "covered over", "closed", "covered", "closed up", "hides"},
	"must say":     {"driver side", "drivers side", "driver's side", "door side", "nearside", "near side", "offside", "off side", "kerb side", "kerbside", "curb side", "curbside", "passenger side", "street side", "road side", "port", "starboard"},
	"not pass":     {"not pass", "did not pass", "failed", "fails", "fail", "bad", "no pass", "not passed", "not ok", "not good", "didnt pass"},
	"pass":         {"ok", "okay", "good", "pass", "passed", "passes", "fine"},
	"stop use":     {"stop use", "stop using", "stop use from"},
	"use by":       {"use by", "best before", "use before"},
	"maker lot":    {"maker lot", "makers lot", "maker's lot"},
	"within":       {"report within", "reported within"},
	"tell of sale": {"tell of sale", "tell us of a sale", "sale told within"},
	"transfers":    {"transfers", "transfers at most", "sales at most"},
	"rain":         {"rain", "last rain", "rained"},
	"scale":        {"scale"},
	"parked":       {"parked"},
	"at most":      {"at most"},
	"in person":    {"in person"},
	"as of":        {"as of", "as at"},
	"papers":       {"papers"},
}

// doubtWords make a note unclear where they are left over: they turn round, take
// back or doubt what stands beside them, or say what is still to be done.
var doubtWords = []string{
	"no", "not", "never", "without", "isnt", "isn't", "wasnt", "didnt", "dont", "cant", "couldnt", "hasnt", "havent",
	"nothing", "none", "neither", "nor", "sorry", "wait", "scratch", "rather", "actually", "instead", "or", "maybe",
	"perhaps", "probably", "possibly", "think", "guess", "unsure", "roughly", "around", "approx", "almost", "nearly",
	"tomorrow", "will", "would", "should", "must", "todo", "want", "wants", "wanted", "going", "later", "plan", "planned",
	"if", "unless", "but", "except", "mean", "meant", "correction", "still", "yet", "ask", "asks", "than", "between",
	"before", "after", "both", "each", "either", "half", "same", "again", "other", "another", "old", "was",
	"over", "through", "off", "write", "wright", "rite", "lift", "leaf", "ate", "too", "won", "tree", "<", ">", "~", // misheard, or no sure number
	"be", "need", "needs", "needed", "next", "week", "weeks", "soon", "ready", "try", "tried", "trying", "unfinished", "begun",
	"less", "minus", "plus", "until", "since", "only", "gone", "missing", "more",
	"fore", "fort", "sicks", "eighth", "eighths", "sixteenth", "sixteenths", "quarter", "quarters", "third", "thirds",
	"member", // left over of edge member
}

// notSlips are plain words that are near to words of the trade and mean
// something else.
var notSlips = []string{
	"holes", "hoses", "noses", "roses", "living", "linking", "linen", "later", "player", "store", "stove", "stair", "strain", "stairs", "short", "share",
	"score", "clean", "cleans", "clear", "death", "house", "horse", "hours", "loose", "lower", "other", "waiter",
	"price", "pride", "prove", "prone", "pager", "taper", "paint", "print", "slice", "stripe", "string", "strap",
	"screen", "lease", "lever", "pitch", "porch", "flame", "match", "costs", "course", "cause", "force", "found",
	"front", "fount", "corner", "ceiling", "cabin", "count", "court", "could", "would", "bonnet", "carpet", "heater",
	"weather", "whether", "winter", "window", "windows", "winds", "leaves", "patchy", "rusty", "rested", "testing",
	"tested", "listed", "rifted", "sealing", "feeling", "holder", "holders", "folder", "bolder", "water", "spell",
	"spoil", "spoke", "spots", "space", "level", "layer", "under", "alarm", "above", "about", "along", "close",
	"closes", "cover", "covers", "wider", "width", "depth", "night", "right", "light", "height", "weight", "eight",
	"while", "white", "where", "there", "these", "those", "three", "their", "check", "checks", "shock", "stock",
	"stuck", "stick", "stack", "brand", "blank", "black", "block", "plank", "plan", "plain", "plane", "plate",
	"panel", "paste", "pasted", "posted", "moved", "moving", "missed", "mixed", "fixed", "fitted", "fitter",
	"foiled", "filed", "failed", "boiled", "soaked", "soaking", "soiled", "rained", "drained", "trained", "stained",
	"strained", "latter", "letter", "ladder", "larder", "bathed", "batter", "better", "butter", "bitten", "button",
}

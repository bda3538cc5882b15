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
	keyBite   = "bite-short"
	keyFlange = "flange-narrow"
	keyLoad   = "load-on-foam"

	saysBite     = "{leg} mm through {layer} mm leaves {bite} mm; {limit} mm into solid needed."
	saysNoneSaid = "No fastener was named: it is taken for a screw."
	saysFlange   = "{opening}: flange {x} mm, {limit} mm needed. Widen it, or say why."
	saysLoad     = "{kg} kg presses {a} kPa on {foam} of {b} kPa at 10 %. Spreader?"
)

var fastenRules = []Rule{
	{
		Key: keyBite, Degree: Stopped, Kinds: forWork, Sentences: []string{saysBite, saysNoneSaid},
		Plain: "a fastening bites too short", Look: known(biteShort),
	},
	{
		Key: keyFlange, Degree: Stopped, Kinds: forWork, Sentences: []string{saysFlange},
		Plain: "the flange is narrower than this shop asks for", Look: known(flangeNarrow),
	},
	{Key: keyLoad, Degree: Noted, Kinds: forWork, Sentences: []string{saysLoad}, Look: known(loadOnFoam)},
}

// biteShort looks at what a fastening leaves in solid. Foam holds nothing.
func biteShort(c Case) []Outcome {
	var out []Outcome
	for _, op := range Ops(c.Act) {
		values := object(op.Object["values"])
		leg, l := values["leg"].(int64)
		over, o := values["over-layer"].(int64)
		if op.Word != "fasten" || !l || !o {
			continue
		}
		bite, err := trade.Bite(trade.Micrometre(leg), trade.Micrometre(over))
		if err != nil {
			continue
		}
		if strings.HasPrefix(text(op.Object, "onto"), "foam-") {
			bite = 0
		}
		fastener := text(op.Object, "fastener")
		limit := c.Limits.leastBite(fastener)
		if int64(bite) >= limit {
			continue
		}
		one := stopped(keyBite, "bite", saysBite, mm(leg), mm(over), mm(int64(bite)), mm(limit))
		if fastener == "" {
			one.Sentence += " " + saysNoneSaid
		}
		out = append(out, one)
	}
	return out
}

// mm are micrometres as they are printed.
func mm(um int64) string { return trimZeros(um, 3) }

// flangeNarrow looks at the flange of an opening that is bedded or refitted, as
// it was measured, found or widened last.
func flangeNarrow(c Case) []Outcome {
	var out []Outcome
	var told []string
	limit := c.Limits.numbers(keyFlange)[0]
	for _, op := range Ops(c.Act) {
		if op.Word != "bed" && op.Word != "refit-fitting" {
			continue
		}
		for _, p := range op.Places {
			if p.Shape != place.Named || slices.Contains(told, p.Name) {
				continue
			}
			if x, known := c.flange(p.Name); known && x < limit {
				told = append(told, p.Name)
				out = append(out, stopped(keyFlange, keyFlange, saysFlange, p.Name, ledger.Decimal(x), ledger.Decimal(limit)))
			}
		}
	}
	return out
}

// flange is the flange of an opening as it is by the newest act that says it.
func (c Case) flange(name string) (x int64, known bool) {
	at := func(v any, places []place.Place) {
		n, said := v.(int64)
		if said && slices.ContainsFunc(places, func(p place.Place) bool { return p.Name == name }) {
			x, known = n, true
		}
	}
	for _, a := range c.andItself("intake", "measure", "finding", "work") {
		at(object(a.Body["values"])["flange"], a.Places())
		for _, o := range ledger.Objects(a.Body["openings"]) {
			at(object(o["values"])["flange"], []place.Place{{Name: text(o, "name")}})
		}
		for _, o := range ledger.Objects(a.Body["ops"]) {
			at(object(o["values"])["flange"], ledger.PlacesOf(o["places"]))
		}
	}
	return x, known
}

// loadOnFoam compares what a unit presses, by the newest spreader or finding of
// its load, with what the foam under it bears at 10 %.
func loadOnFoam(c Case) []Outcome {
	var out []Outcome
	share := c.Limits.numbers(keyLoad)[0]
	for _, op := range Ops(c.Act) {
		if op.Word != "refit-fitting" {
			continue
		}
		for _, s := range op.spots(c.Replay) {
			mass := c.unitMass(s.Place.Name)
			presses := c.presses(s.Region)
			for _, g := range c.groundIn("core", s.Region, "") {
				bears := ledger.Int(object(c.lot(g.lot)["values"]), "pressure")
				if mass > 0 && bears > 0 && presses*1000 > bears*share {
					out = append(out, noted(keyLoad, keyLoad, saysLoad, trimZeros(mass, 3), kPa(presses), ledger.Said("material", g.material), kPa(bears)))
				}
			}
		}
	}
	return out
}

// kPa are pascals as they are printed.
func kPa(pa int64) string { return trimZeros(int64(math.Round(float64(pa)/100)), 1) }

// unitMass is the mass of the unit at an opening, in grams.
func (c Case) unitMass(name string) int64 {
	mass := int64(0)
	for _, a := range c.andItself("intake", "measure") {
		for _, o := range ledger.Objects(a.Body["openings"]) {
			if text(o, "name") == name {
				mass = ledger.Int(object(o["values"]), "mass")
			}
		}
	}
	return mass
}

// presses is the newest pressure of a unit that was written for a place, in Pa:
// of a spreader, or of a load that was found.
func (c Case) presses(at place.Region) int64 {
	out := int64(0)
	for _, a := range c.andItself("finding", "work") {
		for _, op := range Ops(a) {
			if n, said := object(op.Object["values"])["pressure"].(int64); said && op.Word == "spreader" && union(op.spots(c.Replay)).Overlaps(at) {
				out = n
			}
		}
		for _, o := range ledger.Objects(a.Body["causes"]) {
			n, said := object(o["values"])["pressure"].(int64)
			if !said || text(o, "cause") != "unit-load" {
				continue
			}
			if found, err := c.Replay.Region(a, a.Places()); err == nil && found.Overlaps(at) {
				out = n
			}
		}
	}
	return out
}

package facts

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/report/english"
)

// underIt says what of the frame is new, what was laid beside it, and what
// spreads a load: what the next hand cannot see.
func (s *subject) underIt() string {
	var out []string
	add := func(says string) {
		if says != "" && !slices.Contains(out, says) {
			out = append(out, says)
		}
	}
	for _, op := range s.closed {
		names := s.stations(op.Places)
		switch op.Word {
		case "replace-member":
			add("new " + names)
		case "sister":
			add(names + " sistered")
		case "splice":
			add(names + " spliced")
		case "composite-backing":
			add("backing board at " + names)
		case "spreader":
			add("spreader under " + names)
		}
	}
	for _, lot := range s.lotsBy(func(_, material string) bool { return material == "timber" }) {
		add("timber, lot " + lot)
	}
	return strings.Join(out, "; ")
}

// stations names members, rafters with the millimetres where they stand:
// "rafters 8 and 9 (5920, 6660 mm)".
func (s *subject) stations(places []place.Place) string {
	says := members(places)
	var at []string
	for _, p := range places {
		if p.Number == nil {
			continue
		}
		region, err := s.roof.Work(p)
		if box, ok := region.Bounds(place.RoofPlane); ok && err == nil {
			at = append(at, ledger.Decimal((box.Front+box.Rear)/2))
		}
	}
	if len(at) == 0 {
		return says
	}
	return says + " (" + strings.Join(at, ", ") + " mm)"
}

// keepAway says what not to bring near the materials that lie here, from the
// table of fits: what eats them, and what does not bond to them.
func keepAway(materials []string) []string {
	var out []string
	for _, ground := range materials {
		if !ledger.IsGround(ground) {
			continue
		}
		name := ledger.Said("material", ground)
		if eats := unfit(ground, ledger.FitEats); len(eats) > 0 {
			out = append(out, english.Capital(english.Or(eats))+": dissolves the "+name)
		}
		if none := unfit(ground, ledger.FitNoBond); len(none) > 0 {
			says := english.Capital(english.Or(none)) + ": no bond on the " + name
			if fit, _ := ledger.Fit(ground, ground, true, false); fit == ledger.FitHolds && isSheet(ground) {
				says += ". Weld like to like"
			}
			out = append(out, says)
		}
	}
	if len(materials) > 0 {
		out = append(out, "Silicone: nothing bonds over it")
	}
	return out
}

// unfit are the materials with a fit on a ground, in words; those that have it
// with solvent alone, or when not made for foam, say so. Silicone has a
// sentence of its own.
func unfit(ground, fit string) []string {
	var out, solvent []string
	sheets := false
	for _, w := range ledger.WordsOf("material") {
		harsh, _ := ledger.Fit(w.Name, ground, true, false)
		mild, _ := ledger.Fit(w.Name, ground, false, true)
		says := ledger.Said("material", w.Name)
		switch {
		case harsh != fit || w.Name == "silicone":
		case isSheet(w.Name):
			sheets = true
		case mild == fit:
			out = append(out, says)
		case strings.HasPrefix(w.Name, "glue-"):
			out = append(out, says+" not made for foam")
		default:
			solvent = append(solvent, says)
		}
	}
	if len(solvent) > 0 {
		out = append(out, english.Or(solvent)+" with solvent")
	}
	if sheets {
		out = append(out, "an unlike sheet")
	}
	return out
}

package say

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/report/english"
)

// narrow is how wide an element along an edge is at most for its name alone to
// say where it lies, mm.
const narrow = 150

// Place says where a place is: "the rear header, 900 L–250 R", "bay 9 left",
// "5550–6450 aft, 350 L–350 R". How deep it goes says Layers.
func Place(p place.Place) string {
	p.Layers = nil
	if p.Part == "" {
		return ledger.SayPlace(p)
	}
	name := element(p.Part)
	if p.Shape == place.Part {
		if p.Number != nil {
			name = ledger.Said("elements", p.Part) + " " + ledger.Decimal(*p.Number)
		}
		return strings.TrimSpace(name + " " + string(p.Side))
	}
	part := p.Part
	p.Part = ""
	if p.Shape == place.Field {
		return joined(name, extent(part, p))
	}
	return joined(name, ledger.SayPlace(p))
}

// element names an element of which there is one: "the rear header".
func element(part string) string { return "the " + ledger.Said("elements", part) }

// extent says how far an element reaches, without what its name says already:
// a rear header lies at the rear, a left edge on the left.
func extent(part string, p place.Place) string {
	lie, along := place.Lies(part)
	ends, sides := lie.Front != lie.Rear, lie.Left != lie.Right
	switch {
	case along && ends && !lie.Left && !lie.Right && width(p.Aft) <= narrow:
		if p.Off == nil {
			return ""
		}
		p.Aft = nil
		return strings.TrimPrefix(ledger.SayPlace(p), "full length, ")
	case along && sides && !lie.Front && !lie.Rear && width(p.Off) <= narrow:
		if p.Aft == nil {
			return ""
		}
		p.Off = nil
		return strings.TrimSuffix(ledger.SayPlace(p), ", full width")
	}
	return ledger.SayPlace(p)
}

// width is the extent of a range, 0 where it reaches all over and so says
// nothing that the name does not.
func width(r *place.Range) int64 {
	if r == nil {
		return 0
	}
	return r.To - r.From
}

// Layers says layers: "deck and core".
func Layers(layers []string) string {
	var out []string
	for _, l := range layers {
		out = append(out, ledger.Said("layers", l))
	}
	return english.List(out)
}

// Places says several places with their layers.
func Places(places []place.Place) string {
	var out []string
	for i, p := range places {
		says := Place(p)
		last := i == len(places)-1 || !slices.Equal(places[i+1].Layers, p.Layers)
		if last && len(p.Layers) > 0 {
			says = joined(says, Layers(p.Layers))
		}
		out = append(out, says)
	}
	return several(out)
}

// several joins places: by semicolons where one of them has a comma of its own.
func several(places []string) string {
	if slices.ContainsFunc(places, func(s string) bool { return strings.Contains(s, ",") }) {
		return strings.Join(places, "; ")
	}
	return english.List(places)
}

// at says the places of a shape of an entry, behind "at".
func at(v format.Value) string {
	places := ledger.PlacesOf(v)
	list, _ := v.(format.Array)
	if len(list) > len(places) {
		return Places(places) + " and a place newer than this tool"
	}
	return Places(places)
}

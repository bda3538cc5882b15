package facts

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

// placesOfOp are the places of an operation as it holds them.
func placesOfOp(op rules.Op) []format.Object { return ledger.Objects(op.Object["places"]) }

// layered are places that name a layer; those that name none get these.
func layered(places []format.Object, layers ...string) []format.Object {
	var out []format.Object
	for _, o := range places {
		one, _ := format.Clone(o).(format.Object)
		if one["layers"] == nil {
			list := make(format.Array, len(layers))
			for i, l := range layers {
				list[i] = l
			}
			one["layers"] = list
		}
		out = append(out, one)
	}
	return out
}

// sheet are the places of a sheet laid.
func (p *proposal) sheet(op rules.Op) []format.Object {
	switch op.Word {
	case "lay-membrane", "patch":
		return layered(placesOfOp(op), "membrane")
	case "reskin":
		return layered(placesOfOp(op), "skin")
	case "coat":
		return layered(placesOfOp(op), "coating")
	}
	return nil
}

// bond are the places of a laminate; of deck and core laid, those that no
// laminate holds.
func (p *proposal) bond(op rules.Op) []format.Object {
	switch op.Word {
	case "laminate":
		return layered(placesOfOp(op), "deck", "core")
	case "lay-deck", "fit-core":
		at, err := p.r.Region(op.Act, op.Places)
		if err != nil || p.laminated().Holds(at, tape) {
			return nil
		}
		w, _ := ledger.WordIn("operations", op.Word)
		return layered(placesOfOp(op), w.Layers...)
	}
	return nil
}

func (p *proposal) laminated() place.Region {
	var out place.Region
	for _, op := range p.ops {
		if at, err := p.r.Region(op.Act, op.Places); op.Word == "laminate" && err == nil {
			out = out.Union(at)
		}
	}
	return out
}

// frame are the members renewed or doubled.
func (p *proposal) frame(op rules.Op) []format.Object {
	switch op.Word {
	case "replace-member", "sister", "splice":
		return placesOfOp(op)
	}
	return nil
}

// sealed says whether an operation seals a fitting or an edge.
func sealed(op rules.Op) bool { return op.Word == "bed" || op.Word == "cap-seal" }

// fitting are the openings bedded or sealed.
func (p *proposal) fitting(op rules.Op) []format.Object {
	if !sealed(op) {
		return nil
	}
	openings := p.r.Roof().Openings
	return kept(op, func(q place.Place) bool {
		_, opening := openings[q.Name]
		return q.Shape == place.Named && opening
	})
}

// edge are the edges and joints bedded or sealed.
func (p *proposal) edge(op rules.Op) []format.Object {
	if !sealed(op) {
		return nil
	}
	return kept(op, func(q place.Place) bool { return slices.Contains(edgeParts, q.Part) })
}

// edgeParts are the elements along the edge of the roof that are sealed.
var edgeParts = []string{
	"left-edge", "right-edge", "front-joint", "rear-joint", "front-cap", "rear-cap", "front-radius", "rear-radius",
	"gutter-rail", "corner-moulding", "trim-insert", "awning-rail", "topper-rail",
}

// tieIn are the places where closed work of the weather skin meets what was
// left.
func (p *proposal) tieIn(op rules.Op) []format.Object {
	if !sharesLayer(layersAt(op), []string{"coating", "membrane", "skin"}) {
		return nil
	}
	return kept(op, func(q place.Place) bool { return q.Part == "tie-in" })
}

// kept are the places of an operation that are wanted.
func kept(op rules.Op, want func(place.Place) bool) []format.Object {
	var out []format.Object
	for _, o := range placesOfOp(op) {
		if q, err := ledger.PlaceOf(o); err == nil && want(q) {
			out = append(out, o)
		}
	}
	return out
}

package facts

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

// leaves are the decisions that leave a place out of every line in its layers.
var leaves = []string{"leave", "holder-does", "another-shop", "refuse-opening", "no-answer"}

// cutOut takes out of the places of a line what the holder's decisions leave in
// a layer of it. A place that loses some of it becomes fields.
func (p *proposal) cutOut(promise string, places []format.Object) []format.Object {
	var out []format.Object
	for _, o := range places {
		whole, err := p.work(o)
		if err != nil {
			continue
		}
		rest := whole.Minus(p.leftIn(layersIn(promise, o)))
		switch {
		case same(rest, whole):
			out = append(out, o)
		case o["shape"] == "named" && !rest.Empty() && !p.clearLeft(o, rest):
			out = append(out, o)
		case o["shape"] != "named":
			out = append(out, asFields(o, rest)...)
		}
	}
	return out
}

// layersIn are the layers a place of a line reaches into.
func layersIn(promise string, o format.Object) []string {
	if named := ledger.Texts(o["layers"]); len(named) > 0 {
		return named
	}
	for _, one := range ledger.Promises() {
		if one.Name == promise {
			return one.Layers
		}
	}
	return nil
}

// leftIn is what decisions leave in one of the layers and no closed work has
// mended since: of an opening its clear size.
func (p *proposal) leftIn(layers []string) place.Region {
	var out place.Region
	for _, a := range p.r.Acts {
		if a.Kind != "decision" || !a.Counts || !slices.Contains(leaves, a.Text("choice")) {
			continue
		}
		for _, q := range a.Places() {
			if len(q.Layers) > 0 && !sharesLayer(oneSkin(q.Layers), oneSkin(layers)) {
				continue
			}
			at, err := clearAt(p.r, a, q)
			if err == nil && !mended(p.r, a, at, layers) {
				out = out.Union(at)
			}
		}
	}
	return out
}

// clearAt works out a place of an act, of an opening its clear size.
func clearAt(r *ledger.Replay, a *ledger.Act, p place.Place) (place.Region, error) {
	if _, opening := r.Roof().Openings[p.Name]; opening && p.Shape == place.Named {
		none := int64(0)
		p.Skirt = &none
	}
	return r.Region(a, []place.Place{p})
}

// mended says whether closed work after a decision lies over all of a place in
// one of the layers; without layers, in any.
func mended(r *ledger.Replay, decision *ledger.Act, at place.Region, layers []string) bool {
	var done place.Region
	for _, op := range rules.Closed(r) {
		if !decision.Before(op.Act) || len(layers) > 0 && !sharesLayer(oneSkin(layersAt(op)), oneSkin(layers)) {
			continue
		}
		if over, err := r.Region(op.Act, op.Places); err == nil {
			done = done.Union(over)
		}
	}
	return !at.Empty() && done.Holds(at, tape)
}

// oneSkin gives coating, membrane and skin one name: for closed work they are
// one layer.
func oneSkin(layers []string) []string {
	var out []string
	for _, l := range layers {
		if l == "coating" || l == "skin" {
			l = "membrane"
		}
		out = append(out, l)
	}
	return out
}

// clearLeft says whether all of an opening itself was taken out, so that only
// its skirt would be promised.
func (p *proposal) clearLeft(o format.Object, rest place.Region) bool {
	bare, _ := format.Clone(o).(format.Object)
	bare["skirt"] = int64(0)
	clear, err := p.work(bare)
	return err == nil && !clear.Overlaps(rest)
}

// asFields are fields that together are a region of the roof, of the element
// and the layers of a place.
func asFields(o format.Object, region place.Region) []format.Object {
	var out []format.Object
	for _, r := range region.Rects(place.RoofPlane) {
		field := format.Object{"shape": "field", "aft": format.Array{r.Front, r.Rear}, "off": format.Array{r.Left, r.Right}}
		for _, member := range []string{"part", "layers"} {
			if v := o[member]; v != nil {
				field[member] = format.Clone(v)
			}
		}
		out = append(out, field)
	}
	return out
}

package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/place"
)

// ground is what a material is put on: its kind, and its lot where it has one.
type ground struct{ material, lot string }

// materialLayers are the layers in which a material lies; one that is not listed
// lies where its operation is done.
func materialLayers(material string) []string {
	switch material {
	case "plywood", "composite-board":
		return []string{"over-deck", "deck", "inner-ply"}
	case "timber":
		return []string{"frame"}
	case "skin-sheet":
		return []string{"skin"}
	}
	switch {
	case strings.HasPrefix(material, "foam-"):
		return []string{"core"}
	case strings.HasPrefix(material, "membrane-"):
		return []string{"membrane"}
	}
	return nil
}

// layersIn are the layers in which a lot lies that was laid at a spot: its own
// among those of the spot, else those of the spot.
func layersIn(s Spot, material string) []string {
	own := materialLayers(material)
	if len(s.Layers) == 0 {
		return own
	}
	in := slices.DeleteFunc(slices.Clone(own), func(l string) bool { return !slices.Contains(s.Layers, l) })
	if len(in) == 0 {
		return s.Layers
	}
	return in
}

// laidOp is an operation that may have laid or taken off something, where, and
// with what grounds.
type laidOp struct {
	word    string
	spots   []Spot
	grounds []ground
}

// laid are the operations that may have laid or taken off something, the newest
// first: those of the note itself, then of closed work and of strips before it.
func (c Case) laid() []laidOp {
	if !c.seen.once("laid") {
		return c.seen.laid
	}
	for _, a := range slices.Backward(c.andItself("work")) {
		for _, op := range slices.Backward(Ops(a)) {
			one := laidOp{word: op.Word}
			for _, lot := range op.Lots {
				if m := c.material(lot); ledger.IsGround(m) || m == "silicone" {
					one.grounds = append(one.grounds, ground{m, lot})
				}
			}
			strips := op.Word == "strip" || op.Word == "strip-sealant"
			if strips || len(one.grounds) > 0 && (a == c.Act || a.Text("state") == "closed") {
				one.spots = op.bared(c.Replay)
				c.seen.laid = append(c.seen.laid, one)
			}
		}
	}
	return c.seen.laid
}

// groundIn finds what lies in one layer of a region, without a lot that is just
// put there: what the newest work laid, else what the build says.
func (c Case) groundIn(layer string, region place.Region, but string) []ground {
	var out []ground
	var bare place.Region // where sealant was stripped
	for _, op := range c.laid() {
		for _, s := range op.spots {
			if region.Empty() {
				return out
			}
			if !s.Region.Overlaps(region) {
				continue
			}
			there := op.in(s, layer, but)
			switch {
			case op.word == "strip-sealant":
				bare = bare.Union(s.Region)
			case op.word == "strip" && slices.Contains(s.Layers, layer):
				region = region.Minus(s.Region)
			case len(there) > 0 && there[0].material == "silicone":
				if s.Region.Minus(bare).Overlaps(region) {
					out = append(out, there...)
				}
			case len(there) > 0:
				out = append(out, there...)
				region = region.Minus(s.Region)
			}
		}
	}
	onRoof := slices.Contains(region.Planes(), place.RoofPlane) // the build is that of the roof
	if m := c.built(layer); m != "" && onRoof {
		out = append(out, ground{material: m})
	}
	return out
}

// in are the grounds that an operation laid in a layer of one of its spots.
func (op laidOp) in(s Spot, layer, but string) []ground {
	return slices.DeleteFunc(slices.Clone(op.grounds), func(g ground) bool {
		return g.lot == but || !slices.Contains(layersIn(s, g.material), layer)
	})
}

// built is the material of a layer as the newest intake or measure says it.
func (c Case) built(layer string) string {
	out := ""
	for _, a := range c.before("intake", "measure") {
		for _, o := range ledger.Objects(a.Body["build"]) {
			if text(o, "layer") == layer {
				out = materialOf(text(o, "what"))
			}
		}
	}
	return out
}

// shortMaterials are words of a build that name a material, beside the words of
// the list. Common practice, no source.
var shortMaterials = []struct{ says, is string }{
	{"bitumen", ledger.OldBitumen},
	{"xps", "foam-xps"},
	{"eps", "foam-eps"},
	{"pur", "foam-pur"},
	{"polystyrene", "foam-eps"},
	{"polyurethane foam", "foam-pur"},
	{"tpo", "membrane-tpo"},
	{"epdm", "membrane-epdm"},
	{"pvc", "membrane-pvc"},
	{"plywood", "plywood"},
	{"ply", "plywood"},
	{"lauan", "plywood"},
	{"aluminium", "skin-sheet"},
	{"aluminum", "skin-sheet"},
	{"steel", "skin-sheet"},
	{"metal", "skin-sheet"},
	{"glass-fibre", "skin-sheet"},
	{"glass fibre", "skin-sheet"},
	{"fiberglass", "skin-sheet"},
	{"fibreglass", "skin-sheet"},
	{"gfk", "skin-sheet"},
	{"grp", "skin-sheet"},
	{"timber", "timber"},
	{"softwood", "timber"},
	{"wood", "timber"},
	{"silicone", "silicone"},
}

// materialOf is the material that a build says in open words, "" where it names
// none.
func materialOf(what string) string {
	words := " " + strings.Map(func(r rune) rune {
		if strings.ContainsRune(",.;:()/", r) {
			return ' '
		}
		return r
	}, strings.ToLower(what)) + " "
	for _, w := range ledger.WordsOf("material") {
		for _, name := range []string{w.Name, strings.ReplaceAll(w.Name, "-", " "), strings.ToLower(w.Says)} {
			if name != "" && strings.Contains(words, " "+name+" ") {
				return w.Name
			}
		}
	}
	for _, short := range shortMaterials {
		if strings.Contains(words, " "+short.says+" ") {
			return short.is
		}
	}
	return ""
}

// touched are the grounds that a lot of an operation is put on: what lies in its
// own layer; a glue also joins the next one inward and outward; what finds
// nothing in its own layer lies on the next one inward, else outward. What has
// no place touches nothing.
func (c Case) touched(op Op, lot string) []ground {
	var out []ground
	add := func(list []ground) {
		for _, g := range list {
			if !slices.Contains(out, g) {
				out = append(out, g)
			}
		}
	}
	for _, s := range op.spots(c.Replay) {
		at := func(layer string) []ground { return c.groundIn(layer, s.Region, lot) }
		var own []ground
		for _, layer := range s.Layers {
			own = append(own, at(layer)...)
		}
		add(own)
		glue := strings.HasPrefix(c.material(lot), "glue-")
		if len(own) > 0 && !glue {
			continue
		}
		inward := next(s.Layers, 1, at)
		add(inward)
		if glue || len(inward) == 0 {
			add(next(s.Layers, -1, at))
		}
	}
	return out
}

// next finds what lies in the nearest layer inward (1) or outward (-1) of some
// in which anything lies.
func next(layers []string, step int, at func(layer string) []ground) []ground {
	all := ledger.WordsOf("layers")
	place := func(l string) int { return slices.IndexFunc(all, func(w ledger.Word) bool { return w.Name == l }) }
	from := len(all)
	if step > 0 {
		from = -1
	}
	for _, l := range layers {
		if step > 0 {
			from = max(from, place(l))
		} else {
			from = min(from, place(l))
		}
	}
	for i := from + step; i >= 0 && i < len(all); i += step {
		if found := at(all[i].Name); len(found) > 0 {
			return found
		}
	}
	return nil
}

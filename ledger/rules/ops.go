package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// Op is one operation of a work entry: where, in which layers, with which
// lots.
type Op struct {
	Act    *ledger.Act
	Word   string
	Object format.Object
	Places []place.Place
	Names  string
	Lots   []string
}

// Ops returns the operations of a work entry in their order.
func Ops(a *ledger.Act) []Op {
	var out []Op
	for _, o := range ledger.Objects(a.Body["ops"]) {
		op := Op{Act: a, Word: text(o, "op"), Object: o, Places: ledger.PlacesOf(o["places"]), Names: text(o, "names")}
		for _, use := range ledger.Objects(o["uses"]) {
			op.Lots = append(op.Lots, text(use, "lot"))
		}
		out = append(out, op)
	}
	return out
}

// notClosing are the operations that close nothing.
var notClosing = []string{
	"tarp", "open-up", "take-off-fitting", "dry-out", "strip", "strip-sealant", "cut-out", "treat", "prime", "press",
}

// Closed returns the operations of closed work in the house's own entries, in
// the order of the chain: state closed, and not one that closes nothing.
func Closed(r *ledger.Replay) []Op { return closedBy(r, own) }

// closedBy returns the operations of closed work that counts, by some hands.
func closedBy(r *ledger.Replay, whose func(*ledger.Act) bool) []Op {
	var out []Op
	for _, a := range r.Acts {
		if a.Kind != "work" || !a.Counts || !whose(a) || a.Text("state") != "closed" {
			continue
		}
		for _, op := range Ops(a) {
			if !slices.Contains(notClosing, op.Word) {
				out = append(out, op)
			}
		}
	}
	return out
}

// Spot is a place worked out: its region, and the layers it names (none: any).
type Spot struct {
	Place  place.Place
	Region place.Region
	Layers []string
}

// Over says whether two spots share area and, where both name layers, a layer.
// For closed work and findings coating, membrane and skin are one layer.
func (s Spot) Over(o Spot) bool {
	return sharesLayer(s.Layers, o.Layers) && s.Region.Overlaps(o.Region)
}

func sharesLayer(a, b []string) bool {
	if len(a) == 0 || len(b) == 0 {
		return true
	}
	for _, x := range a {
		for _, y := range b {
			if weather(x) == weather(y) {
				return true
			}
		}
	}
	return false
}

// weather is the one name of the layers that count as one.
func weather(layer string) string {
	if layer == "coating" || layer == "skin" {
		return "membrane"
	}
	return layer
}

// spots works out the places of an act, each with its own layers or the usual
// ones. Places that cannot be worked out yet are left out; missing says so.
func spots(r *ledger.Replay, a *ledger.Act, places []place.Place, usual []string) (out []Spot, missing error) {
	for _, p := range places {
		region, err := r.Region(a, []place.Place{p})
		if err != nil {
			missing = err
			continue
		}
		layers := p.Layers
		if len(layers) == 0 {
			layers = usual
		}
		out = append(out, Spot{Place: p, Region: region, Layers: layers})
	}
	return out, missing
}

func (op Op) spots(r *ledger.Replay) []Spot {
	w, _ := ledger.WordIn("operations", op.Word)
	layers := w.Layers
	if op.Word == "make-good" {
		layers = mendedLayers(r, op)
	}
	out, _ := spots(r, op.Act, op.Places, layers)
	return out
}

// mendedLayers are the layers of the work that is made good: the newest one
// before it that gave its place a name, else the newest one that lies there.
func mendedLayers(r *ledger.Replay, mend Op) []string {
	region, err := r.Region(mend.Act, mend.Places)
	if err != nil {
		return nil
	}
	var there []string
	var newest *ledger.Act
	for _, op := range Closed(r) {
		if op.Word == "make-good" || mend.Act.Before(op.Act) || op.Act == mend.Act {
			continue
		}
		w, _ := ledger.WordIn("operations", op.Word)
		if op.Names != "" && slices.ContainsFunc(mend.Places, func(p place.Place) bool { return p.Name == op.Names }) {
			return w.Layers
		}
		old, _ := spots(r, op.Act, op.Places, nil)
		if union(old).Overlaps(region) && (newest == nil || !op.Act.Before(newest)) {
			newest, there = op.Act, w.Layers
		}
	}
	return there
}

func overAny(a, b []Spot) bool {
	for _, x := range a {
		for _, y := range b {
			if x.Over(y) {
				return true
			}
		}
	}
	return false
}

func union(list []Spot) place.Region {
	var out place.Region
	for _, s := range list {
		out = out.Union(s.Region)
	}
	return out
}

func join(list []string) string { return strings.Join(list, "; ") }

// sayRegion says a region by its rectangles, at most three.
func sayRegion(r *ledger.Replay, region place.Region) string {
	deck := r.Deck()
	var out []string
	for _, cell := range region.Cells() {
		says := ledger.SayRect(cell.Box, deck)
		if cell.Plane != place.RoofPlane {
			says = strings.ReplaceAll(string(cell.Plane), "-", " ") + " " + says
		}
		out = append(out, says)
	}
	if len(out) > 3 {
		out = append(out[:3], "and "+ledger.Decimal(int64(len(out)-3))+" more")
	}
	return join(out)
}

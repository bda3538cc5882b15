package rules

import (
	"slices"
	"sync"

	"lapmark/ledger"
)

// sheets are the operations that hide what is under them, said or not.
var sheets = []string{"lay-membrane", "reskin"}

// hidden returns where a work closes and hides what lies there: its operations
// that close, each from its outermost layer inward. A work hides if it says so,
// a sheet always.
func hidden(r *ledger.Replay, a *ledger.Act) []Spot {
	if a.Kind != "work" || a.Text("state") != "closed" {
		return nil
	}
	var out []Spot
	for _, op := range Ops(a) {
		if slices.Contains(notClosing, op.Word) || a.Body["hides"] != true && !slices.Contains(sheets, op.Word) {
			continue
		}
		out = append(out, op.spots(r)...)
	}
	return out
}

// asksAnew says whether a work lays a sheet over what was closed before and does
// not say that it was kept dry: then it asks for new readings.
func asksAnew(a *ledger.Act) bool {
	if a.Body["kept-dry"] == true {
		return false
	}
	return slices.ContainsFunc(Ops(a), func(op Op) bool { return slices.Contains(sheets, op.Word) })
}

// lies says whether a layer is one of some, or lies inward of them. Of no layers
// it lies inward.
func lies(layer string, under []string) bool {
	if len(under) == 0 {
		return true
	}
	return slices.ContainsFunc(under, func(o string) bool { return depth(layer) >= depth(o) })
}

// depth is the place of a layer from outside in; of those that count as one it
// is the outermost.
func depth(layer string) int { return depths()[layer] }

var depths = sync.OnceValue(func() map[string]int {
	words := ledger.WordsOf("layers")
	out := map[string]int{}
	for _, w := range words {
		out[w.Name] = slices.IndexFunc(words, func(o ledger.Word) bool { return weather(o.Name) == weather(w.Name) })
	}
	return out
})

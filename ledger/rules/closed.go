package rules

import (
	"slices"

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

package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
)

const (
	keyWeldStrip  = "no-weld-strip"
	saysWeldStrip = "No weld-strip passed by {mark} on {day} before this weld."
)

var weldRules = []Rule{{
	Key: keyWeldStrip, Degree: Stopped, Kinds: forWork, Sentences: []string{saysWeldStrip},
	Plain: "no weld strip was passed before the weld", Look: known(noWeldStrip),
}}

// noWeldStrip asks for a strip of the same day that one of the welders welded and
// that passed: before the weld, or in its note.
func noWeldStrip(c Case) []Outcome {
	if !slices.ContainsFunc(Ops(c.Act), func(op Op) bool { return op.Word == "weld" }) {
		return nil
	}
	by := ledger.Texts(c.Act.Body["by"])
	for _, a := range c.andItself(withResults...) {
		ours := slices.ContainsFunc(ledger.Texts(a.Body["by"]), func(mark string) bool { return slices.Contains(by, mark) })
		if !ours || a.Day() != c.Act.Day() {
			continue
		}
		for _, o := range results(a, "weld-strip") {
			if o["pass"] == true {
				return nil
			}
		}
	}
	return []Outcome{stopped(keyWeldStrip, "", saysWeldStrip, strings.Join(by, " or "), c.Act.Day().Long())}
}

package say

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report/english"
)

// results says readings and checks. Readings of one sort in a row name it
// once: "Pins, bay 9 left: 31.0 %; bay 9 right: 24.5 %".
func (s *speaker) results(v format.Value) string {
	var out []string
	before := ""
	for _, o := range ledger.Objects(v) {
		head := subject(o)
		says := head.check
		if head.check == before && head.where != "" {
			says = ""
		}
		before = head.check
		says = joined(says, head.where)
		if found := finding(o); found != "" {
			says += ": " + found
		}
		out = append(out, says+s.mark(o))
	}
	return strings.Join(out, "; ")
}

// subjectOf is what was checked and where.
type subjectOf struct{ check, where string }

func subject(o format.Object) subjectOf {
	sub := subjectOf{check: ledger.Said("checks", word(o["check"]))}
	var on []string
	if f := word(o["fastener"]); f != "" {
		on = append(on, ledger.Said("fastener", f))
	}
	if lots := ledger.Texts(o["lots"]); len(lots) > 0 {
		on = append(on, lotsNamed(lots))
	}
	if m := word(o["material"]); m != "" {
		on = append(on, ledger.Said("material", m))
	}
	if onto := word(o["onto"]); onto != "" {
		on = append(on, "onto "+ledger.Said("material", onto))
	}
	sub.check = joined(append([]string{sub.check}, on...)...)
	sub.where = at(o["places"])
	return sub
}

// lotsNamed names lots: "lot A", "lots A and B".
func lotsNamed(lots []string) string {
	if len(lots) == 1 {
		return "lot " + lots[0]
	}
	return "lots " + english.List(lots)
}

// finding is what a check found, and whether it passed.
func finding(o format.Object) string {
	found := []string{Reading(word(o["check"]), object(o["values"]))}
	if f := word(o["failure"]); f != "" {
		found = append(found, ledger.Said("fail", f))
	}
	if o["came-in"] != nil {
		found = append(found, "water came in at "+at(format.Array{o["came-in"]}))
	}
	if pass, known := o["pass"].(bool); known {
		found = append(found, passed(pass, object(o["limit"])))
	}
	return joined(found...)
}

// passed says whether a limit was kept, and which where it was not.
func passed(pass bool, limit format.Object) string {
	switch {
	case pass:
		return "passed"
	case limit == nil:
		return "not passed"
	}
	return "not passed, the limit is " + Limit(limit)
}

// Limit says a limit: "at most 1.0 %", "at least 150 N/50 mm".
func Limit(limit format.Object) string {
	name := word(limit["quantity"])
	for _, side := range []string{"at-most", "at-least"} {
		if n, ok := limit[side].(int64); ok {
			return strings.ReplaceAll(side, "-", " ") + " " + one(name, n)
		}
	}
	return asItStands(limit)
}

// one says a single number of a quantity, also of one that has a list.
func one(name string, n int64) string {
	if q, ok := ledger.QuantityNamed(name); ok {
		return number(q, n) + unit(q, n)
	}
	return ledger.Decimal(n)
}

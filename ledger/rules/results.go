package rules

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// fillResults gives every result its limit and whether it passed, and writes
// the limits that decided into the entry.
func fillResults(a *ledger.Act) error {
	for _, o := range ledger.Objects(a.Body["results"]) {
		used, err := fillResult(o)
		if err != nil {
			return err
		}
		if used != nil {
			useLimit(a, used)
		}
	}
	return nil
}

func useLimit(a *ledger.Act, used format.Object) {
	list, _ := a.Body["limits"].(format.Array)
	if !slices.ContainsFunc(list, func(v format.Value) bool { return same(v, used) }) {
		a.Body["limits"] = append(list, used)
	}
}

// fillResult fills limit and pass; used is the shop's limit where that decided.
func fillResult(o format.Object) (used format.Object, err error) {
	name := text(o, "check")
	w, ok := ledger.WordIn("checks", name)
	if !ok {
		return nil, nil
	}
	pass, known := judge(o, name, w.Passes)
	limit, typed := o["limit"]
	standard := w.Passes != nil && printsLimit(w.Passes)
	if standard && known && !typed && !byFailure(o, name) {
		o["limit"] = limitObject(w.Passes)
		limit = o["limit"]
	}
	if !known {
		return nil, nil
	}
	if said, ok := o["pass"].(bool); ok && said != pass {
		return nil, typedf("%s: by its limit it is %s", name, passWord(pass))
	}
	o["pass"] = pass
	if standard && same(limit, limitObject(w.Passes)) && !byFailure(o, name) {
		q, _ := ledger.QuantityNamed(w.Passes.Quantity)
		return format.Object{"rule": name, "says": sayLimit(w.Passes, q)}, nil
	}
	return nil, nil
}

func passWord(pass bool) string {
	if pass {
		return "pass"
	}
	return "not-pass"
}

// printsLimit says whether the limit stands in the entry: not where it is only
// "none" of a list.
func printsLimit(p *ledger.Passes) bool {
	q, _ := ledger.QuantityNamed(p.Quantity)
	return !(q.Many == ledger.ListOfNumbers && p.AtMost != nil)
}

func limitObject(p *ledger.Passes) format.Object {
	o := format.Object{"quantity": p.Quantity, "source": p.Source}
	if p.AtMost != nil {
		o["at-most"] = *p.AtMost
	} else {
		o["at-least"] = *p.AtLeast
	}
	return o
}

func byFailure(o format.Object, check string) bool {
	_, known := ledger.FailurePasses(check, text(o, "failure"))
	_, measured := object(o["values"])["peel"]
	return known && !measured
}

// judge says whether a result passes: by the typed limit, else by the usual
// one, else by what failed.
func judge(o format.Object, check string, usual *ledger.Passes) (pass, known bool) {
	if limit, typed := o["limit"].(format.Object); typed {
		p := ledger.Passes{Quantity: text(limit, "quantity")}
		if n, ok := limit["at-most"].(int64); ok {
			p.AtMost = &n
		}
		if n, ok := limit["at-least"].(int64); ok {
			p.AtLeast = &n
		}
		if usual != nil && usual.Quantity == p.Quantity {
			p.Also = usual.Also
		}
		return keeps(o, p)
	}
	if pass, known = ledger.FailurePasses(check, text(o, "failure")); known && byFailure(o, check) {
		return pass, true
	}
	if usual == nil {
		if check == "bite" {
			return bitePasses(o)
		}
		return pass, known
	}
	return keeps(o, *usual)
}

func bitePasses(o format.Object) (pass, known bool) {
	values := object(o["values"])
	leg, ok := values["leg"].(int64)
	over, measured := values["over-layer"].(int64)
	return max(leg-over, 0) >= ledger.LeastBite(text(o, "fastener")), ok && measured
}

// keeps says whether the values keep a limit, and how the check was made.
func keeps(o format.Object, p ledger.Passes) (pass, known bool) {
	values := object(o["values"])
	numbers, ok := numbersOf(values[p.Quantity])
	if !ok {
		return false, false
	}
	pass = true
	q, _ := ledger.QuantityNamed(p.Quantity)
	if q.Many == ledger.ListOfNumbers && p.AtMost != nil && *p.AtMost == 0 {
		pass = len(numbers) == 0
	}
	for _, n := range numbers {
		if p.AtMost != nil && n > *p.AtMost || p.AtLeast != nil && n < *p.AtLeast {
			pass = false
		}
	}
	for _, also := range p.Also {
		if kept, measured := keeps(o, also); !kept || !measured {
			pass = false
		}
	}
	if text(o, "check") == "hose" && values["flow"] == nil {
		pass = false
	}
	return pass, true
}

func numbersOf(v format.Value) ([]int64, bool) {
	if n, ok := v.(int64); ok {
		return []int64{n}, true
	}
	list, ok := v.(format.Array)
	return ledger.Ints(list), ok
}

// sayLimit writes a limit as the terms file does.
func sayLimit(p *ledger.Passes, q ledger.Quantity) string {
	n := p.AtMost
	if n == nil {
		n = p.AtLeast
	}
	switch q.Unit {
	case ledger.UnitUm:
		return trimZeros(*n, 3) + " mm"
	case ledger.UnitPerMille:
		return trimZeros(*n, 1) + " %"
	case ledger.UnitMm2:
		return trimZeros(*n, 6) + " m2"
	case ledger.UnitSlope:
		return "1:" + ledger.Decimal(*n)
	case ledger.UnitCount:
		return ledger.Decimal(*n)
	}
	return ledger.Decimal(*n) + " " + string(q.Unit)
}

func trimZeros(n int64, digits int) string {
	s := fmt.Sprintf("%0*d", digits+1, n)
	whole, part := s[:len(s)-digits], strings.TrimRight(s[len(s)-digits:], "0")
	if part == "" {
		return whole
	}
	return whole + "." + part
}

package rules

import (
	"fmt"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// fillResults gives every result its limit and whether it passed, and writes
// the limits that decided into the entry.
func fillResults(c Case) error {
	for _, o := range ledger.Objects(c.Act.Body["results"]) {
		decided, err := fillResult(c.Limits, o)
		if err != nil {
			return err
		}
		if decided {
			useLimit(c.Act, c.Limits.used(text(o, "check")))
		}
	}
	return nil
}

// fillResult fills limit and pass, and says whether a limit of the shop's terms
// decided.
func fillResult(l Limits, o format.Object) (decided bool, err error) {
	name := text(o, "check")
	w, ok := ledger.WordIn("checks", name)
	if !ok {
		return false, nil
	}
	shops := l.passes(w, o)
	pass, known := judge(o, name, shops)
	if !known {
		return false, nil
	}
	if said, ok := o["pass"].(bool); ok && said != pass {
		return false, typedf("%s: by its limit it is %s. Leave the word out, or read again", name, passWord(pass))
	}
	o["pass"] = pass
	limit, typed := o["limit"].(format.Object)
	switch {
	case byFailure(o, name):
		return false, nil
	case shops == nil, !printsLimit(shops):
		return false, nil
	case !typed:
		o["limit"] = limitObject(shops)
		return true, nil
	}
	// A typed limit stands in place of the shop's; how the check was made is
	// still judged by the shop's.
	return format.Same(limit, limitObject(shops)) || text(limit, "quantity") == shops.Quantity && len(shops.Also) > 0, nil
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

// judge says whether a result passes: by the typed limit, else by the shop's,
// else by what failed.
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
		return pass, known
	}
	return keeps(o, *usual)
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
	switch text(o, "check") {
	case "hose":
		pass = pass && values["flow"] != nil
	case "bite": // foam holds no fastener
		pass = pass && !strings.HasPrefix(text(o, "onto"), "foam-")
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

func trimZeros(n int64, digits int) string {
	s := fmt.Sprintf("%0*d", digits+1, n)
	whole, part := s[:len(s)-digits], strings.TrimRight(s[len(s)-digits:], "0")
	if part == "" {
		return whole
	}
	return whole + "." + part
}

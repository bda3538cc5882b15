package sheet

import (
	"strconv"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// amountUnits are the units of a lot's amount and how each is printed.
var amountUnits = map[string]ledger.Unit{
	"g": ledger.UnitG, "mm": ledger.UnitMm, "mm2": ledger.UnitMm2,
}

func amount(n int64, unit string) (item, bool) {
	if u, ok := amountUnits[unit]; ok {
		return oneNumber(n, u), true
	}
	return bare(strconv.FormatInt(n, 10), unit), unit == "ml" || unit == "piece"
}

func writeLotUse(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	o, _ := v.(format.Object)
	lot, named := o["lot"].(string)
	n, counted := o["amount"].(int64)
	unit, known := o["unit"].(string)
	it, ok := amount(n, unit)
	return append(bare(lot), it...), named && counted && known && ok
}

func readLotUse(f ledger.Field, h Heading, c *cursor) (format.Value, error) {
	lot, err := readTag(f, h, c)
	if err != nil {
		return nil, err
	}
	n, unit, err := c.amount()
	return format.Object{"lot": lot, "amount": n, "unit": unit}, err
}

func writeCoverRef(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	o, _ := v.(format.Object)
	cert, ok := o["cert"].(string)
	out := bare(cert)
	lines, _ := integers(o["lines"])
	for _, n := range lines {
		out = append(out, token{s: "L" + strconv.FormatInt(n, 10)})
	}
	return out, ok
}

func readCoverRef(f ledger.Field, h Heading, c *cursor) (format.Value, error) {
	cert, err := readTag(f, h, c)
	if err != nil {
		return nil, err
	}
	o := format.Object{"cert": cert}
	var lines []int64
	for strings.HasPrefix(c.peek(), "L") {
		n, ok := undecimal(c.next()[1:], scale{})
		if !ok {
			return nil, unclear(ReasonReference, "a line of a certificate is written L4")
		}
		lines = append(lines, n)
	}
	if lines != nil {
		o["lines"] = array(lines)
	}
	return o, nil
}

func writeLimit(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	o, _ := v.(format.Object)
	name, _ := o["quantity"].(string)
	source, sourced := o["source"].(string)
	q, ok := ledger.QuantityNamed(name)
	side := "at-most"
	n, bounded := o[side].(int64)
	if !bounded {
		side = "at-least"
		n, bounded = o[side].(int64)
	}
	out := append(bare(side, name), oneNumber(n, q.Unit)...)
	return append(out, quoted(source)), ok && sourced && bounded
}

func readLimit(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	side := c.next()
	if side != "at-most" && side != "at-least" {
		return nil, unclear(ReasonWord, "a limit is at-most or at-least, not %q", side)
	}
	name := c.next()
	q, ok := ledger.QuantityNamed(name)
	if !ok {
		return nil, unclear(ReasonWord, "%q is no quantity", name)
	}
	n, err := c.oneNumber(q.Unit)
	if err != nil {
		return nil, err
	}
	source, ok := c.text()
	if !ok {
		return nil, unclear(ReasonWord, "a limit names its source in quotes")
	}
	return format.Object{side: n, "quantity": name, "source": source}, nil
}

func writeStage(_ ledger.Field, _ Heading, v format.Value) (item, bool) {
	o, _ := v.(format.Object)
	name, named := o["name"].(string)
	need, ok := o["need"].(int64)
	return append(bare(name), oneNumber(need, ledger.UnitMin)...), named && ok
}

func readStage(_ ledger.Field, _ Heading, c *cursor) (format.Value, error) {
	name := c.next()
	if _, ok := ledger.WordIn("stages", name); !ok {
		return nil, unclear(ReasonWord, "%q is no stage: press-off, load, water", name)
	}
	n, err := c.oneNumber(ledger.UnitMin)
	return format.Object{"name": name, "need": n}, err
}

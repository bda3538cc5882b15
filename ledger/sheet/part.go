package sheet

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// value writes one value of a field as items: one for most forms, several for
// quantities and shapes. ok is false where the value is not of the form.
func value(f ledger.Field, h Heading, v format.Value) (p part, ok bool) {
	switch f.Form {
	case ledger.FormValues:
		return quantities(v)
	case ledger.FormShape:
		return shaped(f.Shape, h, v)
	}
	it, ok := forms[f.Form].write(f, h, v)
	return part{it}, ok
}

// quantities writes an object of quantities, each an item, in their order.
func quantities(v format.Value) (part, bool) {
	o, ok := v.(format.Object)
	names := format.Names(o)
	slices.SortStableFunc(names, func(a, b string) int { return ledger.QuantityRank(a) - ledger.QuantityRank(b) })
	var out part
	for _, name := range names {
		q, known := ledger.QuantityNamed(name)
		it, err := quantity(q, o[name])
		if !known || err != nil {
			return nil, false
		}
		out = append(out, append(bare(name), it...))
	}
	return out, ok && len(out) > 0
}

// shaped writes an object of a shared shape: its head first, then its members,
// each an item. An "at" that comes first joins the head.
func shaped(name string, h Heading, v format.Value) (part, bool) {
	o, ok := v.(format.Object)
	s, known := ledger.ShapeNamed(name)
	if !ok || !known {
		return nil, false
	}
	left := len(o)
	var out part
	for _, f := range s.Fields {
		items, taken, ok := member(f, h, o)
		if !ok {
			return nil, false
		}
		left -= taken
		out = append(out, items...)
	}
	if len(out) > 1 && out[1].first() == "at" && out[0].first() != "at" {
		out = append(part{append(out[0], out[1]...)}, out[2:]...)
	}
	return out, left == 0 && len(out) > 0
}

// member writes one member of a shape as items; taken is how many members of
// the object it is.
func member(f ledger.Field, h Heading, o format.Object) (out part, taken int, ok bool) {
	if f.Form == ledger.FormAmount {
		n, counted := o["amount"].(int64)
		unit, known := o["unit"].(string)
		if !counted && !known {
			return nil, 0, true
		}
		it, ok := amount(n, unit)
		return part{append(bare(f.Label), it...)}, 2, ok && counted && known
	}
	v, there := o[f.Name]
	if !there {
		return nil, 0, true
	}
	if f.Default != nil && format.Same(f.Default, v) {
		return nil, 1, true
	}
	if f.Form == ledger.FormFlag {
		return part{bare(f.Label)}, 1, v == true
	}
	list, isList := v.(format.Array)
	if !f.Many {
		list = format.Array{v}
	} else if !isList || len(list) == 0 {
		return nil, 0, false
	}
	for _, one := range list {
		items, ok := value(f, h, one)
		if !ok {
			return nil, 0, false
		}
		out = append(out, items.label(f.Label)...)
	}
	return out, 1, true
}

// begins says whether an item or part that starts with word belongs to f.
func begins(f ledger.Field, it item) bool {
	if f.Label != "" {
		return it.first() == f.Label
	}
	switch f.Form {
	case ledger.FormWord:
		_, ok := ledger.WordIn(f.List, it.first())
		return ok
	case ledger.FormPass:
		return it.first() == "pass" || it.first() == "not-pass"
	case ledger.FormValues:
		_, ok := ledger.QuantityNamed(it.first())
		return ok
	case ledger.FormShape:
		s, _ := ledger.ShapeNamed(f.Shape)
		return len(s.Fields) > 0 && begins(s.Fields[0], it)
	case ledger.FormChange:
		return it.first() == "was" || it.first() == "is"
	}
	return true
}

// readValue reads one value of a field from the items of a part.
func readValue(f ledger.Field, h Heading, p part) (format.Value, error) {
	switch f.Form {
	case ledger.FormValues:
		o := format.Object{}
		for _, it := range p {
			if err := readQuantity(o, it); err != nil {
				return nil, err
			}
		}
		return o, nil
	case ledger.FormShape:
		return readShaped(f.Shape, h, p)
	}
	if len(p) != 1 {
		return nil, unclear(ReasonWord, "%s: one thing, not %d", orName(f), len(p))
	}
	c := cursor{toks: p[0]}
	v, err := forms[f.Form].read(f, h, &c)
	if err == nil && !c.done() {
		err = unclear(ReasonWord, "%q is left over", c.rest())
	}
	return v, err
}

func readQuantity(o format.Object, it item) error {
	q, ok := ledger.QuantityNamed(it.first())
	if !ok {
		return unclear(ReasonWord, "%q is no quantity", it)
	}
	c := cursor{toks: it, at: 1}
	v, err := c.quantity(q)
	if err == nil && !c.done() {
		err = unclear(ReasonNumber, "%q is left over behind %s", c.rest(), q.Name)
	}
	if _, twice := o[q.Name]; twice && err == nil {
		err = unclear(ReasonNumber, "%s is said twice", q.Name)
	}
	o[q.Name] = v
	return err
}

// readShaped reads an object of a shared shape.
func readShaped(name string, h Heading, p part) (format.Value, error) {
	s, ok := ledger.ShapeNamed(name)
	if !ok || len(p) == 0 {
		return nil, unclear(ReasonWord, "%s: nothing follows", name)
	}
	o := format.Object{}
	withDefaults(o, s.Fields)
	for i, it := range parted(s, p) {
		f, ok := fieldOf(s.Fields, it, i == 0)
		if !ok {
			return nil, unclear(ReasonWord, "%q has no place in a %s", it, s.Name)
		}
		if err := readMember(o, f, h, it); err != nil {
			return nil, err
		}
	}
	return o, nil
}

// parted gives an "at" that joined the head an item of its own again.
func parted(s ledger.Shape, p part) part {
	head := p[0]
	if s.Fields[0].Label == "" && len(head) > 1 && head[1].s == "at" && !head[1].text {
		return append(part{head[:1], head[1:]}, p[1:]...)
	}
	return p
}

// fieldOf finds the field that an item belongs to. The head of a shape whose
// first field has no label is always that field, and no other item is: strip and
// left are quantities too.
func fieldOf(list []ledger.Field, it item, head bool) (ledger.Field, bool) {
	if head && list[0].Label == "" {
		return list[0], true
	}
	if list[0].Label == "" {
		list = list[1:]
	}
	for _, f := range list {
		if f.Label == "" && f.Form != ledger.FormWord && f.Form != ledger.FormPass && f.Form != ledger.FormValues {
			continue
		}
		if begins(f, it) {
			return f, true
		}
	}
	return ledger.Field{}, false
}

func readMember(o format.Object, f ledger.Field, h Heading, it item) error {
	if f.Label != "" {
		it = it[1:]
	}
	switch f.Form {
	case ledger.FormFlag:
		if len(it) > 0 {
			return unclear(ReasonWord, "%q is left over behind %s", it, f.Label)
		}
		o[f.Name] = true
		return nil
	case ledger.FormAmount:
		c := cursor{toks: it}
		n, unit, err := c.amount()
		if err == nil && !c.done() {
			err = unclear(ReasonNumber, "%q is left over behind the amount", c.rest())
		}
		o["amount"], o["unit"] = n, unit
		return err
	case ledger.FormValues:
		if f.Label != "" {
			it = append(bare(f.Label), it...)
		}
		values, _ := o[f.Name].(format.Object)
		if values == nil {
			values = format.Object{}
			o[f.Name] = values
		}
		return readQuantity(values, it)
	}
	v, err := readValue(f, h, part{it})
	if err != nil {
		return err
	}
	return put(o, f, v)
}

// put sets a member, or adds to it where it is a list.
func put(o format.Object, f ledger.Field, v format.Value) error {
	if f.Many {
		list, _ := o[f.Name].(format.Array)
		o[f.Name] = append(list, v)
		return nil
	}
	if old, twice := o[f.Name]; twice && (f.Default == nil || !format.Same(old, f.Default)) {
		return unclear(ReasonWord, "%s is said twice", orName(f))
	}
	o[f.Name] = v
	return nil
}

func withDefaults(o format.Object, list []ledger.Field) {
	for _, f := range list {
		if f.Default != nil {
			o[f.Name] = format.Clone(f.Default)
		}
	}
}

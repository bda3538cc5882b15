package sheet

import (
	"maps"
	"strconv"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// place reads one place up to the end of the item.
func (c *cursor) place() (format.Object, error) {
	o := format.Object{}
	err := c.placeShape(o)
	if err != nil {
		return nil, err
	}
	if c.take("layer") {
		layers := format.Array{}
		for name := range strings.SplitSeq(c.next(), "+") {
			if _, ok := ledger.WordIn("layers", name); !ok {
				return nil, unclear(ReasonPlace, "%q is no layer", name)
			}
			layers = append(layers, name)
		}
		o["layers"] = layers
	}
	return o, nil
}

func (c *cursor) placeShape(o format.Object) error {
	w := c.peek()
	if _, element := ledger.WordIn("elements", w); element {
		c.at++
		if c.partShape(o, w) {
			return nil
		}
		o["part"] = w
		w = c.peek()
	}
	c.at++
	switch {
	case w == "spot":
		return c.spot(o)
	case w == "run":
		return c.run(o)
	case w == "bay":
		o["shape"] = "bay"
		err := c.count(o, "bay")
		c.side(o)
		return err
	case w == "slide":
		return c.slide(o)
	case w == "whole" && c.take("roof"):
		o["shape"] = "field"
		return nil
	case w == "full" && c.take("length"):
		o["shape"] = "field"
		return c.pairOf(o, "off", "L", "R")
	case c.peek() == "wall":
		return c.wall(o, w)
	case IsTag(w) && (c.done() || c.peek() == "skirt" || c.peek() == "layer"):
		return c.named(o, w)
	}
	c.at--
	o["shape"] = "field"
	if err := c.pairOf(o, "aft", "forward", "aft"); err != nil {
		return err
	}
	if c.take("full") {
		if !c.take("width") {
			return unclear(ReasonPlace, "full what? Write full width")
		}
		return nil
	}
	return c.pairOf(o, "off", "L", "R")
}

// partShape reads the shape part: an element alone, with a number, a side or a
// width. It returns false, and takes nothing, where another shape follows.
func (c *cursor) partShape(o format.Object, element string) bool {
	try := cursor{toks: c.toks, at: c.at}
	part := format.Object{"shape": "part", "part": element}
	if n, ok := undecimal(try.peek(), scale{}); ok {
		try.at++
		part["number"] = n
	}
	try.side(part)
	if try.take("width") && try.count(part, "width") != nil {
		return false
	}
	if !try.done() && try.peek() != "layer" {
		return false
	}
	c.at = try.at
	maps.Copy(o, part)
	return true
}

// side reads a side of a bay or an element, if one is said.
func (c *cursor) side(o format.Object) {
	switch w := c.peek(); w {
	case "left", "middle", "right":
		c.at++
		o["side"] = w
	}
}

func (c *cursor) count(o format.Object, name string) error {
	n, ok := undecimal(c.next(), scale{})
	if !ok {
		return unclear(ReasonPlace, "%s which? a number is missing", name)
	}
	o[name] = n
	return nil
}

func (w *placeWriter) spot() {
	w.add("spot")
	w.add(aftPoint(w.integer("aft"))...)
	w.add(offPoint(w.integer("off"))...)
	if r := w.integer("radius"); r != usualRadius {
		w.add("r", strconv.FormatInt(r, 10))
	}
}

func (w *placeWriter) run() {
	w.add("run")
	if _, ok := w.o["off"].(int64); ok {
		w.add(offPoint(w.integer("off"))...)
		w.add(along(w.pair("aft"))...)
	} else {
		w.add(aftPoint(w.integer("aft"))...)
		w.add(across(w.pair("off"))...)
	}
	w.add(w.number("width"), "wide")
}

func (c *cursor) slide(o format.Object) error {
	o["shape"], o["slide"] = "slide", c.next()
	if err := c.pairOf(o, "aft", "forward", "aft"); err != nil {
		return err
	}
	return c.pairOf(o, "out", "", "out")
}

func (w *placeWriter) wall() {
	side := w.word("wall")
	w.add(side, "wall")
	if side == "left" || side == "right" {
		w.add(along(w.pair("along"))...)
	} else {
		w.add(across(w.pair("along"))...)
	}
	w.add(span(w.pair("down")), "down")
}

func (c *cursor) named(o format.Object, name string) error {
	o["shape"], o["name"] = "named", name
	if c.take("skirt") {
		return c.count(o, "skirt")
	}
	return nil
}

// pointOf reads a point: "3300 aft", "50 forward", "400 L", "0".
func (c *cursor) pointOf(o format.Object, name, minus, plus string) error {
	word := c.next()
	n, ok := undecimal(word, scale{})
	if !ok {
		return unclear(ReasonPlace, "a number of mm %s is needed, not %q", name, word)
	}
	switch {
	case c.take(minus):
		n = -n
	case !c.take(plus) && n != 0:
		return unclear(ReasonPlace, "%d %s or %s?", n, minus, plus)
	}
	o[name] = n
	return nil
}

// pairOf reads a range: "3700-7400 aft", "50-350 forward", "900 L-250 R".
func (c *cursor) pairOf(o format.Object, name, minus, plus string) error {
	first := c.next()
	a, b, both := strings.Cut(first, "-")
	from, ok := undecimal(a, scale{})
	over := !both
	if over {
		var word string
		word, b, both = strings.Cut(c.next(), "-")
		ok = ok && word == minus && minus != ""
		from = -from
	}
	to, fine := undecimal(b, scale{})
	if !ok || !fine || !both {
		return unclear(ReasonPlace, "a place or a range of mm %s is needed, not %q", name, first)
	}
	switch {
	case minus != "" && !over && c.take(minus):
		from, to = -to, -from
	case !c.take(plus):
		return unclear(ReasonPlace, "%s or %s behind %s-%s?", minus, plus, a, b)
	}
	if from >= to {
		return unclear(ReasonPlace, "%s-%s: the smaller number stands first", a, b)
	}
	o[name] = array([]int64{from, to})
	return nil
}

// IsTag says whether s can be a tag: capitals, digits and hyphens, with a
// digit.
func IsTag(s string) bool {
	return s != "" && strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-") == "" &&
		strings.ContainsAny(s, "0123456789")
}

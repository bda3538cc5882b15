package sheet

import (
	"maps"
	"strconv"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

const usualRadius = 25 // mm, of a spot; common practice, no source

// placeItem writes a place as the words of an item: "5550-6450 aft 350 L-350 R
// layer skin".
func placeItem(v format.Value) (item, error) {
	o, ok := v.(format.Object)
	shape, known := o["shape"].(string)
	if !ok || !known {
		return nil, unclear(ReasonPlace, "no place")
	}
	w := placeWriter{o: o}
	if element, ok := o["part"].(string); ok && shape != "part" {
		w.add(element)
	}
	switch shape {
	case "spot":
		w.spot()
	case "run":
		w.run()
	case "field":
		w.field()
	case "bay":
		w.add("bay", w.number("bay"))
		w.optional("side")
	case "named":
		w.add(w.word("name"))
		w.labelled("skirt", "skirt")
	case "part":
		w.part()
	case "wall":
		w.wall()
	case "slide":
		w.add("slide", w.word("slide"))
		w.add(along(w.pair("aft"))...)
		w.add(span(w.pair("out")), "out")
	default:
		return nil, unclear(ReasonPlace, "%s is no shape of a place", shape)
	}
	w.layers()
	if w.bad {
		return nil, unclear(ReasonPlace, "the place is not whole")
	}
	return w.out, nil
}

type placeWriter struct {
	o   format.Object
	out item
	bad bool
}

func (w *placeWriter) add(words ...string) { w.out = append(w.out, bare(words...)...) }

func (w *placeWriter) word(name string) string {
	s, ok := w.o[name].(string)
	w.bad = w.bad || !ok
	return s
}

func (w *placeWriter) integer(name string) int64 {
	n, ok := w.o[name].(int64)
	w.bad = w.bad || !ok
	return n
}

func (w *placeWriter) number(name string) string { return strconv.FormatInt(w.integer(name), 10) }

func (w *placeWriter) pair(name string) [2]int64 {
	n, ok := integers(w.o[name])
	if !ok || len(n) != 2 {
		w.bad = true
		return [2]int64{}
	}
	return [2]int64{n[0], n[1]}
}

func (w *placeWriter) optional(name string) {
	if s, ok := w.o[name].(string); ok {
		w.add(s)
	}
}

func (w *placeWriter) labelled(name, label string) {
	if _, ok := w.o[name]; ok {
		w.add(label, w.number(name))
	}
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

func (w *placeWriter) field() {
	_, aft := w.o["aft"]
	_, off := w.o["off"]
	switch {
	case !aft && !off:
		w.add("whole", "roof")
	case !aft:
		w.add("full", "length")
		w.add(across(w.pair("off"))...)
	case !off:
		w.add(along(w.pair("aft"))...)
		w.add("full", "width")
	default:
		w.add(along(w.pair("aft"))...)
		w.add(across(w.pair("off"))...)
	}
}

func (w *placeWriter) part() {
	w.add(w.word("part"))
	if _, ok := w.o["number"]; ok {
		w.add(w.number("number"))
	}
	w.optional("side")
	w.labelled("width", "width")
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

func (w *placeWriter) layers() {
	list, ok := w.o["layers"].(format.Array)
	if !ok {
		return
	}
	names := make([]string, len(list))
	for i, v := range list {
		name, ok := v.(string)
		w.bad = w.bad || !ok
		names[i] = name
	}
	w.add("layer", strings.Join(names, "+"))
}

func aftPoint(n int64) []string {
	if n < 0 {
		return []string{strconv.FormatInt(-n, 10), "forward"}
	}
	return []string{strconv.FormatInt(n, 10), "aft"}
}

func offPoint(n int64) []string {
	switch {
	case n < 0:
		return []string{strconv.FormatInt(-n, 10), "L"}
	case n > 0:
		return []string{strconv.FormatInt(n, 10), "R"}
	}
	return []string{"0"}
}

func span(p [2]int64) string {
	return strconv.FormatInt(p[0], 10) + "-" + strconv.FormatInt(p[1], 10)
}

func along(p [2]int64) []string { return overLine(p, "forward", "aft") }

func across(p [2]int64) []string { return overLine(p, "L", "R") }

// overLine writes a range on one side of a line, or over it.
func overLine(p [2]int64, minus, plus string) []string {
	switch {
	case p[0] >= 0:
		return []string{span(p), plus}
	case p[1] <= 0:
		return []string{span([2]int64{-p[1], -p[0]}), minus}
	}
	return []string{
		strconv.FormatInt(-p[0], 10), minus + "-" + strconv.FormatInt(p[1], 10), plus,
	}
}

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
	case isTag(w) && (c.done() || c.peek() == "skirt" || c.peek() == "layer"):
		return c.named(o, w)
	}
	c.at--
	o["shape"] = "field"
	if err := c.pairOf(o, "aft", "forward", "aft"); err != nil {
		return err
	}
	if c.take("full") {
		if !c.take("width") {
			return unclear(ReasonPlace, "full what? full width")
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

func (c *cursor) spot(o format.Object) error {
	o["shape"], o["radius"] = "spot", int64(usualRadius)
	if err := c.pointOf(o, "aft", "forward", "aft"); err != nil {
		return err
	}
	if err := c.pointOf(o, "off", "L", "R"); err != nil {
		return err
	}
	if c.take("r") {
		return c.count(o, "radius")
	}
	return nil
}

func (c *cursor) run(o format.Object) error {
	o["shape"] = "run"
	first, second := c.peek(), ""
	if c.at+1 < len(c.toks) {
		second = c.toks[c.at+1].s
	}
	var err error
	if first == "0" && second != "aft" || second == "L" || second == "R" {
		if err = c.pointOf(o, "off", "L", "R"); err == nil {
			err = c.pairOf(o, "aft", "forward", "aft")
		}
	} else if err = c.pointOf(o, "aft", "forward", "aft"); err == nil {
		err = c.pairOf(o, "off", "L", "R")
	}
	if err == nil {
		err = c.count(o, "width")
	}
	if err == nil && !c.take("wide") {
		err = unclear(ReasonPlace, "a run says how wide")
	}
	return err
}

func (c *cursor) slide(o format.Object) error {
	o["shape"], o["slide"] = "slide", c.next()
	if err := c.pairOf(o, "aft", "forward", "aft"); err != nil {
		return err
	}
	return c.pairOf(o, "out", "", "out")
}

func (c *cursor) wall(o format.Object, side string) error {
	if _, ok := ledger.WordIn("wall", side); !ok {
		return unclear(ReasonPlace, "%q is no wall: left, right, front or rear", side)
	}
	c.take("wall")
	o["shape"], o["wall"] = "wall", side
	minus, plus := "forward", "aft"
	if side == "front" || side == "rear" {
		minus, plus = "L", "R"
	}
	if err := c.pairOf(o, "along", minus, plus); err != nil {
		return err
	}
	return c.pairOf(o, "down", "", "down")
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
	n, ok := undecimal(c.next(), scale{})
	if !ok {
		return unclear(ReasonPlace, "%s is missing before %q", name, c.rest())
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
	a, b, both := strings.Cut(c.next(), "-")
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
		return unclear(ReasonPlace, "a range of %s is missing before %q", name, c.rest())
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

// isTag says whether s can be a tag: capitals, digits and hyphens, with a
// digit.
func isTag(s string) bool {
	return s != "" && strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-") == "" &&
		strings.ContainsAny(s, "0123456789")
}

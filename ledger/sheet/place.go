package sheet

import (
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

package loose

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// placed is a place and where it stood.
type placed struct {
	o        format.Object
	from, to int // tokens
	taken    bool
}

// places finds all places of the note and takes their words.
func (n *note) places() error {
	for i := 0; i < len(n.t); {
		if n.t[i].used {
			i++
			continue
		}
		found, next, err := n.placeAt(i)
		if err != nil {
			return err
		}
		for _, o := range found {
			if err := n.inside(o, rawOf(n.t[i:next])); err != nil {
				return err
			}
			n.at = append(n.at, placed{o: o, from: i, to: next})
		}
		if next > i {
			n.use(i, next)
			i = next
			continue
		}
		i++
	}
	if err := n.fromTo(); err != nil {
		return err
	}
	return n.layers()
}

// fromTo refuses two places with to between them: bay 1 to bay 5.
func (n *note) fromTo() error {
	for k := 1; k < len(n.at); k++ {
		a, b := n.at[k-1], n.at[k]
		if b.from == a.to+1 && (n.t[a.to].is("to") || n.t[a.to].s == "-" && n.t[a.to].glued) {
			return unclear(Place, "%s: name each", rawOf(n.t[a.from:b.to]))
		}
	}
	return nil
}

// untaken refuses a note of which a place went nowhere.
func (n *note) untaken() error {
	for _, p := range n.at {
		if !p.taken {
			return unclear(Place, "%s: what is there", rawOf(n.t[p.from:p.to]))
		}
	}
	return nil
}

// amid refuses numbers between places that share one set of quantities: V2 120 H1
// 80.
func (n *note) amid(s segment) error {
	first, last := -1, -1
	for _, p := range n.at {
		if p.from >= s.from && p.from < s.to {
			if first < 0 {
				first = p.to
			}
			last = p.from
		}
	}
	for i := max(first, 0); i < last; i++ {
		if n.t[i].kind == aNumber && !n.t[i].used {
			return unclear(Number, "%s: of which place? A line for each", n.t[i].raw)
		}
	}
	return nil
}

// placeAt reads a place that begins at token i; next is i where none does.
func (n *note) placeAt(i int) ([]format.Object, int, error) {
	t := n.t[i]
	switch {
	case n.means(i, grammar, "must say"):
		return nil, i, unclear(Place, "%s: say left or right, facing forward", t.raw)
	case t.is("bay") || t.is("bays"):
		return n.bays(i)
	case t.is("spot"):
		o, next, err := n.spot(i + 1)
		return some(o), next, err
	case t.is("run"):
		return n.run(i + 1)
	case n.means(i, grammar, "whole roof"):
		return some(format.Object{"shape": "field"}), i + 1, nil
	case n.means(i, grammar, "full length"):
		off, next, err := n.span(i+1, "l", "r")
		if next == i+1 && err == nil {
			return nil, i, unclear(Place, "%s: how wide", t.raw)
		}
		return some(format.Object{"shape": "field", "off": off}), next, err
	case n.wallAt(i):
		return n.wall(i)
	case t.is("slide") && i+1 < len(n.t) && n.t[i+1].kind == aTag:
		return n.slide(i)
	case t.kind == aTag:
		return n.named(i)
	case t.kind == aNumber:
		return n.numbered(i, "")
	}
	if name, ok := n.sense(i, "elements"); ok {
		return n.element(i, name)
	}
	return nil, i, nil
}

func some(o format.Object) []format.Object {
	if o == nil {
		return nil
	}
	return []format.Object{o}
}

// bays reads bay 9 left, bay 9 left right, bay 8 and 9.
func (n *note) bays(i int) ([]format.Object, int, error) {
	var out []format.Object
	at := n.skipWords(i+1, "no", "number", "nr")
	for {
		no, ok := n.bareNumber(at)
		if !ok {
			if len(out) == 0 {
				return nil, i, unclear(Place, "%s which? A number is missing", n.t[i].raw)
			}
			return out, at, nil
		}
		if at+1 < len(n.t) && (n.t[at+1].is("to") || n.t[at+1].kind == aSign && n.t[at+1].s != "/") {
			if _, also := n.bareNumber(at + 2); also {
				return nil, i, unclear(Place, "%s: name each bay", rawOf(n.t[i:at+3]))
			}
		}
		sides, next := n.sides(at + 1)
		for _, side := range sides {
			o := format.Object{"shape": "bay", "bay": no}
			if side != "" {
				o["side"] = side
			}
			out = append(out, o)
		}
		and := n.andNumber(next)
		if and == next {
			return n.sideForAll(out), next, nil
		}
		at = and
	}
}

// sideForAll looks at a side behind several bays or rafters: it may be of the last
// or of all.
func (n *note) sideForAll(list []format.Object) []format.Object {
	last := len(list) - 1
	side := list[last]["side"]
	if side == nil || slices.ContainsFunc(list[:last], func(o format.Object) bool { return o["side"] != nil }) || last == 0 || n.c.pick(2) == 0 {
		return list
	}
	for _, o := range list {
		o["side"] = side
	}
	return list
}

// andNumber goes over the word and in front of a number that is one more of the
// same: bay 8 and 9. A number with a unit, or one that a place or another word
// follows, is none.
func (n *note) andNumber(i int) int {
	if i+1 >= len(n.t) || !n.t[i].is("and") {
		return i
	}
	if _, ok := n.bareNumber(i + 1); !ok || n.t[i+1].num.Num().Int64() > 99 {
		return i
	}
	return i + 1
}

// bareNumber is a whole number without a unit at token i.
func (n *note) bareNumber(i int) (int64, bool) {
	if i < 0 || i >= len(n.t) || n.t[i].used || n.t[i].kind != aNumber || !n.t[i].whole || n.t[i].unit != "" || !n.t[i].num.IsInt() {
		return 0, false
	}
	v := n.t[i].num.Num().Int64()
	return v, v >= 0 && v < 1_000_000 && n.t[i].num.Num().IsInt64()
}

// sides reads the sides behind a bay or an element: none, one, or several that
// stand together.
func (n *note) sides(i int) ([]string, int) {
	var out []string
	at := i
	for {
		j := at
		if j < len(n.t) && (n.t[j].kind == aStop && n.t[j].s == "," || n.t[j].kind == aSign && n.t[j].s == "/") {
			j++
		}
		if len(out) == 0 {
			j = n.skipWords(j, "on", "the", "at")
		} else {
			j = n.skipWords(j, "and", "&")
		}
		side, ok := n.sideAt(j)
		if !ok {
			break
		}
		out = append(out, side)
		at = j + 1
		if at < len(n.t) && n.t[at].is("side") {
			at++
		}
	}
	if len(out) == 0 {
		return []string{""}, i
	}
	return out, at
}

func (n *note) sideAt(i int) (string, bool) {
	if i >= len(n.t) || n.t[i].used || n.t[i].kind != aWord {
		return "", false
	}
	return n.senseWith(i, "side", BehindPlace)
}

func (n *note) skipWords(i int, words ...string) int {
	for i < len(n.t) && !n.t[i].used && slices.Contains(words, n.t[i].s) {
		i++
	}
	return i
}

// millimetres is a number of a place.
func (n *note) millimetres(i int) (int64, bool, error) {
	if i >= len(n.t) || n.t[i].used || n.t[i].kind != aNumber || !fits(n.t[i], ledger.UnitMm) || n.t[i].broken && n.t[i].unit == "" {
		return 0, false, nil
	}
	if v, ok := n.bareNumber(i); ok {
		return v, true, nil
	}
	v, err := n.kept(n.t[i], ledger.UnitMm, "a place")
	if err != nil { // no whole mm: some other number
		return 0, false, nil
	}
	return v, v >= 0, nil
}

// point reads 300 L, 6900 aft, 0; the side says its sign.
func (n *note) point(i int, minus, plus string) (v int64, side string, next int, err error) {
	v, ok, err := n.millimetres(i)
	if !ok || err != nil {
		return 0, "", i, err
	}
	switch {
	case n.side(i+1, minus):
		return -v, minus, i + 2, nil
	case n.side(i+1, plus):
		return v, plus, i + 2, nil
	}
	return v, "", i + 1, nil
}

// side says whether token i is a side: aft, forward, L or R.
func (n *note) side(i int, side string) bool {
	if i >= len(n.t) || n.t[i].used || n.t[i].kind != aWord {
		return false
	}
	switch side {
	case "l", "r":
		name, ok := n.senseWith(i, "side", BehindPlace)
		return ok && name == map[string]string{"l": "left", "r": "right"}[side]
	}
	return n.t[i].s == side
}

// span reads a range with its sides: 900 L-250 R, 1000-1100 R, 120 forward to 300
// aft; next is i where there is none, and a missing side is unclear.
func (n *note) span(i int, minus, plus string) (format.Array, int, error) {
	a, sideA, at, err := n.point(i, minus, plus)
	if err != nil || at == i {
		return nil, i, err
	}
	if at >= len(n.t) || !n.t[at].is("to") && (n.t[at].kind != aSign || n.t[at].s != "-") {
		return nil, i, nil
	}
	b, sideB, next, err := n.point(at+1, minus, plus)
	if err != nil || next == at+1 {
		return nil, i, err
	}
	switch {
	case sideB == "" && sideA == "":
		return nil, i, nil
	case sideB == "" && b != 0:
		return nil, i, unclear(Place, "%s: which side is %d", rawOf(n.t[i:next]), b)
	case sideA == "" && sideB == minus:
		a = -a
	}
	if a == b {
		return nil, i, unclear(Place, "%s: from and to are the same", rawOf(n.t[i:next]))
	}
	return format.Array{min(a, b), max(a, b)}, next, nil
}

// along reads a range along the coach, whose aft may be missing.
func (n *note) along(i int) (format.Array, int, error) {
	aft, next, err := n.span(i, "forward", "aft")
	if err != nil || next > i {
		return aft, next, err
	}
	a, ok, err := n.millimetres(i)
	if !ok || err != nil || i+2 >= len(n.t) || !n.t[i+1].is("to") && (n.t[i+1].kind != aSign || n.t[i+1].s != "-") {
		return nil, i, err
	}
	b, ok, err := n.millimetres(i + 2)
	if !ok || err != nil {
		return nil, i, err
	}
	if n.t[i].unit == "" && n.t[i+2].unit != "" && n.t[i+2].unit != "mm" { // 3.7 to 7.4 m
		both := n.t[i]
		both.unit = n.t[i+2].unit
		if a, err = n.kept(both, ledger.UnitMm, "a place"); err != nil {
			return nil, i, err
		}
	}
	if a == b {
		return nil, i, unclear(Place, "%s: from and to are the same", rawOf(n.t[i:i+3]))
	}
	return format.Array{min(a, b), max(a, b)}, i + 3, nil
}

func (n *note) comma(i int) int {
	if i < len(n.t) && n.t[i].kind == aStop && n.t[i].s == "," {
		return i + 1
	}
	return i
}

// numbered reads a place of numbers: 5550-6450 aft 350 L-350 R, 3700-7400 full
// width, 6300/500L. part is the element in front of it.
func (n *note) numbered(i int, part string) ([]format.Object, int, error) {
	if o, next, err := n.strokeSpot(i); err != nil || next > i {
		return some(withPart(o, part)), next, err
	}
	if n.isRatio(i) {
		return nil, i, nil
	}
	aft, next, err := n.along(i)
	if err != nil {
		return nil, i, err
	}
	if next == i {
		return n.pointPlace(i, part)
	}
	at := n.comma(next)
	if n.means(at, grammar, "full width") {
		return some(withPart(format.Object{"shape": "field", "aft": aft}, part)), at + 1, nil
	}
	off, end, err := n.span(at, "l", "r")
	if err != nil {
		return nil, i, err
	}
	if end > at {
		return some(withPart(format.Object{"shape": "field", "aft": aft, "off": off}, part)), end, nil
	}
	if n.listing(i) {
		return nil, i, nil
	}
	return nil, i, unclear(Place, "%s: how wide? Say full width, or from and to with L and R", rawOf(n.t[i:next]))
}

// listing says whether numbers from token i are values behind a quantity word
// and no place: open time 35 to 40.
func (n *note) listing(i int) bool {
	for j := i - 1; j >= 0; j-- {
		if n.t[j].filler || n.t[j].kind == aStop && n.t[j].s == ":" {
			continue
		}
		if n.t[j].used {
			return false
		}
		_, ok := n.sense(j, quantities)
		return ok && n.t[j].kind == aWord
	}
	return false
}

func withPart(o format.Object, part string) format.Object {
	if part != "" && o != nil {
		o["part"] = part
	}
	return o
}

// strokeSpot reads 6300/500L and 3000/0.
func (n *note) strokeSpot(i int) (format.Object, int, error) {
	aft, ok, err := n.millimetres(i)
	if !ok || err != nil || i+2 >= len(n.t) || n.t[i+1].s != "/" || n.t[i+1].kind != aSign {
		return nil, i, err
	}
	off, side, next, err := n.point(i+2, "l", "r")
	if err != nil || next == i+2 || side == "" && off != 0 {
		return nil, i, err
	}
	return n.radius(format.Object{"shape": "spot", "aft": aft, "off": off, "radius": int64(25)}, next)
}

// spot reads what follows the word spot.
func (n *note) spot(i int) (format.Object, int, error) {
	if o, next, err := n.strokeSpot(i); err != nil || next > i {
		return o, next, err
	}
	aft, _, at, err := n.point(i, "forward", "aft")
	if err != nil || at == i {
		return nil, i - 1, orUnclear(err, "spot: how far aft, how far left or right")
	}
	at = n.comma(at)
	off, side, next, err := n.point(at, "l", "r")
	if err != nil || next == at || side == "" && off != 0 {
		return nil, i - 1, orUnclear(err, "spot: how far left or right of the middle")
	}
	return n.radius(format.Object{"shape": "spot", "aft": aft, "off": off, "radius": int64(25)}, next)
}

func (n *note) radius(o format.Object, i int) (format.Object, int, error) {
	if i < len(n.t) && (n.t[i].is("r") || n.t[i].is("radius")) {
		if v, ok, err := n.millimetres(i + 1); ok || err != nil {
			o["radius"] = v
			return o, i + 2, err
		}
	}
	return o, i, nil
}

// pointPlace reads 6900 aft 500 L, a spot without its word.
func (n *note) pointPlace(i int, part string) ([]format.Object, int, error) {
	aft, side, at, err := n.point(i, "forward", "aft")
	if err != nil || side == "" {
		return nil, i, err
	}
	off, across, next, err := n.point(n.comma(at), "l", "r")
	if err != nil || next == n.comma(at) || across == "" && off != 0 {
		return nil, i, orUnclear(err, rawOf(n.t[i:at])+": how far left or right of the middle")
	}
	return some(withPart(format.Object{"shape": "spot", "aft": aft, "off": off, "radius": int64(25)}, part)), next, nil
}

func orUnclear(err error, what string) error {
	if err != nil {
		return err
	}
	return unclear(Place, "%s", what)
}

// run reads 580 R 3700-7400 aft 40 wide, and 6900 aft 1100 L-580 R 40 wide.
func (n *note) run(i int) ([]format.Object, int, error) {
	o := format.Object{"shape": "run"}
	off, side, at, err := n.point(i, "l", "r")
	if err == nil && at > i && (side != "" || off == 0 && !n.side(i+1, "aft")) {
		o["off"] = off
		aft, next, err := n.along(n.comma(at))
		if err != nil || next == n.comma(at) {
			return nil, i, orUnclear(err, "run: from where to where")
		}
		o["aft"], at = aft, next
	} else {
		aft, _, after, err := n.point(i, "forward", "aft")
		if err != nil || after == i {
			return nil, i, orUnclear(err, "run: where")
		}
		o["aft"] = aft
		across, next, err := n.span(n.comma(after), "l", "r")
		if err != nil || next == n.comma(after) {
			return nil, i, orUnclear(err, "run: from where to where")
		}
		o["off"], at = across, next
	}
	width, ok, err := n.millimetres(n.comma(at))
	if err != nil || !ok || n.comma(at)+1 >= len(n.t) || !n.t[n.comma(at)+1].is("wide") {
		return nil, i, orUnclear(err, "run: how wide")
	}
	o["width"] = width
	return some(o), n.comma(at) + 2, nil
}

func (n *note) wallAt(i int) bool {
	if i+1 >= len(n.t) || !n.t[i+1].is("wall") {
		return false
	}
	_, ok := n.sense(i, "wall")
	return ok || n.t[i].is("back")
}

// wall reads left wall 6000-6400 aft 0-300 down.
func (n *note) wall(i int) ([]format.Object, int, error) {
	name, ok := n.sense(i, "wall")
	if !ok {
		name = "rear"
	}
	o := format.Object{"shape": "wall", "wall": name}
	var along format.Array
	var at int
	var err error
	if name == "left" || name == "right" {
		along, at, err = n.along(i + 2)
	} else {
		along, at, err = n.span(i+2, "l", "r")
	}
	if err != nil || at == i+2 {
		return nil, i, orUnclear(err, name+" wall: from where to where")
	}
	o["along"] = along
	down, next, err := n.plain(n.comma(at), "down")
	if err != nil || next == n.comma(at) {
		return nil, i, orUnclear(err, name+" wall: how far down")
	}
	o["down"] = down
	return some(o), next, nil
}

// plain reads 0-300 down, 0-400 out.
func (n *note) plain(i int, word string) (format.Array, int, error) {
	a, ok, err := n.millimetres(i)
	if !ok || err != nil || i+3 >= len(n.t) || n.t[i+1].s != "-" && n.t[i+1].s != "to" {
		return nil, i, err
	}
	b, ok, err := n.millimetres(i + 2)
	if !ok || err != nil || !n.t[i+3].is(word) || a >= b {
		return nil, i, err
	}
	return format.Array{a, b}, i + 4, nil
}

func (n *note) slide(i int) ([]format.Object, int, error) {
	aft, at, err := n.along(i + 2)
	if err != nil || at == i+2 {
		return nil, i, orUnclear(err, "slide: from where to where")
	}
	out, next, err := n.plain(n.comma(at), "out")
	if err != nil || next == n.comma(at) {
		return nil, i, orUnclear(err, "slide: how far out")
	}
	return some(format.Object{"shape": "slide", "slide": n.t[i+1].s, "aft": aft, "out": out}), next, nil
}

// named reads the name of an opening or seam, and its skirt.
func (n *note) named(i int) ([]format.Object, int, error) {
	if _, ok := n.coach.Names[n.t[i].s]; !ok {
		return nil, i, nil
	}
	o := format.Object{"shape": "named", "name": n.t[i].s}
	next := i + 1
	if at := i + 1; at+1 < len(n.t) && (n.t[at].is("skirt") || n.t[at].kind == aSign && n.t[at].s == "+") {
		v, ok, err := n.millimetres(at + 1)
		if !ok || err != nil {
			return nil, i, orUnclear(err, n.t[i].s+" skirt: how wide")
		}
		o["skirt"], next = v, at+2
	}
	if next < len(n.t) { // A1 ac: the opening and what it is
		if part, ok := n.sense(next, "elements"); ok && part == n.coach.Names[n.t[i].s] && part != "seam" {
			next++
		}
	}
	return some(o), next, nil
}

// element reads an element: alone, with a number, or with a place inside it.
func (n *note) element(i int, name string) ([]format.Object, int, error) {
	at := i + 1
	if at < len(n.t) && n.t[at].kind == aTag && !n.t[at].used {
		if is, ok := n.coach.Names[n.t[at].s]; ok { // hatch H1, seam W1
			if is != name && !slices.Contains(fittings, name) && name != "seam" {
				return some(format.Object{"shape": "part", "part": name}), at, nil
			}
			if is != name && is != "" {
				return nil, i, unclear(Place, "%s is a %s here, not a %s", n.t[at].s, is, name)
			}
			return n.named(at)
		}
	}
	if name == "rafter" {
		if _, ok := n.bareNumber(at); ok {
			return n.rafters(i)
		}
	}
	if inner := n.comma(at); inner < len(n.t) && n.t[inner].kind == aNumber && !n.t[inner].used && (inner == at || n.spanAhead(inner)) {
		found, next, err := n.numbered(inner, name)
		if err != nil || len(found) > 0 {
			return found, next, err
		}
	}
	if name == "rafter" {
		return nil, i, unclear(Place, "rafter which? A number is missing")
	}
	sides, next := n.sides(at)
	var out []format.Object
	for _, side := range sides {
		o := format.Object{"shape": "part", "part": name}
		if side != "" {
			o["side"] = side
		}
		out = append(out, o)
	}
	return out, next, nil
}

// fittings are elements that an opening is for.
var fittings = []string{
	"roof-vent", "skylight", "hatch", "air-conditioner", "refrigerator-vent", "plumbing-vent", "flue", "cable-gland",
	"marker-light", "camera", "antenna",
}

// spanAhead says whether a range of numbers begins at token i.
func (n *note) spanAhead(i int) bool {
	return i+2 < len(n.t) && (n.t[i+1].s == "-" || n.t[i+1].is("to")) && n.t[i+2].kind == aNumber
}

// rafters reads rafter 8 left, rafter 8 and 9, rafter 8 width 60.
func (n *note) rafters(i int) ([]format.Object, int, error) {
	var out []format.Object
	at := i + 1
	for {
		no, ok := n.bareNumber(at)
		if !ok {
			return out, at, nil
		}
		if n.spanAhead(at) {
			return nil, i, unclear(Place, "%s: name each rafter", rawOf(n.t[i:at+3]))
		}
		sides, next := n.sides(at + 1)
		for _, side := range sides {
			o := format.Object{"shape": "part", "part": "rafter", "number": no}
			if side != "" {
				o["side"] = side
			}
			if next < len(n.t) && n.t[next].is("width") {
				if w, ok, err := n.millimetres(next + 1); ok && err == nil {
					o["width"] = w
					next += 2
				}
			}
			out = append(out, o)
		}
		and := n.andNumber(next)
		if and == next {
			return n.sideForAll(out), next, nil
		}
		at = and
	}
}

// beyond is how far a place may lie outside the coach without asking. Common
// practice, no source.
const beyond = 300

// inside refuses a place that this coach does not have.
func (n *note) inside(o format.Object, raw string) error {
	bays, measured := n.coach.bays()
	no, isBay := o["bay"].(int64)
	rafter, isRafter := o["number"].(int64)
	switch {
	case (isBay || isRafter) && !measured:
		return unclear(Place, "%s? the rafters are not measured yet", raw)
	case isBay && (no < 1 || no > bays):
		return unclear(Place, "bay %d: this coach has %d bays", no, bays)
	case isRafter && rafter > bays:
		return unclear(Place, "rafter %d: this coach has %d bays", rafter, bays)
	case n.coach.length == 0:
		return nil
	}
	if o["shape"] == "field" || o["shape"] == "spot" || o["shape"] == "run" {
		if !within(o["aft"], -beyond, n.coach.length+beyond) {
			return unclear(Place, "%s: this coach is %d mm long", raw, n.coach.length)
		}
		if !within(o["off"], -n.coach.half-beyond, n.coach.half+beyond) {
			return unclear(Place, "%s: this coach is %d mm wide", raw, 2*n.coach.half)
		}
	}
	return nil
}

func within(v format.Value, least, most int64) bool {
	list, ok := v.(format.Array)
	if !ok {
		list = format.Array{v}
	}
	for _, one := range list {
		if m, ok := one.(int64); ok && (m < least || m > most) {
			return false
		}
	}
	return true
}

// layers gives the words of layers that stand alone to the places beside them:
// those behind a place to it, others to every place. Behind several places they
// may mean the last or all.
func (n *note) layers() error {
	if len(n.at) == 0 {
		return nil
	}
	for i := 0; i < len(n.t); i++ {
		first := i
		var names format.Array
		for i < len(n.t) && !n.t[i].used {
			if n.t[i].is("layer") && len(names) == 0 || (n.t[i].s == "+" || n.t[i].is("and")) && len(names) > 0 && n.layerAt(i+1) {
				i++
				continue
			}
			if !n.layerAt(i) {
				break
			}
			name, _ := n.sense(i, "layers")
			names = append(names, name)
			i++
		}
		if len(names) == 0 {
			i = first
			continue
		}
		labelled := n.t[first].is("layer")
		n.use(first, i)
		n.layerOf(first, names, labelled)
		i--
	}
	return nil
}

func (n *note) layerAt(i int) bool {
	if i >= len(n.t) || n.t[i].used {
		return false
	}
	_, ok := n.sense(i, "layers")
	return ok
}

func (n *note) layerOf(first int, names format.Array, labelled bool) {
	before := -1
	for k, p := range n.at {
		if p.to <= first && n.nothingBetween(p.to, first) {
			before = k
		}
	}
	set := func(k int) {
		had, _ := n.at[k].o["layers"].(format.Array)
		n.at[k].o["layers"] = append(slices.Clone(had), names...)
	}
	if before < 0 {
		from, to := n.stretch(first)
		if !n.hasPlace(from, to) {
			from, to = 0, len(n.t)
		}
		for k, p := range n.at {
			if p.from >= from && p.from < to {
				set(k)
			}
		}
		return
	}
	row := before // places in a row with it
	for row > 0 && n.nothingBetween(n.at[row-1].to, n.at[row].from) && n.at[row-1].o["layers"] == nil {
		row--
	}
	if row == before || labelled || n.c.pick(2) == 1 {
		row = before
	}
	for k := row; k <= before; k++ {
		set(k)
	}
}

// stretch is what belongs to the operation or check that token i stands with.
func (n *note) stretch(i int) (from, to int) {
	first := true
	for j := range n.t {
		_, op := n.sense(j, "operations")
		_, check := n.sense(j, "checks")
		if !op && !check || n.isQuantityHere(j, "operations") || n.isQuantityHere(j, "checks") {
			continue
		}
		switch {
		case first:
			first = false
		case j > i:
			return from, j
		default:
			from = j
		}
	}
	return from, len(n.t)
}

func (n *note) nothingBetween(from, to int) bool {
	for _, t := range n.t[from:to] {
		if !t.used && !t.filler && t.kind != aStop {
			return false
		}
	}
	return true
}

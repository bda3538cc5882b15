package loose

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// segment is a stretch of tokens that belongs to one check or operation.
type segment struct {
	word     string
	from, to int
}

// segments cuts the note at the words of a list. What stands in front of the
// first belongs to it. A word with several meanings is each in turn.
func (n *note) segments(list string, from int) []segment {
	var out []segment
	for i := from; i < len(n.t); i++ {
		names := n.sensesIn(i, list, Always)
		if len(names) == 0 || n.t[i].used || n.isQuantityHere(i, list) || n.onlyFiller(i, out) {
			continue
		}
		name := names[0]
		if len(names) > 1 {
			name = names[n.c.pick(len(names))]
		}
		n.t[i].used = true
		out = append(out, segment{word: name, from: i})
	}
	for i := range out {
		out[i].to = len(n.t)
		if i+1 < len(out) {
			out[i].to = out[i+1].from
		}
	}
	if len(out) > 0 {
		out[0].from = from
	}
	return out
}

// onlyFiller says whether a word that is filler too, as meter, is no head here:
// there is one before it and no number behind it.
func (n *note) onlyFiller(i int, before []segment) bool {
	return n.t[i].filler && len(before) > 0 &&
		!slices.ContainsFunc(n.t[i:], func(t token) bool { return t.kind == aNumber && !t.used })
}

// isQuantityHere says whether a word that is a quantity too is the quantity:
// strip 4 in a hose test.
func (n *note) isQuantityHere(i int, list string) bool {
	if _, also := n.sense(i, quantities); !also || !n.holds(i, ByNumber) {
		return false
	}
	for j := range n.t {
		if j == i {
			continue
		}
		for other := range kindOf {
			if _, ok := n.sense(j, other); ok && (other != list || !n.holds(j, ByNumber)) {
				if _, q := n.sense(j, quantities); !q || !n.holds(j, ByNumber) {
					return true
				}
			}
		}
	}
	return false
}

// placesIn are the places that stand in a segment.
func (n *note) placesIn(s segment) format.Array {
	var out format.Array
	for i, p := range n.at {
		if p.from >= s.from && p.from < s.to {
			out = append(out, p.o)
			n.at[i].taken = true
		}
	}
	return out
}

// placesOf gives a segment its places. One without a place behind or in front of
// one with a place may mean the same.
func (n *note) placesOf(all []segment, i int) format.Array {
	own := n.placesIn(all[i])
	if len(own) > 0 || len(all) == 1 || slices.Contains(anywhere, all[i].word) {
		return own
	}
	for _, other := range slices.Concat(reversed(all[:i]), all[i+1:]) {
		if near := n.placesIn(other); len(near) > 0 {
			if n.c.pick(2) == 1 {
				return clonePlaces(near)
			}
			return nil
		}
	}
	return nil
}

// anywhere are words that ask for no place.
var anywhere = []string{"hall-air", "weld-strip", "bond-coupon", "foam-coupon"}

func reversed(in []segment) []segment {
	out := slices.Clone(in)
	slices.Reverse(out)
	return out
}

func clonePlaces(in format.Array) format.Array {
	out, _ := format.Clone(in).(format.Array)
	return out
}

// overWhole belong to the whole of a work note, unless its operation carries
// them.
var overWhole = []string{"air-temp", "ground-temp", "humidity", "open-for"}

func (n *note) work() error {
	n.readNames()
	if err := n.places(); err != nil {
		return err
	}
	end := n.checkedFrom("operations")
	ops := n.segments("operations", 0)
	for i := range ops {
		ops[i].to = min(ops[i].to, end)
	}
	if len(ops) == 0 && n.d.Body["ops"] == nil {
		return unclear(Kind, "work: with which operation")
	}
	with := format.Object{}
	for i, s := range ops {
		op := format.Object{"op": s.word}
		if at := n.placesOf(ops, i); len(at) > 0 {
			op["places"] = at
		}
		if err := n.operation(op, s, with); err != nil {
			return err
		}
		n.append("ops", op)
	}
	if len(with) > 0 {
		n.d.Body["values"] = with
	}
	n.mergeLike("ops", "op")
	if n.takeWord(grammar, "closed over") || n.takeWord(labels, "hides") {
		n.d.Body["hides"] = true
	}
	if n.takeWord("state", "open") {
		n.d.Body["state"] = "open"
	}
	return n.results(end)
}

// checkedFrom is where the checks behind the last word of a list begin.
func (n *note) checkedFrom(list string) int {
	end := len(n.t)
	if i := n.find(labels, "checked"); i >= 0 {
		n.t[i].used = true
		end = i
	}
	last := n.lastOf(list)
	for i := range n.t {
		if _, ok := n.sense(i, "checks"); ok && !n.t[i].used && i > last && !n.isQuantityHere(i, "checks") {
			end = min(end, i)
		}
	}
	return end
}

// readNames takes the name that an operation gives: calls it W3.
func (n *note) readNames() {
	for i := range n.t {
		if (n.means(i, grammar, "called") || n.means(i, labels, "names")) && i+1 < len(n.t) && n.t[i+1].kind == aTag {
			n.names = append(n.names, i+1)
			n.use(i, i+2)
		}
	}
}

func (n *note) operation(op format.Object, s segment, with format.Object) error {
	uses, err := n.lots(s.from, s.to)
	if err == nil {
		err = n.amid(s)
	}
	if err != nil {
		return err
	}
	for _, u := range uses {
		list, _ := op["uses"].(format.Array)
		op["uses"] = append(list, u)
	}
	for _, i := range n.names {
		if i >= s.from && i < s.to {
			op["names"] = n.t[i].s
		}
	}
	n.wordsInto(op, s, "fastener", "onto")
	values, err := n.quantities(s.from, s.to, quantitiesOf("operations", s.word))
	if err != nil {
		return err
	}
	for _, name := range overWhole {
		if v, ok := values[name]; ok && !carriesOf(quantitiesOf("operations", s.word), name) {
			if _, twice := with[name]; twice {
				return unclear(Number, "%s is said twice", name)
			}
			with[name] = v
			delete(values, name)
		}
	}
	if len(values) > 0 {
		op["values"] = values
	}
	return nil
}

// coupons are checks of a material: its word needs no label.
var coupons = []string{"foam-coupon", "bond-coupon"}

// wordsInto takes words of lists in a segment.
func (n *note) wordsInto(o format.Object, s segment, names ...string) {
	for _, name := range names {
		list := map[string]string{"fastener": "fastener", "failure": "fail", "onto": "material", "material": "material"}[name]
		for i := s.from; i < s.to; i++ {
			word, ok := n.sense(i, list)
			if !ok || n.t[i].used || o[name] != nil {
				continue
			}
			if list == "material" {
				onto := i > 0 && (n.t[i-1].s == "onto" || n.t[i-1].s == "on")
				labelled := i > 0 && n.t[i-1].s == name
				coupon := name == "material" && slices.Contains(coupons, s.word) && !onto
				if !labelled && !coupon && (name != "onto" || !onto) {
					continue
				}
				n.t[i-1].used = n.t[i-1].used || labelled || onto
			}
			o[name] = word
			n.t[i].used = true
		}
	}
}

// mergeLike joins neighbours of the same word without values of their own.
func (n *note) mergeLike(member, head string) {
	list, _ := n.d.Body[member].(format.Array)
	var out format.Array
	for _, v := range list {
		o := v.(format.Object)
		if len(out) > 0 {
			before := out[len(out)-1].(format.Object)
			if before[head] == o[head] && bareOf(before, head) && bareOf(o, head) {
				a, _ := before["places"].(format.Array)
				b, _ := o["places"].(format.Array)
				before["places"] = append(a, b...)
				continue
			}
		}
		out = append(out, o)
	}
	if out != nil {
		n.d.Body[member] = out
	}
}

// bareOf says whether an object has its head and places alone.
func bareOf(o format.Object, head string) bool {
	for _, name := range sortedNames(o) {
		if name != head && name != "places" {
			return false
		}
	}
	return o["places"] != nil
}

func (n *note) check() error {
	if err := n.places(); err != nil {
		return err
	}
	n.scale()
	if err := n.takeCauses(); err != nil {
		return err
	}
	if err := n.results(0); err != nil {
		return err
	}
	if n.d.Body["results"] == nil {
		return unclear(Kind, "check: with what")
	}
	return nil
}

func (n *note) scale() {
	if n.kind.Name != "check" {
		return
	}
	if name, i := n.take("scale"); i >= 0 {
		n.d.Body["scale"] = name
		n.takeWord(labels, "scale")
		n.takeWord(grammar, "scale")
	}
}

// results reads the checks from token from on.
func (n *note) results(from int) error {
	if from >= len(n.t) {
		return nil
	}
	segs := n.lines(n.segments("checks", from))
	if len(segs) == 0 && n.pins {
		segs = []segment{{"pins", 0, len(n.t)}}
	}
	for i, s := range segs {
		if err := n.result(segs, i, s); err != nil {
			return err
		}
	}
	n.mergeLike("results", "check")
	return nil
}

// lines cuts a block that opens with a check word at its lines: each is one
// result. A line of words alone belongs to the one above.
func (n *note) lines(segs []segment) []segment {
	var out []segment
	for _, s := range segs {
		from := s.from
		for i := s.from; i <= s.to; i++ {
			if i < s.to && n.t[i].kind != aNewline {
				continue
			}
			switch {
			case n.saysResult(from, i), i == s.to && (len(out) == 0 || from == s.from):
				out = append(out, segment{s.word, from, i})
			case len(out) > 0:
				out[len(out)-1].to = i
			}
			from = i + 1
		}
	}
	return out
}

// saysResult says whether a line has a place, a number, or passed or not.
func (n *note) saysResult(from, to int) bool {
	if n.hasPlace(from, to) {
		return true
	}
	for i := from; i < to; i++ {
		if n.t[i].kind == aNumber && !n.t[i].used || n.means(i, grammar, "pass") || n.means(i, grammar, "not pass") {
			return true
		}
	}
	return false
}

func (n *note) hasPlace(from, to int) bool {
	return slices.ContainsFunc(n.at, func(p placed) bool { return p.from >= from && p.from < to })
}

func (n *note) result(segs []segment, i int, s segment) error {
	o := format.Object{"check": s.word}
	if err := n.cameIn(o, s); err != nil {
		return err
	}
	at := n.placesOf(segs, i)
	n.resultLots(o, s)
	n.wordsInto(o, s, "failure", "material", "onto", "fastener")
	for j := s.from; j < s.to; j++ {
		if n.means(j, grammar, "not pass") {
			o["pass"] = false
			n.t[j].used = true
		} else if n.means(j, grammar, "pass") {
			if o["pass"] != nil {
				return unclear(Word, "%s: passed or not", n.t[j].raw)
			}
			o["pass"] = true
			n.t[j].used = true
		}
	}
	word := quantitiesOf("checks", s.word)
	rows, err := n.paired(o, s, word, at)
	if err != nil {
		return err
	}
	for _, row := range rows {
		n.append("results", row)
	}
	return nil
}

// resultLots takes the lots of a result: lot M-5520.
func (n *note) resultLots(o format.Object, s segment) {
	for i := s.from; i < s.to; i++ {
		t := n.t[i]
		if t.kind != aTag || t.used {
			continue
		}
		j := n.before(i)
		labelled := j >= s.from && n.t[j].s == "lot"
		if _, known := n.coach.Lots[t.s]; !known && !labelled {
			continue
		}
		list, _ := o["lots"].(format.Array)
		o["lots"] = append(list, t.s)
		n.t[i].used = true
		if labelled {
			n.t[j].used = true
		}
	}
}

// cameIn takes the place where the water came in.
func (n *note) cameIn(o format.Object, s segment) error {
	for i := s.from; i < s.to; i++ {
		if !n.means(i, grammar, "came in") {
			continue
		}
		k := slices.IndexFunc(n.at, func(p placed) bool { return p.from > i && n.nothingBetween(i+1, p.from) })
		if k < 0 {
			return unclear(Place, "%s: where", n.t[i].raw)
		}
		o["came-in"] = n.at[k].o
		n.at = slices.Delete(n.at, k, k+1)
		n.t[i].used = true
	}
	return nil
}

// paired gives places and numbers of one quantity to one another in order.
func (n *note) paired(o format.Object, s segment, word ledger.Word, at format.Array) ([]format.Object, error) {
	free := n.freeNumbers(s, word)
	whole := func(places format.Array) ([]format.Object, error) {
		values, err := n.quantities(s.from, s.to, word)
		if err != nil {
			return nil, err
		}
		if len(values) > 0 {
			o["values"] = values
		}
		if len(places) > 0 {
			o["places"] = places
		}
		return []format.Object{o}, nil
	}
	q, single := onlyMust(word)
	switch {
	case !single || len(at) <= 1 && len(free) <= 1 || len(free) == 0:
		return whole(at)
	case len(at) > len(free):
		return nil, unclear(Number, "%d places and %d numbers", len(at), len(free))
	}
	values := make([]int64, len(free))
	for k, i := range free {
		if i > s.from && n.t[i-1].s == "to" && k > 0 && free[k-1] == i-2 {
			return nil, unclear(Number, "%s: one number each", rawOf(n.t[i-2:i+1]))
		}
		v, err := n.keptOf(n.t[i], q)
		if err != nil {
			return nil, err
		}
		values[k] = v
		n.t[i].used = true
	}
	rest, err := n.quantities(s.from, s.to, word)
	if err != nil {
		return nil, err
	}
	var rows []format.Object
	for k := range values {
		row, _ := format.Clone(o).(format.Object)
		all, _ := format.Clone(rest).(format.Object)
		if _, twice := all[q.Name]; twice {
			return nil, unclear(Number, "%s is said twice", q.Name)
		}
		all[q.Name] = values[k]
		row["values"] = all
		rows = append(rows, row)
	}
	return n.dealt(rows, at), nil
}

// dealt gives rows their places. With more rows than places it is unclear which
// of them have none.
func (n *note) dealt(rows []format.Object, at format.Array) []format.Object {
	if len(at) == 0 {
		return rows
	}
	second := len(rows) > len(at) && n.c.pick(2) == 1
	for k := range rows {
		switch {
		case second && len(at) == 1:
			rows[k]["places"] = clonePlaces(at)
		case second && k >= len(rows)-len(at):
			rows[k]["places"] = format.Array{at[k-len(rows)+len(at)]}
		case !second && k < len(at):
			rows[k]["places"] = format.Array{at[k]}
		}
	}
	return rows
}

// onlyMust is the one quantity that a word must carry, of one number.
func onlyMust(word ledger.Word) (ledger.Quantity, bool) {
	var name string
	for _, c := range word.Carries {
		if c.Must && name != "" {
			return ledger.Quantity{}, false
		}
		if c.Must {
			name = c.Quantity
		}
	}
	q, ok := ledger.QuantityNamed(name)
	return q, ok && q.Many == ledger.OneNumber && q.Unit != ledger.UnitSlope
}

// freeNumbers are the numbers of a segment that may be of its one quantity and
// have no other word beside them.
func (n *note) freeNumbers(s segment, word ledger.Word) []int {
	q, ok := onlyMust(word)
	if !ok {
		return nil
	}
	v := values{n: n, from: s.from, to: s.to, word: word}
	var out []int
	for i := s.from; i < s.to; i++ {
		if !v.free(i) || !fits(n.t[i], q.Unit) {
			continue
		}
		j, name := v.wordOf(i)
		if name == "" {
			out = append(out, i)
			continue
		}
		if name == q.Name {
			n.t[j].used = true
			out = append(out, i)
		}
	}
	return out
}

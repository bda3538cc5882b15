package loose

import (
	"math/big"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// values are the quantities of one word in a stretch of tokens.
type values struct {
	n        *note
	from, to int
	word     ledger.Word
	o        format.Object
}

// quantities reads the quantities of a word in tokens from to to.
func (n *note) quantities(from, to int, word ledger.Word) (format.Object, error) {
	v := values{n: n, from: from, to: to, word: word, o: format.Object{}}
	for _, step := range []func() error{v.none, v.beside, v.of, v.pairs, v.count, v.byUnit, v.bare, v.within} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return v.o, nil
}

// within refuses a gap that is wider than the straight-edge over it: the two
// numbers were taken the wrong way round.
func (v *values) within() error {
	gap, measured := v.o["gap"].(int64)
	under, long := v.o["under"].(int64)
	if measured && long && gap >= under {
		return unclear(Number, "gap %d under %d: which is which", gap, under)
	}
	return nil
}

func (v *values) free(i int) bool {
	return i >= v.from && i < v.to && !v.n.t[i].used && v.n.t[i].kind == aNumber
}

func (v *values) set(name string, value format.Value) error {
	if _, twice := v.o[name]; twice {
		return unclear(Number, "%s is said twice", name)
	}
	v.o[name] = value
	return nil
}

// none reads no voids, none hollow, no rise, voids none.
func (v *values) none() error {
	for i := v.from; i < v.to; i++ {
		t := v.n.t[i]
		if !t.is("no") && !t.is("none") {
			continue
		}
		for _, j := range []int{i + 1, i - 1} {
			name, ok := v.n.sense(j, quantities)
			if !ok || j < v.from || j >= v.to || v.n.t[j].used {
				continue
			}
			q, _ := ledger.QuantityNamed(name)
			var zero format.Value = int64(0)
			if q.Many == ledger.ListOfNumbers {
				zero = format.Array{}
			} else if q.Many != ledger.OneNumber || t.s == "no" && j < i {
				continue
			}
			v.n.t[i].used, v.n.t[j].used = true, true
			if err := v.set(name, zero); err != nil {
				return err
			}
			break
		}
	}
	return nil
}

// adjectives stand behind their number: 420 long.
var adjectives = []string{"long", "wide", "high", "deep", "thick", "apart", "left", "across", "rh", "hollow", "short"}

// prepositions stand in front of their number alone: under 1.5 m, over 4 mm.
var prepositions = []string{"under", "over", "through", "after", "every", "gives", "needs"}

// beside gives numbers to the quantity words next to them.
func (v *values) beside() error {
	for i := v.from; i < v.to; i++ {
		if !v.free(i) || v.inOf(i) && v.n.t[i].unit == "" {
			continue
		}
		j, name := v.wordOf(i)
		if name == "" || j > i && v.between(i, j) && v.n.c.pick(2) == 1 {
			continue
		}
		q, _ := ledger.QuantityNamed(name)
		v.n.t[j].used = true
		if err := v.take(i, q); err != nil {
			return err
		}
	}
	return nil
}

// between says whether a word stands between two numbers and may be of either:
// 120 deep 10.
func (v *values) between(i, word int) bool {
	after := v.n.behind(word)
	if after != word+1 || after >= v.to || !v.free(after) {
		return false
	}
	if _, ok := v.quantityAt(word, after); !ok {
		return false
	}
	_, own := v.quantityAt(v.n.behind(after), after)
	return !own
}

// inOf says whether a number stands in A of B.
func (v *values) inOf(i int) bool {
	return v.isOf(i) || v.isOf(i-2)
}

func (v *values) isOf(i int) bool {
	return v.free(i) && v.free(i+2) && v.n.t[i+1].is("of")
}

// wordOf finds the quantity word of a number: in front of it, or behind it.
func (v *values) wordOf(i int) (int, string) {
	before, behind := v.n.before(i), v.n.behind(i)
	front, inFront := v.quantityAt(before, i)
	back, atBack := v.quantityAt(behind, i)
	if inFront {
		return before, front
	}
	if !atBack || slices.Contains(prepositions, v.n.t[behind].s) {
		return -1, ""
	}
	if !slices.Contains(adjectives, v.n.t[behind].s) && v.leads(behind) {
		return -1, ""
	}
	return behind, back
}

// leads says whether a quantity word is of the number behind it: 480 overlap 40.
// In a row that ends with a word each is of the number in front: 46 wet 21 dry.
func (v *values) leads(word int) bool {
	for {
		after := v.n.behind(word)
		if !v.free(after) {
			return false
		}
		if _, ok := v.quantityAt(word, after); !ok {
			return false
		}
		next := v.n.behind(after)
		if _, own := v.quantityAt(next, after); !own {
			return true
		}
		word = next
	}
}

// quantityAt is the quantity that token j is, if the number fits it.
func (v *values) quantityAt(j, number int) (string, bool) {
	if j < v.from || j >= v.to || v.n.t[j].used {
		return "", false
	}
	names := v.n.sensesIn(j, quantities, Always)
	if v.n.kind.Name == "delivery" {
		slices.Reverse(names) // what a sheet says comes before what a check says
	}
	for _, name := range names {
		q, _ := ledger.QuantityNamed(name)
		if name == "left" && !carriesOf(v.word, "left") {
			if carriesOf(v.word, "section-left") && v.n.t[number].unit != "" && fits(v.n.t[number], ledger.UnitPerMille) {
				return "section-left", true
			}
			continue
		}
		if (name == "under" || name == "over-layer" && v.n.t[j].s != "over-layer" && v.n.t[j].s != "over layer") && !carriesOf(v.word, name) {
			continue
		}
		if fits(v.n.t[number], q.Unit) || v.n.isRatio(number) {
			return name, true
		}
	}
	return "", false
}

func carriesOf(w ledger.Word, name string) bool {
	return slices.ContainsFunc(w.Carries, func(c ledger.Carry) bool { return c.Quantity == name })
}

// take makes a value of the number at token i, and of those that belong to it.
func (v *values) take(i int, q ledger.Quantity) error {
	switch {
	case q.Unit == ledger.UnitSlope:
		return v.ratio(i, q)
	case q.Many == ledger.OneNumber:
		n, err := v.n.keptOf(v.n.t[i], q)
		v.n.t[i].used = true
		if err != nil {
			return err
		}
		return v.set(q.Name, n)
	case q.Many == ledger.PairOfNumbers:
		if i+2 < v.to && v.n.isPair(i) {
			return v.pair(i, q)
		}
		return unclear(Number, "%s %s: two numbers, as 60 x 45", q.Name, v.n.t[i].raw)
	case q.Many == ledger.LowHigh:
		return v.lowHigh(i, q)
	}
	return v.list(i, q)
}

// isRatio says whether 1 in 50, 1 to 8 or 1:50 begins at token i.
func (n *note) isRatio(i int) bool {
	return i+2 < len(n.t) && n.t[i].kind == aNumber && n.t[i].whole && n.t[i].unit == "" && n.t[i].num.Cmp(big.NewRat(1, 1)) == 0 &&
		n.t[i+2].kind == aNumber && n.t[i+2].whole && n.t[i+2].unit == "" &&
		(n.t[i+1].s == "in" || n.t[i+1].s == "to" || n.t[i+1].s == ":" && n.t[i+1].glued && n.t[i+2].glued)
}

func (v *values) ratio(i int, q ledger.Quantity) error {
	if !v.n.isRatio(i) {
		return unclear(Number, "%s %s: written 1 in 50", q.Name, v.n.t[i].raw)
	}
	v.n.use(i, i+3)
	return v.set(q.Name, v.n.t[i+2].num.Num().Int64())
}

// isPair says whether A x B begins at token i.
func (n *note) isPair(i int) bool {
	return i+2 < len(n.t) && n.t[i].kind == aNumber && n.t[i+2].kind == aNumber && !n.t[i+1].used && (n.t[i+1].s == "x" || n.t[i+1].s == "by")
}

func (v *values) pair(i int, q ledger.Quantity) error {
	a, b := v.n.bothUnits(i)
	first, err := v.n.keptOf(a, q)
	if err != nil {
		return err
	}
	second, err := v.n.keptOf(b, q)
	if err != nil {
		return err
	}
	v.n.use(i, i+3)
	return v.set(q.Name, format.Array{first, second})
}

// bothUnits are the two numbers of a pair, with the unit behind the last for
// both.
func (n *note) bothUnits(i int) (a, b token) {
	a, b = n.t[i], n.t[i+2]
	if a.unit == "" {
		a.unit = b.unit
	}
	return a, b
}

// lowHigh reads 220 to 300 g/m2, 10/30 C.
func (v *values) lowHigh(i int, q ledger.Quantity) error {
	if i+2 >= v.to || !v.free(i+2) || !slices.Contains([]string{"to", "-", "/", "and"}, v.n.t[i+1].s) {
		return unclear(Number, "%s %s: from and to", q.Name, v.n.t[i].raw)
	}
	return v.pair(i, q)
}

// list takes the numbers that stand together; the last may have the unit.
func (v *values) list(i int, q ledger.Quantity) error {
	for i > v.from && v.free(i-1) && fits(v.n.t[i-1], q.Unit) && v.n.t[i-1].unit == "" {
		if _, name := v.wordOf(i - 1); name != "" && name != q.Name {
			break
		}
		i--
	}
	group := []int{i}
	unit := v.n.t[i].unit
	for at := i + 1; at < v.to; {
		next := at
		comma := v.n.t[next].kind == aStop && v.n.t[next].s == ","
		if comma || v.n.t[next].kind == aSign && v.n.t[next].s == "/" || v.n.t[next].is("and") {
			next++
		}
		if next >= v.to || !v.free(next) || !fits(v.n.t[next], q.Unit) || comma && !v.n.t[next].whole {
			break
		}
		if _, name := v.wordOf(next); name != "" && name != q.Name {
			break
		}
		if v.n.t[next].unit != "" {
			unit = v.n.t[next].unit
		}
		group = append(group, next)
		at = next + 1
	}
	var out format.Array
	for _, j := range group {
		t := v.n.t[j]
		if t.unit == "" {
			t.unit = unit
		}
		n, err := v.n.keptOf(t, q)
		if err != nil {
			return err
		}
		out = append(out, n)
	}
	v.n.use(i, group[len(group)-1]+1)
	return v.set(q.Name, out)
}

// of reads A of B: the first quantity of the word, and the thickness.
func (v *values) of() error {
	for i := v.from; i < v.to; i++ {
		if !v.isOf(i) || len(v.word.Carries) == 0 {
			continue
		}
		first, _ := ledger.QuantityNamed(v.word.Carries[0].Quantity)
		if first.Name == "thickness" || !carriesOf(v.word, "thickness") {
			continue
		}
		second, _ := ledger.QuantityNamed("thickness")
		a, b := v.n.bothUnits(i)
		if j := v.n.before(i); j >= v.from && v.n.means(j, quantities, first.Name) {
			v.n.t[j].used = true
		}
		left, err := v.n.keptOf(a, first)
		if err != nil {
			return err
		}
		whole, err := v.n.keptOf(b, second)
		if err != nil {
			return err
		}
		if first.Unit == ledger.UnitMm && left*1000 > whole || first.Unit == ledger.UnitUm && left > whole {
			return unclear(Number, "%s: more than the whole", rawOf(v.n.t[i:i+3]))
		}
		v.n.use(i, i+3)
		if err := v.set(first.Name, left); err != nil {
			return err
		}
		if err := v.set(second.Name, whole); err != nil {
			return err
		}
	}
	return nil
}

// pairs reads A x B: the pair the word carries; of fasteners diameter and length.
func (v *values) pairs() error {
	for i := v.from; i < v.to; i++ {
		if !v.free(i) || !v.free(i+2) || !v.n.isPair(i) {
			continue
		}
		if name, ok := v.carriedPair(); ok {
			if err := v.pair(i, name); err != nil {
				return err
			}
			continue
		}
		length, ok := map[string]string{"stray-screws": "length", "failed-fastener": "length", "short-bite": "leg", "fasten": "leg", "fasteners": "length"}[v.word.Name]
		if !ok {
			return unclear(Number, "%s: of what", rawOf(v.n.t[i:i+3]))
		}
		a, b := v.n.bothUnits(i)
		v.n.use(i, i+3)
		for name, t := range map[string]token{"diameter": a, length: b} {
			q, _ := ledger.QuantityNamed(name)
			n, err := v.n.keptOf(t, q)
			if err != nil {
				return err
			}
			if err := v.set(name, n); err != nil {
				return err
			}
		}
	}
	return nil
}

func (v *values) carriedPair() (ledger.Quantity, bool) {
	for _, c := range v.word.Carries {
		if q, _ := ledger.QuantityNamed(c.Quantity); q.Many == ledger.PairOfNumbers && v.o[q.Name] == nil {
			return q, true
		}
	}
	return ledger.Quantity{}, false
}

// count reads 14 blisters: a number in front of the word that counts.
func (v *values) count() error {
	if !carriesOf(v.word, "count") || v.o["count"] != nil {
		return nil
	}
	for i := v.from; i < v.to-1; i++ {
		if !v.free(i) || !v.n.t[i].whole || v.n.t[i].unit != "" {
			continue
		}
		next := v.n.t[i+1]
		if next.kind == aWord && slices.ContainsFunc(next.senses, func(s sense) bool { return s.name == v.word.Name }) {
			q, _ := ledger.QuantityNamed("count")
			return v.take(i, q)
		}
	}
	return nil
}

// byUnit gives numbers with a unit to the first quantity of that unit still
// free.
func (v *values) byUnit() error {
	for i := v.from; i < v.to; i++ {
		if !v.free(i) || v.n.t[i].unit == "" {
			continue
		}
		if err := v.oneMore(i); err != nil {
			return err
		}
		name, ok := v.firstFree(func(q ledger.Quantity) bool { return sameUnit(v.n.t[i], q.Unit) })
		if !ok {
			name, ok = v.firstFree(func(q ledger.Quantity) bool { return fits(v.n.t[i], q.Unit) })
		}
		if !ok {
			return v.wrongUnit(i)
		}
		if err := v.take(i, name); err != nil {
			return err
		}
	}
	return nil
}

func (v *values) wrongUnit(i int) error {
	t := v.n.t[i]
	switch {
	case v.word.Name == "pinless" && unitTable[t.unit].dim == dimPercent:
		return unclear(UnitOf, "%s %s: a pinless meter has no per cent", t.raw, t.unit)
	case unitTable[t.unit].dim == dimMil:
		return unclear(UnitOf, "%s %s: thousandths of an inch, or millimetres", t.raw, t.unit)
	case len(v.word.Carries) == 1 && v.word.Carries[0].Must:
		return unclear(UnitOf, "%s %s: %s is not measured so", t.raw, t.unit, v.word.Carries[0].Quantity)
	}
	return nil
}

// oneMore refuses a number that is one more of the same: 60 mm and 40 mm, strip 1
// to 4.
func (v *values) oneMore(i int) error {
	if i-2 >= v.from && slices.Contains([]string{"and", "to", "-"}, v.n.t[i-1].s) && v.n.t[i-2].kind == aNumber && !v.n.ofPlaces(i-2) {
		return unclear(Number, "%s: a line for each", rawOf(v.n.t[i-2:i+1]))
	}
	return nil
}

// ofPlaces says whether token i belongs to a place.
func (n *note) ofPlaces(i int) bool {
	return slices.ContainsFunc(n.at, func(p placed) bool { return p.from <= i && i < p.to })
}

// bare gives numbers without a unit to the first quantity still free.
func (v *values) bare() error {
	for i := v.from; i < v.to; i++ {
		if !v.free(i) || v.n.t[i].unit != "" {
			continue
		}
		if err := v.oneMore(i); err != nil {
			return err
		}
		ratio := v.n.isRatio(i)
		q, ok := v.firstFree(func(q ledger.Quantity) bool { return (q.Unit == ledger.UnitSlope) == ratio })
		if !ok {
			continue
		}
		if err := v.take(i, q); err != nil {
			return err
		}
	}
	return nil
}

// firstFree is the first required quantity of the word that is free, else the
// first usual one.
func (v *values) firstFree(ok func(ledger.Quantity) bool) (ledger.Quantity, bool) {
	for _, c := range v.word.Carries { // required ones stand first
		q, _ := ledger.QuantityNamed(c.Quantity)
		if v.o[q.Name] == nil && ok(q) {
			return q, true
		}
	}
	return ledger.Quantity{}, false
}

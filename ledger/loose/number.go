package loose

import (
	"math/big"
	"slices"
	"strings"

	"lapmark/ledger"
)

// numbers makes numbers of number words, joins whole numbers with the fractions
// behind them, and gives numbers their units.
func numbers(in []token) []token {
	return units(signs(fractions(spoken(in))))
}

// spoken reads numbers said in words: thirty-one point zero, seventy-four
// hundred.
func spoken(in []token) []token {
	var out []token
	for i := 0; i < len(in); {
		if t, next, ok := spokenAt(in, i); ok {
			out = append(out, t)
			i = next
			continue
		}
		if in[i].kind == aNumber && i+1 < len(in) && in[i+1].glued && slices.Contains([]string{"st", "nd", "rd", "th"}, in[i+1].s) {
			out = append(out, in[i])
			i += 2
			continue
		}
		out = append(out, in[i])
		i++
	}
	return out
}

// numberWord is the value of a number word; hyphens between two of them are
// passed by the caller.
func numberWord(t token) (int64, bool) {
	n, ok := numberWords[t.s]
	return n, ok && t.kind == aWord
}

// passHyphen goes over the hyphen of thirty-one.
func passHyphen(in []token, i int) int {
	if i < len(in) && in[i].kind == aSign && in[i].s == "-" && in[i].glued {
		return i + 1
	}
	return i
}

func spokenAt(in []token, i int) (token, int, bool) {
	if t, next, ok := spokenFraction(in, i); ok {
		return t, next, ok
	}
	n, next, ok := spokenWhole(in, i)
	if !ok {
		return token{}, i, false
	}
	t := token{
		kind: aNumber, num: new(big.Rat).SetInt64(n), whole: true, s: ledger.Decimal(n), glued: in[i].glued, from: in[i].from,
	}
	if next < len(in) && in[next].is("point") {
		if figures, after := spokenFigures(in, next+1); figures != "" {
			t.num.SetString(t.s + "." + figures)
			t.s, t.whole, next = t.s+"."+figures, false, after
		}
	} else if f, after, ok := spokenFraction(in, skipWord(in, next, "and")); ok && after > next && in[next].is("and") {
		t.num.Add(t.num, f.num)
		t.broken, t.whole, next = true, false, after
	} else if second, after, ok := spokenWhole(in, next); ok && n >= 10 && n < 100 && second >= 10 && second < 100 && next > i && (after == len(in) || !in[after].is("point")) {
		t.pairs = true
		t.num.SetInt64(n*100 + second)
		t.s, next = ledger.Decimal(n*100+second), after
	}
	t.raw = rawOf(in[i:next])
	return t, next, true
}

func skipWord(in []token, i int, word string) int {
	if i < len(in) && in[i].is(word) {
		return i + 1
	}
	return i
}

// spokenFigures reads the figures behind point, one by one.
func spokenFigures(in []token, i int) (string, int) {
	out := ""
	for i < len(in) {
		n, ok := numberWord(in[i])
		if in[i].kind == aNumber && in[i].whole && len(in[i].s) == 1 {
			n, ok = in[i].num.Num().Int64(), true
		}
		if !ok || n > 9 {
			break
		}
		out += ledger.Decimal(n)
		i++
	}
	return out, i
}

// spokenFraction reads a half, a quarter, three quarters, half a.
func spokenFraction(in []token, i int) (token, int, bool) {
	if t, next, ok := halfOf(in, i); ok {
		return t, next, ok
	}
	if i+1 >= len(in) || !in[i].is("a") && !in[i].is("three") {
		return token{}, i, false
	}
	of := map[string]*big.Rat{"half": big.NewRat(1, 2), "quarter": big.NewRat(1, 4), "quarters": big.NewRat(3, 4)}
	n, ok := of[in[i+1].s]
	first := in[i].s
	if !ok || in[i+1].kind != aWord || (first == "three") != (in[i+1].s == "quarters") || first != "a" && first != "three" {
		return token{}, i, false
	}
	return token{kind: aNumber, num: n, broken: true, s: n.RatString(), raw: rawOf(in[i : i+2]), from: in[i].from}, i + 2, true
}

// halfOf reads half a cartridge, half an inch.
func halfOf(in []token, i int) (token, int, bool) {
	if i+2 >= len(in) || !in[i].is("half") || !in[i+1].is("a") && !in[i+1].is("an") || !isUnit(in[i+2].s) && !isPack(in[i+2].s) {
		return token{}, i, false
	}
	half := big.NewRat(1, 2)
	return token{kind: aNumber, num: half, broken: true, s: half.RatString(), raw: rawOf(in[i : i+2]), from: in[i].from}, i + 2, true
}

// spokenWhole reads zero to ninety-nine, with hundreds and thousands.
func spokenWhole(in []token, i int) (int64, int, bool) {
	n, next, ok := spokenTens(in, i)
	if !ok {
		return 0, i, false
	}
	for next < len(in) {
		times, isTimes := numberWord(in[next])
		if !isTimes || times != 100 && times != 1000 || n == 0 || n >= times && times == 100 && n > 99 {
			break
		}
		n *= times
		next++
		at := skipWord(in, next, "and")
		if more, after, ok := spokenTens(in, at); ok && (at == next || more < times) {
			follows, isTimes := int64(0), false
			if after < len(in) {
				follows, isTimes = numberWord(in[after])
			}
			if isTimes && follows == 100 && times == 1000 {
				more *= 100
				after++
			}
			n += more
			next = after
		}
	}
	return n, next, true
}

func spokenTens(in []token, i int) (int64, int, bool) {
	if i >= len(in) {
		return 0, i, false
	}
	n, ok := numberWord(in[i])
	if !ok || n >= 100 {
		return 0, i, false
	}
	i++
	if n >= 20 {
		at := passHyphen(in, i)
		if at < len(in) {
			if one, ok := numberWord(in[at]); ok && one > 0 && one < 10 {
				return n + one, at + 1, true
			}
		}
	}
	return n, i, true
}

func rawOf(in []token) string {
	out := ""
	for i, t := range in {
		if i > 0 && !t.glued {
			out += " "
		}
		out += t.raw
	}
	return out
}

// fractions joins 1 1/4 and 5/8.
func fractions(in []token) []token {
	var out []token
	for i := 0; i < len(in); i++ {
		t := in[i]
		behindStroke := i > 0 && in[i-1].s == "/" && t.glued
		if i+2 < len(in) && !behindStroke && isFraction(in[i:min(i+4, len(in))]) {
			t.num = new(big.Rat).Quo(t.num, in[i+2].num)
			t.raw, t.broken, t.whole = rawOf(in[i:i+3]), true, false
			if last := len(out) - 1; last >= 0 && out[last].kind == aNumber && out[last].whole && !t.glued {
				t.num.Add(t.num, out[last].num)
				t.raw, t.glued, t.from = out[last].raw+" "+t.raw, out[last].glued, out[last].from
				out = out[:last]
			}
			i += 2
		}
		out = append(out, t)
	}
	return out
}

// isFraction says whether a number, a stroke and a number are a fraction as on
// an inch rule; 30/15 is a list.
func isFraction(in []token) bool {
	a, sign, b := in[0], in[1], in[2]
	if a.kind != aNumber || b.kind != aNumber || !a.whole || !b.whole || sign.s != "/" || !sign.glued || !b.glued {
		return false
	}
	if len(in) > 3 && in[3].glued && (in[3].s == "/" || in[3].s == "l" || in[3].s == "r") {
		return false
	}
	n, d := a.num.Num().Int64(), b.num.Num().Int64()
	return n > 0 && n < d && n%2 == 1 && slices.Contains([]int64{2, 4, 8, 16, 32, 64}, d)
}

// units gives each number the unit behind it. An l alone may be a litre or the
// left: places and lots decide that.
func units(in []token) []token {
	var out []token
	for i := 0; i < len(in); i++ {
		out = append(out, in[i])
		if in[i].kind != aNumber {
			continue
		}
		t := &out[len(out)-1]
		unit, next := unitAt(in, i+1)
		if unit == "" {
			continue
		}
		t.unit, t.joined = unit, in[i+1].glued
		i = next - 1
		if unit == "ft" || unit == "foot" || unit == "feet" {
			i = inchesBehind(in, t, next) - 1
		}
	}
	return out
}

// inchesBehind joins 2 ft 3 in.
func inchesBehind(in []token, t *token, i int) int {
	if i >= len(in) || in[i].kind != aNumber {
		return i
	}
	unit, next := unitAt(in, i+1)
	if unit != "in" && unit != "inch" && unit != "inches" {
		return i
	}
	t.num = new(big.Rat).Add(new(big.Rat).Mul(t.num, big.NewRat(12, 1)), in[i].num)
	t.unit, t.broken, t.whole = "in", false, false
	return next
}

// unitAt reads a unit of one word or several: per cent, sq m, l/min, n/50mm.
func unitAt(in []token, i int) (string, int) {
	best, next := "", i
	text := ""
	for j := i; j < min(i+5, len(in)); j++ {
		t := in[j]
		if t.kind != aWord && (t.kind != aSign || t.s != "/") && (t.kind != aNumber || text == "") || t.kind == aNumber && !t.glued {
			break
		}
		if j > i && !t.glued && t.kind == aWord && !strings.HasSuffix(text, "/") {
			text += " "
		}
		text += t.s
		if t.kind == aNumber {
			text = text[:len(text)-len(t.s)] + t.raw
		}
		if _, ok := unitTable[text]; ok {
			best, next = text, j+1
		}
	}
	switch {
	case best == "l" || best == "":
		return "", i
	case best == "in" && !inchAt(in, i):
		return "", i
	case best == "meter" || best == "foot" && next < len(in) && in[next].is("test"):
		return "", i
	}
	return best, next
}

// inchAt says whether in behind a number is an inch: 1 in 50 and 3 in the core
// are not.
func inchAt(in []token, i int) bool {
	if in[i].glued || i+1 >= len(in) {
		return true
	}
	after := in[i+1]
	if after.kind == aNumber && i+2 < len(in) && (in[i+2].kind == aSign || slices.Contains([]string{"aft", "forward", "to"}, in[i+2].s)) {
		return true // a place follows
	}
	return after.kind != aNumber && !slices.Contains([]string{"the", "person", "a", "total", "all", "core", "deck", "skin", "frame"}, after.s) ||
		after.kind == aNumber && !(in[i-1].num.Cmp(big.NewRat(1, 1)) == 0)
}

// Range of what is taken without asking. Source: common practice, no source;
// humidity by definition.
type span struct{ least, most int64 }

var ranges = map[string]span{
	"moisture": {0, 1500}, "humidity": {0, 1000}, "rise": {0, 1500}, "air-temp": {-400, 800}, "ground-temp": {-400, 800},
	"surface-temp": {-400, 800}, "outside-temp": {-400, 800}, "lowest-temp": {-400, 800}, "weld-temp": {1000, 7000},
	"thickness": {0, 100_000}, "left": {0, 100_000}, "film": {0, 100_000}, "loss": {0, 100_000}, "peel": {0, 2000},
	"mass": {0, 1_000_000}, "section-left": {0, 1000},
}

func rangeOf(q ledger.Quantity) (span, bool) {
	if r, ok := ranges[q.Name]; ok {
		return r, true
	}
	if q.Unit == ledger.UnitMm {
		return span{0, 20_000}, true
	}
	return span{}, false
}

// fits says whether a number may be of a unit: its own unit says the same thing,
// or it has none.
func fits(t token, u ledger.Unit) bool {
	if t.unit == "" {
		return true
	}
	is, kept := unitTable[t.unit].dim, unitDims[u].dim
	switch {
	case is == kept:
		return u != ledger.UnitYears || strings.HasPrefix(t.unit, "year")
	case is == dimMil:
		return u == ledger.UnitUm
	case is == dimFahrenheit:
		return u == ledger.UnitDeciC
	case is == dimForce:
		return kept == dimPeel
	case is == dimTemp:
		return kept == dimKelvin
	case is == dimDays:
		return kept == dimMinutes
	case is == dimPiece, is == dimShore:
		return u == ledger.UnitCount
	}
	return false
}

// sameUnit says whether a number is typed in a unit of what is kept: 5 C is a
// temperature before it is a difference of two.
func sameUnit(t token, u ledger.Unit) bool {
	return fits(t, u) && (unitTable[t.unit].dim != dimTemp || unitDims[u].dim == dimTemp)
}

// unitless are units of which a bare number is, and what it is then.
var unitless = map[ledger.Unit]string{
	ledger.UnitMm: "mm", ledger.UnitUm: "mm", ledger.UnitPerMille: "%", ledger.UnitMg: "g", ledger.UnitN: "n",
	ledger.UnitPeel: "n/50mm", ledger.UnitDeciC: "c", ledger.UnitDeciK: "k", ledger.UnitSpeed: "m/min",
	ledger.UnitFlow: "l/min", ledger.UnitSpread: "g/m2", ledger.UnitTreated: "ml/m2", ledger.UnitDensity: "kg/m3",
	ledger.UnitYears: "years", ledger.UnitMonths: "months", ledger.UnitDays: "d", ledger.UnitLoad: "kg/m2",
	ledger.UnitMm2: "m2", ledger.UnitRootDay: "mm/rtd",
}

var fromElsewhere = []string{
	"in", "inch", "inches", "ft", "foot", "feet", "f", "fahrenheit", "lb", "lbs", "pound", "pounds", "fl oz", "gal",
	"gallon", "gallons", "psi", "sq ft", "sqft", "ft/min", "gal/min", "mil", "mils",
}

// wholeKept are the units that are kept in whole numbers, and how they are typed
// then: a comma before three figures is a thousands mark.
var wholeKept = map[ledger.Unit][]string{
	ledger.UnitCount: {"", "piece", "pieces", "shore"}, ledger.UnitMm: {"", "mm", "millimetres"}, ledger.UnitG: {"g", "gram", "grams"},
	ledger.UnitPa: {"pa"}, ledger.UnitN: {"", "n"}, ledger.UnitPeel: {"", "n", "n/50", "n/50mm"},
}

// kept makes of a typed number what is kept of a unit.
func (n *note) kept(t token, u ledger.Unit, name string) (int64, error) {
	unit := t.unit
	if unit == "" && unitDims[u].dim != dimNone {
		if t.broken {
			return 0, unclear(UnitOf, "%s: of what", t.raw)
		}
		if u == ledger.UnitDeciC && n.shop.Fahrenheit && name != "weld-temp" {
			unit = "f"
		} else if unit = unitless[u]; unit == "" {
			return 0, unclear(UnitOf, "%s %s: of what", name, t.raw)
		}
	}
	v := new(big.Rat).Set(t.num)
	if t.comma == 3 {
		switch {
		case slices.Contains(wholeKept[u], t.unit):
			v.Mul(v, big.NewRat(1000, 1))
		case u != ledger.UnitUm && u != ledger.UnitSpeed && u != ledger.UnitFlow && u != ledger.UnitMg && t.unit != "kg" && t.unit != "m":
			return 0, unclear(Number, "%s: is the comma a decimal mark", t.raw)
		}
	}
	if unitDims[u].dim == dimNone {
		return wholeOf(v, false, t, name)
	}
	if unit == "f" || unit == "fahrenheit" {
		v.Mul(v.Sub(v, big.NewRat(32, 1)), big.NewRat(5, 9))
	}
	is, base := unitTable[unit], unitDims[u]
	v.Mul(v, big.NewRat(is.num, is.den))
	if is.dim == dimDays && base.dim == dimMinutes {
		v.Mul(v, big.NewRat(24*60, 1))
	}
	v.Mul(v, big.NewRat(base.den, base.num))
	return wholeOf(v, slices.Contains(fromElsewhere, unit), t, name)
}

// wholeOf is a rational as a whole number; what was converted is rounded half
// away from zero.
func wholeOf(v *big.Rat, round bool, t token, name string) (int64, error) {
	if !v.IsInt() {
		if !round {
			return 0, unclear(Number, "%s %s: more figures than are kept", name, t.raw)
		}
		num, den := new(big.Int).Set(v.Num()), v.Denom()
		twice := new(big.Int).Mul(num, big.NewInt(2))
		if num.Sign() >= 0 {
			twice.Add(twice, den)
		} else {
			twice.Sub(twice, den)
		}
		v = new(big.Rat).SetInt(new(big.Int).Quo(twice, new(big.Int).Mul(den, big.NewInt(2))))
	}
	if !v.Num().IsInt64() || v.Num().BitLen() > 52 {
		return 0, unclear(Number, "%s %s: too large", name, t.raw)
	}
	return v.Num().Int64(), nil
}

// keptOf is kept for a quantity, within what is taken without asking.
func (n *note) keptOf(t token, q ledger.Quantity) (int64, error) {
	if !fits(t, q.Unit) {
		return 0, unclear(UnitOf, "%s %s: %s is not measured in %s", q.Name, t.raw, q.Name, t.unit)
	}
	if t.pairs && unitDims[q.Unit].dim != dimLength {
		return 0, unclear(Number, "%s: one number or two", t.raw)
	}
	v, err := n.kept(t, q.Unit, q.Name)
	if err != nil {
		return 0, err
	}
	if r, ok := rangeOf(q); ok && (v < r.least || v > r.most) {
		meant := ""
		if v%10 == 0 && v/10 >= r.least && v/10 <= r.most && q.Unit == ledger.UnitPerMille {
			meant = "; " + ledger.Decimal(v/100) + "." + ledger.Decimal(v/10%10) + " %"
		}
		return 0, unclear(Number, "%s %s is outside what is taken without asking%s", q.Name, t.raw, meant)
	}
	return v, nil
}

// signs takes a minus before a number into it; between two numbers it is a range.
func signs(in []token) []token {
	var out []token
	for i := 0; i < len(in); i++ {
		t := in[i]
		behindNumber := len(out) > 0 && out[len(out)-1].kind == aNumber
		minus := t.kind == aSign && t.s == "-" && !t.glued && !behindNumber || t.is("minus")
		if minus && i+1 < len(in) && in[i+1].kind == aNumber && (t.s == "minus" || in[i+1].glued) {
			i++
			n := in[i]
			n.num, n.raw, n.glued, n.from = new(big.Rat).Neg(n.num), "-"+n.raw, t.glued, t.from
			out = append(out, n)
			continue
		}
		out = append(out, t)
	}
	return out
}

func mul(n *big.Rat, times, by int64) *big.Rat {
	return new(big.Rat).Mul(n, big.NewRat(times, by))
}

// unpaired takes sixteen eighty apart where it is no length: behind a bay or a
// rafter, and in a check that measures none.
func (n *note) unpaired(in []token) []token {
	n.t = in
	noLength := !slices.ContainsFunc(in, func(t token) bool { return slices.ContainsFunc(t.senses, carriesLength) })
	var out []token
	for i, t := range in {
		if !t.pairs || !n.numbersPlace(i) && (!noLength || n.inPlace(i) || t.unit != "" && fits(t, ledger.UnitMm)) {
			out = append(out, t)
			continue
		}
		both := t.num.Num().Int64()
		first, second := t, t
		first.num, first.s, first.unit = big.NewRat(both/100, 1), ledger.Decimal(both/100), ""
		second.num, second.s, second.glued = big.NewRat(both%100, 1), ledger.Decimal(both%100), false
		first.pairs, second.pairs = false, false
		out = append(out, first, second)
	}
	return out
}

// carriesLength says whether a word of a check, operation or defect measures a
// length, or is one.
func carriesLength(s sense) bool {
	of := func(name string) bool {
		q, ok := ledger.QuantityNamed(name)
		return ok && unitDims[q.Unit].dim == dimLength
	}
	if _, makes := kindOf[s.list]; !makes {
		return s.list == quantities && of(s.name) && s.with == Always
	}
	return slices.ContainsFunc(quantitiesOf(s.list, s.name).Carries, func(c ledger.Carry) bool { return of(c.Quantity) })
}

// numbersPlace says whether token i stands behind a word that a number of two
// figures belongs to.
func (n *note) numbersPlace(i int) bool {
	return i > 0 && slices.Contains([]string{"bay", "bays", "rafter", "rafters"}, n.t[i-1].s)
}

// inPlace says whether the number at token i is one of a place in mm.
func (n *note) inPlace(i int) bool {
	places := []string{"aft", "forward", "to", "-", "/", "x", "full width"}
	if i+1 < len(n.t) {
		if _, side := n.sideAt(i + 1); side || slices.Contains(places, n.t[i+1].s) {
			return true
		}
	}
	return i > 0 && slices.Contains([]string{"to", "-", "/", "x", "spot", "run", "aft"}, n.t[i-1].s)
}

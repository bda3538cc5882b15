package reckon

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"lapmark/ledger/trade"
)

// Given are the values that a calculation was asked with.
type Given struct {
	numbers map[string]float64 // in the unit of their key
	texts   map[string]string
	inches  bool // a length was given in inches
}

// Has says whether a key was given or has its default.
func (g Given) Has(key string) bool {
	_, number := g.numbers[key]
	_, text := g.texts[key]
	return number || text
}

func (g Given) number(key string) float64 { return g.numbers[key] }

func (g Given) whole(key string) int64 { return int64(math.Round(g.numbers[key])) }

func (g Given) celsius(key string) trade.Celsius { return trade.Celsius(g.numbers[key]) }

func (g Given) percent(key string) trade.Percent { return trade.Percent(g.numbers[key]) }

func (g Given) tenths(key string) trade.DeciCelsius {
	return trade.DeciCelsius(math.Round(10 * g.numbers[key]))
}

// micrometres are whole, because 5/8 in is 15.875 mm.
func (g Given) micrometres(key string) trade.Micrometre {
	return trade.Micrometre(math.Round(1000 * g.numbers[key]))
}

func (g Given) squareMillimetres(key string) trade.SquareMillimetre {
	return trade.SquareMillimetre(math.Round(1e6 * g.numbers[key]))
}

func (g Given) needs(keys ...string) error {
	for _, k := range keys {
		if !g.Has(k) {
			return badf("%s is missing", k)
		}
	}
	return nil
}

// longestPair is more than any log needs.
const longestPair = 20_000

func (c Calc) read(pairs []string) (Given, error) {
	g := Given{numbers: map[string]float64{}, texts: map[string]string{}}
	for _, pair := range pairs {
		name, value, ok := strings.Cut(pair, "=")
		if !ok || len(pair) > longestPair {
			return Given{}, badf("%.40q is no KEY=VALUE", pair)
		}
		key, unit, ok := c.key(name)
		switch {
		case !ok:
			return Given{}, badf("%s has no key %q: %s", c.Name, name, c.keys())
		case g.Has(key.Name):
			return Given{}, badf("%s is given twice", key.Name)
		}
		if err := g.take(key, value+unit); err != nil {
			return Given{}, err
		}
	}
	for _, key := range c.Keys {
		if g.Has(key.Name) || key.Optional {
			continue
		}
		if key.Default == "" {
			return Given{}, badf("%s is missing: %s, %s", key.Name, key.Means, key.Range())
		}
		if err := g.take(key, key.Default); err != nil {
			return Given{}, err
		}
	}
	return g, nil
}

func (c Calc) keys() string {
	var names []string
	for _, k := range c.Keys {
		names = append(names, k.Name)
	}
	return strings.Join(names, ", ")
}

// suffixes are the units at the end of an input's name in the tables.
var suffixes = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"c": "C", "f": "F", "k": "K", "mm": "mm", "in": "in", "mm2": "mm2", "m2": "m2", "ft2": "ft2", "g": "g", "kg": "kg",
		"lbf": "lbf", "h": "h", "ft": "ft", "n": "N",
	}
})

// key finds a key by its own name, or by a name it has in the tables, with the
// unit that the name says.
func (c Calc) key(name string) (k Key, unit string, ok bool) {
	stem, suffix, _ := cutLast(name, "_")
	for _, k := range c.Keys {
		if k.Name == name {
			return k, "", true
		}
		for also := range strings.FieldsSeq(k.Also) {
			whole, unit, said := strings.Cut(also, ":")
			switch {
			case whole == name:
				return k, unit, true
			case !said && whole == stem && suffixes()[suffix] != "":
				return k, suffixes()[suffix], true
			}
		}
	}
	return Key{}, "", false
}

func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}

// take reads the value of a key.
func (g *Given) take(k Key, value string) error {
	if k.Words != nil || k.Form != "" {
		if k.Words != nil && !slices.Contains(k.Words, value) {
			return badf("%s is none of %s: %.40q", k.Name, k.Range(), value)
		}
		g.texts[k.Name] = value
		return nil
	}
	sum := 0.0
	for i, one := range strings.Split(value, "+") {
		n, unit, err := k.number(one)
		if err != nil {
			return err
		}
		if i > 0 && k.Of != trade.Length {
			return badf("%s is one number: %.40q", k.Name, value)
		}
		sum += n
		g.inches = g.inches || unit == "in"
	}
	if !(sum >= k.Least-1e-9 && sum <= k.Most+1e-9) {
		return &RangeError{Key: k, Value: value}
	}
	g.numbers[k.Name] = sum
	return nil
}

// RangeError says that a value lies outside the range of its key. It is a
// trade.ErrRange.
type RangeError struct {
	Key   Key
	Value string
}

func (e *RangeError) Error() string {
	return e.Key.Name + " " + e.Value + ": outside the range " + e.Key.Range()
}

// Unwrap makes it a trade.ErrRange.
func (e *RangeError) Unwrap() error { return trade.ErrRange }

// number reads 16mm, 5/8in, 1-5/8in, 68F, -4.5: a bare number is in the unit of
// the key.
func (k Key) number(typed string) (value float64, unit string, err error) {
	rest := strings.TrimLeft(typed, "0123456789./-")
	figures, unit := typed[:len(typed)-len(rest)], unitWord(rest)
	n, ok := fraction(figures)
	if !ok {
		return 0, "", badf("%s is no number: %.40q", k.Name, typed)
	}
	own, _ := trade.MeasureNamed(k.Of, k.Unit)
	if unit == "" {
		return n, k.Unit, nil
	}
	m, ok := measure(k.Of, unit)
	if !ok {
		return 0, "", badf("%s is not in %s: %s", k.Name, unit, unitsOf(k.Of))
	}
	return m.To(n, own), m.Word, nil
}

// unitWord is a unit as it stands in the tables: 5/8", 17 °C.
func unitWord(typed string) string {
	word := strings.NewReplacer("°", "", "²", "2", "³", "3", "\"", "in", "″", "in").Replace(strings.TrimSpace(typed))
	return word
}

func measure(of trade.Dimension, word string) (trade.Measure, bool) {
	if m, ok := trade.MeasureNamed(of, word); ok {
		return m, true
	}
	for _, m := range trade.Measures() {
		if m.Of == of && strings.EqualFold(m.Word, word) {
			return m, true
		}
	}
	return trade.Measure{}, false
}

func unitsOf(of trade.Dimension) string {
	var words []string
	for _, m := range trade.Measures() {
		if m.Of == of && m.Word != "" {
			words = append(words, m.Word)
		}
	}
	if words == nil {
		return "it has no unit"
	}
	return strings.Join(words, ", ")
}

// fraction reads 16, -4.5, 5/8, 1-5/8.
func fraction(s string) (float64, bool) {
	sign := 1.0
	if rest, minus := strings.CutPrefix(s, "-"); minus {
		sign, s = -1, rest
	}
	whole, part, mixed := strings.Cut(s, "-")
	if !mixed {
		part, whole = s, "0"
	}
	over, under, divided := strings.Cut(part, "/")
	if mixed && !divided {
		return 0, false
	}
	if !divided {
		under = "1"
	}
	w, a := decimal(whole)
	o, b := decimal(over)
	u, c := decimal(under)
	if !(a && b && c) || u == 0 {
		return 0, false
	}
	return sign * (w + o/u), true
}

// decimal reads digits with at most one point, which stands between digits.
func decimal(s string) (float64, bool) {
	whole, part, point := strings.Cut(s, ".")
	if len(s) > 15 || !digits(whole) || point && !digits(part) {
		return 0, false
	}
	n, err := strconv.ParseFloat(s, 64)
	return n, err == nil
}

func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

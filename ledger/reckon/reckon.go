// Package reckon is the arithmetic of the trade as a person asks it: a name and
// values with their units in, a value with its unit out, with the formula and
// where it comes from.
//
// Each calculation is declared once, in Calcs; help, lists, answers and the
// guide's table are made from the declaration. The figures are aids: the
// maker's sheet, local codes and the law come first.
package reckon

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"lapmark/ledger/trade"
)

// ErrAsked says that something was asked that cannot be read: a name or key
// that is not there, a key missing, a value without sense.
var ErrAsked = errors.New("not asked so that it can be reckoned")

// asked is an ErrAsked that says only what is wrong.
type asked string

func (a asked) Error() string { return string(a) }

func (asked) Is(target error) bool { return target == ErrAsked }

func badf(format string, args ...any) error { return asked(fmt.Sprintf(format, args...)) }

// Calc is one calculation.
type Calc struct {
	Name    string
	Means   string
	Tables  []Table // the quantities of the tables of published values that it answers
	Keys    []Key
	Formula string
	Source  string
	Example string // one that is in its range
	Do      func(Given) (Answer, error)
}

// Table is a quantity of the tables of published values; Pairs are what its
// rows leave unsaid.
type Table struct {
	Quantity string
	Pairs    []string
}

// Key is one value that a calculation takes.
type Key struct {
	Name     string
	Of       trade.Dimension // of a number
	Unit     string          // what a bare number is in, and the range
	Least    float64
	Most     float64
	Words    []string // the words it may be; nil: a number, or a text of its own
	Form     string   // how a text of its own is written
	Default  string   // "" = it has to be given
	Optional bool     // or may be left out
	Also     string   // names it has in the tables: "temp", or with the unit "grams:g"
	Means    string
}

// Answer is what was reckoned: a number in a unit, or a text.
type Answer struct {
	Value    float64
	Text     string // instead of a number
	Unit     string
	Decimals int      // as it is printed
	Says     []string // what goes with it, a sentence each
}

// Named returns a calculation by its name, or by the quantity of a table of
// published values in lower case, without commas, with hyphens for spaces; then
// with the pairs that go without saying there.
func Named(name string) (c Calc, pairs []string, ok bool) {
	for _, c := range Calcs() {
		if c.Name == name {
			return c, nil, true
		}
		for _, t := range c.Tables {
			if hyphened(t.Quantity) == name {
				return c, t.Pairs, true
			}
		}
	}
	return Calc{}, nil, false
}

func hyphened(quantity string) string {
	return strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(quantity), ",", ""), " ", "-")
}

// Reckon works out a calculation from its key=value pairs. It answers ErrAsked
// for pairs that do not fit, trade.ErrRange for values outside its range.
func (c Calc) Reckon(pairs []string) (Answer, error) {
	g, err := c.read(pairs)
	if err != nil {
		return Answer{}, err
	}
	a, err := c.Do(g)
	if err != nil {
		return Answer{}, fmt.Errorf("%s: %w", c.Name, err)
	}
	if g.inches {
		a = a.inInches()
	}
	return a, nil
}

// Range is what a key takes, in words.
func (k Key) Range() string {
	switch {
	case k.Words != nil:
		return strings.Join(k.Words, " | ")
	case k.Form != "":
		return k.Form
	}
	text := figure(k.Least) + " to " + figure(k.Most)
	if k.Unit != "" {
		text += " " + printed(k.Unit)
	}
	return text
}

func figure(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// printed is a unit as people read it.
func printed(unit string) string {
	return strings.NewReplacer("m2", "m²", "ft2", "ft²", "m3", "m³", "ft3", "ft³", "rtd", "√day").Replace(
		map[string]string{"C": "°C", "F": "°F"}[unit] + strings.TrimPrefix(strings.TrimPrefix(unit, "C"), "F"))
}

// beside are the units that a value is said in too.
var beside = map[string]struct {
	unit     string
	decimals int
}{
	"C": {"F", 1}, "mm": {"in", 3}, "m2": {"ft2", 1}, "g/m2": {"oz/ft2", 2}, "L/min": {"gal/min", 2}, "L": {"gal", 2},
	"kPa": {"psi", 2}, "Pa": {"lbf/ft2", 1}, "N": {"lbf", 1}, "in": {"mm", 2}, "lbf": {"N", 1},
}

// String is "12.0 °C (53.6 °F)".
func (a Answer) String() string {
	if a.Text != "" {
		return a.Text
	}
	text := withUnit(a.Value, a.Decimals, a.Unit)
	other, ok := beside[a.Unit]
	if !ok {
		return text
	}
	value, _ := trade.Convert(a.Value, a.Unit, other.unit)
	return text + " (" + withUnit(value, other.decimals, other.unit) + ")"
}

func withUnit(value float64, decimals int, unit string) string {
	text := rounded(value, decimals)
	if unit != "" {
		text += " " + printed(unit)
	}
	return text
}

// rounded prints a number half up.
func rounded(value float64, decimals int) string {
	text := strconv.FormatFloat(value+1e-9, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// inInches says a length or force the other way, where it was asked in inches.
func (a Answer) inInches() Answer {
	other, ok := beside[a.Unit]
	if !ok || other.unit != "in" && other.unit != "lbf" {
		return a
	}
	a.Value, _ = trade.Convert(a.Value, a.Unit, other.unit)
	a.Unit, a.Decimals = other.unit, other.decimals
	return a
}

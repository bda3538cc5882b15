package ledger

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Term is one limit that a shop may set for itself: the key of a rule or a
// check, and its usual values as a terms file writes them and an entry keeps
// them.
type Term struct {
	Rule   string // "log-gap"
	Usual  string // "12 h 24 h"
	Parts  []TermPart
	Dry    string // check: a quantity that must be 0 whatever the values are, and that the result passes by
	Source string
}

// TermPart is one value of a term.
type TermPart struct {
	Unit     string // as written behind the number; "1:" stands before it
	One      int64  // how many of what is kept one written unit is: 1 mm is 1000 um
	Quantity string // check: the quantity of a result that it limits, "" = none
	Least    bool   // it is the least allowed, not the most: a smaller value is looser
	Result   bool   // check: the limit the result is written with
}

const peelFromMemory = "order of EN 12316-2, from memory"

// The parts of terms. A limit asks for at most its value unless it is a least
// one.
func part(unit string, one int64) TermPart { return TermPart{Unit: unit, One: one} }

func (p TermPart) least() TermPart { p.Least = true; return p }

func (p TermPart) on(quantity string) TermPart { p.Quantity = quantity; return p }

func (p TermPart) result() TermPart { p.Result = true; return p }

// shopTerms is every limit a shop may set, in the order of the terms file.
var shopTerms = []Term{
	term("late-note", "7 d", part("d", 1)),
	term("reading-jump", "6.0 % 24 h", part("%", 10), part("h", 60)),
	term("work-not-agreed", "0.05 m2 100 mm", part("m2", 1_000_000), part("mm", 1)),
	term("closing-unread", "72 h", part("h", 60)),
	term("closing-too-wet", "15.0 % 5.0 %", part("%", 10), part("%", 10)),
	term("past-use-by", "24 h", part("h", 60)),
	term("lot-overdrawn", "2 %", part("%", 10)),
	term("no-coupon", "12 months", part("months", 1)),
	term("spread", "80 %", part("%", 10).least()),
	term("near-dew", "3.0 K", part("K", 10).least()),
	term("bite", "12 mm 19 mm", part("mm", 1000).least(), part("mm", 1000).least()),
	term("flange-narrow", "25 mm", part("mm", 1).least()),
	term("load-on-foam", "30 %", part("%", 10)),
	term("log-gap", "12 h 24 h", part("h", 60), part("h", 60)),
	term("finding-open", "300 mm", part("mm", 1).least()),
	term("withdraw", "60 d", part("d", 1)),
	term("skirt", "75 mm", part("mm", 1).least()),
	term("k", "3 mm/rtd", part("mm/rtd", 1000)).from("sheets say 2 to 4, from memory"),
	term("pins", "15.0 %", part("%", 10)),
	term("core-sample", "5.0 %", part("%", 10)),
	term("hall-air", "3.0 K", part("K", 10).least()).from("practice of ISO 8502-4, from memory"),
	term("tap", "0 m2", part("m2", 1_000_000).on("area").result()),
	term("awl", "2 mm", part("mm", 1).on("depth").result()),
	term("weld-strip", "150 N/50mm", part("N/50mm", 1).on("peel").least().result()).from(peelFromMemory),
	term("peel-in-place", "150 N/50mm", part("N/50mm", 1).on("peel").least().result()).from(peelFromMemory),
	term("foam-coupon", "24 h 0.2 mm", part("h", 60).on("lasted").least(), part("mm", 1000).on("loss").result()),
	// The rate is read by hand off the meter for the strip in hand; it decides nothing here.
	term("hose", "3.4 L/m2min 15 min 1.0 %",
		part("L/m2min", 1000).least(), part("min", 1).on("lasted").least(), part("%", 10).on("rise").result()),
	term("dam", "25 mm 2 h", part("mm", 1).on("depth"), part("h", 60).on("lasted").least()).dry("rise"),
	term("straight-edge", "3 mm 1500 mm", part("mm", 1).on("gap").result(), part("mm", 1).on("under").least()),
	term("standing-water-look", "3 mm 48 h", part("mm", 1).on("depth").result(), part("h", 60).least()),
	term("fall", "1:80", part("1:", 1).on("slope").result()),
	term("foot-test", "3 mm 80 kg", part("mm", 1).on("deflection").result(), part("kg", 1000).on("mass").least()),
}

func term(rule, usual string, parts ...TermPart) Term {
	return Term{Rule: rule, Usual: usual, Parts: parts, Source: commonPractice}
}

func (t Term) from(source string) Term { t.Source = source; return t }

func (t Term) dry(quantity string) Term { t.Dry = quantity; return t }

// Terms returns every limit a shop may set, in the order of the terms file.
func Terms() []Term {
	out := slices.Clone(shopTerms)
	for i := range out {
		out[i].Parts = slices.Clone(out[i].Parts)
	}
	return out
}

// TermOf returns the limit of a rule or check that a shop may set.
func TermOf(rule string) (t Term, ok bool) {
	i := slices.IndexFunc(shopTerms, func(t Term) bool { return t.Rule == rule })
	if i < 0 {
		return Term{}, false
	}
	t = shopTerms[i]
	t.Parts = slices.Clone(t.Parts)
	return t, true
}

// Numbers reads the values of a term, as many and in the units of the usual
// ones, as whole numbers of what is kept: "12 h 24 h" is 720 and 1440 minutes.
func (t Term) Numbers(says string) ([]int64, error) {
	fields := strings.Fields(says)
	var out []int64
	for _, p := range t.Parts {
		number, rest, ok := p.cut(fields)
		n, whole := scaled(number, p.One)
		if !ok || !whole {
			return nil, fmt.Errorf("%q: written like %q", says, t.Usual)
		}
		out, fields = append(out, n), rest
	}
	switch {
	case len(fields) > 0:
		return nil, fmt.Errorf("%q: written like %q", says, t.Usual)
	case t.Rule == "log-gap" && out[0] > out[1]:
		return nil, fmt.Errorf("%q: the second time is not under the first", says)
	case (t.Rule == "k" || t.Rule == "fall") && out[0] == 0:
		return nil, fmt.Errorf("%q: more than 0", says)
	}
	return out, nil
}

// cut takes the number and the unit of a part off the front of a text.
func (p TermPart) cut(fields []string) (number string, rest []string, ok bool) {
	switch {
	case p.Unit == "1:" && len(fields) > 0:
		number, ok = strings.CutPrefix(fields[0], "1:")
		return number, fields[1:], ok
	case len(fields) > 1:
		return fields[0], fields[2:], fields[1] == p.Unit
	}
	return "", nil, false
}

// scaled reads a decimal below a million as a whole number of so many a unit.
func scaled(decimal string, one int64) (int64, bool) {
	whole, part, point := strings.Cut(decimal, ".")
	if point && (part == "" || len(part) > 6) || len(whole) > 6 {
		return 0, false
	}
	digits := whole + part
	for _, c := range digits {
		if c < '0' || c > '9' {
			return 0, false
		}
	}
	n, err := strconv.ParseInt(digits, 10, 64)
	if err != nil || whole == "" {
		return 0, false
	}
	n *= one
	for range part {
		if n%10 != 0 {
			return 0, false
		}
		n /= 10
	}
	return n, true
}

// Looser says whether values let more pass than the usual ones do. Values that
// cannot be read are not compared.
func (t Term) Looser(says string) bool {
	numbers, err := t.Numbers(says)
	usual, err2 := t.Numbers(t.Usual)
	if err != nil || err2 != nil {
		return false
	}
	for i, p := range t.Parts {
		if p.Least && numbers[i] < usual[i] || !p.Least && numbers[i] > usual[i] {
			return true
		}
	}
	return false
}

// Passes returns what a result of a check passes by under such values; nil
// where the term limits nothing in a result.
func (t Term) Passes(says, source string) (*Passes, error) {
	numbers, err := t.Numbers(says)
	if err != nil {
		return nil, err
	}
	var result *Passes
	var also []Passes
	if t.Dry != "" {
		result = &Passes{Quantity: t.Dry, AtMost: limitOf(0), Source: source}
	}
	for i, p := range t.Parts {
		if p.Quantity == "" {
			continue
		}
		one := Passes{Quantity: p.Quantity, Source: source}
		if p.Least {
			one.AtLeast = limitOf(numbers[i])
		} else {
			one.AtMost = limitOf(numbers[i])
		}
		if p.Result {
			result = &one
		} else {
			also = append(also, one)
		}
	}
	if result != nil {
		result.Also = also
	}
	return result, nil
}

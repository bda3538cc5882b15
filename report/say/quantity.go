package say

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report/english"
)

// Quantity says the value of a quantity with its unit as people write it:
// "31.0 %", "212, 198 and 205 N/50 mm", "60 × 45 mm". A value that the table of
// quantities does not know is shown as it stands.
func Quantity(name string, v format.Value) string {
	q, known := ledger.QuantityNamed(name)
	if one, ok := v.(int64); ok && known && q.Many == ledger.OneNumber {
		return number(q, one) + unit(q, one)
	}
	list, ok := v.(format.Array)
	if !known || !ok {
		return asItStands(v)
	}
	if len(list) == 0 {
		return "none"
	}
	var each []string
	last := int64(0)
	for _, n := range ledger.Ints(list) {
		each = append(each, number(q, n))
		last = n
	}
	join := map[ledger.Many]string{ledger.PairOfNumbers: " × ", ledger.LowHigh: "–"}[q.Many]
	if join == "" {
		return english.List(each) + unit(q, last)
	}
	return strings.Join(each, join) + unit(q, last)
}

// shown is how the integers of a unit are printed: so many decimals, all of
// them or without zeros at the end, and the unit behind.
type shown struct {
	decimals int
	all      bool
	behind   string
}

var units = map[ledger.Unit]shown{
	ledger.UnitMm:       {behind: " mm"},
	ledger.UnitUm:       {decimals: 3, behind: " mm"},
	ledger.UnitRootDay:  {decimals: 3, behind: " mm per root day"},
	ledger.UnitMm2:      {decimals: 6, behind: " m²"},
	ledger.UnitCount:    {},
	ledger.UnitPerMille: {decimals: 1, all: true, behind: " %"},
	ledger.UnitMg:       {decimals: 3, behind: " g"},
	ledger.UnitG:        {behind: " g"},
	ledger.UnitPa:       {behind: " Pa"},
	ledger.UnitN:        {behind: " N"},
	ledger.UnitPeel:     {behind: " N/50 mm"},
	ledger.UnitDeciC:    {decimals: 1, all: true, behind: " °C"},
	ledger.UnitDeciK:    {decimals: 1, all: true, behind: " K"},
	ledger.UnitSpeed:    {decimals: 3, behind: " m/min"},
	ledger.UnitFlow:     {decimals: 3, behind: " L/min"},
	ledger.UnitMin:      {behind: " min"},
	ledger.UnitSpread:   {behind: " g/m²"},
	ledger.UnitTreated:  {behind: " mL/m²"},
	ledger.UnitDensity:  {behind: " kg/m³"},
	ledger.UnitSlope:    {},
	ledger.UnitYears:    {behind: " years"},
	ledger.UnitMonths:   {behind: " months"},
	ledger.UnitDays:     {behind: " days"},
	ledger.UnitLoad:     {behind: " kg/m²"},
}

// larger are the units that take over from a thousand, or an hour, on.
func larger(q ledger.Quantity, n int64) (shown, bool) {
	switch {
	case q.Unit == ledger.UnitG && n >= 1000:
		return shown{decimals: 3, behind: " kg"}, true
	case q.Unit == ledger.UnitPa && n >= 1000:
		return shown{decimals: 3, behind: " kPa"}, true
	}
	return shown{}, false
}

func number(q ledger.Quantity, n int64) string {
	switch q.Unit {
	case ledger.UnitSlope:
		return "1:" + ledger.Decimal(n)
	case ledger.UnitMin:
		if n >= 60 {
			return hours(n)
		}
	}
	s, ok := larger(q, n)
	if !ok {
		s = units[q.Unit]
	}
	return decimal(n, s)
}

func unit(q ledger.Quantity, n int64) string {
	if q.Unit == ledger.UnitMin && n >= 60 {
		return ""
	}
	if s, ok := larger(q, n); ok {
		return s.behind
	}
	return units[q.Unit].behind
}

// hours says minutes of an hour and more: "12 h", "1 h 30 min".
func hours(n int64) string {
	if n%60 == 0 {
		return ledger.Decimal(n/60) + " h"
	}
	return fmt.Sprintf("%d h %d min", n/60, n%60)
}

// decimal writes an integer with so many of its digits behind the point. The
// sign below 0 is U+2212.
func decimal(n int64, s shown) string {
	sign := ""
	if n < 0 {
		sign, n = "−", -n
	}
	digits := fmt.Sprintf("%0*d", s.decimals+1, n)
	whole, part := digits[:len(digits)-s.decimals], digits[len(digits)-s.decimals:]
	if !s.all {
		part = strings.TrimRight(part, "0")
	}
	if part == "" {
		return sign + whole
	}
	return sign + whole + "." + part
}

// amount says an amount in the unit of a lot: "3.6 kg", "8.14 m²", "2100 mL".
func amount(n int64, unit string) string {
	switch unit {
	case "g":
		return Quantity("mass", n)
	case "mm2":
		return Quantity("area", n)
	case "mm":
		if n >= 1000 {
			return decimal(n, shown{decimals: 3}) + " m"
		}
	case "ml":
		return ledger.Decimal(n) + " mL"
	case "piece":
		return english.Numbered(int(n), "piece", "pieces")
	}
	return ledger.Decimal(n) + " " + unit
}

// called is how a sentence says a quantity, {v} its value, where that is not
// its word and the value behind it.
var called = map[string]string{
	"depth": "{v} deep", "thickness": "{v} thick", "film": "film of {v}", "length": "{v} long", "width": "{v} wide",
	"height": "{v} high", "diameter": "{v} across", "count": "{v} of them", "moisture": "{v}", "loss": "{v} lost",
	"left": "{v} left", "groove": "eaten {v} deep", "spacing": "every {v}", "area": "{v} in all",
	"air-temp": "air {v}", "lowest-temp": "lowest {v}", "ground-temp": "ground {v}", "surface-temp": "inner face {v}",
	"outside-temp": "outside air {v}", "weld-temp": "welded at {v}", "lasted": "for {v}", "open-for": "open for {v}",
	"deflection": "gives {v}", "beyond-rot": "{v} into sound wood", "short-by": "{v} short", "voids": "{v} open",
	"over-layer": "through {v}", "dry-number": "{v} on a dry place", "wet-mass": "{v} wet", "dry-mass": "{v} dry",
	"through-cure": "cures through {v}", "doubling": "twice as fast every {v}", "ref-temp": "hours given at {v}",
	"least-temp": "none below {v}", "cap-temp": "no faster above {v}", "stone": "stones of {v}", "age": "{v} old",
	"missed": "missed for {v}", "coats": "{v} coats", "after": "after {v}", "under": "under {v}",
}

// pairs are two quantities that are said as one.
var pairs = []struct {
	of   [2]string
	say  string // {a} and {b}
	bare bool   // {a} without its unit
}{
	{of: [2]string{"depth", "thickness"}, say: "{a} of {b} deep", bare: true},
	{of: [2]string{"left", "thickness"}, say: "{a} of {b} left", bare: true},
	{of: [2]string{"groove", "thickness"}, say: "eaten {a} of {b} deep", bare: true},
	{of: [2]string{"flange", "needed"}, say: "flange {a} of {b}", bare: true},
	{of: [2]string{"height", "needed"}, say: "curb {a} of {b}", bare: true},
	{of: [2]string{"deflection", "mass"}, say: "gives {a} under {b}"},
	{of: [2]string{"gap", "under"}, say: "gap {a} under {b}"},
}

// Values says measured values in the order of the table of quantities: "32 of
// 45 mm deep", "air 17.0 °C, humidity 62.0 %".
func Values(values format.Object) string {
	var out []string
	done := map[string]bool{}
	for _, p := range pairs {
		done[p.of[1]] = done[p.of[1]] || values[p.of[0]] != nil && values[p.of[1]] != nil
	}
	for _, name := range inOrder(values) {
		if !done[name] && values[name] != nil {
			out = append(out, pairedOr(named(name, values[name]), name, values))
		}
	}
	return strings.Join(out, ", ")
}

// pairedOr says a quantity with the other one of its pair, or alone.
func pairedOr(alone, name string, values format.Object) string {
	for _, p := range pairs {
		if p.of[0] != name || values[p.of[1]] == nil {
			continue
		}
		a, b := Quantity(name, values[name]), Quantity(p.of[1], values[p.of[1]])
		if p.bare {
			a = strings.TrimSuffix(a, " mm")
		}
		return strings.NewReplacer("{a}", a, "{b}", b).Replace(p.say)
	}
	return alone
}

func named(name string, v format.Value) string {
	says, ok := called[name]
	if !ok {
		says = strings.ReplaceAll(name, "-", " ") + " {v}"
	}
	return strings.ReplaceAll(says, "{v}", Quantity(name, v))
}

func inOrder(values format.Object) []string {
	names := format.Names(values)
	slices.SortStableFunc(names, func(a, b string) int { return ledger.QuantityRank(a) - ledger.QuantityRank(b) })
	return names
}

package facts

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/place"
	"lapmark/report"
	"lapmark/report/english"
)

// upkeep says what the first look is of and when: nothing where no line asks
// for one, or where none falls due before the last day.
func (s *subject) upkeep(n report.Numbers) *report.UpkeepFacts {
	var places []place.Place
	var due day.Day
	for _, l := range s.lines {
		if l.Object["upkeep"] != true {
			continue
		}
		places = append(places, l.Places...)
		first := parseDay(l.Object, "first-day")
		next, _ := first.PlusMonths(n.UpkeepEveryMonths)
		last := day.LastDay(first, int(ledger.Int(l.Object, "months")))
		if !next.After(last) && (due.IsZero() || next.Before(due)) {
			due = next
		}
	}
	if due.IsZero() || n.UpkeepEveryMonths < 1 {
		return nil
	}
	return &report.UpkeepFacts{
		Places: looked(places), Due: dayOf(due), From: dayOf(due.AddDays(-n.UpkeepEarlyDays)),
		Till: dayOf(due.AddDays(n.UpkeepGraceDays)),
	}
}

// looked names the places to be looked at: fittings by their number, the two
// edges together, the rest by name.
func looked(places []place.Place) string {
	fittings := 0
	var names []string
	for _, p := range places {
		name := short(p)
		switch {
		case p.Shape == place.Named:
			fittings++
		case !slices.Contains(names, name):
			names = append(names, name)
		}
	}
	var out []string
	if fittings > 0 {
		out = append(out, english.Counted(fittings, "fitting", "fittings"))
	}
	both := slices.Contains(names, "left edge") && slices.Contains(names, "right edge")
	if both {
		out = append(out, "both edges")
	}
	for _, n := range names {
		if !both || n != "left edge" && n != "right edge" {
			out = append(out, n)
		}
	}
	return strings.Join(out, ", ")
}

package cover

import (
	"cmp"
	"slices"
	"strings"

	"lapmark/ledger/day"
)

// Due is the upkeep that a line waits for: the places that were not served, the
// day it is due, the days from and until which it counts, and, once it is late,
// since when the line rests there.
type Due struct {
	Certificate string
	Line        string
	Who         string // answers for the line
	Places      []string
	Due         day.Day
	From        day.Day
	Latest      day.Day
	RestsSince  day.Day // zero: it does not
}

// Dues returns what upkeep the running lines wait for on a day, those of one due
// day of a line together, in the order of certificate, line and day. Of a place
// only the oldest due that can still be mended is named.
func Dues(f Facts, on day.Day) []Due {
	f.Upkeep = slices.DeleteFunc(slices.Clone(f.Upkeep), func(u Upkeep) bool { return u.Day.After(on) })
	var out []Due
	for _, s := range StandingOn(f, on) {
		if s.Word != StandsInForce && s.Word != StandsPaused {
			continue
		}
		no, line, at := LineOf(s.Line)
		c, l, ok := f.line(no, line)
		if !ok || !l.Upkeep {
			continue
		}
		d, waits := f.due(c, l, at, on)
		if !waits {
			continue
		}
		d.Who = s.Who
		same := slices.IndexFunc(out, func(o Due) bool { return o.Certificate == no && o.Line == line && o.Due == d.Due })
		if same < 0 {
			out = append(out, d)
			same = len(out) - 1
		}
		out[same].Places = append(out[same].Places, at)
	}
	slices.SortStableFunc(out, func(a, b Due) int {
		return cmp.Or(strings.Compare(a.Certificate, b.Certificate), strings.Compare(a.Line, b.Line), a.Due.Compare(b.Due))
	})
	return out
}

func (f Facts) line(no, line string) (Certificate, Line, bool) {
	for _, c := range f.Certificates {
		for _, l := range c.Lines {
			if c.No == no && l.Line == line {
				return c, l, true
			}
		}
	}
	return Certificate{}, Line{}, false
}

// due is the next upkeep of one place: that of the pause it rests in, else the
// first that is not served and has not gone by.
func (f Facts) due(c Certificate, l Line, at string, on day.Day) (Due, bool) {
	n := c.Numbers
	acts := f.served(c.No, l.Line, at)
	rests := day.Day{}
	for _, s := range f.upkept(c, l, at).pauses {
		if s.holds(on) {
			rests = s.from
		}
	}
	last := c.LastDay(l)
	for k := 1; n.UpkeepEveryMonths > 0; k++ {
		due, _ := c.first(l).PlusMonths(k * n.UpkeepEveryMonths)
		if due.After(last) {
			break
		}
		from, latest := due.AddDays(-n.UpkeepEarlyDays), due.AddDays(n.UpkeepGraceDays)
		gone := latest.Before(on) && (rests.IsZero() || latest.Before(rests.AddDays(-1)))
		if gone || within(acts, from, latest) {
			continue
		}
		return Due{Certificate: c.No, Line: l.Line, Due: due, From: from, Latest: latest, RestsSince: rests}, true
	}
	return Due{}, false
}

package cover

import (
	"slices"

	"lapmark/ledger/day"
)

func (c Certificate) first(l Line) day.Day {
	if l.FirstDay.IsZero() {
		return c.FirstDay
	}
	return l.FirstDay
}

// LastDay is the last day of a line's term.
func (c Certificate) LastDay(l Line) day.Day { return day.LastDay(c.first(l), l.Months) }

// share is what a line bears after so many full months, per mille: full until
// the full months are over, then less in even steps, never less than the floor.
func (l Line) share(months int) int64 {
	term, full := int64(l.Months), int64(l.FullMonths)
	if int64(months) < full || full >= term {
		return whole
	}
	left := term - int64(months)
	return max(l.Floor, (2*whole*left+term-full)/(2*(term-full)))
}

// ShareOn is what a line with its own first day bears on a day by its term
// alone, per mille; 0 outside it.
func (l Line) ShareOn(t day.Day) int64 {
	if t.Before(l.FirstDay) || t.After(day.LastDay(l.FirstDay, l.Months)) {
		return 0
	}
	return l.share(day.FullMonths(l.FirstDay, t))
}

// whole is the full share.
const whole = 1000

// span is a run of days, both included; a zero To is open.
type span struct{ from, to day.Day }

func (s span) holds(t day.Day) bool { return !t.Before(s.from) && (s.to.IsZero() || !t.After(s.to)) }

// merged joins spans that run into one another.
func merged(list []span) []span {
	slices.SortFunc(list, func(a, b span) int { return a.from.Compare(b.from) })
	var out []span
	for _, s := range list {
		if !s.to.IsZero() && s.to.Before(s.from) {
			continue
		}
		if n := len(out); n > 0 && (out[n-1].to.IsZero() || !s.from.After(out[n-1].to.AddDays(1))) {
			if s.to.IsZero() || !out[n-1].to.IsZero() && s.to.After(out[n-1].to) {
				out[n-1].to = s.to
			}
			continue
		}
		out = append(out, s)
	}
	return out
}

// upkept is what the upkeep of one place of a line comes to: the pauses, and the
// day the line ended there for missed upkeep.
type upkept struct {
	pauses []span
	ended  day.Day
}

// upkept follows the dues of a place: served in their window, or late, or
// missed.
func (f Facts) upkept(c Certificate, l Line, place string) upkept {
	var out upkept
	n := c.Numbers
	if !l.Upkeep || n.UpkeepEveryMonths < 1 {
		return out
	}
	acts := f.served(c.No, l.Line, place)
	last := c.LastDay(l)
	missed := 0
	for k := 1; ; k++ {
		due, _ := c.first(l).PlusMonths(k * n.UpkeepEveryMonths)
		if due.After(last) {
			break
		}
		closes := due.AddDays(n.UpkeepGraceDays)
		if within(acts, due.AddDays(-n.UpkeepEarlyDays), closes) {
			missed = 0
			continue
		}
		from := closes.AddDays(1)
		if missed >= n.UpkeepMissedMost {
			out.ended = from
			break
		}
		next, found := firstFrom(acts, from)
		following, _ := c.first(l).PlusMonths((k + 1) * n.UpkeepEveryMonths)
		if found && next.Before(following.AddDays(-n.UpkeepEarlyDays)) {
			missed = 0
		} else {
			missed++
		}
		pause := span{from: from}
		if found {
			pause.to = next.AddDays(-1)
		}
		out.pauses = append(out.pauses, pause)
	}
	out.pauses = merged(out.pauses)
	return out
}

// served are the days on which upkeep served a place of a line, sorted.
func (f Facts) served(certificate, line, place string) []day.Day {
	var days []day.Day
	for _, u := range f.Upkeep {
		for _, s := range u.Seen {
			if s.Certificate == certificate && s.Line == line && (s.Place == "" || s.Place == place) && s.serves(u.By) {
				days = append(days, u.Day)
			}
		}
	}
	slices.SortFunc(days, day.Day.Compare)
	return days
}

// serves says whether what was seen counts as upkeep. Whoever did it, it counts
// alike; who is not the shop shows it by a photo, and names what it was sealed
// with.
func (s Seen) serves(by string) bool {
	done, resealed := s.State == "done", s.State == "resealed"
	if by == ByShop {
		return done || resealed
	}
	return s.Photos > 0 && (done || resealed && s.Sealant != "")
}

func within(days []day.Day, from, to day.Day) bool {
	return slices.ContainsFunc(days, span{from, to}.holds)
}

func firstFrom(days []day.Day, from day.Day) (day.Day, bool) {
	for _, d := range days {
		if !d.Before(from) {
			return d, true
		}
	}
	return day.Day{}, false
}

// counted are the sales that count against a certificate, sorted.
func (f Facts) counted(c Certificate) []Sale {
	var out []Sale
	for _, s := range f.Sales {
		if !s.Day.Before(c.FirstDay) && !s.SameKeeper {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Sale) int { return a.Day.Compare(b.Day) })
	return out
}

// salePauses are the pauses of a certificate because a sale was told late. That
// a later sale was told is telling of the earlier ones, and of one of its day.
func (f Facts) salePauses(c Certificate) []span {
	sales := f.counted(c)
	var out []span
	for _, s := range sales {
		pause := span{from: s.Day.AddDays(c.Numbers.NoticeDays + 1)}
		for _, later := range sales {
			if told := later.Told; !told.IsZero() && !later.Day.Before(s.Day) && (pause.to.IsZero() || told.AddDays(-1).Before(pause.to)) {
				pause.to = told.AddDays(-1)
			}
		}
		out = append(out, pause)
	}
	return merged(out)
}

// over is how a line is over: once, for one reason, from a day on.
type over struct {
	key   string
	from  day.Day // the first day it is over
	shown day.Day // the day a ground names: the last day of the term, or from
}

// ends is when and how a place of a line is over; the earliest reason counts, of
// several on one day the first here.
func (f Facts) ends(c Certificate, l Line, up upkept) over {
	last := c.LastDay(l)
	out := over{"expired", last.AddDays(1), last}
	consider := func(key string, from day.Day) {
		if !from.IsZero() && from.Before(out.from) {
			out = over{key, from, from}
		}
	}
	if sales := f.counted(c); len(sales) > c.Numbers.TransfersMost {
		consider("ended-by-sale", sales[c.Numbers.TransfersMost].Day)
	}
	consider("ended-by-upkeep", up.ended)
	for _, s := range f.Standings {
		if s.Word == WordEnded && s.Certificate == c.No && (len(s.Lines) == 0 || slices.Contains(s.Lines, l.Line)) {
			consider("ended-by-word", s.Day)
		}
	}
	return out
}

// withdrawn is the standing that withdrew a certificate, as told by a day.
func (f Facts) withdrawn(certificate string, by day.Day) (Standing, bool) {
	var out Standing
	found := false
	for _, s := range f.Standings {
		if s.Word == WordWithdrawn && s.Certificate == certificate && !s.Told.IsZero() && !s.Told.After(by) {
			if !found || s.Told.Before(out.Told) {
				out, found = s, true
			}
		}
	}
	return out, found
}

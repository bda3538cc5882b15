package cover

import (
	"cmp"
	"slices"
	"strings"

	"lapmark/ledger/day"
)

// The words of a line's place on a day.
const (
	StandsWithdrawn = "withdrawn"
	StandsNotBegun  = "not-begun"
	StandsReplaced  = "replaced-here"
	StandsEnded     = "ended"
	StandsExpired   = "expired"
	StandsPaused    = "paused"
	StandsInForce   = "in-force"
)

// Stands is how one place of a line stands on a day. Months, Share and DaysLeft
// are said only while it is in force or paused.
type Stands struct {
	Line     string // CERT/LINE/PLACE
	Word     string
	Since    day.Day
	LastDay  day.Day
	Months   int
	Share    int64
	DaysLeft int
	Who      string
	Ground   Ground // why, where it is not in force
}

// StandingOn is how every line's place stands on a day, sorted by certificate,
// line and place. A place is asked at its middle.
func StandingOn(f Facts, on day.Day) []Stands {
	var out []Stands
	for _, c := range f.Certificates {
		sales := f.salePauses(c)
		for _, l := range c.Lines {
			for _, p := range l.Places {
				out = append(out, f.stands(c, l, p, sales, on))
			}
		}
	}
	slices.SortFunc(out, func(a, b Stands) int {
		x, y, z := LineOf(a.Line)
		u, v, w := LineOf(b.Line)
		return cmp.Or(strings.Compare(x, u), strings.Compare(y, v), strings.Compare(z, w))
	})
	return out
}

func (f Facts) stands(c Certificate, l Line, at Place, sales []span, on day.Day) Stands {
	name := c.No + "/" + l.Line + "/" + at.Place
	s := Stands{Line: name, LastDay: c.LastDay(l), Who: f.answersOn(c, l, on, on)}
	first := c.first(l)
	w, gone := f.withdrawn(c.No, on)
	up := f.upkept(c, l, at.Place)
	end := f.ends(c, l, up)
	by := slices.DeleteFunc(f.instead(c, l, on, on), func(i instead) bool { return !holdAt(i.boxes, at.Box.Middle()) })
	switch {
	case gone:
		s.Word, s.Since, s.Ground = StandsWithdrawn, w.Told, Ground{Key: KeyWithdrawn, Certificate: c.No, Day: w.Told, See: w.ReplacedBy}
		return s
	case on.Before(first):
		s.Word, s.Ground = StandsNotBegun, Ground{Key: KeyBeforeFirstDay, On: name, Day: first}
		return s
	case len(by) > 0:
		since := slices.MinFunc(by, func(a, b instead) int { return a.first.Compare(b.first) })
		s.Word, s.Since, s.Ground = StandsReplaced, since.first, Ground{Key: KeyReplacedHere, On: name, By: since.no}
		return s
	case !on.Before(end.from):
		s.Word, s.Since, s.Ground = StandsEnded, end.from, Ground{Key: end.key, On: name, Day: end.shown}
		if end.key == KeyExpired {
			s.Word = StandsExpired
		}
		return s
	}
	s.Word = StandsInForce
	if pauses := append(pausesOn(KeyUpkeepPaused, name, up.pauses, on), pausesOn(KeySalePaused, name, sales, on)...); len(pauses) > 0 {
		since := slices.MinFunc(pauses, func(a, b Ground) int { return a.Day.Compare(b.Day) })
		s.Word, s.Since, s.Ground = StandsPaused, since.Day, since
	}
	s.Months = day.FullMonths(first, on)
	s.Share, s.DaysLeft = l.share(s.Months), day.Between(on, s.LastDay)
	return s
}

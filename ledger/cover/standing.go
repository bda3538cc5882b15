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
	j := newJudge(f, Question{Coach: f.Coach, Kind: KindLeak, Noticed: on, Reported: on})
	type row struct {
		c  Certificate
		at linePlace
	}
	var rows []row
	for _, c := range f.Certificates {
		for _, l := range c.Lines {
			for _, p := range l.Places {
				rows = append(rows, row{c, linePlace{l, p}})
			}
		}
	}
	slices.SortFunc(rows, func(a, b row) int {
		return cmp.Or(strings.Compare(a.c.No, b.c.No), strings.Compare(a.at.line.Line, b.at.line.Line),
			strings.Compare(a.at.place.Place, b.at.place.Place))
	})
	out := make([]Stands, len(rows))
	for i, r := range rows {
		out[i] = j.stands(r.c, r.at, on)
	}
	return out
}

func (j *judge) stands(c Certificate, at linePlace, on day.Day) Stands {
	s := Stands{Line: at.on(c), LastDay: c.LastDay(at.line), Who: j.facts.answersOn(c, at.line, on, on)}
	name := s.Line
	w, gone := j.facts.withdrawn(c.No, on)
	by := j.facts.replacing(c, at.line, at.place.Box.Middle(), on, on)
	up := j.upkept(c, at)
	end := j.facts.ends(c, at.line, up)
	switch {
	case gone:
		s.Word, s.Since, s.Ground = StandsWithdrawn, w.Told, Ground{Key: KeyWithdrawn, Certificate: c.No, Day: w.Told, See: w.ReplacedBy}
		return s
	case on.Before(c.first(at.line)):
		s.Word, s.Ground = StandsNotBegun, Ground{Key: KeyBeforeFirstDay, On: name, Day: c.first(at.line)}
		return s
	case len(by) > 0:
		s.Word, s.Since, s.Ground = StandsReplaced, by[0].FirstDay, Ground{Key: KeyReplacedHere, On: name, By: by[0].No}
		return s
	case !on.Before(end.from):
		s.Word, s.Since, s.Ground = StandsEnded, end.from, Ground{Key: end.key, On: name, Day: end.shown}
		if end.key == KeyExpired {
			s.Word = StandsExpired
		}
		return s
	}
	s.Word = StandsInForce
	if pauses := ordered(j.paused(c, at, up, "", on)); len(pauses) > 0 {
		s.Word, s.Since, s.Ground = StandsPaused, pauses[0].Day, pauses[0]
	}
	s.Months = day.FullMonths(c.first(at.line), on)
	s.Share, s.DaysLeft = at.line.share(s.Months), day.Between(on, s.LastDay)
	return s
}

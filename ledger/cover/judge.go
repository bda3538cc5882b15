package cover

import (
	"slices"

	"lapmark/ledger/day"
)

// cause is a cause as it is taken in one judgement; "" is one that is not shown.
type cause string

// judge judges one entry place for one cause.
type judge struct {
	facts   Facts
	q       Question
	asked   []Certificate // of this coach
	foreign []string      // certificates of another coach, by number
	terms   map[string]upkept
	sales   map[string][]span
}

func newJudge(f Facts, q Question) *judge {
	j := &judge{facts: f, q: q, terms: map[string]upkept{}, sales: map[string][]span{}}
	for _, c := range f.Certificates {
		if len(q.Certificates) > 0 && !slices.Contains(q.Certificates, c.No) {
			continue
		}
		if c.Coach != q.Coach {
			j.foreign = append(j.foreign, c.No)
			continue
		}
		j.asked = append(j.asked, c)
	}
	return j
}

// held is what one line's place, or a certificate that has none there, says of
// an entry.
type held struct {
	c       Certificate
	line    Line
	on      string // CERT/LINE/PLACE, "" of a certificate as a whole
	day     day.Day
	late    bool
	yes     bool
	begins  bool // the shop's own unfinished work
	share   int64
	grounds []Ground
	who     string
}

// counts is the day that counts for a certificate, and whether the report came
// late.
func (j *judge) counts(c Certificate) (day.Day, bool) {
	if day.Between(j.q.Noticed, j.q.Reported) > c.Numbers.ReportDays {
		return j.q.Reported, true
	}
	return j.q.Noticed, false
}

// looked are the days a line's place is looked at. Of a late report also the day
// it was noticed, and the days from the first late one to the report: a ground
// of those days says no as well, and grounds begin on few of them.
func (j *judge) looked(c Certificate, at linePlace, first day.Day) []day.Day {
	counts, late := j.counts(c)
	if !late {
		return []day.Day{counts}
	}
	firstLate := j.q.Noticed.AddDays(c.Numbers.ReportDays + 1)
	stretch := span{firstLate, j.q.Reported}
	all := []day.Day{j.q.Noticed, firstLate, counts}
	for _, d := range j.begins(c, at) {
		if stretch.holds(d) {
			all = append(all, d)
		}
	}
	slices.SortFunc(all, day.Day.Compare)
	return slices.DeleteFunc(slices.Compact(all), func(d day.Day) bool { return d.Before(first) })
}

// begins are the days on which a ground can begin that ends again.
func (j *judge) begins(c Certificate, at linePlace) []day.Day {
	var out []day.Day
	for _, s := range slices.Concat(j.upkept(c, at).pauses, j.salePauses(c)) {
		out = append(out, s.from)
	}
	for _, w := range j.facts.LaterWork {
		out = append(out, w.Day)
	}
	for _, l := range j.facts.Left {
		out = append(out, l.Day)
	}
	for _, h := range j.facts.HandOvers {
		out = append(out, h.Day)
	}
	return out
}

// at judges every line of every asked certificate at a place.
func (j *judge) at(p Point, why cause) []held {
	var out []held
	for _, no := range j.foreign {
		out = append(out, held{grounds: []Ground{{Key: KeyOtherCoach, Certificate: no}}, c: Certificate{No: no}, day: j.q.Noticed})
	}
	for _, c := range j.asked {
		out = append(out, j.certificate(c, p, why)...)
	}
	if len(out) == 0 {
		out = append(out, held{grounds: []Ground{{Key: KeyNoCertificate}}, day: j.q.Noticed})
	}
	return out
}

func (j *judge) certificate(c Certificate, p Point, why cause) []held {
	counts, late := j.counts(c)
	no := func(g Ground) []held { return []held{{c: c, day: counts, late: late, grounds: []Ground{g}}} }
	if w, gone := j.facts.withdrawn(c.No, j.q.Noticed); gone {
		return no(Ground{Key: KeyWithdrawn, Certificate: c.No, Day: w.Told, See: w.ReplacedBy, Ref: w.Ref})
	}
	if j.q.Noticed.Before(c.WorksFrom) {
		return no(Ground{Key: KeyOlderThanWork, Certificate: c.No, Day: c.WorksFrom})
	}
	var out []held
	for _, at := range j.facts.holding(c, j.q.Kind, p) {
		out = append(out, j.place(c, at, p, why))
	}
	if len(out) == 0 {
		return no(Ground{Key: KeyNoLine, Certificate: c.No})
	}
	return out
}

// linePlace is one place of a line.
type linePlace struct {
	line  Line
	place Place
}

func (l linePlace) on(c Certificate) string { return c.No + "/" + l.line.Line + "/" + l.place.Place }

// holding are the places of a certificate that may hold a point: the narrowest
// named thing, and wider ones too where none of the narrower holds it well
// inside.
func (f Facts) holding(c Certificate, kind string, p Point) []linePlace {
	var out []linePlace
	for _, width := range promises {
		well := false
		for _, l := range c.Lines {
			if l.Promise != width.name || !l.answers(kind) {
				continue
			}
			for _, at := range l.Places {
				if at.Box.distance(p) <= c.Numbers.Touch {
					out = append(out, linePlace{l, at})
					well = well || at.Box.wellInside(p, c.Numbers.Touch, f.Deck)
				}
			}
		}
		if well {
			break
		}
	}
	return out
}

// place judges one place of a line.
func (j *judge) place(c Certificate, at linePlace, p Point, why cause) held {
	counts, late := j.counts(c)
	on := at.on(c)
	h := held{c: c, line: at.line, on: on, day: counts, late: late, who: j.facts.answersOn(c, at.line, j.q.asked(), j.q.Reported)}
	first := c.first(at.line)
	if counts.Before(first) {
		h.yes, h.begins, h.share = true, true, whole
		h.grounds = []Ground{{Key: KeyBeforeFirstDay, On: on, Day: first}}
		return h
	}
	var against []Ground
	for _, t := range j.looked(c, at, first) {
		against = append(against, j.against(c, at, p, why, t)...)
	}
	if len(against) > 0 {
		h.grounds = ordered(against)
		return h
	}
	months := day.FullMonths(first, counts)
	h.yes, h.share = true, at.line.share(months)
	h.grounds = []Ground{{Key: KeyInForce, On: on, Months: months}}
	return h
}

// against are the grounds that say no of a line's place on one day.
func (j *judge) against(c Certificate, at linePlace, p Point, why cause, t day.Day) []Ground {
	out := j.replaced(c, at, p, t)
	up := j.upkept(c, at)
	end := j.facts.ends(c, at.line, up)
	isOver := !t.Before(end.from)
	if isOver {
		out = append(out, Ground{Key: end.key, On: at.on(c), Day: end.shown})
	}
	if why != "" && slices.Contains(c.ExcludedCauses, string(why)) && (why != fromUphill || j.q.Kind != KindLeak) {
		out = append(out, Ground{Key: KeyExcludedCause, On: at.on(c), By: string(why)})
	}
	out = append(out, j.others(c, at, p, why, t)...)
	out = append(out, j.leftThere(c, at, p, why, t)...)
	if !isOver {
		out = append(out, j.paused(c, at, up, why, t)...)
	}
	return out
}

const fromUphill = "from-uphill"

// replaced says which newer certificates stand instead of a line at the point of
// its place that is nearest to the entry.
func (j *judge) replaced(c Certificate, at linePlace, p Point, t day.Day) []Ground {
	var out []Ground
	near := at.place.Box.nearest(p)
	for _, by := range j.facts.replacing(c, at.line, near, t, j.q.Noticed) {
		out = append(out, Ground{Key: KeyReplacedHere, On: at.on(c), By: by.No})
	}
	return out
}

// replacing are the certificates that say instead of a line, have begun by t,
// were not withdrawn as told by noticed, and hold a point with a line of the
// same promise.
func (f Facts) replacing(c Certificate, l Line, p Point, t, noticed day.Day) []Certificate {
	var out []Certificate
	for _, by := range f.Certificates {
		if !by.insteadOf(c.No, l.Line) {
			continue
		}
		if _, gone := f.withdrawn(by.No, noticed); gone {
			continue
		}
		if by.holds(l.Promise, p, t) {
			out = append(out, by)
		}
	}
	return out
}

func (c Certificate) insteadOf(certificate, line string) bool {
	return slices.ContainsFunc(c.InsteadOf, func(r LineRef) bool {
		return r.Certificate == certificate && (len(r.Lines) == 0 || slices.Contains(r.Lines, line))
	})
}

// holds says whether a line of a promise that has begun by t holds a point.
func (c Certificate) holds(promise string, p Point, t day.Day) bool {
	return slices.ContainsFunc(c.Lines, func(l Line) bool {
		return l.Promise == promise && !t.Before(c.first(l)) &&
			slices.ContainsFunc(l.Places, func(at Place) bool { return at.Box.distance(p) == 0 })
	})
}

// others are the grounds of work by others. What was declared takes exactly its
// boxes and the tie-in; of what was not, a check must show the cause.
func (j *judge) others(c Certificate, at linePlace, p Point, why cause, t day.Day) []Ground {
	var out []Ground
	answers := j.facts.answersOn(c, at.line, t, j.q.Reported)
	for _, w := range j.facts.LaterWork {
		back := !w.Back.IsZero() && !w.Back.After(t)
		if w.Day.Before(c.FirstDay) || w.Day.After(t) || w.By == c.Issuer || w.By == answers || back || !Touches(j.q.Kind, w.Layers) {
			continue
		}
		mm, ok := nearestOf(w.Boxes, p)
		g := Ground{On: at.on(c), By: w.By, MM: mm, Ref: w.Ref}
		declared := w.declaredTo(c)
		switch {
		case !ok:
			continue
		case declared && mm <= c.Numbers.TieIn:
			g.Key = KeyTakenByOthers
		case !declared && mm == 0:
			g.Key = KeyOthersOpening
		case !declared && mm <= c.Numbers.Margin && why == "":
			g.Key = KeyNearOthersWork
		default:
			continue
		}
		out = append(out, g)
	}
	return out
}

// declaredTo says whether work by others was declared in time, by the number of
// a certificate.
func (w LaterWork) declaredTo(c Certificate) bool {
	return w.Declared || !w.Known.IsZero() && !w.Known.After(w.Day.AddDays(c.Numbers.DeclareDays))
}

// leftThere are the grounds of troubles of the same kind that were left.
func (j *judge) leftThere(c Certificate, at linePlace, p Point, why cause, t day.Day) []Ground {
	var out []Ground
	for _, l := range j.facts.Left {
		mended := !l.Mended.IsZero() && !l.Mended.After(t)
		if l.Kind != j.q.Kind || l.Day.After(t) || mended {
			continue
		}
		mm := l.Box.distance(p)
		switch {
		case mm == 0 && !j.shopSide(c, why):
			out = append(out, Ground{Key: KeyLeftTrouble, On: at.on(c), Day: l.Day, Ref: l.Ref})
		case mm > 0 && mm <= c.Numbers.Margin && why == "":
			out = append(out, Ground{Key: KeyNearLeftTrouble, On: at.on(c), Day: l.Day, MM: mm, Ref: l.Ref})
		}
	}
	return out
}

func (j *judge) shopSide(c Certificate, why cause) bool {
	return why != "" && slices.Contains(c.ShopSideCauses, string(why))
}

func (j *judge) paused(c Certificate, at linePlace, up upkept, why cause, t day.Day) []Ground {
	var out []Ground
	for _, s := range up.pauses {
		if s.holds(t) && !j.shopSide(c, why) {
			out = append(out, Ground{Key: KeyUpkeepPaused, On: at.on(c), Day: s.from, To: s.to})
		}
	}
	for _, s := range j.salePauses(c) {
		if s.holds(t) {
			out = append(out, Ground{Key: KeySalePaused, On: at.on(c), Day: s.from, To: s.to})
		}
	}
	return out
}

func (j *judge) upkept(c Certificate, at linePlace) upkept {
	on := at.on(c)
	up, known := j.terms[on]
	if !known {
		up = j.facts.upkept(c, at.line, at.place.Place)
		j.terms[on] = up
	}
	return up
}

func (j *judge) salePauses(c Certificate) []span {
	out, known := j.sales[c.No]
	if !known {
		out = j.facts.salePauses(c)
		j.sales[c.No] = out
	}
	return out
}

// Nobody is who answers for a line that no shop took over.
const Nobody = "nobody"

func (q Question) asked() day.Day {
	if q.Asked.IsZero() {
		return q.Reported
	}
	return q.Asked
}

// answersOn is who answers for a line on a day. A claim that was reported before
// a hand-over stays with the shop it was told, unless open claims were taken.
func (f Facts) answersOn(c Certificate, l Line, t, reported day.Day) string {
	who := c.Issuer
	overs := slices.Clone(f.HandOvers)
	slices.SortFunc(overs, func(a, b HandOver) int { return a.Day.Compare(b.Day) })
	for _, h := range overs {
		if h.Day.After(t) || h.From != who || reported.Before(h.Day) && !h.OpenClaims {
			continue
		}
		who = Nobody
		if h.To != "" && (slices.Contains(h.Lines, c.No+"/"+l.Line) || slices.Contains(h.Lines, c.No+"/*")) {
			who = h.To
		}
	}
	return who
}

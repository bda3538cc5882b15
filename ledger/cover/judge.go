package cover

import (
	"slices"
	"strings"

	"lapmark/ledger/day"
)

// cause is a cause as it is taken in one judgement; "" is one that is not shown.
type cause string

// judge judges entry places for a question. What does not hang on the place is
// worked out once.
type judge struct {
	facts Facts
	q     Question
	asked []paper
}

// paper is one asked certificate as it is looked at.
type paper struct {
	Certificate
	counts day.Day // the day that counts
	late   bool    // the report came late
	no     *Ground // it is of another coach, withdrawn, or noticed before its work; nothing else is asked of it
	spots  []spot  // its places that answer the kind, the narrowest first
}

// spot is one place of a line as it is looked at.
type spot struct {
	paper *paper
	line  Line
	box   Box
	width int
	on    string // CERT/LINE/PLACE
	first day.Day
	who   string // answers for it when it is asked
	days  []looked
}

// looked is what holds of a spot on one day that it is looked at.
type looked struct {
	over    *Ground  // it is over
	upkeep  []Ground // pauses that a shop-side cause lifts
	sale    []Ground
	instead []instead
	works   []work
	left    []Left
}

// instead is a newer certificate that stands in a line's place in some boxes.
type instead struct {
	no    string
	first day.Day
	boxes []Box
}

// work is work by others that may touch the trouble.
type work struct {
	LaterWork
	declared bool
}

func newJudge(f Facts, q Question) *judge {
	j := &judge{facts: f, q: q}
	for _, c := range f.Certificates {
		if len(q.Certificates) == 0 || slices.Contains(q.Certificates, c.No) {
			j.asked = append(j.asked, paper{Certificate: c})
		}
	}
	for i := range j.asked {
		j.look(&j.asked[i])
	}
	return j
}

// look works out what of a certificate does not hang on the place.
func (j *judge) look(c *paper) {
	c.counts = j.q.Noticed
	c.late = day.Between(j.q.Noticed, j.q.Reported) > c.Numbers.ReportDays
	if j.foreign(c) {
		c.no = &Ground{Key: KeyOtherCoach, Certificate: c.No}
		return
	}
	if c.late {
		c.counts = j.q.Reported
	}
	if w, gone := j.facts.withdrawn(c.No, j.q.Noticed); gone {
		c.no = &Ground{Key: KeyWithdrawn, Certificate: c.No, Day: w.Told, See: w.ReplacedBy, Ref: w.Ref}
		return
	}
	if j.q.Noticed.Before(c.WorksFrom) {
		c.no = &Ground{Key: KeyOlderThanWork, Certificate: c.No, Day: c.WorksFrom}
		return
	}
	for _, l := range c.Lines {
		p, ok := promiseNamed(l.Promise)
		if !ok || !l.answers(j.q.Kind) {
			continue
		}
		for _, at := range l.Places {
			s := spot{
				paper: c, line: l, box: at.Box, width: p.width, on: c.No + "/" + l.Line + "/" + at.Place, first: c.first(l),
				who: j.facts.answersOn(c.Certificate, l, j.q.asked(), j.q.Reported),
			}
			j.days(&s, at)
			c.spots = append(c.spots, s)
		}
	}
	slices.SortStableFunc(c.spots, func(a, b spot) int { return a.width - b.width })
}

// foreign says whether a certificate is of another coach than the one in front of
// us.
func (j *judge) foreign(c *paper) bool { return c.Coach != j.q.Coach }

// days works out the days on which a spot is looked at. Of a late report these
// are also the day it was noticed, and the days from the first late one to the
// report: a ground of those days says no as well, and grounds begin on few of
// them, the first day of the line among those.
func (j *judge) days(s *spot, at Place) {
	c := s.paper
	up, sales := j.facts.upkept(c.Certificate, s.line, at.Place), j.facts.salePauses(c.Certificate)
	end := j.facts.ends(c.Certificate, s.line, up)
	all := []day.Day{c.counts}
	if c.late {
		firstLate := j.q.Noticed.AddDays(c.Numbers.ReportDays + 1)
		all = append(all, j.q.Noticed, firstLate)
		stretch := span{firstLate, j.q.Reported}
		for _, d := range append(j.facts.begins(slices.Concat(up.pauses, sales)), s.first) {
			if stretch.holds(d) {
				all = append(all, d)
			}
		}
	}
	slices.SortFunc(all, day.Day.Compare)
	for _, t := range slices.Compact(all) {
		if !t.Before(s.first) {
			s.days = append(s.days, j.lookedOn(s, t, up, sales, end))
		}
	}
}

// begins are the days on which a ground can begin that ends again.
func (f Facts) begins(pauses []span) []day.Day {
	var out []day.Day
	for _, s := range pauses {
		out = append(out, s.from)
	}
	for _, w := range f.LaterWork {
		out = append(out, w.Day)
	}
	for _, l := range f.Left {
		out = append(out, l.Day)
	}
	for _, h := range f.HandOvers {
		out = append(out, h.Day)
	}
	return out
}

// lookedOn is what holds of a spot on one day.
func (j *judge) lookedOn(s *spot, t day.Day, up upkept, sales []span, end over) looked {
	c := s.paper
	var out looked
	if !t.Before(end.from) {
		out.over = &Ground{Key: end.key, On: s.on, Day: end.shown}
	} else { // of what is over, no pause is listed
		out.upkeep = pausesOn(KeyUpkeepPaused, s.on, up.pauses, t)
		out.sale = pausesOn(KeySalePaused, s.on, sales, t)
	}
	out.instead = j.facts.instead(c.Certificate, s.line, t, j.q.Noticed)
	answers := j.facts.answersOn(c.Certificate, s.line, t, j.q.Reported)
	for _, w := range j.facts.LaterWork {
		back := !w.Back.IsZero() && !w.Back.After(t)
		stranger := w.By != c.Issuer && w.By != answers
		if stranger && !back && !w.Day.Before(c.FirstDay) && !w.Day.After(t) && Touches(j.q.Kind, w.Layers) {
			out.works = append(out.works, work{w, w.declaredTo(c.Certificate)})
		}
	}
	for _, l := range j.facts.Left {
		mended := !l.Mended.IsZero() && !l.Mended.After(t)
		if l.Kind == j.q.Kind && !l.Day.After(t) && !mended {
			out.left = append(out.left, l)
		}
	}
	return out
}

func pausesOn(key, on string, pauses []span, t day.Day) []Ground {
	var out []Ground
	for _, s := range pauses {
		if s.holds(t) {
			out = append(out, Ground{Key: key, On: on, Day: s.from, To: s.to})
		}
	}
	return out
}

// instead are the certificates that say instead of a line, were not withdrawn as
// told by noticed, and have a line of the same promise that has begun by t: the
// boxes in which they stand in its place.
func (f Facts) instead(c Certificate, l Line, t, noticed day.Day) []instead {
	var out []instead
	for _, by := range f.Certificates {
		if !by.insteadOf(c.No, l.Line) {
			continue
		}
		if _, gone := f.withdrawn(by.No, noticed); gone {
			continue
		}
		one := instead{no: by.No, first: by.FirstDay}
		for _, new := range by.Lines {
			if new.Promise == l.Promise && !t.Before(by.first(new)) {
				for _, at := range new.Places {
					one.boxes = append(one.boxes, at.Box)
				}
			}
		}
		out = append(out, one)
	}
	slices.SortFunc(out, func(a, b instead) int { return strings.Compare(a.no, b.no) })
	return out
}

func (c Certificate) insteadOf(certificate, line string) bool {
	return slices.ContainsFunc(c.InsteadOf, func(r LineRef) bool {
		return r.Certificate == certificate && (len(r.Lines) == 0 || slices.Contains(r.Lines, line))
	})
}

func holdAt(boxes []Box, p Point) bool {
	return slices.ContainsFunc(boxes, func(b Box) bool { return b.distance(p) == 0 })
}

// declaredTo says whether work by others was declared in time, by the number of
// a certificate.
func (w LaterWork) declaredTo(c Certificate) bool {
	return w.Declared || !w.Known.IsZero() && !w.Known.After(w.Day.AddDays(c.Numbers.DeclareDays))
}

// holding are the places of a certificate that may hold a point: the narrowest
// named thing, and wider ones too where none of the narrower holds it well
// inside.
func (c *paper) holding(p Point, deck Box) []*spot {
	var out []*spot
	well := false
	for i := range c.spots {
		s := &c.spots[i]
		if well && i > 0 && s.width != c.spots[i-1].width {
			break
		}
		if s.box.within(p, c.Numbers.Touch) {
			out = append(out, s)
			well = well || s.box.wellInside(p, c.Numbers.Touch, deck)
		}
	}
	return out
}

// against are the grounds that say no of a spot.
func (j *judge) against(s *spot, p Point, why cause) []Ground {
	var out []Ground
	excluded := why != "" && slices.Contains(s.paper.ExcludedCauses, string(why)) && (why != fromUphill || j.q.Kind != KindLeak)
	shopSide := why != "" && slices.Contains(s.paper.ShopSideCauses, string(why))
	if excluded && len(s.days) > 0 {
		out = append(out, Ground{Key: KeyExcludedCause, On: s.on, By: string(why)})
	}
	for i := range s.days {
		t := &s.days[i]
		near := s.box.nearest(p)
		for _, by := range t.instead {
			if holdAt(by.boxes, near) {
				out = append(out, Ground{Key: KeyReplacedHere, On: s.on, By: by.no})
			}
		}
		if t.over != nil {
			out = append(out, *t.over)
		}
		if !shopSide {
			out = append(out, t.upkeep...)
		}
		out = append(out, t.sale...)
		out = t.others(out, s, p, why)
		out = t.leftThere(out, s, p, why, shopSide)
	}
	return out
}

const fromUphill = "from-uphill"

// others adds the grounds of work by others. What was declared takes exactly its
// boxes and the tie-in; of what was not, a check must show the cause.
func (t *looked) others(out []Ground, s *spot, p Point, why cause) []Ground {
	n := s.paper.Numbers
	for i := range t.works {
		w := &t.works[i]
		reach := n.Margin
		if w.declared {
			reach = n.TieIn
		}
		if !slices.ContainsFunc(w.Boxes, func(b Box) bool { return b.within(p, reach) }) {
			continue
		}
		g := Ground{Key: KeyTakenByOthers, On: s.on, By: w.By, MM: nearestOf(w.Boxes, p), Ref: w.Ref}
		switch {
		case w.declared:
		case g.MM == 0:
			g.Key = KeyOthersOpening
		case why == "":
			g.Key = KeyNearOthersWork
		default:
			continue
		}
		out = append(out, g)
	}
	return out
}

// leftThere adds the grounds of troubles of the same kind that were left.
func (t *looked) leftThere(out []Ground, s *spot, p Point, why cause, shopSide bool) []Ground {
	for _, l := range t.left {
		if !l.Box.within(p, s.paper.Numbers.Margin) {
			continue
		}
		mm := l.Box.distance(p)
		switch {
		case mm == 0 && !shopSide:
			out = append(out, Ground{Key: KeyLeftTrouble, On: s.on, Day: l.Day, Ref: l.Ref})
		case mm > 0 && why == "":
			out = append(out, Ground{Key: KeyNearLeftTrouble, On: s.on, Day: l.Day, MM: mm, Ref: l.Ref})
		}
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

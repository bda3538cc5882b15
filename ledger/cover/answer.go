package cover

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger/day"
)

// The verdicts.
const (
	Covered       = "covered"
	CoveredInPart = "covered-in-part"
	NotCovered    = "not-covered"
	CannotSayYet  = "cannot-say-yet"
	Unfinished    = "shops-unfinished-work"
	NoVerdict     = "no-verdict"
)

// Answer is one verdict: of one place of entry, or of one that is not known.
// Share is what is certain, Most what is still possible, per mille.
type Answer struct {
	Verdict string
	Share   int64
	Most    int64
	Lead    string // key word of the first ground
	Grounds []Ground
	Check   string // the one check that would settle it
	Day     day.Day
	Line    string // CERT/LINE/PLACE of the leading line
	Who     string // who answers for it now
	Out     []string

	late  bool     // told late for the leading certificate
	check string   // that shows the cause at the leading line
	shops []string // of a yes: who answers, line by line, for that verdict and share
}

// What is wrong with a question.
var (
	ErrReported = errors.New("reported before it was noticed")
	ErrKind     = errors.New("no kind of trouble")
	ErrPlace    = errors.New("no place")
	ErrDay      = errors.New("no day")
)

// Ask answers a question: one answer for each entry, one in all where the entry
// is open.
func Ask(f Facts, q Question) ([]Answer, error) {
	if err := q.check(); err != nil {
		return nil, err
	}
	if q.Coach == "" {
		q.Coach = f.Coach
	}
	if q.Kind != KindLeak && len(q.Entries) == 0 {
		q.Entries = []Entry{{At: *q.Shows}}
	}
	j := newJudge(f, q)
	if f.FirstBad > 0 {
		return j.each(func(Entry) Answer { return j.broken() }), nil
	}
	if len(q.Entries) == 0 {
		return []Answer{j.open()}, nil
	}
	return j.each(j.entry), nil
}

func (j *judge) each(answer func(Entry) Answer) []Answer {
	entries := j.q.Entries
	if len(entries) == 0 {
		entries = []Entry{{}}
	}
	out := make([]Answer, len(entries))
	for i, e := range entries {
		out[i] = answer(e)
	}
	return out
}

func (q Question) check() error {
	switch {
	case !slices.Contains(Kinds(), q.Kind):
		return fmt.Errorf("%w: %q; one of %s", ErrKind, q.Kind, strings.Join(Kinds(), ", "))
	case q.Noticed.IsZero() || q.Reported.IsZero():
		return fmt.Errorf("%w: the day it was noticed and the day it was reported are needed", ErrDay)
	case q.Reported.Before(q.Noticed):
		return fmt.Errorf("%w: noticed %s, reported %s", ErrReported, q.Noticed, q.Reported)
	case q.Kind != KindLeak && q.Shows == nil && len(q.Entries) == 0:
		return fmt.Errorf("%w: a %s is judged where it shows", ErrPlace, q.Kind)
	}
	return nil
}

func (j *judge) broken() Answer {
	g := Ground{Key: KeyRecordBroken, Entry: j.facts.FirstBad}
	return Answer{Verdict: NoVerdict, Lead: g.Key, Grounds: []Ground{g}, Day: j.q.Noticed}
}

// entry answers for one place of entry. A cause that is not shown leaves two
// ends: nothing shown, and the best that a check could show.
func (j *judge) entry(e Entry) Answer {
	if e.Shown && !slices.Contains(wheres, e.Cause) && e.Cause != "" {
		return j.answer(j.at(e.At, cause(e.Cause)), e.At)
	}
	hard, kind := j.ends(e.At)
	if hard.Verdict == kind.Verdict && hard.Share == kind.Share {
		return same(hard, kind)
	}
	return causeOpen(hard, kind)
}

// wheres are causes that say where water went, not why: they show nothing.
var wheres = []string{"past-seam", "past-edge", "past-fitting", "past-fastener", "past-joint", "not-found"}

// ends are the two ends while the cause is open: hard, with no cause shown, and
// kind, the best that one could show.
func (j *judge) ends(p Point) (hard, kind Answer) {
	hard = j.answer(j.at(p, ""), p)
	for i, why := range j.kindly() {
		one := j.answer(j.at(p, why), p)
		if i == 0 || one.better(kind) {
			kind = one
		}
	}
	return hard, kind
}

// ordinary is the cause that stands for all that are on nobody's side.
const ordinary = "aged-sealant"

// kindly are the causes that a check could show to the holder's good, in the
// order they are tried.
func (j *judge) kindly() []cause {
	var names []string
	for _, c := range j.asked {
		names = append(names, c.ShopSideCauses...)
	}
	slices.Sort(names)
	var out []cause
	known := map[string]bool{}
	for _, n := range append(slices.Compact(names), ordinary) {
		if class := j.class(n); !known[class] || n == ordinary && len(out) == 0 {
			known[class] = true
			out = append(out, cause(n))
		}
	}
	return out
}

// class says what a cause is to each asked certificate: two of one class are
// judged alike everywhere.
func (j *judge) class(name string) string {
	class := make([]byte, len(j.asked))
	for i, c := range j.asked {
		class[i] = byte('0' + 2*truth(slices.Contains(c.ShopSideCauses, name)) + truth(slices.Contains(c.ExcludedCauses, name)))
	}
	return string(class)
}

// same is the answer where both ends agree. Of a no the grounds that hold
// whatever the cause lead.
func same(hard, kind Answer) Answer {
	if hard.says() {
		return hard
	}
	kind.Grounds = unrepeated(slices.Concat(kind.Grounds, hard.Grounds))
	return kind
}

func causeOpen(hard, kind Answer) Answer {
	out := kind
	out.Verdict, out.Lead, out.Out = CannotSayYet, KeyCauseOpen, nil
	out.Share, out.Most = min(hard.Share, kind.Share), max(hard.Share, kind.Share)
	out.Grounds = slices.Concat([]Ground{{Key: KeyCauseOpen}}, hard.Grounds)
	out.Check = kind.check
	return out
}

// says is whether an answer is a yes.
func (a Answer) says() bool {
	return a.Verdict == Covered || a.Verdict == CoveredInPart || a.Verdict == Unfinished
}

// better says whether an answer is better for the holder than another.
func (a Answer) better(b Answer) bool {
	rank := func(a Answer) int64 {
		switch a.Verdict {
		case Covered, CoveredInPart:
			return 2*a.Share + 1
		case Unfinished:
			return 2 * a.Share
		}
		return -1
	}
	return rank(a) > rank(b)
}

// held is what one line's place, or a certificate as a whole, says of an entry.
type held struct {
	spot    *spot  // nil of a certificate as a whole
	paper   *paper // nil where there is none
	yes     bool
	begins  bool // the shop's own unfinished work
	share   int64
	grounds []Ground
}

// at judges every line of every asked certificate at a place.
func (j *judge) at(p Point, why cause) []held {
	var out []held
	for i := range j.asked {
		c := &j.asked[i]
		if c.no != nil {
			out = append(out, held{paper: c, grounds: []Ground{*c.no}})
			continue
		}
		spots := c.holding(p, j.facts.Deck)
		for _, s := range spots {
			out = append(out, j.held(s, p, why))
		}
		if len(spots) == 0 {
			out = append(out, c.noLine())
		}
	}
	if len(out) == 0 {
		out = append(out, held{grounds: []Ground{{Key: KeyNoCertificate}}})
	}
	return out
}

func (c *paper) noLine() held {
	return held{paper: c, grounds: []Ground{{Key: KeyNoLine, Certificate: c.No}}}
}

// held judges one place of a line.
func (j *judge) held(s *spot, p Point, why cause) held {
	h := held{spot: s, paper: s.paper}
	counts := s.paper.counts
	if counts.Before(s.first) {
		h.yes, h.begins, h.share = true, true, whole
		h.grounds = []Ground{{Key: KeyBeforeFirstDay, On: s.on, Day: s.first}}
		return h
	}
	if h.grounds = j.against(s, p, why); len(h.grounds) > 0 {
		return h
	}
	months := day.FullMonths(s.first, counts)
	h.yes, h.share = true, s.line.share(months)
	h.grounds = []Ground{{Key: KeyInForce, On: s.on, Months: months}}
	return h
}

func (h held) bestFirst(o held) int {
	return cmp.Or(
		cmp.Compare(o.share, h.share), cmp.Compare(truth(h.begins), truth(o.begins)), o.first().Compare(h.first()),
		strings.Compare(h.no(), o.no()), strings.Compare(h.spot.line.Line, o.spot.line.Line), strings.Compare(h.on(), o.on()),
	)
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (h held) on() string {
	if h.spot == nil {
		return ""
	}
	return h.spot.on
}

func (h held) no() string {
	if h.paper == nil {
		return ""
	}
	return h.paper.No
}

func (h held) lineName() string {
	if h.spot == nil {
		return ""
	}
	return h.spot.line.Line
}

func (h held) first() day.Day {
	switch {
	case h.spot != nil:
		return h.spot.first
	case h.paper != nil:
		return h.paper.FirstDay
	}
	return day.Day{}
}

// brief is an answer without its grounds: what an open entry needs of each zone.
func (j *judge) brief(all []held, p Point) (out Answer, best held) {
	for _, h := range all {
		if h.yes && (best.spot == nil || h.bestFirst(best) < 0) {
			best = h
		}
	}
	if best.spot == nil {
		return Answer{Verdict: NotCovered}, best
	}
	out = Answer{Verdict: Covered, Share: best.share, Most: best.share, Day: best.paper.counts, Line: best.spot.on, Who: best.spot.who}
	for _, h := range all {
		if h.yes && h.begins == best.begins && h.share == best.share {
			out.shops = append(out.shops, h.spot.who)
		}
	}
	switch {
	case best.begins:
		out.Verdict = Unfinished
		return out, best
	case best.share < whole:
		out.Verdict = CoveredInPart
	}
	out.Out = j.out(best, p)
	return out, best
}

// answer makes one answer of what all lines say: the best yes, or all that says
// no, the one that came furthest first.
func (j *judge) answer(all []held, p Point) Answer {
	out, best := j.brief(all, p)
	if !out.says() {
		return j.refused(all)
	}
	all = slices.DeleteFunc(slices.Clone(all), func(h held) bool { return !h.yes })
	slices.SortStableFunc(all, held.bestFirst)
	for _, h := range all {
		out.Grounds = append(out.Grounds, h.grounds...)
	}
	out.Lead, out.check = out.Grounds[0].Key, best.spot.settles()
	return out
}

// refused is the answer where every line says no.
func (j *judge) refused(all []held) Answer {
	all = slices.Clone(all)
	for i := range all {
		all[i].grounds = ordered(all[i].grounds)
	}
	slices.SortStableFunc(all, func(a, b held) int {
		return cmp.Or(
			cmp.Compare(b.grounds[0].rule(), a.grounds[0].rule()), b.first().Compare(a.first()),
			strings.Compare(a.no(), b.no()), strings.Compare(a.lineName(), b.lineName()), strings.Compare(a.on(), b.on()),
		)
	})
	lead := all[0]
	out := Answer{Verdict: NotCovered, Day: j.q.Noticed, Lead: lead.grounds[0].Key}
	if lead.paper != nil {
		out.Day, out.late = lead.paper.counts, lead.paper.late
	}
	if lead.spot != nil {
		out.Line, out.Who, out.check = lead.spot.on, lead.spot.who, lead.spot.settles()
	}
	if out.Lead == KeyOtherCoach {
		out.Verdict = NoVerdict
	}
	for _, h := range all {
		out.Grounds = append(out.Grounds, h.grounds...)
	}
	out.Grounds = unrepeated(out.Grounds)
	return out
}

// settles is the check that shows the cause at a line's place.
func (s *spot) settles() string {
	p, _ := promiseNamed(s.line.Promise)
	return p.check
}

// out is what is not paid though a line says yes.
func (j *judge) out(best held, p Point) []string {
	var out []string
	for _, o := range j.facts.OwnWork {
		if j.liesIn(o.What, p) {
			out = append(out, "own-work "+o.What)
		}
	}
	if best.paper.late {
		out = append(out, "resulting-damage")
	}
	if j.q.RefusedShelter {
		out = append(out, "worsening")
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// liesIn says whether the trouble lies in the holder's own work of a name: where
// it shows; without that, where the water comes in; and while that is open,
// every place where it can.
func (j *judge) liesIn(what string, p Point) bool {
	at := []Box{{p.Aft, p.Aft, p.Off, p.Off}}
	switch {
	case j.q.Shows != nil:
		at[0] = Box{j.q.Shows.Aft, j.q.Shows.Aft, j.q.Shows.Off, j.q.Shows.Off}
	case len(j.q.Entries) == 0:
		at = j.possible()
	}
	return !slices.ContainsFunc(at, func(b Box) bool {
		return !slices.ContainsFunc(j.facts.OwnWork, func(o OwnWork) bool { return o.What == what && b.Inside(o.Box) })
	})
}

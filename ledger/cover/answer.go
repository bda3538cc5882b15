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
	out := []cause{}
	for _, n := range slices.Compact(names) {
		out = append(out, cause(n))
	}
	return append(out, ordinary)
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

// answer makes one answer of what all lines say: the best yes, or all that says
// no, the one that came furthest first.
func (j *judge) answer(all []held, p Point) Answer {
	var yes []held
	for _, h := range all {
		if h.yes {
			yes = append(yes, h)
		}
	}
	if len(yes) == 0 {
		return refused(all)
	}
	slices.SortStableFunc(yes, held.bestFirst)
	best := yes[0]
	out := Answer{Verdict: Covered, Share: best.share, Most: best.share, Day: best.day, Line: best.on, Who: best.who}
	for _, h := range yes {
		out.Grounds = append(out.Grounds, h.grounds...)
		if h.begins == best.begins && h.share == best.share {
			out.shops = append(out.shops, h.who)
		}
	}
	switch {
	case best.begins:
		out.Verdict = Unfinished
	case best.share < whole:
		out.Verdict = CoveredInPart
	}
	out.Lead = out.Grounds[0].Key
	out.check = best.settles()
	if out.Verdict != Unfinished {
		out.Out = j.out(best, p)
	}
	return out
}

func (h held) bestFirst(o held) int {
	return cmp.Or(
		cmp.Compare(o.share, h.share), -cmp.Compare(truth(o.begins), truth(h.begins)), o.first().Compare(h.first()),
		strings.Compare(h.c.No, o.c.No), strings.Compare(h.line.Line, o.line.Line), strings.Compare(h.on, o.on),
	)
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (h held) first() day.Day {
	if h.on == "" {
		return h.c.FirstDay
	}
	return h.c.first(h.line)
}

// refused is the answer where every line says no.
func refused(all []held) Answer {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b held) int {
		return cmp.Or(
			cmp.Compare(b.grounds[0].rule(), a.grounds[0].rule()), b.first().Compare(a.first()),
			strings.Compare(a.c.No, b.c.No), strings.Compare(a.line.Line, b.line.Line), strings.Compare(a.on, b.on),
		)
	})
	lead := all[0]
	out := Answer{Verdict: NotCovered, Day: lead.day, Line: lead.on, Who: lead.who, Lead: lead.grounds[0].Key}
	if out.Lead == KeyOtherCoach {
		out.Verdict = NoVerdict
	}
	for _, h := range all {
		out.Grounds = append(out.Grounds, h.grounds...)
	}
	out.Grounds = unrepeated(out.Grounds)
	out.check, out.late = lead.settles(), lead.late
	return out
}

// settles is the check that shows the cause at a line's place.
func (h held) settles() string {
	p, _ := promiseNamed(h.line.Promise)
	return p.check
}

// out is what is not paid though a line says yes.
func (j *judge) out(best held, p Point) []string {
	if j.q.Shows != nil {
		p = *j.q.Shows
	}
	var out []string
	for _, o := range j.facts.OwnWork {
		if o.Box.distance(p) == 0 {
			out = append(out, "own-work "+o.What)
		}
	}
	if best.late {
		out = append(out, "resulting-damage")
	}
	if j.q.RefusedShelter {
		out = append(out, "worsening")
	}
	slices.Sort(out)
	return slices.Compact(out)
}

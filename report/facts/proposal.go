package facts

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
)

// proposed are the promises a certificate may be proposed for, in the order of
// its lines, each with the places of one operation that it is given for.
var proposed = []struct {
	promise string
	places  func(*proposal, rules.Op) []format.Object
}{
	{"watertight-membrane", (*proposal).sheet},
	{"bond", (*proposal).bond},
	{"sound-frame", (*proposal).frame},
	{"watertight-fitting", (*proposal).fitting},
	{"watertight-edge", (*proposal).edge},
	{"watertight-tie-in", (*proposal).tieIn},
}

// Proposal returns the cover lines that certify proposes under a number: for
// each promise of the terms the places of the shop's closed work since its
// newest earlier certificate there. What a decision of the holder leaves is cut
// out. All lines begin on the first day there can be: after the last release of
// a cure under them and the last work, or today where nothing had to cure.
// Whether the checks were made is not asked here: the rules say what is
// missing.
//
// Places stand in the order in which they were first closed; fittings in the
// order in which the work on them began.
func Proposal(r *ledger.Replay, t report.Terms, number string, today day.Day) []format.Object {
	p := &proposal{r: r, ops: sinceCertificates(r)}
	var lines []format.Object
	for _, one := range proposed {
		at := slices.IndexFunc(t.Promises, func(p report.PromiseTerm) bool { return p.Promise == one.promise })
		if at < 0 || t.Promises[at].Months == 0 {
			continue
		}
		var places []format.Object
		for _, op := range p.ops {
			for _, o := range one.places(p, op) {
				places = p.with(places, op, o)
			}
		}
		if one.promise == "watertight-fitting" {
			p.begunFirst(places)
		}
		places = p.cutOut(one.promise, places)
		if len(places) > 0 {
			lines = append(lines, line(len(lines)+1, t.Promises[at], places))
		}
	}
	first := p.firstDay(number, lines, today).String()
	for _, l := range lines {
		l["first-day"] = first
	}
	return lines
}

// line is a cover line without its first day. A floor of the whole is left out:
// the share does not fall.
func line(number int, t report.PromiseTerm, places []format.Object) format.Object {
	l := format.Object{
		"line": int64(number), "promise": t.Promise, "places": array(places), "months": int64(t.Months),
		"full-months": int64(t.Full), "upkeep": t.Upkeep,
	}
	if t.Floor < 100 {
		l["floor"] = int64(t.Floor) * 10
	}
	return l
}

func array(objects []format.Object) format.Array {
	list := make(format.Array, len(objects))
	for i, o := range objects {
		list[i] = o
	}
	return list
}

// proposal is a certificate in the making: the work it may rest on.
type proposal struct {
	r   *ledger.Replay
	ops []rules.Op
}

// sinceCertificates are the operations of closed work that no certificate of
// the shop lies over already.
func sinceCertificates(r *ledger.Replay) []rules.Op {
	var out []rules.Op
	for _, op := range rules.Closed(r) {
		at, err := r.Region(op.Act, op.Places)
		if err == nil && !promisedAlready(r, op, at) {
			out = append(out, op)
		}
	}
	return out
}

// promisedAlready says whether the newest certificate with a line at a place
// began on the day of some work there or later.
func promisedAlready(r *ledger.Replay, op rules.Op, at place.Region) bool {
	var first day.Day
	for _, a := range r.Acts {
		if a.Kind != "certificate" || !a.House || !a.Counts {
			continue
		}
		lines, _ := rules.Lines(r, a)
		for _, l := range lines {
			if l.Region.Overlaps(at) {
				first = parseDay(l.Object, "first-day")
			}
		}
	}
	return !first.IsZero() && !first.Before(op.Act.Day())
}

// with adds a place, unless the places hold it already.
func (p *proposal) with(places []format.Object, op rules.Op, o format.Object) []format.Object {
	at, err := p.r.Region(op.Act, ledger.PlacesOf(format.Array{o}))
	if err != nil {
		return places
	}
	for _, q := range places {
		there, err := p.work(q)
		if err == nil && q["part"] == o["part"] && q["name"] == o["name"] && there.Holds(at, 0) {
			return places
		}
	}
	return append(places, o)
}

// work works a place of the proposal out, as the certificate will.
func (p *proposal) work(o format.Object) (place.Region, error) {
	return p.r.Region(&ledger.Act{Kind: "certificate"}, ledger.PlacesOf(format.Array{o}))
}

// begunFirst puts openings in the order in which the work of the job named
// them first.
func (p *proposal) begunFirst(places []format.Object) {
	first := map[string]int{}
	for _, a := range p.r.Acts {
		if a.Kind != "work" || !a.House || !a.Counts {
			continue
		}
		for _, op := range rules.Ops(a) {
			for _, q := range op.Places {
				if _, known := first[q.Name]; !known && q.Name != "" {
					first[q.Name] = len(first)
				}
			}
		}
	}
	slices.SortStableFunc(places, func(a, b format.Object) int { return first[text(a, "name")] - first[text(b, "name")] })
}

// firstDay is the first day the lines can begin on.
func (p *proposal) firstDay(number string, lines []format.Object, today day.Day) day.Day {
	draft := &ledger.Act{Kind: "certificate", Body: format.Object{"tag": number, "lines": array(lines)}}
	worked, _ := rules.Lines(p.r, draft)
	var cure, work day.Day
	for _, l := range worked {
		if last := rules.LastCure(p.r, l.Spots); cure.Before(last) {
			cure = last
		}
	}
	if cure.IsZero() {
		return today
	}
	for _, op := range p.ops {
		if work.Before(op.Act.Day()) {
			work = op.Act.Day()
		}
	}
	if cure.Before(work) {
		return work.AddDays(1)
	}
	return cure.AddDays(1)
}

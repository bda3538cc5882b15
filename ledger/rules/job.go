package rules

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// Line is one cover line, worked out.
type Line struct {
	Number  int64
	Promise ledger.Promise
	Object  format.Object
	Places  []place.Place
	Spots   []Spot
	Region  place.Region
}

// Lines works out the cover lines of a certificate. missing says what was not
// measured, if a place could not be worked out.
func Lines(r *ledger.Replay, a *ledger.Act) (out []Line, missing error) {
	for _, o := range ledger.Objects(a.Body["lines"]) {
		l := Line{Number: ledger.Int(o, "line"), Object: o, Places: ledger.PlacesOf(o["places"])}
		for _, p := range ledger.Promises() {
			if p.Name == text(o, "promise") {
				l.Promise = p
			}
		}
		var err error
		if l.Spots, err = spots(r, a, l.Places, nil); err != nil {
			missing = err
		}
		l.Region = union(l.Spots)
		out = append(out, l)
	}
	return out, missing
}

func allSpots(lines []Line) []Spot {
	var out []Spot
	for _, l := range lines {
		out = append(out, l.Spots...)
	}
	return out
}

// Job is what a certificate rests on.
type Job struct {
	Lines  []Line
	Before *ledger.Act // the signer's newest earlier certificate with a line at one of these places
	From   day.Day     // works from
	Acts   []*ledger.Act
	Closed []Op // closed work of the job over a line
}

// JobOf finds the job of a certificate: the signer's entries from the earliest
// work at one of its places that is later than the first day of the newest
// earlier certificate with a line there.
func JobOf(r *ledger.Replay, cert *ledger.Act) (Job, error) {
	lines, err := Lines(r, cert)
	j := Job{Lines: lines}
	places := allSpots(lines)
	first := day.Day{}
	for _, a := range r.Acts {
		newer := j.Before == nil || j.Before.Before(a)
		if a.Kind == "certificate" && own(a) && a.Before(cert) && newer && overArea(r, a, places) {
			j.Before = a
			first = firstDay(a)
		}
	}
	for _, a := range r.Acts {
		if a.Kind != "work" || !own(a) || !first.IsZero() && !first.Before(a.Day()) || !workAt(r, a, places) {
			continue
		}
		if j.From.IsZero() || a.Day().Before(j.From) {
			j.From = a.Day()
		}
	}
	for _, a := range r.Acts {
		if own(a) && !j.From.IsZero() && !a.Day().Before(j.From) && a.No != cert.No {
			j.Acts = append(j.Acts, a)
		}
	}
	for _, op := range Closed(r) {
		if slices.Contains(j.Acts, op.Act) && overAny(op.spots(r), places) {
			j.Closed = append(j.Closed, op)
		}
	}
	return j, err
}

func own(a *ledger.Act) bool { return a.House && a.Counts }

func firstDay(cert *ledger.Act) day.Day {
	var first day.Day
	for _, o := range ledger.Objects(cert.Body["lines"]) {
		if d := dayOf(text(o, "first-day")); first.IsZero() || d.Before(first) {
			first = d
		}
	}
	return first
}

func overArea(r *ledger.Replay, cert *ledger.Act, places []Spot) bool {
	lines, _ := Lines(r, cert)
	return union(allSpots(lines)).Overlaps(union(places))
}

func workAt(r *ledger.Replay, a *ledger.Act, places []Spot) bool {
	at := union(places)
	for _, op := range Ops(a) {
		if union(op.spots(r)).Overlaps(at) {
			return true
		}
	}
	return false
}

// settledBy are the decisions that leave a trouble where it is.
var settledBy = []string{"leave", "holder-does", "another-shop", "refuse-opening", "no-answer"}

// named are the decisions a certificate names under left.
var named = []string{"leave", "another-shop", "refuse-opening", "no-answer"}

// fillCertificate fills the lists of the entries and lots that the paper
// names. Lists that were typed must be the ones it finds.
func fillCertificate(c Case) error {
	j, err := JobOf(c.Replay, c.Act)
	if err != nil {
		return err
	}
	lists := map[string]format.Array{
		"left": j.decisions(c), "owner-work": j.ownerWork(c), "overridden": j.since(c, hasOverrides),
		"unseen":   j.since(c, func(a *ledger.Act) bool { return a.Kind == "not-looked-at" }),
		"troubles": j.troubles(c), "lots": j.lots(c), "cures": j.cures(c), "checks": j.checks(),
	}
	for name, list := range lists {
		typed, said := c.Act.Body[name]
		if said && !format.Same(typed, list) {
			return typedf("%s: the ledger names %s, the note %s. Leave it out, the tool fills it", name, sayList(list), sayList(typed))
		}
		if len(list) > 0 {
			c.Act.Body[name] = list
		}
	}
	return nil
}

func sayList(v format.Value) string {
	list, _ := v.(format.Array)
	if len(list) == 0 {
		return "none"
	}
	var out []string
	for _, one := range list {
		if no, ok := ledger.NoOf(one); ok {
			out = append(out, "entry "+no.String())
		} else if s, ok := one.(string); ok {
			out = append(out, s)
		}
	}
	return join(out)
}

func hasOverrides(a *ledger.Act) bool { return a.Body["overrides"] != nil }

// since lists the signer's entries, and those it adopted, after its newest
// earlier certificate here. One that was inked after it counts too, whatever its
// day: that certificate could not name it.
func (j Job) since(c Case, want func(*ledger.Act) bool) format.Array {
	var out format.Array
	for _, a := range c.Replay.Acts {
		after := j.Before == nil || j.Before.Before(a) || a.No.N > j.Before.No.N
		if a.Counts && after && a.No != c.Act.No && want(a) {
			out = append(out, a.No.Value())
		}
	}
	return out
}

func (j Job) decisions(c Case) format.Array {
	return j.since(c, func(a *ledger.Act) bool {
		return a.Kind == "decision" && slices.Contains(named, a.Text("choice"))
	})
}

// ownerWork lists every holder-does so far at a line, whoever wrote it: the
// holder's own work is named even where it lies in another layer.
func (j Job) ownerWork(c Case) format.Array {
	var out format.Array
	at := union(allSpots(j.Lines))
	for _, a := range c.Replay.Acts {
		if a.Kind != "decision" || a.Text("choice") != "holder-does" || a.StruckBy != (ledger.No{}) {
			continue
		}
		if own, _ := spots(c.Replay, a, a.Places(), nil); union(own).Overlaps(at) {
			out = append(out, a.No.Value())
		}
	}
	return out
}

// troubles lists the findings within the certificate's margin of a line that
// only such a decision settles.
func (j Job) troubles(c Case) format.Array {
	var out format.Array
	margin := ledger.Int(object(c.Act.Body["numbers"]), "margin")
	for _, f := range openFindings(c, j, margin) {
		if f.near && f.left && !f.worked {
			out = append(out, f.act.No.Value())
		}
	}
	return out
}

// lots lists the lots of the job's closed work over a line: in the order of
// their deliveries, then those without one.
func (j Job) lots(c Case) format.Array {
	used := map[string]bool{}
	var without []string
	for _, op := range j.Closed {
		for _, lot := range op.Lots {
			if _, delivered := c.Replay.Lots[lot]; !delivered && !used[lot] {
				without = append(without, lot)
			}
			used[lot] = true
		}
	}
	var out format.Array
	for _, a := range c.Replay.Acts {
		if a.Kind != "delivery" {
			continue
		}
		for _, o := range ledger.Objects(a.Body["lots"]) {
			if id := text(o, "lot"); used[id] && c.Replay.Lots[id].By == a.No {
				out = append(out, id)
			}
		}
	}
	for _, lot := range without {
		out = append(out, lot)
	}
	return out
}

// cures lists, for each cure of such work, the entry of its last release.
func (j Job) cures(c Case) format.Array {
	var numbers []ledger.No
	for _, w := range Waits(c.Replay, nil) {
		closed := slices.ContainsFunc(j.Closed, func(op Op) bool { return op.Act == w.Work })
		if closed && w.Last != (ledger.No{}) {
			numbers = append(numbers, w.Last)
		}
	}
	return inOrder(numbers)
}

func inOrder(numbers []ledger.No) format.Array {
	slices.SortFunc(numbers, func(a, b ledger.No) int {
		if a.N != b.N {
			return int(a.N - b.N)
		}
		return int(a.Branch - b.Branch)
	})
	var out format.Array
	for _, no := range slices.Compact(numbers) {
		out = append(out, no.Value())
	}
	return out
}

// checks lists the entries of the job with a passed result and none that did
// not pass; coupons of two lots aside.
func (j Job) checks() format.Array {
	var numbers []ledger.No
	for _, a := range j.Acts {
		passed, failed := false, false
		for _, o := range ledger.Objects(a.Body["results"]) {
			coupon := text(o, "check") == "foam-coupon" || text(o, "check") == "bond-coupon"
			if pass, known := o["pass"].(bool); known && !coupon {
				passed, failed = passed || pass, failed || !pass
			}
		}
		if passed && !failed && !fromPaper(a) {
			numbers = append(numbers, a.No)
		}
	}
	return inOrder(numbers)
}

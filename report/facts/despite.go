package facts

import (
	"maps"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/say"
)

// overrides are the rules that were set aside for this work: those of the
// entries the certificate names, and its own.
func (s *subject) overrides() []report.Override {
	var out []report.Override
	for _, a := range append(s.acts("overridden"), s.cert) {
		for _, o := range ledger.Objects(a.Body["overrides"]) {
			out = append(out, report.Override{
				RuleSays: s.ruleSays(a, text(o, "rule")), Reason: text(o, "reason"), Mark: text(o, "by"),
				Entry: int(a.No.N), Rule: text(o, "rule"),
			})
		}
	}
	return out
}

// ruleSays is the first sentence of a rule as it spoke of an entry: asked
// again, or with the figures that the ledger has.
func (s *subject) ruleSays(a *ledger.Act, rule string) string {
	bare := *a
	bare.Body = maps.Clone(a.Body)
	delete(bare.Body, "overrides")
	for _, o := range rules.Ask(rules.Case{Replay: s.r, Act: &bare, Limits: rules.UsualLimits()}) {
		if o.Rule == rule {
			return firstSentence(o.Sentence)
		}
	}
	where := capital(s.workedAt(a))
	if rule == "closing-too-wet" {
		if at, reading, ok := s.readingBefore(a); ok {
			return capital(at) + " reads " + reading + ", the limit is " + s.limit(a, rule) + "."
		}
	}
	says, known := ruleSentences[rule]
	if !known {
		says = "{place}: a rule of this shop asked to stop there."
	}
	return strings.ReplaceAll(says, "{place}", where)
}

// ruleSentences are what rules say of a place, where the figures are not at
// hand: they stand in the entry itself. The wording is our own.
var ruleSentences = map[string]string{
	"closing-too-wet":  "{place}: read over the limit before it was closed.",
	"closing-unread":   "{place}: wet, and not read again in time before it was closed.",
	"closing-no-photo": "{place}: hidden without a photo.",
	"work-not-agreed":  "{place}: worked on before it was agreed.",
	"check-missing":    "{place}: a check is still needed.",
	"near-dew":         "{place}: too near the dew point.",
	"spread":           "{place}: less glue than the maker's sheet asks for.",
	"flange-narrow":    "{place}: the flange is narrower than needed.",
	"no-weld-strip":    "{place}: welded without a strip of that day.",
	"past-use-by":      "{place}: a lot past its use-by day.",
}

// firstSentence is a text up to its first full stop.
func firstSentence(text string) string {
	if first, _, more := strings.Cut(text, ". "); more {
		return first + "."
	}
	return text
}

// workedAt says the places of an entry: its own, or those of its operations
// and lines.
func (s *subject) workedAt(a *ledger.Act) string {
	places := a.Places()
	for _, op := range rules.Ops(a) {
		places = append(places, op.Places...)
	}
	for _, o := range ledger.Objects(a.Body["lines"]) {
		places = append(places, ledger.PlacesOf(o["places"])...)
	}
	var names []string
	for _, p := range places {
		p.Layers = nil
		if name := s.item(p); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	switch {
	case len(names) == 0:
		return "the coach"
	case len(names) > fewest:
		return names[0] + " and " + counted(len(names)-1, "place more", "places more")
	}
	return say.List(names)
}

// readingBefore is the newest pins or core sample that was read, before an
// entry, at a place that its closed work lies over; of one day the highest.
func (s *subject) readingBefore(a *ledger.Act) (at, reading string, ok bool) {
	closed := s.workRegion(a)
	best := format.Object{}
	var bestDay string
	for _, b := range s.r.Acts {
		if b.No == a.No {
			break
		}
		if !b.Counts {
			continue
		}
		for _, o := range ledger.Objects(b.Body["results"]) {
			values := object(o["values"])
			if values["moisture"] == nil || !s.over(b, o, closed) {
				continue
			}
			day := b.Day().String()
			if day > bestDay || day == bestDay && ledger.Int(values, "moisture") > ledger.Int(object(best["values"]), "moisture") {
				best, bestDay = o, day
			}
		}
	}
	if bestDay == "" {
		return "", "", false
	}
	p := ledger.PlacesOf(best["places"])[0]
	p.Layers = nil
	return s.item(p), say.Quantity("moisture", object(best["values"])["moisture"]), true
}

// over says whether a reading lies over a region.
func (s *subject) over(a *ledger.Act, result format.Object, region place.Region) bool {
	at, err := s.r.Region(a, ledger.PlacesOf(result["places"]))
	return err == nil && at.Overlaps(region)
}

// workRegion is the region of all operations of an entry.
func (s *subject) workRegion(a *ledger.Act) place.Region {
	var out place.Region
	for _, op := range rules.Ops(a) {
		if at, err := s.r.Region(a, op.Places); err == nil {
			out = out.Union(at)
		}
	}
	return out
}

// limit is the first value of a rule's limit: the one written into the entry,
// else the shop's.
func (s *subject) limit(a *ledger.Act, rule string) string {
	says, _ := s.o.Terms.LimitSays(rule)
	for _, o := range ledger.Objects(a.Body["limits"]) {
		if text(o, "rule") == rule {
			says = text(o, "says")
		}
	}
	if first, _, more := strings.Cut(says, " % "); more {
		return first + " %"
	}
	return says
}

// looser are the limits of passed checks that are looser than the usual ones.
func (s *subject) looser() []report.LooserLimit {
	var out []report.LooserLimit
	for _, a := range s.acts("checks") {
		for _, o := range ledger.Objects(a.Body["results"]) {
			w, _ := ledger.WordIn("checks", text(o, "check"))
			limit := object(o["limit"])
			if o["pass"] != true || w.Passes == nil || text(limit, "quantity") != w.Passes.Quantity || !isLooser(limit, w.Passes) {
				continue
			}
			one := report.LooserLimit{
				Value: ledger.Said("checks", w.Name) + " " + say.Limit(limit), Usual: say.Limit(limitOf(w.Passes)), Entry: int(a.No.N),
			}
			if !slices.Contains(out, one) {
				out = append(out, one)
			}
		}
	}
	return out
}

func isLooser(limit format.Object, usual *ledger.Passes) bool {
	if n, ok := limit["at-most"].(int64); ok && usual.AtMost != nil {
		return n > *usual.AtMost
	}
	n, ok := limit["at-least"].(int64)
	return ok && usual.AtLeast != nil && n < *usual.AtLeast
}

func limitOf(p *ledger.Passes) format.Object {
	o := format.Object{"quantity": p.Quantity}
	if p.AtMost != nil {
		o["at-most"] = *p.AtMost
	} else if p.AtLeast != nil {
		o["at-least"] = *p.AtLeast
	}
	return o
}

package facts

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/english"
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
	then := s.r
	if a.Entry != nil && a.No.Branch == 0 {
		then = s.r.Until(a.No.N - 1)
	}
	for _, o := range rules.Ask(rules.Case{Replay: then, Act: &bare, Limits: s.limitsOf(a)}) {
		if o.Rule == rule {
			return firstSentence(o.Sentence)
		}
	}
	where := english.Capital(s.workedAt(a))
	r, known := rules.RuleNamed(rule)
	if !known || r.Look != nil && r.Plain == "" {
		return where + ": a rule of this shop asked to stop there."
	}
	figures := map[string]string{"place": where, "limit": s.limit(a, rule)}
	if rule == "closing-too-wet" {
		if at, reading, ok := s.readingBefore(a); ok {
			figures["place"], figures["x"] = english.Capital(at), strings.TrimSuffix(reading, " %")
		}
	}
	says := firstSentence(r.Sentences[0])
	if !strings.Contains(says, "{place}") {
		says = "{place}: " + says
	}
	if says, whole := withFigures(says, figures); whole {
		return says
	}
	return where + ": " + cmp.Or(r.Plain, "a rule of this shop asked to stop there") + "."
}

// withFigures puts figures into the blanks of a sentence by their names, and
// says whether all of them were at hand: of two places only one is.
func withFigures(says string, figures map[string]string) (filled string, whole bool) {
	var pairs []string
	for name, figure := range figures {
		if figure != "" {
			pairs = append(pairs, name, figure)
		}
	}
	filled = report.Fill(says, pairs...)
	return filled, !strings.Contains(filled, "{") && strings.Count(says, "{place}") < 2
}

// limitsOf are the shop's limits, and over them those that an entry was judged
// by. One that cannot be read leaves the usual one.
func (s *subject) limitsOf(a *ledger.Act) rules.Limits {
	l := rules.UsualLimits()
	for _, own := range s.o.Terms.Limits {
		if next, err := l.With(own.Rule, own.Says); err == nil {
			l = next
		}
	}
	return l.Over(a)
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
		return names[0] + " and " + english.Counted(len(names)-1, "place more", "places more")
	}
	return english.List(names)
}

// readingBefore is the newest pins or core sample that was read, before an
// entry, at a place that its closed work lies over; of one day the highest.
func (s *subject) readingBefore(a *ledger.Act) (at, reading string, ok bool) {
	closed := s.workRegion(a)
	best := format.Object{}
	var bestDay string
	for _, b := range s.r.Acts {
		if !b.Counts || !b.Before(a) {
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

// limit is the first number of a rule's limit: the one written into the entry,
// else the shop's.
func (s *subject) limit(a *ledger.Act, rule string) string {
	says, _ := s.o.Terms.LimitSays(rule)
	for _, o := range ledger.Objects(a.Body["limits"]) {
		if text(o, "rule") == rule {
			says = text(o, "says")
		}
	}
	first, _, _ := strings.Cut(says, " ")
	return first
}

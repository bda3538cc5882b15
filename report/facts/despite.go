package facts

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/english"
)

// overrides are the rules that were set aside for this work: those of the
// entries the certificate names, and its own.
func (s *subject) overrides() []report.Override {
	var out []report.Override
	for _, a := range append(s.acts("overridden"), s.cert) {
		for _, o := range ledger.Objects(a.Body["overrides"]) {
			out = append(out, report.Override{
				RuleSays: s.ruleSays(a, text(o, "rule")), Reason: text(o, "reason"), Mark: text(o, "by"),
				Entry: a.No.String(), Rule: text(o, "rule"),
			})
		}
	}
	return out
}

// ruleSays is the first sentence of a rule as it spoke of an entry, asked again;
// where it stopped at several places it says how many. What cannot be shown again
// is said without figures.
func (s *subject) ruleSays(a *ledger.Act, rule string) string {
	var said []string
	for _, o := range rules.Ask(s.asked(a)) {
		if o.Rule == rule {
			said = append(said, firstSentence(o.Sentence))
		}
	}
	switch {
	case len(said) == 1:
		return said[0]
	case len(said) > 1:
		return strings.TrimSuffix(said[0], ".") + "; likewise at " + english.Counted(len(said)-1, "place more", "places more") + "."
	}
	r, _ := rules.RuleNamed(rule)
	return english.Capital(s.workedAt(a)) + ": " + cmp.Or(r.Plain, "a rule of this shop asked to stop there") + "."
}

// asked is the case of an entry without the reasons it gives, by the limits it
// was judged by.
func (s *subject) asked(a *ledger.Act) rules.Case {
	bare := *a
	bare.Body = maps.Clone(a.Body)
	delete(bare.Body, "overrides")
	then := s.r
	if a.Entry != nil && a.No.Branch == 0 {
		then = s.r.Until(a.No.N - 1)
	}
	return rules.Case{Replay: then, Act: &bare, Limits: s.limitsOf(a), Say: func(p place.Place) string {
		p.Layers = nil
		return s.item(p)
	}}
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

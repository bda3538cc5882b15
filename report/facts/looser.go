package facts

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/english"
	"lapmark/report/say"
)

// loose is a limit of a check or cure that let more pass than the usual one.
type loose struct{ check, limit, usual string }

// looser are the limits looser than the usual ones that decided something in
// what the certificate rests on, entry by entry: those typed with a result that
// passed, those of the shop's terms that are not said by a result already, and
// those of rules about the work.
func (s *subject) looser() []report.LooserLimit {
	var out []report.LooserLimit
	add := func(a *ledger.Act, list []loose) {
		for _, l := range list {
			one := report.LooserLimit{Value: l.limit + " for the " + ledger.Said("checks", l.check), Usual: l.usual, Entry: a.No.String()}
			if !slices.Contains(out, one) {
				out = append(out, one)
			}
		}
	}
	for _, a := range slices.Concat(s.acts("checks"), s.curing()) {
		typed := looserResults(a)
		terms := slices.DeleteFunc(looserTerms(a), func(t loose) bool {
			return slices.ContainsFunc(typed, func(l loose) bool { return l.check == t.check })
		})
		add(a, append(typed, terms...))
	}
	for _, a := range slices.Concat(s.worked(), s.acts("overridden"), []*ledger.Act{s.cert}) {
		add(a, slices.DeleteFunc(looserTerms(a), func(t loose) bool {
			_, isCheck := ledger.WordIn("checks", t.check)
			return isCheck
		}))
	}
	return out
}

// worked are the entries of the closed work of the job over a line.
func (s *subject) worked() []*ledger.Act {
	var out []*ledger.Act
	for _, op := range s.job.Closed {
		if !slices.Contains(out, op.Act) {
			out = append(out, op.Act)
		}
	}
	return out
}

// looserResults are the looser limits of an entry's results that passed.
func looserResults(a *ledger.Act) []loose {
	var out []loose
	for _, o := range ledger.Objects(a.Body["results"]) {
		w, _ := ledger.WordIn("checks", text(o, "check"))
		if limit := object(o["limit"]); o["pass"] == true && isLooser(limit, w.Passes) {
			out = append(out, loose{w.Name, say.Limit(limit), say.Limit(limitOf(w.Passes))})
		}
	}
	return out
}

// looserTerms are the looser limits of the shop's terms that an entry names.
func looserTerms(a *ledger.Act) []loose {
	var out []loose
	for _, o := range ledger.Objects(a.Body["limits"]) {
		if t, known := ledger.TermOf(text(o, "rule")); known && t.Looser(text(o, "says")) {
			out = append(out, loose{t.Rule, inPrint(text(o, "says")), inPrint(t.Usual)})
		}
	}
	return out
}

// curing are the entries of the cures that the certificate names: their starts,
// logs and releases.
func (s *subject) curing() []*ledger.Act {
	var out []*ledger.Act
	for _, w := range rules.Waits(s.r, nil) {
		if !slices.Contains(s.cert.Refs("cures"), w.Last) {
			continue
		}
		for _, a := range s.r.Acts {
			answers := a.Refs("answers")
			logs := a == w.Start || slices.Contains(answers, w.Start.No) || w.Work != nil && slices.Contains(answers, w.Work.No)
			if a.Kind == "cure" && logs && !slices.Contains(out, a) {
				out = append(out, a)
			}
		}
	}
	return out
}

// inPrint is a limit of the terms as it is read aloud: its values as a list,
// its units as they are printed.
func inPrint(says string) string {
	var values []string
	for _, word := range strings.Fields(says) {
		if n := len(values); n > 0 && (word[0] < '0' || word[0] > '9') {
			values[n-1] += " " + word
		} else {
			values = append(values, word)
		}
	}
	return strings.NewReplacer("L/m2min", "L/(m² min)", "N/50mm", "N/50 mm", "mm/rtd", "mm/√day", "m2", "m²").Replace(english.List(values))
}

// isLooser says whether a limit lets more pass than the usual one of the same
// quantity.
func isLooser(limit format.Object, usual *ledger.Passes) bool {
	if usual == nil || text(limit, "quantity") != usual.Quantity {
		return false
	}
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

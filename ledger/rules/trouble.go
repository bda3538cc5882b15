package rules

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/place"
)

// open is one finding as it stands for a certificate.
type open struct {
	act    *ledger.Act
	line   int64
	mm     int64
	near   bool // inside a line or within the margin of it
	left   bool // a decision leaves it
	tight  bool // only made tight, by decision
	worked bool // closed work over it in a layer of it, and the line's checks
}

// openFindings judges the findings round the lines of a job. margin is how far
// from a line one still counts: the shop's limit where a certificate is
// refused, the certificate's own number for what it names.
func openFindings(c Case, j Job, margin int64) []open {
	var out []open
	for _, a := range c.Replay.Acts {
		if a.Kind != "finding" || !a.Counts {
			continue
		}
		out = append(out, judgeFinding(c, j, a, margin))
	}
	return out
}

func judgeFinding(c Case, j Job, a *ledger.Act, margin int64) open {
	f := open{act: a}
	w, _ := ledger.WordIn("defects", a.Text("defect"))
	at, _ := spots(c.Replay, a, a.Places(), w.Layers)
	region := union(at)
	checksDone := true
	for _, l := range j.Lines {
		mm, ok := region.Distance(l.Region)
		if !ok || mm > margin {
			continue
		}
		if !f.near || mm < f.mm {
			f.near, f.mm, f.line = true, mm, l.Number
		}
		if answersFor(l, a) && len(missingChecks(c.Replay, l)) > 0 {
			checksDone = false
		}
	}
	f.worked = checksDone && workedOver(c.Replay, a, at)
	for _, b := range c.Replay.Acts {
		if b.Kind != "decision" || !b.Counts || !slices.Contains(b.Refs("answers"), a.No) {
			continue
		}
		f.left = f.left || slices.Contains(settledBy, b.Text("choice"))
		f.tight = f.tight || b.Text("choice") == "only-make-tight"
	}
	return f
}

// answersFor says whether a line promises something about the trouble that a
// defect is.
func answersFor(l Line, finding *ledger.Act) bool {
	return slices.Contains(l.Promise.Answers, ledger.TroubleOf(finding.Text("defect")))
}

// workedOver says whether later closed work, the house's own or adopted, lies
// over all of a finding in a layer of it.
func workedOver(r *ledger.Replay, a *ledger.Act, at []Spot) bool {
	closed := closedBy(r, func(*ledger.Act) bool { return true })
	for _, s := range at {
		var done place.Region
		for _, op := range closed {
			if op.Act.Before(a) {
				continue
			}
			for _, w := range op.spots(r) {
				if sharesLayer(w.Layers, s.Layers) {
					done = done.Union(w.Region)
				}
			}
		}
		if !done.Holds(s.Region, tape) {
			return false
		}
	}
	return len(at) > 0
}

func findingOpen(c Case) []Outcome {
	j, _ := JobOf(c.Replay, c.Act)
	var out []Outcome
	for _, f := range openFindings(c, j, c.Limits.numbers("finding-open")[0]) {
		if !f.near || f.left || f.tight || f.worked {
			continue
		}
		number := f.act.Text("tag")
		if number == "" {
			number = f.act.No.String()
		}
		o := refused("finding-open", saysOpen, number, ledger.Said("defects", f.act.Text("defect")),
			sayPlaces(f.act.Places()), ledger.Decimal(f.mm), ledger.Decimal(f.line))
		o.Limit = "finding-open"
		out = append(out, o)
	}
	return out
}

func leftCutOut(c Case) []Outcome {
	lines, _ := Lines(c.Replay, c.Act)
	var out []Outcome
	for _, a := range c.Replay.Acts {
		if a.Kind != "decision" || !a.Counts || !slices.Contains(settledBy, a.Text("choice")) {
			continue
		}
		at, _ := spots(c.Replay, a, a.Places(), nil)
		for _, l := range lines {
			if inLayers(l, at) {
				out = append(out, Outcome{Rule: "left-cut-out", Degree: Noted, Sentence: fill(saysCutOut,
					ledger.Decimal(l.Number), sayPlaces(a.Places()), ledger.Said("choice", a.Text("choice")), a.Day().Long())})
			}
		}
	}
	return out
}

// inLayers says whether a place lies inside a line, in a layer of the line.
func inLayers(l Line, at []Spot) bool {
	for _, s := range at {
		for _, t := range l.Spots {
			layers := t.Layers
			if len(layers) == 0 {
				layers = l.Promise.Layers
			}
			if s.Region.Overlaps(t.Region) && sharesLayer(s.Layers, layers) {
				return true
			}
		}
	}
	return false
}

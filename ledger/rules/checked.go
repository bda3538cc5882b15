package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/place"
)

func checkMissing(c Case) []Outcome {
	lines, _ := Lines(c.Replay, c.Act)
	var out []Outcome
	for _, l := range lines {
		out = append(out, missingChecks(c.Replay, l)...)
	}
	return out
}

// missingChecks finds the checks a line still needs.
func missingChecks(r *ledger.Replay, l Line) []Outcome {
	var out []Outcome
	for _, need := range l.Promise.Checks {
		if need.OnSeam {
			out = append(out, missingProbes(r, l, need)...)
			continue
		}
		op, last := lastWork(r, l, need.After)
		if last == nil || checked(r, need.OneOf, last, l.Region) {
			continue
		}
		out = append(out, missing(l, need, op, sayPlaces(l.Places), last))
	}
	return out
}

func missing(l Line, need ledger.NeededCheck, op, where string, last *ledger.Act) Outcome {
	return Outcome{Rule: "check-missing", Degree: Stopped, Sentence: fill(saysNoneYet,
		capital(ledger.Said("promise", l.Promise.Name)), where, sayOneOf(need.OneOf),
		ledger.Said("operations", op), last.Day().Long())}
}

func sayOneOf(checks []string) string {
	out := ""
	for i, name := range checks {
		if i > 0 && i == len(checks)-1 {
			out += " or "
		} else if i > 0 {
			out += ", "
		}
		if name == "air-and-soap" {
			out += "a test with air and soap"
			continue
		}
		out += article(ledger.Said("checks", name))
	}
	return out
}

func article(s string) string {
	if strings.ContainsAny(s[:1], "aeiou") {
		return "an " + s
	}
	return "a " + s
}

// lastWork finds the newest closed work of a line in the promise's layers: one
// of the operations named, or any.
func lastWork(r *ledger.Replay, l Line, after []string) (op string, last *ledger.Act) {
	for _, done := range append(Closed(r), pressed(r)...) {
		if len(after) > 0 && !slices.Contains(after, done.Word) {
			continue
		}
		if len(after) == 0 && slices.Contains(notClosing, done.Word) {
			continue
		}
		for _, s := range done.spots(r) {
			layered := len(s.Layers) == 0 || sharesLayer(s.Layers, l.Promise.Layers)
			if layered && s.Region.Overlaps(l.Region) && (last == nil || !done.Act.Before(last)) {
				op, last = done.Word, done.Act
			}
		}
	}
	return op, last
}

// pressed are the press operations, which close nothing but move a bond.
func pressed(r *ledger.Replay) []Op {
	var out []Op
	for _, a := range r.Acts {
		if a.Kind != "work" || !own(a) {
			continue
		}
		for _, op := range Ops(a) {
			if op.Word == "press" {
				out = append(out, op)
			}
		}
	}
	return out
}

// checked says whether passed checks after an entry, their places grown by 100
// mm, hold the region together.
func checked(r *ledger.Replay, oneOf []string, after *ledger.Act, region place.Region) bool {
	var seen place.Region
	for _, a := range r.Acts {
		if !a.Counts || a.Before(after) || fromPaper(a) {
			continue
		}
		for _, o := range ledger.Objects(a.Body["results"]) {
			if !slices.Contains(oneOf, text(o, "check")) || o["pass"] != true {
				continue
			}
			at, _ := spots(r, a, ledger.PlacesOf(o["places"]), nil)
			seen = seen.Union(union(at))
		}
	}
	return seen.Grow(checkReach).Holds(region, 0)
}

// fromPaper says whether an act was taken from an older paper: that never counts
// as a check (ENTRIES 2).
func fromPaper(a *ledger.Act) bool { return a.Body["from-paper"] == true }

// missingProbes asks for a probe of each seam in the line after the last weld
// or mend of that seam.
func missingProbes(r *ledger.Replay, l Line, need ledger.NeededCheck) []Outcome {
	var out []Outcome
	done := Closed(r)
	for i, op := range done {
		if !slices.Contains(need.After, op.Word) {
			continue
		}
		at := op.spots(r)
		region := union(at)
		if !region.Overlaps(l.Region) || mendedLater(r, done, i, need.After, region) {
			continue
		}
		if !checked(r, need.OneOf, op.Act, region) {
			out = append(out, missing(l, need, op.Word, sayPlaces(op.Places), op.Act))
		}
	}
	return out
}

// mendedLater says whether later work on the same seam than done[i] holds all of
// it, so that only the later one is asked for.
func mendedLater(r *ledger.Replay, done []Op, i int, words []string, region place.Region) bool {
	for k, op := range done {
		later := done[i].Act.Before(op.Act) || op.Act == done[i].Act && k > i
		if later && slices.Contains(words, op.Word) && union(op.spots(r)).Holds(region, tape) {
			return true
		}
	}
	return false
}

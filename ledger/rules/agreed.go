package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/place"
)

const (
	keyAgreed  = "work-not-agreed"
	keyLateYes = "agreed-late"

	saysNotAgreed = "{area} m² of {operation} at {place} was not agreed before it was done. Ring the holder and write agree-extra."
	saysLateYes   = "Agreed {how} on {day}, written {n} days later."
)

var agreedRules = []Rule{
	{
		Key: keyAgreed, Degree: Stopped, Kinds: []string{"work", "correction"}, Sentences: []string{saysNotAgreed},
		Plain: "the work was not agreed before it was done", Look: mendedToo(workNotAgreed),
	},
	{Key: keyLateYes, Degree: Noted, Kinds: []string{"work", "decision"}, Sentences: []string{saysLateYes}, Look: agreedLate},
}

// unasked operations are done without the holder's yes: they look, keep the wet
// out, or mend what a check of agreed work has failed.
var withoutYes = []string{"tarp", "open-up", "take-off-fitting", "dry-out", "make-good"}

// yes are the decisions by which the holder agrees to work.
var yes = []string{"repair-now", "repair-by", "only-make-tight", "look-further", "agree-extra"}

// agrees says whether an act agrees to work: a decision, or the ruling on a
// claim.
func agrees(a *ledger.Act) bool {
	return a.Counts && (a.Kind == "ruling" || a.Kind == "decision" && slices.Contains(yes, a.Text("choice")))
}

// workNotAgreed stops work that reaches beyond what was agreed before it, by its
// area or by its reach.
func workNotAgreed(c Case) []Outcome {
	if c.Replay == nil || c.Act.Kind != "work" {
		return nil
	}
	limit := c.Limits.numbers(keyAgreed)
	var out []Outcome
	var agreed *place.Region
	for _, op := range Ops(c.Act) {
		if slices.Contains(withoutYes, op.Word) {
			continue
		}
		if agreed == nil {
			region := agreedBefore(c)
			agreed = &region
		}
		done := union(op.spots(c.Replay))
		beyond := done.Minus(*agreed).Area()
		if beyond <= limit[0] && agreed.Holds(done, limit[1]) {
			continue
		}
		out = append(out, Outcome{Rule: keyAgreed, Degree: Stopped, Limit: keyAgreed, Sentence: fill(saysNotAgreed,
			strings.TrimSuffix(ledger.SayArea(beyond), " m²"), ledger.Said("operations", op.Word), sayPlaces(op.Places))})
	}
	return out
}

// agreedBefore is what was agreed before a work: by each decision and ruling
// its places, less those that a certificate of this shop has come to lie over
// since.
func agreedBefore(c Case) place.Region {
	var out place.Region
	for _, kind := range []string{"decision", "ruling"} {
		for _, a := range c.Replay.OfKind(kind) {
			if agrees(a) && c.Act.Follows(a) && agreedFirst(a, c.Act) {
				out = out.Union(agreedTo(c.Replay, a).Minus(certifiedBetween(c, a)))
			}
		}
	}
	return out
}

// agreedFirst says whether something was agreed before a work: said without a
// time of day it stands before the other notes of its day.
func agreedFirst(agreement, work *ledger.Act) bool {
	if len(agreement.When()) == len("2020-03-16") {
		return !work.Day().Before(dayOf(agreement.When()))
	}
	return agreement.Before(work)
}

// agreedTo is the place of a decision or ruling; a ruling without one speaks of
// the place of its claim.
func agreedTo(r *ledger.Replay, a *ledger.Act) place.Region {
	at, _ := spots(r, a, a.Places(), nil)
	if claim := claimOf(r, a); len(at) == 0 && claim != nil {
		at, _ = spots(r, claim, claim.Places(), nil)
	}
	return union(at)
}

// certifiedBetween is what certificates of this shop lie over that were given
// after an agreement and before the work.
func certifiedBetween(c Case, agreement *ledger.Act) place.Region {
	var out place.Region
	for _, cert := range c.Replay.OfKind("certificate") {
		if own(cert) && c.Act.Follows(cert) && agreement.Before(cert) && cert.Before(c.Act) {
			lines, _ := Lines(c.Replay, cert)
			out = out.Union(union(allSpots(lines)))
		}
	}
	return out
}

// agreedLate notes an agreement that came before the work and was written after
// it: at the one of the two that was inked last.
func agreedLate(c Case) []Outcome {
	if c.Replay == nil {
		return nil
	}
	if c.Act.Kind == "work" {
		return workAgreedLate(c)
	}
	return decisionLate(c)
}

func workAgreedLate(c Case) []Outcome {
	at := union(workSpots(c.Replay, c.Act))
	var out []Outcome
	for _, a := range c.Replay.OfKind("decision") {
		late := agrees(a) && c.Act.Follows(a) && agreedFirst(a, c.Act) && c.Act.Day().Before(c.written(a))
		if late && agreedTo(c.Replay, a).Overlaps(at) {
			out = c.sayLate(out, a)
		}
	}
	return out
}

func decisionLate(c Case) []Outcome {
	if !agrees(c.Act) || c.written(c.Act).IsZero() {
		return nil
	}
	at := agreedTo(c.Replay, c.Act)
	for _, a := range c.Replay.OfKind("work") {
		done := a.Counts && c.Act.Follows(a) && agreedFirst(c.Act, a) && a.Day().Before(c.written(c.Act))
		if done && union(workSpots(c.Replay, a)).Overlaps(at) {
			return c.sayLate(nil, c.Act)
		}
	}
	return nil
}

func (c Case) sayLate(out []Outcome, decision *ledger.Act) []Outcome {
	first := decision.When()
	how := ""
	for _, o := range ledger.Objects(decision.Body["given"]) {
		if text(o, "when") == first {
			how = ledger.Said("how", text(o, "how"))
		}
	}
	n := day.Between(dayIn(first), c.written(decision))
	return appendOnce(out, Outcome{
		Rule: keyLateYes, Degree: Noted,
		Sentence: fill(saysLateYes, how, dayIn(first).Long(), ledger.Decimal(int64(n))),
	})
}

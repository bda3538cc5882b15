package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

const (
	keyGivenOut  = "correction-given-out"
	saysGivenOut = "Certificate {no} rests on entry {n}. Tell the holder and write the day."
)

var mendedRules = []Rule{
	{
		Key: keyGivenOut, Degree: Stopped, Kinds: []string{"correction"}, Sentences: []string{saysGivenOut},
		Plain: "a certificate rests on what was corrected", Look: correctionGivenOut,
	},
}

// correctionGivenOut stops a correction of what a certificate rests on that has
// left the house, until it says on which day the holder was told.
func correctionGivenOut(c Case) []Outcome {
	if c.Replay == nil || c.Act.Body["told"] != nil {
		return nil
	}
	var out []Outcome
	for _, no := range c.Act.Refs("answers") {
		a := c.Replay.Act(no)
		if a == nil {
			continue
		}
		for _, cert := range givenOut(c) {
			if restsOn(c, cert, a) {
				out = append(out, Outcome{Rule: keyGivenOut, Degree: Stopped, Sentence: fill(saysGivenOut, cert.Text("tag"), no.String())})
			}
		}
	}
	return out
}

// givenOut are the certificates of this shop whose paper has left the house,
// each once.
func givenOut(c Case) []*ledger.Act {
	var out []*ledger.Act
	for _, a := range c.Replay.OfKind("given-out") {
		cert := answered(c.Replay, a, "certificate")
		paper := a.Text("paper") == "certificate" && own(a) && c.Act.Follows(a)
		if paper && cert != nil && own(cert) && !slices.Contains(out, cert) {
			out = append(out, cert)
		}
	}
	return out
}

// restsOn says whether a certificate names an entry in its lists, or it is one
// of its job over a line, or the measure that placed it.
func restsOn(c Case, cert, a *ledger.Act) bool {
	if !cert.Follows(a) {
		return false
	}
	for _, list := range []string{"left", "owner-work", "overridden", "troubles", "unseen", "cures", "checks"} {
		if slices.Contains(cert.Refs(list), a.No) {
			return true
		}
	}
	for _, lot := range ledger.Texts(cert.Body["lots"]) {
		if c.Replay.Lots[lot].By == a.No {
			return true
		}
	}
	j, _ := JobOf(c.Replay, cert)
	return placed(c, j, cert, a) || slices.Contains(j.Acts, a) && overAny(placesAt(c.Replay, a), allSpots(j.Lines))
}

// placesAt are the places an act speaks of; of a cure those of the work that it
// follows.
func placesAt(r *ledger.Replay, a *ledger.Act) []Spot {
	if a.Kind == "cure" {
		for _, w := range Waits(r, nil) {
			if w.Work != nil && (w.Start == a || slices.Contains(a.Refs("answers"), w.Start.No) || slices.Contains(a.Refs("answers"), w.Work.No)) {
				return workSpots(r, w.Work)
			}
		}
		return nil
	}
	out, _ := spots(r, a, ledger.PlacesIn(a.Kind, a.Body), nil)
	return out
}

// placed says whether a correction of a measure moves a place of a certificate:
// the deck and the rafters move all that is said through them, an opening what
// is said by its name.
func placed(c Case, j Job, cert, a *ledger.Act) bool {
	if a.Kind != "intake" && a.Kind != "measure" {
		return false
	}
	if c.Act.Body["not-this-coach"] == true {
		return true
	}
	for _, o := range ledger.Objects(c.Act.Body["changes"]) {
		member, _, _ := strings.Cut(strings.TrimPrefix(text(o, "at"), "/"), "/")
		switch member {
		case "deck", "rafters-every", "rafters-at":
			return true
		case "openings":
			names := []string{text(object(o["old"]), "name"), text(object(o["new"]), "name")}
			called := func(p place.Place) bool { return p.Name != "" && slices.Contains(names, p.Name) }
			if slices.ContainsFunc(j.Lines, func(l Line) bool { return slices.ContainsFunc(l.Places, called) }) ||
				slices.ContainsFunc(j.Closed, func(op Op) bool { return slices.ContainsFunc(op.Places, called) }) {
				return true
			}
		}
	}
	return false
}

// fillCorrection judges what a correction puts in the place of a result: by the
// limit that the result had, else by the limits that its entry was judged by.
func fillCorrection(c Case) error {
	if c.Replay == nil {
		return nil
	}
	for _, o := range ledger.Objects(c.Act.Body["changes"]) {
		member, _, _ := strings.Cut(strings.TrimPrefix(text(o, "at"), "/"), "/")
		if member == "limits" {
			return typedf("the limits of an entry are those that it was judged by; they are not corrected")
		}
		result, ok := o["new"].(format.Object)
		if member != "results" || !ok {
			continue
		}
		for _, no := range c.Act.Refs("answers") {
			if a := c.Replay.Act(no); a != nil {
				if err := judgeAnew(c, a, object(o["old"]), result); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func judgeAnew(c Case, a *ledger.Act, old, result format.Object) error {
	if _, typed := result["limit"]; !typed && old["limit"] != nil && text(old, "check") == text(result, "check") {
		result["limit"] = format.Clone(old["limit"])
	}
	l := c.Limits.Over(a)
	decided, err := fillResult(l, result)
	if err == nil && decided {
		useLimit(c.Act, l.used(text(result, "check")))
	}
	return err
}

// Over returns the limits with those over them that an entry was judged by. One
// that cannot be read leaves what stood there.
func (l Limits) Over(a *ledger.Act) Limits {
	for _, o := range ledger.Objects(a.Body["limits"]) {
		if next, err := l.With(text(o, "rule"), text(o, "says")); err == nil {
			l = next
		}
	}
	return l
}

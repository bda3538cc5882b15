package rules

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/place"
)

const (
	keyLoadEarly  = "load-early"
	keyWaterEarly = "water-early"

	saysLoadEarly  = "{place} is not released for {stage}; earliest {time}."
	saysDisturbed  = "Line {n} promises a bond at {place}, disturbed early on {day}. It needs a tap, and a bond-coupon or screw-pull, passed after that."
	saysWaterEarly = "Sealant at {place} is cured through on {time} at the earliest."
)

var loadRules = []Rule{
	{
		// A release is asked about while it is filled, a certificate here.
		Key: keyCureEarly, Degree: Refused, Kinds: []string{"cure", "certificate"},
		Sentences: []string{saysCureEarly, saysCureCold, saysDry, saysDisturbed}, Look: known(disturbedBond),
	},
	{
		Key: keyLoadEarly, Degree: Stopped, Kinds: forWork, Sentences: []string{saysLoadEarly},
		Plain: "not yet released when it was loaded", Look: known(loadEarly),
	},
	{
		Key: keyWaterEarly, Degree: Stopped, Kinds: withResults, Sentences: []string{saysWaterEarly},
		Plain: "the sealant was not yet cured through when water was put on it", Look: known(waterEarly),
	},
}

// hard says whether a test of hardness passed at a cure, after its start and
// before a note.
func (w *Wait) hard(c Case) bool {
	if w.Work == nil {
		return false
	}
	at := union(workSpots(c.Replay, w.Work))
	return passedBetween(c.Replay, w.Start, c.Act, at, "hardness")
}

// passedBetween says whether one of some checks passed in a region after one act and
// before another.
func passedBetween(r *ledger.Replay, after, until *ledger.Act, at place.Region, checks ...string) bool {
	for _, a := range before(r, until, withResults...) {
		if a.Before(after) {
			continue
		}
		for _, o := range results(a, checks...) {
			seen, _ := spots(r, a, ledger.PlacesOf(o["places"]), nil)
			if o["pass"] == true && union(seen).Overlaps(at) {
				return true
			}
		}
	}
	return false
}

// disturbedBond refuses a bond over what was disturbed early, until a tap and a
// pull of it have passed since.
func disturbedBond(c Case) []Outcome {
	if c.Act.Kind != "certificate" {
		return nil
	}
	var out []Outcome
	lines, _ := Lines(c.Replay, c.Act)
	for _, l := range lines {
		if l.Promise.Name != "bond" {
			continue
		}
		for _, w := range Waits(c.Replay, nil) {
			if w.Work == nil || w.Disturbed == nil {
				continue
			}
			at := union(workSpots(c.Replay, w.Work)).Intersect(l.Region)
			if at.Empty() || checked(c.Replay, []string{"tap"}, w.Disturbed, at) && c.pulled(w, at) {
				continue
			}
			out = appendOnce(out, refused(keyCureEarly, saysDisturbed,
				ledger.Decimal(l.Number), c.say(worked(w.Work)...), w.Disturbed.Day().Long()))
		}
	}
	return out
}

// pulled says whether a coupon on a lot of a cure, or a pull at its place, passed
// since it was disturbed.
func (c Case) pulled(w *Wait, at place.Region) bool {
	if passedBetween(c.Replay, w.Disturbed, c.Act, at, "bond-coupon", "screw-pull") {
		return true
	}
	lots := ledger.Texts(w.Start.Body["lots"])
	for _, a := range c.before(withResults...) {
		for _, o := range results(a, "bond-coupon") {
			ours := slices.ContainsFunc(ledger.Texts(o["lots"]), func(id string) bool { return slices.Contains(lots, id) })
			if ours && o["pass"] == true && !a.Before(w.Disturbed) {
				return true
			}
		}
	}
	return false
}

// waiting are the cures that had begun when the note happened and of which a
// stage was not released.
func (c Case) waiting(stage string) []*Wait {
	var out []*Wait
	for _, w := range Waits(c.Replay, nil) {
		_, started := w.started(stage)
		if !started || w.Work == nil || !c.had(w.Start) {
			continue
		}
		if no, released := w.Released[stage]; !released || !c.had(c.Replay.Act(no)) {
			out = append(out, w)
		}
	}
	return out
}

// had says whether an act stands in the ledger before the note and happened
// before it.
func (c Case) had(a *ledger.Act) bool {
	return a.Before(c.Act) && (c.Act.Entry == nil || a.No.N < c.Act.No.N)
}

// harmless are the operations that a press and a glue line bear.
var harmless = []string{"tarp", "open-up", "dry-out"}

// loadEarly looks at work on what is still pressed, and at units and closing on
// what does not bear yet.
func loadEarly(c Case) []Outcome {
	var working, loading []Spot
	for _, op := range Ops(c.Act) {
		if !slices.Contains(harmless, op.Word) {
			working = append(working, op.spots(c.Replay)...)
		}
		if op.Word == "refit-fitting" {
			loading = append(loading, c.units(op)...)
		}
	}
	loading = append(loading, hidden(c.Replay, c.Act)...)
	return append(c.unreleased("press-off", union(working)), c.unreleased("load", union(loading))...)
}

// units are the spots of an operation at which a unit with a mass stands.
func (c Case) units(op Op) []Spot {
	return slices.DeleteFunc(op.spots(c.Replay), func(s Spot) bool { return c.unitMass(s.Place.Name) == 0 })
}

func (c Case) unreleased(stage string, at place.Region) []Outcome {
	var out []Outcome
	for _, w := range c.waiting(stage) {
		if union(workSpots(c.Replay, w.Work)).Overlaps(at) {
			out = append(out, stopped(keyLoadEarly, "", saysLoadEarly,
				capital(c.say(worked(w.Work)...)), ledger.Said("stages", stage), c.earliest(w, stage)))
		}
	}
	return out
}

// worked are the places of the operations of a work.
func worked(a *ledger.Act) []place.Place {
	var out []place.Place
	for _, op := range Ops(a) {
		out = append(out, barePlaces(op.Places)...)
	}
	return out
}

// earliest is when a stage is reached, by the log so far and if the air stays as
// it is.
func (c Case) earliest(w *Wait, stage string) string {
	need, _, err := w.need(stage)
	dose, err2 := w.dose(stage, c.Limits)
	if err == nil && err2 == nil {
		if at, ok := dose.Forecast(need); ok {
			return sayMoment(day.MomentAt(at, offsetOf(c.Zone)))
		}
	}
	return "not in this air"
}

// waterEarly looks at water on sealant that has not cured through.
func waterEarly(c Case) []Outcome {
	var wet []Spot
	for _, o := range results(c.Act, "hose", "dam") {
		at, _ := spots(c.Replay, c.Act, ledger.PlacesOf(o["places"]), nil)
		wet = append(wet, at...)
	}
	if len(wet) == 0 {
		return nil
	}
	var out []Outcome
	for _, w := range c.waiting("water") {
		if union(workSpots(c.Replay, w.Work)).Overlaps(union(wet)) {
			out = append(out, stopped(keyWaterEarly, "", saysWaterEarly, c.say(worked(w.Work)...), c.earliest(w, "water")))
		}
	}
	return out
}

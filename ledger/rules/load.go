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
	saysWaterEarly = "Sealant at {place} is cured through on {time} at the earliest."
)

var loadRules = []Rule{
	{
		Key: keyLoadEarly, Degree: Stopped, Kinds: forWork, Sentences: []string{saysLoadEarly},
		Plain: "not yet released when it was loaded", Look: known(loadEarly),
	},
	{
		Key: keyWaterEarly, Degree: Stopped, Kinds: withResults, Sentences: []string{saysWaterEarly},
		Plain: "the sealant was not yet cured through when water was put on it", Look: known(waterEarly),
	},
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

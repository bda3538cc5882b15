package rules

import (
	"errors"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/vin"
)

const (
	keyNoIntake  = "no-intake"
	keyVinForm   = "vin-form"
	keyVinCheck  = "vin-check"
	keyBarred    = "correction-barred"
	keyMeasured  = "not-measured"
	keyLogAhead  = "log-ahead"
	keyNewer     = "newer"
	saysNoIntake = "This coach has no intake yet. Take it in first."
)

// judging are the kinds that say, or rest on, what is covered; of work only what
// hides a place.
var judging = []string{"certificate", "verdict", "ruling", "standing", "hand-over", "work"}

const saysNewer = "Entry {n} says \"{word}\", which is newer than this tool and can change what is covered: " +
	"cannot say. Write this with a newer tool."

// newer refuses to judge over what this program does not know.
func newer(c Case) []Outcome {
	if c.Replay == nil || c.Act.Kind == "work" && c.Act.Body["hides"] != true {
		return nil
	}
	odd := c.Replay.Newer()
	if len(odd) == 0 {
		return nil
	}
	return []Outcome{refused(keyNewer, saysNewer, odd[0].Entry.String(), odd[0].What)}
}

var noteRules = []Rule{
	{Key: keyNewer, Degree: Refused, Kinds: judging, Sentences: []string{saysNewer}, Look: newer},
	{Key: keyLogGap, Degree: Noted, Kinds: []string{"cure"}, Sentences: []string{saysGapLow, saysGapLost}, Look: logGap},
	{
		Key: keyNoIntake, Degree: Refused, Sentences: []string{saysNoIntake},
		Look: func(c Case) []Outcome {
			if c.Replay != nil || c.Act.Kind == "intake" {
				return nil
			}
			return []Outcome{{Rule: keyNoIntake, Degree: Refused, Sentence: saysNoIntake}}
		},
	},
	{
		Key: keyVinForm, Degree: Refused, Kinds: []string{"intake", "correction"}, Sentences: []string{saysVinForm, saysVinLetter},
		Look: ofEach(vinForm),
	},
	{
		Key: keyVinCheck, Degree: Stopped, Kinds: []string{"intake", "correction"}, Sentences: []string{saysVinCheck, saysNoDigit},
		Look: ofEach(vinCheck),
	},
	{Key: keyLogAhead, Degree: Refused, Kinds: []string{"cure", "correction"}, Sentences: []string{saysLogAhead}, Look: ofEach(logAhead)},
	{Key: keyBarred, Degree: Refused, Kinds: []string{"correction"}, Sentences: []string{saysBarred, saysManyChanges}, Look: correctionBarred},
	{
		Key: keyMeasured, Degree: Refused, Kinds: withReadings, Sentences: []string{saysUnmeasured, saysNoCheck},
		Look: ofEach(notMeasured),
	},
}

const (
	saysVinForm = "A VIN has 17 characters and no I, O or Q; this has {n}: {vin}. " +
		"Older or other plate: give it as serial."
	saysVinLetter = "A VIN has 17 characters and no I, O or Q; this has {letter} in position {n}: {vin}. " +
		"Older or other plate: give it as serial."
	saysVinCheck    = "Position 9 should be {want}, the VIN says {is}. Read the plate again: {vin}."
	saysNoDigit     = "This VIN has no check digit."
	saysBarred      = "Entry {n} is a {kind}; it is not corrected. Write a new one."
	saysManyChanges = "Entry {n} has {has} changes with these; {most} are followed. Write a new one."
	saysNoCheck     = "{Check} without {quantity} is not a check. Measure it, or write a remark."
)

func vinForm(a *ledger.Act) []Outcome {
	plate := a.Text("vin")
	var bad *vin.FormError
	if plate == "" || !errors.As(vin.Form(plate), &bad) {
		return nil
	}
	if bad.Bad != 0 && bad.Count == vin.Length {
		return []Outcome{refused(keyVinForm, saysVinLetter, string(bad.Bad), ledger.Decimal(int64(bad.Place)), plate)}
	}
	return []Outcome{refused(keyVinForm, saysVinForm, ledger.Decimal(int64(bad.Count))+" characters", plate)}
}

// vinCheck compares position 9 (49 CFR 565.15(c)).
func vinCheck(a *ledger.Act) []Outcome {
	plate := a.Text("vin")
	if plate == "" || vin.Form(plate) != nil {
		return nil
	}
	switch r := vin.Check(plate); {
	case !r.HasDigit:
		return []Outcome{{Rule: keyVinCheck, Degree: Noted, Sentence: saysNoDigit}}
	case !r.Good:
		return []Outcome{{
			Rule: keyVinCheck, Degree: Stopped, Sentence: fill(saysVinCheck, string(r.Want), string(r.Is), plate),
		}}
	}
	return nil
}

func correctionBarred(c Case) []Outcome {
	if c.Replay == nil {
		return nil
	}
	changes := len(ledger.Objects(c.Act.Body["changes"]))
	for _, no := range c.Act.Refs("answers") {
		a := c.Replay.Act(no)
		switch {
		case a == nil:
		case ledger.Barred(a.Kind):
			return []Outcome{refused(keyBarred, saysBarred, no.String(), a.Kind)}
		case a.Asked+changes > ledger.MaxCorrections:
			return []Outcome{refused(keyBarred, saysManyChanges, no.String(),
				ledger.Decimal(int64(a.Asked+changes)), ledger.Decimal(ledger.MaxCorrections))}
		}
	}
	return nil
}

// notMeasured refuses a check without a quantity that it cannot do without, and
// notes one that a defect or an operation should have.
func notMeasured(a *ledger.Act) []Outcome {
	out := unmeasured(a)
	for _, o := range ledger.Objects(a.Body["results"]) {
		name := text(o, "check")
		w, ok := ledger.WordIn("checks", name)
		if !ok || excused(name, o) {
			continue
		}
		values := object(o["values"])
		for _, carry := range w.Carries {
			if _, there := values[carry.Quantity]; carry.Must && !there {
				out = append(out, Outcome{
					Rule: keyMeasured, Degree: Refused,
					Sentence: fill(saysNoCheck, capital(ledger.Said("checks", name)), strings.ReplaceAll(carry.Quantity, "-", " ")),
				})
			}
		}
	}
	return out
}

// excused says where a check needs no number: the way in of the water shown,
// or what failed instead of a peel.
func excused(check string, o format.Object) bool {
	_, cameIn := o["came-in"]
	_, failure := o["failure"]
	switch check {
	case "hose":
		return cameIn
	case "weld-strip", "peel-in-place":
		return failure
	}
	return false
}

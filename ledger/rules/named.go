package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

const (
	keyHow    = "no-how-known"
	keyPaper  = "named-no-paper"
	keyOldKey = "old-key"

	saysHow        = "Whose hand: {hand}. How is that known?"
	saysPaper      = "A business is named only with its paper. Write other-shop, or add the photo of the paper."
	saysReplaced   = "This key was replaced by entry {n} on {day}. Sign with {fingerprint}."
	saysGaveUp     = "Signed with a key the house gave up."
	saysUnmeasured = "{word} at {place}: {quantity} not measured."
)

var namedRules = []Rule{
	{
		Key: keyHow, Degree: Refused, Kinds: []string{"finding", "later-work", "correction"}, Sentences: []string{saysHow},
		Look: ofEach(noHowKnown),
	},
	{Key: keyOldKey, Degree: Refused, Sentences: []string{saysReplaced, saysGaveUp}, Look: oldKey},
	{Key: keyPaper, Degree: Refused, Kinds: []string{"finding", "later-work"}, Sentences: []string{saysPaper}, Look: namedNoPaper},
}

// noHowKnown refuses a hand that nobody says how he knows of: by not having
// asked nobody knows. An entry of our own shows itself.
func noHowKnown(a *ledger.Act) []Outcome {
	whose := object(a.Body["whose"])
	hand := text(whose, "whose")
	if hand == "" || hand == "unknown" || whose["entry"] != nil {
		return nil
	}
	for _, known := range ledger.Objects(a.Body["known"]) {
		if text(known, "how") != "not-asked" {
			return nil
		}
	}
	return []Outcome{refused(keyHow, saysHow, ledger.Said("whose", hand))}
}

// namedNoPaper refuses the name of a business without the picture of its paper.
func namedNoPaper(c Case) []Outcome {
	onPaper := func(o format.Object) bool { return text(o, "how") == "paper" }
	shown := len(c.Act.Photos()) > 0 && slices.ContainsFunc(ledger.Objects(c.Act.Body["known"]), onPaper)
	if c.Private["business"] == "" || shown {
		return nil
	}
	return []Outcome{refused(keyPaper, saysPaper)}
}

// unmeasured notes what a defect or an operation should have been measured for.
// What one of the checks beside it has measured is.
func unmeasured(a *ledger.Act) []Outcome {
	var out []Outcome
	beside := []format.Object{object(a.Body["values"])}
	for _, o := range slices.Concat(ledger.Objects(a.Body["results"]), ledger.Objects(a.Body["causes"])) {
		beside = append(beside, object(o["values"]))
	}
	if a.Kind == "finding" {
		out = append(out, lacking("defects", a.Text("defect"), sayPlaces(a.Places()), beside)...)
	}
	if a.Kind == "work" {
		for _, op := range Ops(a) {
			out = append(out, lacking("operations", op.Word, sayPlaces(op.Places), append(beside, object(op.Object["values"])))...)
		}
	}
	return out
}

func lacking(list, word, where string, values []format.Object) []Outcome {
	w, _ := ledger.WordIn(list, word)
	var out []Outcome
	for _, carry := range w.Carries {
		measured := func(o format.Object) bool { return o[carry.Quantity] != nil }
		if carry.Must && !slices.ContainsFunc(values, measured) {
			out = append(out, Outcome{Rule: keyMeasured, Degree: Noted, Sentence: fill(saysUnmeasured,
				capital(ledger.Said(list, word)), where, strings.ReplaceAll(carry.Quantity, "-", " "))})
		}
	}
	return out
}

// oldKey refuses the key that a key-change took the house from. Read, its entry
// is a guest's, and it is noted whose key that was.
func oldKey(c Case) []Outcome {
	if c.Replay == nil || c.Act.Signer == "" {
		return nil
	}
	if c.Act.Entry != nil {
		if c.Act.Entry.Role == ledger.Guest && c.Replay.Coach.Replaced(c.Act.Signer) != nil {
			return []Outcome{{Rule: keyOldKey, Degree: Noted, Sentence: saysGaveUp}}
		}
		return nil
	}
	if says, old := ReplacedKey(c.Replay.Coach, c.Act.Signer); old {
		return []Outcome{refused(keyOldKey, says)}
	}
	return nil
}

// ReplacedKey says which entry replaced a key that was the house's once, and
// which key signs now.
func ReplacedKey(c *ledger.Coach, key string) (says string, old bool) {
	by := c.Replaced(key)
	if by == nil {
		return "", false
	}
	print, err := format.Fingerprint(c.House)
	if err != nil {
		print = c.House
	}
	return fill(saysReplaced, by.No.String(), dayIn(by.Happened()).Long(), print), true
}

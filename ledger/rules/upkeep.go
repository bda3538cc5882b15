package rules

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
)

const (
	keyUpkeep   = "upkeep-part"
	saysReached = "Line {n} not served: {places} not reached."
	saysUnseen  = "No photo of {place}: one by {day} mends it."
)

var upkeepRules = []Rule{
	{Key: keyUpkeep, Degree: Noted, Kinds: []string{"upkeep"}, Sentences: []string{saysReached, saysUnseen}, Look: upkeepPart},
}

// upkeepPart notes the places of a line that a yearly look does not serve. Who
// looked is never asked: only that somebody else than the shop shows a photo.
func upkeepPart(c Case) []Outcome {
	if c.Replay == nil {
		return nil
	}
	looked := lookedAt(c)
	var out []Outcome
	for _, ref := range ledger.Objects(c.Act.Body["covers"]) {
		no, _ := c.Replay.Tagged(text(ref, "cert"))
		cert := c.Replay.Act(no)
		if cert == nil || cert.Kind != "certificate" {
			continue
		}
		lines, _ := Lines(c.Replay, cert)
		for _, l := range lines {
			if asksForUpkeep(l, ledger.Ints(ref["lines"])) {
				out = append(out, served(c, cert, l, looked)...)
			}
		}
	}
	return out
}

func asksForUpkeep(l Line, named []int64) bool {
	for _, n := range named {
		if n == l.Number {
			return true
		}
	}
	return len(named) == 0 && l.Object["upkeep"] == true
}

// look is one place that was looked at.
type look struct {
	Spot
	shown bool // by the shop itself, or with a photo
}

// lookedAt are the places that were done or resealed.
func lookedAt(c Case) []look {
	ours := c.Act.Text("done-by") == "our-shop" && c.Act.House && (c.Act.Entry != nil || c.Act.Signer == "")
	var out []look
	for _, o := range ledger.Objects(c.Act.Body["looked"]) {
		if did := text(o, "did"); did != "done" && did != "resealed" {
			continue
		}
		at, _ := spots(c.Replay, c.Act, ledger.PlacesOf(o["places"]), nil)
		for _, s := range at {
			out = append(out, look{s, ours || len(ledger.Texts(o["photos"])) > 0})
		}
	}
	return out
}

func served(c Case, cert *ledger.Act, l Line, looked []look) []Outcome {
	var out []Outcome
	var missed []string
	for _, p := range l.Spots {
		reached, shown := false, false
		for _, k := range looked {
			if serves(k.Spot, p) {
				reached, shown = true, shown || k.shown
			}
		}
		by := mendedBy(cert, l, c.Act.Day())
		switch {
		case !reached:
			missed = append(missed, ledger.SayPlace(p.Place))
		case !shown && !by.IsZero():
			out = append(out, Outcome{Rule: keyUpkeep, Degree: Noted, Sentence: fill(saysUnseen, ledger.SayPlace(p.Place), by.Long())})
		}
	}
	if len(missed) > 0 {
		says := fill(saysReached, ledger.Decimal(l.Number), strings.Join(missed, "; "))
		out = append([]Outcome{{Rule: keyUpkeep, Degree: Noted, Sentence: says}}, out...)
	}
	return out
}

// serves says whether a place looked at serves one of a line: by its name or
// element, else by holding it (COVER 1).
func serves(looked, asked Spot) bool {
	a, b := looked.Place, asked.Place
	switch {
	case a.Name != "" || b.Name != "":
		return a.Name == b.Name
	case a.Part != "" && a.Part == b.Part && sameNumber(a.Number, b.Number) && (a.Side == b.Side || a.Side == ""):
		return true
	}
	return looked.Region.Holds(asked.Region, tape)
}

func sameNumber(a, b *int64) bool { return a == b || a != nil && b != nil && *a == *b }

// mendedBy is the last day on which a photo still counts for the due day that a
// look serves; zero where the line has no due day left.
func mendedBy(cert *ledger.Act, l Line, on day.Day) day.Day {
	numbers := object(cert.Body["numbers"])
	every, grace := int(ledger.Int(numbers, "upkeep-every")), int(ledger.Int(numbers, "upkeep-grace"))
	first := dayOf(text(l.Object, "first-day"))
	if every < 1 || first.IsZero() {
		return day.Day{}
	}
	last := day.LastDay(first, int(ledger.Int(l.Object, "months")))
	for k := 1; k <= mostMonths; k++ {
		due, _ := first.PlusMonths(k * every)
		if last.Before(due) {
			return day.Day{}
		}
		if by := due.AddDays(grace); !by.Before(on) {
			return by
		}
	}
	return day.Day{}
}

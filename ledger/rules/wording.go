package rules

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

const (
	saysBoth     = "{cause} stands among the exclusions and among the causes this shop answers for. Strike it out of one."
	saysOverlap  = "Upkeep counts from {early} days early to {grace} days late: together that must stay under 28 days for each of {every} months. Shorten one."
	saysAgain    = "Line {n} names {place} twice. Say it once."
	saysNoNumber = "The certificate lacks its number {name}. Write it among the numbers."
	saysVersion  = "This certificate names rules {n}; this program writes by rules 1. Write rules 1."
	saysNotFull  = "This is a limited warranty, not a full one: {why}. Write title limited."
	saysReasoned = "Lot {lot} was used with a reason given: no maker's promise there."
	saysMaker    = "Line {n} promises what a maker answers for. No lot here says until which day that is: strike the line out."
	saysAlone    = "Line {n} promises what follows from water. That rides on a watertight line, and there is none here: strike it out."
	saysBeside   = "There is no certificate {number} on this coach to stand beside. Write the number of one that is there."
	saysInstead  = "From {day} the holder would have less than {certificate} line {n}. Write it beside, or get the holder's decision."
)

// coverRules is the version of the rules that certificates are judged by.
const coverRules = 1

// The numbers that a certificate is judged by for ever, and those it needs
// where a line asks for upkeep.
var (
	neededNumbers = []string{
		"report-days", "notice-days", "transfers-most", "margin", "tie-in-reach", "touch", "declare-days",
	}
	upkeepNumbers = []string{"upkeep-every", "upkeep-early", "upkeep-grace", "upkeep-missed-most"}
)

// termsRules look at the wording of a certificate alone.
var termsRules = []Rule{
	certifyRule("cause-twice", Refused, causeTwice, saysBoth),
	certifyRule("upkeep-overlap", Refused, upkeepOverlap, saysOverlap),
	certifyRule("place-twice", Refused, placeTwice, saysAgain),
	certifyRule("number-missing", Refused, numberMissing, saysNoNumber),
	certifyRule("rules-version", Refused, rulesVersion, saysVersion),
	certifyRule("title-full", Refused, titleFull, saysNotFull),
	certifyRule("maker-shorter", Refused, makerShorter, saysReasoned, saysMaker),
	certifyRule("resulting-alone", Refused, resultingAlone, saysAlone),
	certifyRule("beside-unknown", Refused, besideUnknown, saysBeside),
	certifyRule("worse-than-before", Refused, worseThanBefore, saysInstead),
}

func causeTwice(c Case) []Outcome {
	var out []Outcome
	ours := ledger.Texts(c.Act.Body["shop-side"])
	for _, cause := range ledger.Texts(c.Act.Body["exclusions"]) {
		if slices.Contains(ours, cause) {
			out = append(out, refused("cause-twice", saysBoth, capital(ledger.Said("causes", cause))))
		}
	}
	return out
}

// upkeepOverlap keeps the windows of two years apart: a month has 28 days or
// more.
func upkeepOverlap(c Case) []Outcome {
	numbers := object(c.Act.Body["numbers"])
	every, said := numbers["upkeep-every"].(int64)
	early, grace := ledger.Int(numbers, "upkeep-early"), ledger.Int(numbers, "upkeep-grace")
	if !said || early+grace < 28*every {
		return nil
	}
	return []Outcome{refused("upkeep-overlap", saysOverlap, ledger.Decimal(early), ledger.Decimal(grace), ledger.Decimal(every))}
}

// placeTwice compares places by what they are called in a line: their layers
// give them no second name.
func placeTwice(c Case) []Outcome {
	var out []Outcome
	for _, o := range ledger.Objects(c.Act.Body["lines"]) {
		var seen, told []string
		for _, p := range ledger.PlacesOf(o["places"]) {
			p.Layers = nil
			name := ledger.SayPlace(p)
			if slices.Contains(seen, name) && !slices.Contains(told, name) {
				out = append(out, refused("place-twice", saysAgain, ledger.Decimal(ledger.Int(o, "line")), name))
				told = append(told, name)
			}
			seen = append(seen, name)
		}
	}
	return out
}

func numberMissing(c Case) []Outcome {
	needed := neededNumbers
	upkeep := func(o format.Object) bool { return o["upkeep"] == true }
	if slices.ContainsFunc(ledger.Objects(c.Act.Body["lines"]), upkeep) {
		needed = slices.Concat(needed, upkeepNumbers)
	}
	var out []Outcome
	for _, name := range needed {
		if _, said := object(c.Act.Body["numbers"])[name].(int64); !said {
			out = append(out, refused("number-missing", saysNoNumber, name))
		}
	}
	return out
}

func rulesVersion(c Case) []Outcome {
	n, _ := c.Act.Body["rules"].(int64)
	if n == coverRules {
		return nil
	}
	return []Outcome{refused("rules-version", saysVersion, ledger.Decimal(n))}
}

// titleFull refuses the word full where shares fall or sales end the warranty
// (15 USC 2303; 16 CFR 700.6), whatever law the shop's form follows.
func titleFull(c Case) []Outcome {
	if c.Act.Text("title") != "full" {
		return nil
	}
	for _, o := range ledger.Objects(c.Act.Body["lines"]) {
		if months, full := ledger.Int(o, "months"), ledger.Int(o, "full-months"); full < months {
			return []Outcome{refused("title-full", saysNotFull, "line "+ledger.Decimal(ledger.Int(o, "line"))+" is in full for "+
				ledger.Decimal(full)+" of "+ledger.Decimal(months)+" months")}
		}
	}
	if most, limited := object(c.Act.Body["numbers"])["transfers-most"].(int64); limited {
		return []Outcome{refused("title-full", saysNotFull, "it goes on through "+ledger.Decimal(most)+" sales and no more")}
	}
	return nil
}

func promised(c Case, promise string) []int64 {
	var out []int64
	for _, o := range ledger.Objects(c.Act.Body["lines"]) {
		if text(o, "promise") == promise {
			out = append(out, ledger.Int(o, "line"))
		}
	}
	return out
}

func makerShorter(c Case) []Outcome {
	var out []Outcome
	lines, _ := Lines(c.Replay, c.Act)
	for _, l := range lines {
		if l.Promise.Name != "materials" {
			continue
		}
		for _, lot := range reasonedLots(c.Replay, l.Spots) {
			out = appendOnce(out, refused("maker-shorter", saysReasoned, lot))
		}
		out = append(out, refused("maker-shorter", saysMaker, ledger.Decimal(l.Number)))
	}
	return out
}

// aboutLots are the rules that a lot is used by: with a reason given, its maker
// answers for nothing there.
var aboutLots = []string{
	"past-use-by", "lot-overdrawn", "lot-under-notice", "no-coupon", "no-layer", "spread", "near-dew", "outside-sheet",
}

// reasonedLots are the lots of closed work over a place whose use a rule had
// stopped.
func reasonedLots(r *ledger.Replay, places []Spot) []string {
	var out []string
	for _, op := range Closed(r) {
		about := func(rule string) bool { return overridden(op.Act, rule) }
		if slices.ContainsFunc(aboutLots, about) && overAny(op.spots(r), places) {
			out = append(out, op.Lots...)
		}
	}
	return out
}

// resultingAlone: what follows from water is promised by no line of its own.
func resultingAlone(c Case) []Outcome {
	lines, _ := Lines(c.Replay, c.Act)
	if slices.ContainsFunc(lines, func(l Line) bool { return slices.Contains(l.Promise.Answers, "leak") }) {
		return nil
	}
	var out []Outcome
	for _, n := range promised(c, "resulting-damage") {
		out = append(out, refused("resulting-alone", saysAlone, ledger.Decimal(n)))
	}
	return out
}

func besideUnknown(c Case) []Outcome {
	var out []Outcome
	for _, number := range ledger.Texts(c.Act.Body["beside"]) {
		no, named := c.Replay.Tagged(number)
		if !named || c.Replay.Act(no).Kind != "certificate" {
			out = append(out, refused("beside-unknown", saysBeside, number))
		}
	}
	return out
}

// yesToLess says whether an agree-extra of the holder answers a certificate and
// lies over those of its lines that are given up.
func yesToLess(c Case, ref format.Object) bool {
	no, _ := c.Replay.Tagged(text(ref, "cert"))
	cert := c.Replay.Act(no)
	if cert == nil || cert.Kind != "certificate" {
		return false
	}
	lines, missing := Lines(c.Replay, cert)
	var agreed place.Region
	for _, a := range c.Replay.OfKind("decision") {
		if agrees(a) && a.Text("choice") == "agree-extra" && slices.Contains(a.Refs("answers"), cert.No) {
			agreed = agreed.Union(agreedTo(c.Replay, a))
		}
	}
	numbers := ledger.Ints(ref["lines"])
	for _, l := range lines {
		given := len(numbers) == 0 || slices.Contains(numbers, l.Number)
		if given && !agreed.Holds(l.Region, tape) {
			return false
		}
	}
	return missing == nil && !agreed.Empty()
}

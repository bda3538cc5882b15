package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

const (
	keyDays    = "days-crossed"
	keySource  = "source-unshown"
	keyOld     = "verdict-old"
	keySecond  = "second-mark"
	keyBelow   = "ruling-below"
	keyLacking = "claim-open"

	saysDays     = "Noticed {day}, reported {day}, written {day}: out of order."
	saysTold     = "Told {day} of a sale dated {day}."
	saysSource   = "Where the water comes in is not shown. A stain is not a source: hose or open up first."
	saysOld      = "Entries {a}–{b} are newer than this verdict. Ask again."
	saysOldOne   = "Entry {a} is newer than this verdict. Ask again."
	saysSame     = "The second mark is that of another person; {mark} stands twice."
	saysOneMark  = "A shop of one mark rules to the holder's loss a day after the verdict or later: from {day}."
	saysBelow    = "Verdict {v}, ruling {r}, to the holder's loss. Give the reason and a second mark."
	saysLacks    = "Claim {n}, ruled {r}, still lacks {what}."
	toTheirLoss  = "to-holders-loss"
	asTheVerdict = "as-the-verdict"
)

var forRulings = []string{"ruling"}

var claimRules = []Rule{
	{Key: keyDays, Degree: Refused, Kinds: []string{"claim", "transfer"}, Sentences: []string{saysDays, saysTold}, Look: daysCrossed},
	{Key: keySource, Degree: Refused, Kinds: forRulings, Sentences: []string{saysSource}, Look: onVerdict(sourceUnshown)},
	{Key: keyOld, Degree: Noted, Kinds: forRulings, Sentences: []string{saysOld, saysOldOne}, Look: onVerdict(verdictOld)},
	{Key: keySecond, Degree: Refused, Kinds: forRulings, Sentences: []string{saysSame, saysOneMark}, Look: onVerdict(secondMark)},
	{Key: keyBelow, Degree: Stopped, Kinds: forRulings, Sentences: []string{saysBelow}, Look: onVerdict(rulingBelow)},
	{Key: keyLacking, Degree: Noted, Kinds: []string{"hand-over"}, Sentences: []string{saysLacks}, Look: claimsLacking},
}

// daysCrossed refuses a claim whose days are out of order, and notes a sale that
// was told before it.
func daysCrossed(c Case) []Outcome {
	if c.Act.Kind == "transfer" {
		sold, told := dayOf(c.Act.Text("sold")), dayIn(text(object(c.Act.Body["told"]), "when"))
		if sold.IsZero() || told.IsZero() || !told.Before(sold) {
			return nil
		}
		return []Outcome{{Rule: keyDays, Degree: Noted, Sentence: fill(saysTold, told.Long(), sold.Long())}}
	}
	noticed, reported := dayOf(c.Act.Text("noticed")), dayIn(text(object(c.Act.Body["reported"]), "when"))
	written := c.written(c.Act)
	if written.IsZero() {
		written = c.Act.Day()
	}
	if reported.IsZero() || !reported.Before(noticed) && !written.Before(reported) {
		return nil
	}
	return []Outcome{refused(keyDays, saysDays, noticed.Long(), reported.Long(), written.Long())}
}

// onVerdict asks a rule of a ruling with the verdict that it answers.
func onVerdict(look func(c Case, verdict *ledger.Act) []Outcome) func(Case) []Outcome {
	return func(c Case) []Outcome {
		if c.Replay == nil {
			return nil
		}
		if verdict := answered(c.Replay, c.Act, "verdict"); verdict != nil {
			return look(c, verdict)
		}
		return nil
	}
}

// answered is the entry of a kind that an act answers, nil where there is none.
func answered(r *ledger.Replay, a *ledger.Act, kind string) *ledger.Act {
	for _, no := range a.Refs("answers") {
		if b := r.Act(no); b != nil && b.Kind == kind {
			return b
		}
	}
	return nil
}

// claimOf is the claim that a ruling or verdict speaks of, nil where there is
// none.
func claimOf(r *ledger.Replay, a *ledger.Act) *ledger.Act {
	if a.Kind == "ruling" {
		if a = answered(r, a, "verdict"); a == nil {
			return nil
		}
	}
	return answered(r, a, "claim")
}

// bySource are the grounds that rest on where the water comes in (COVER 7). The
// others say no wherever it does.
var bySource = []string{
	"no-line", "excluded-cause", "taken-by-others", "others-opening", "near-others-work", "left-trouble", "near-left-trouble",
	"entry-open", "cause-open",
}

// sourceUnshown refuses to leave the holder alone with water for a place where
// nobody has shown that it comes in. Other troubles are judged where they show.
func sourceUnshown(c Case, verdict *ledger.Act) []Outcome {
	claim := claimOf(c.Replay, verdict)
	if claim == nil || claim.Text("trouble") != "leak" || sourceShown(c.Replay, claim, verdict) {
		return nil
	}
	for _, o := range ledger.Objects(verdict.Body["judged"]) {
		word := text(o, "verdict")
		against := c.Act.Text("ruling") == toTheirLoss || c.Act.Text("ruling") == asTheVerdict && word == "not-covered"
		lead := ledger.Texts(o["grounds"])
		if against && len(lead) > 0 && slices.Contains(bySource, firstWord(lead[0])) {
			return []Outcome{refused(keySource, saysSource)}
		}
	}
	return nil
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(s, " ")
	return word
}

// sourceShown says whether a check that counts shows where the water of a claim
// comes in, or the place was opened up: answering the claim, or named by the
// verdict.
func sourceShown(r *ledger.Replay, claim, verdict *ledger.Act) bool {
	speaks := func(a *ledger.Act) bool {
		return a.Counts && (slices.Contains(a.Refs("answers"), claim.No) || slices.Contains(verdict.Refs("facts"), a.No))
	}
	for _, kind := range []string{"check", "finding", "work"} {
		for _, a := range r.OfKind(kind) {
			if speaks(a) && showsSource(a) {
				return true
			}
		}
	}
	return false
}

func showsSource(a *ledger.Act) bool {
	for _, o := range ledger.Objects(a.Body["results"]) {
		if text(o, "check") == "hose" && o["came-in"] != nil {
			return true
		}
	}
	return slices.ContainsFunc(Ops(a), func(op Op) bool { return op.Word == "open-up" })
}

// verdictOld notes facts that the verdict could not know.
func verdictOld(c Case, verdict *ledger.Act) []Outcome {
	var first, last ledger.No
	for _, a := range slices.Backward(c.Replay.Acts) {
		if a == verdict {
			break
		}
		kind, _ := ledger.KindNamed(a.Kind)
		if !kind.Cover || !a.Counts || !c.Act.Follows(a) {
			continue
		}
		first = a.No
		if last == (ledger.No{}) {
			last = a.No
		}
	}
	switch {
	case last == ledger.No{}:
		return nil
	case first == last:
		return []Outcome{{Rule: keyOld, Degree: Noted, Sentence: fill(saysOldOne, first.String())}}
	}
	return []Outcome{{Rule: keyOld, Degree: Noted, Sentence: fill(saysOld, first.String(), last.String())}}
}

// secondMark asks for another person behind a ruling to the holder's loss; a
// shop of one sleeps on it.
func secondMark(c Case, verdict *ledger.Act) []Outcome {
	second := c.Act.Text("second")
	by := ledger.Texts(c.Act.Body["by"])
	if c.Act.Text("ruling") != toTheirLoss || !slices.Contains(by, second) {
		return nil
	}
	if other := otherMark(c.Replay, second); other {
		return []Outcome{refused(keySecond, saysSame, second)}
	}
	if verdict.Day().Before(c.Act.Day()) {
		return nil
	}
	return []Outcome{refused(keySecond, saysOneMark, verdict.Day().AddDays(1).Long())}
}

// otherMark says whether anybody else has written for the house here.
func otherMark(r *ledger.Replay, mark string) bool {
	for _, a := range r.Acts {
		other := func(by string) bool { return by != mark }
		if own(a) && slices.ContainsFunc(ledger.Texts(a.Body["by"]), other) {
			return true
		}
	}
	return false
}

func rulingBelow(c Case, verdict *ledger.Act) []Outcome {
	if c.Act.Text("ruling") != toTheirLoss {
		return nil
	}
	return []Outcome{{Rule: keyBelow, Degree: Stopped, Sentence: fill(saysBelow, sayVerdict(verdict), "less")}}
}

// sayVerdict says each word of a verdict once.
func sayVerdict(verdict *ledger.Act) string {
	var out []string
	for _, o := range ledger.Objects(verdict.Body["judged"]) {
		if says := ledger.Said("verdict", text(o, "verdict")); !slices.Contains(out, says) {
			out = append(out, says)
		}
	}
	return strings.Join(out, " and ")
}

func claimsLacking(c Case) []Outcome {
	if c.Replay == nil {
		return nil
	}
	var out []Outcome
	for _, claim := range c.Replay.OfKind("claim") {
		ruling := rulingOn(c.Replay, claim)
		if what := stillLacks(c.Replay, claim, ruling); what != "" {
			out = append(out, Outcome{Rule: keyLacking, Degree: Noted, Sentence: fill(saysLacks,
				sayEntry(claim), ledger.Said("ruling", ruling.Text("ruling")), what)})
		}
	}
	return out
}

// sayEntry is how an entry is called: by its tag, else by its number.
func sayEntry(a *ledger.Act) string {
	if tag := a.Text("tag"); tag != "" {
		return tag
	}
	return a.No.String()
}

// rulingOn is the newest ruling on a claim, nil while there is none.
func rulingOn(r *ledger.Replay, claim *ledger.Act) *ledger.Act {
	for _, a := range slices.Backward(r.OfKind("ruling")) {
		if a.Counts && claimOf(r, a) == claim {
			return a
		}
	}
	return nil
}

// stillLacks says what a claim that was ruled covered still asks for: the work
// at the place of the ruling, a check that passed after it, a certificate over
// it. "" of one that was not, or that has all.
func stillLacks(r *ledger.Replay, claim, ruling *ledger.Act) string {
	if ruling == nil || !claim.Counts || !ruledCovered(r, ruling) {
		return ""
	}
	at := agreedTo(r, ruling)
	var lacks []string
	for _, one := range []struct {
		what  string
		kinds []string
		done  func(*ledger.Act) bool
	}{
		{"the work", []string{"work"}, func(a *ledger.Act) bool { return union(workSpots(r, a)).Overlaps(at) }},
		{"a check", []string{"check", "work"}, func(a *ledger.Act) bool { return passedAt(r, a, at) }},
		{"a new certificate", []string{"certificate"}, func(a *ledger.Act) bool {
			lines, _ := Lines(r, a)
			return union(allSpots(lines)).Overlaps(at)
		}},
	} {
		if !anyAfter(r, ruling, one.kinds, one.done) {
			lacks = append(lacks, one.what)
		}
	}
	return strings.Join(lacks, " and ")
}

func ruledCovered(r *ledger.Replay, ruling *ledger.Act) bool {
	switch ruling.Text("ruling") {
	case asTheVerdict:
		return slices.ContainsFunc(ledger.Objects(answered(r, ruling, "verdict").Body["judged"]), func(o format.Object) bool {
			return text(o, "verdict") == "covered" || text(o, "verdict") == "covered-in-part"
		})
	case "goodwill-beyond":
		return len(ruling.Places()) > 0
	}
	return false
}

func anyAfter(r *ledger.Replay, ruling *ledger.Act, kinds []string, done func(*ledger.Act) bool) bool {
	for _, kind := range kinds {
		for _, a := range r.OfKind(kind) {
			if a.Counts && ruling.Before(a) && done(a) {
				return true
			}
		}
	}
	return false
}

func passedAt(r *ledger.Replay, a *ledger.Act, at place.Region) bool {
	for _, o := range ledger.Objects(a.Body["results"]) {
		where, _ := spots(r, a, ledger.PlacesOf(o["places"]), nil)
		if o["pass"] == true && !fromPaper(a) && union(where).Overlaps(at) {
			return true
		}
	}
	return false
}

// Claim is a claim that is not settled: nobody ruled on it yet, or what was ruled
// is not done.
type Claim struct {
	Act    *ledger.Act
	Ruling *ledger.Act // the newest, nil while there is none
	Lacks  string      // what a claim that was ruled covered still lacks
}

// OpenClaims returns the claims that count and are not settled, in the order of
// the chain.
func OpenClaims(r *ledger.Replay) []Claim {
	var out []Claim
	for _, a := range r.OfKind("claim") {
		if !a.Counts {
			continue
		}
		c := Claim{Act: a, Ruling: rulingOn(r, a)}
		c.Lacks = stillLacks(r, a, c.Ruling)
		if c.Ruling == nil || c.Lacks != "" {
			out = append(out, c)
		}
	}
	return out
}

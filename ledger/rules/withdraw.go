package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
)

const (
	keyWithdraw  = "withdraw"
	saysIssued   = "{certificate} was issued {n} days ago."
	saysHasClaim = "Claim {n} on {certificate} is open and will show the withdrawal."
)

var withdrawRules = []Rule{
	{Key: keyWithdraw, Degree: Stopped, Kinds: []string{"standing"}, Sentences: []string{saysIssued, saysHasClaim}, Look: withdraw},
}

// withdraw stops the withdrawal of a certificate that the holder has long
// relied on, or on which a claim is open.
func withdraw(c Case) []Outcome {
	if c.Replay == nil || c.Act.Text("to") != "withdrawn" {
		return nil
	}
	var out []Outcome
	for _, o := range ledger.Objects(c.Act.Body["covers"]) {
		number := text(o, "cert")
		no, _ := c.Replay.Tagged(number)
		cert := c.Replay.Act(no)
		if cert == nil || cert.Kind != "certificate" || !own(cert) {
			continue
		}
		if n := day.Between(cert.Day(), c.Act.Day()); int64(n) > c.Limits.numbers(keyWithdraw)[0] {
			out = append(out, Outcome{
				Rule: keyWithdraw, Degree: Stopped, Limit: keyWithdraw,
				Sentence: fill(saysIssued, number, ledger.Decimal(int64(n))),
			})
		}
		for _, claim := range c.Replay.OfKind("claim") {
			if claim.Counts && c.Act.Follows(claim) && openOn(c.Replay, claim, number) {
				out = append(out, Outcome{Rule: keyWithdraw, Degree: Stopped, Sentence: fill(saysHasClaim, sayEntry(claim), number)})
			}
		}
	}
	return out
}

// openOn says whether a claim is open on a certificate: not ruled, or ruled
// covered and not done. Before a verdict it may be on any; then it is on those
// whose lines the verdict names.
func openOn(r *ledger.Replay, claim *ledger.Act, number string) bool {
	ruling := rulingOn(r, claim)
	if ruling != nil && stillLacks(r, claim, ruling) == "" {
		return false
	}
	verdict := verdictOn(r, claim)
	if verdict == nil {
		return true
	}
	for _, o := range ledger.Objects(verdict.Body["judged"]) {
		line, _, _ := strings.Cut(text(o, "line"), "/")
		named := func(ground string) bool { return slices.Contains(strings.FieldsFunc(ground, isCut), number) }
		if line == number || slices.ContainsFunc(ledger.Texts(o["grounds"]), named) {
			return true
		}
	}
	return false
}

func isCut(r rune) bool { return r == ' ' || r == '/' }

// verdictOn is the newest verdict on a claim, nil while there is none.
func verdictOn(r *ledger.Replay, claim *ledger.Act) *ledger.Act {
	for _, a := range slices.Backward(r.OfKind("verdict")) {
		if a.Counts && claimOf(r, a) == claim {
			return a
		}
	}
	return nil
}

package cover

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger/day"
)

// Ground is one reason of an answer. Which members it has follows from its key.
type Ground struct {
	Key         string
	Certificate string
	On          string  // CERT/LINE/PLACE
	By          string  // who worked there, the certificate that replaces it, or the cause
	Day         day.Day // of DAY, and FROM of a pause
	To          day.Day // of a pause; zero: open
	MM          int64
	Months      int
	See         string // the certificate to see instead
	Entry       int64
	Ref         string // the ledger entry of the fact behind it, if it is one
}

// The key words of grounds. They are stable: they stand in JSON, in verdicts and
// in old papers.
const (
	KeyRecordBroken    = "record-broken"
	KeyOtherCoach      = "other-coach"
	KeyNoCertificate   = "no-certificate"
	KeyWithdrawn       = "withdrawn"
	KeyOlderThanWork   = "older-than-work"
	KeyNoLine          = "no-line"
	KeyBeforeFirstDay  = "before-first-day"
	KeyReplacedHere    = "replaced-here"
	KeyExpired         = "expired"
	KeyEndedBySale     = "ended-by-sale"
	KeyEndedByUpkeep   = "ended-by-upkeep"
	KeyEndedByWord     = "ended-by-word"
	KeyExcludedCause   = "excluded-cause"
	KeyTakenByOthers   = "taken-by-others"
	KeyOthersOpening   = "others-opening"
	KeyNearOthersWork  = "near-others-work"
	KeyLeftTrouble     = "left-trouble"
	KeyNearLeftTrouble = "near-left-trouble"
	KeyUpkeepPaused    = "upkeep-paused"
	KeySalePaused      = "sale-paused"
	KeyInForce         = "in-force"
	KeyCauseOpen       = "cause-open"
	KeyEntryOpen       = "entry-open"
	KeyAnyEntry        = "any-entry"
)

// keyForm is a key word, its rule, its text form, and the sentence people read.
type keyForm struct {
	key  string
	rule int
	form string
	says string
}

// keys are the key words in the order of asking. Blanks of the text form: {c}
// certificate, {on} line and place, {by}, {day}, {to}, {mm}, {n} months, {see},
// {e} ledger entry; of the sentence also {line} and {before}, the day before.
var keys = []keyForm{
	{KeyRecordBroken, 0, "entry {e}", "Entry {e} of the record is not what was signed, so there is no verdict."},
	{KeyOtherCoach, 1, "{c}", "Certificate {c} is for another coach."},
	{KeyNoCertificate, 1, "", "There is no certificate for this coach."},
	{KeyWithdrawn, 2, "{c} {day}{see}", "Certificate {c} was withdrawn; the holder was told on {day}{see}."},
	{KeyOlderThanWork, 4, "{c} {day}", "It was noticed before the work of certificate {c} began on {day}."},
	{KeyNoLine, 6, "{c}", "No line of certificate {c} answers for this trouble at this place."},
	{KeyBeforeFirstDay, 6, "{on} {day}", "The work is not finished: {line} begins on {day}. The shop puts this right in full."},
	{KeyReplacedHere, 7, "{on} by {by}", "Here certificate {by} stands in place of {line}."},
	{KeyExpired, 8, "{on} {day}", "{Line} ended on {day}."},
	{KeyEndedBySale, 8, "{on} {day}", "{Line} ended on {day}, with one sale more than it goes along with."},
	{KeyEndedByUpkeep, 8, "{on} {day}", "{Line} ended here on {day}: upkeep was missed more often than it allows."},
	{KeyEndedByWord, 8, "{on} {day}", "{Line} was ended on {day}."},
	{KeyExcludedCause, 9, "{on} {by}", "A check showed {cause}, and {line} does not answer for that."},
	{KeyTakenByOthers, 10, "{on} {by} {mm} mm", "{mm} mm from declared work by {who}: that work and its tie-in are theirs."},
	{KeyOthersOpening, 10, "{on} {by}", "It comes in where {who} opened the roof, and that was never declared."},
	{KeyNearOthersWork, 10, "{on} {by} {mm} mm", "{mm} mm from work by {who} that was never declared; a check of the cause here would decide."},
	{KeyLeftTrouble, 11, "{on} {day}", "It is the trouble that was left, by decision, on {day}."},
	{KeyNearLeftTrouble, 11, "{on} {day} {mm} mm", "{mm} mm from a trouble that was left, by decision, on {day}; a check of the cause here would decide."},
	{KeyUpkeepPaused, 12, "{on} {day}..{to}", "{Line} {rested}: no upkeep by {before}."},
	{KeySalePaused, 12, "{on} {day}..{to}", "{Line} {rested}: the sale was not told in time. Goodwill is the shop's to give."},
	{KeyInForce, 13, "{on} {n} months", "{Line} is in force; {months} of its term are over."},
	{KeyCauseOpen, 13, "", "The cause is not shown yet."},
	{KeyEntryOpen, 5, "", "Where the water comes in is not known yet."},
	{KeyAnyEntry, 5, "", "Wherever it comes in, the answer is the same."},
}

// rule is the place of a ground in the order of asking.
func (g Ground) rule() int {
	for _, k := range keys {
		if k.key == g.Key {
			return k.rule
		}
	}
	return -1
}

// Text is the text form of a ground, as it stands in a verdict: "expired
// Q-0007/L5/left-edge 2025-04-23".
func (g Ground) Text() string {
	i := slices.IndexFunc(keys, func(k keyForm) bool { return k.key == g.Key })
	if i < 0 {
		return g.Key
	}
	see := ""
	if g.See != "" {
		see = " see " + g.See
	}
	form := strings.NewReplacer(
		"{c}", g.Certificate, "{on}", g.On, "{by}", g.By, "{day}", g.Day.String(), "{to}", dayOrNone(g.To),
		"{mm}", fmt.Sprint(g.MM), "{n}", fmt.Sprint(g.Months), "{see}", see, "{e}", fmt.Sprint(g.Entry),
	).Replace(keys[i].form)
	return strings.TrimSpace(g.Key + " " + form)
}

// ordered sorts grounds by rule, then by text, and leaves repeated ones out.
func ordered(list []Ground) []Ground {
	slices.SortFunc(list, func(a, b Ground) int {
		return cmp.Or(cmp.Compare(a.rule(), b.rule()), strings.Compare(a.Text(), b.Text()))
	})
	return unrepeated(list)
}

// unrepeated leaves out grounds that stand before in a list.
func unrepeated(list []Ground) []Ground {
	var out []Ground
	for _, g := range list {
		if !slices.ContainsFunc(out, func(o Ground) bool { return o.Text() == g.Text() }) {
			out = append(out, g)
		}
	}
	return out
}

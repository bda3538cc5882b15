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

// keyForm is a key word, its rule, and its text form.
type keyForm struct {
	key  string
	rule int
	form string
}

// keys are the key words in the order of asking, each with its rule and its text
// form: {c} certificate, {on} line and place, {by}, {day}, {to}, {mm}, {n}
// months, {see}, {e} ledger entry.
var keys = []keyForm{
	{KeyRecordBroken, 0, "entry {e}"},
	{KeyOtherCoach, 1, "{c}"},
	{KeyNoCertificate, 1, ""},
	{KeyWithdrawn, 2, "{c} {day}{see}"},
	{KeyOlderThanWork, 4, "{c} {day}"},
	{KeyNoLine, 6, "{c}"},
	{KeyBeforeFirstDay, 6, "{on} {day}"},
	{KeyReplacedHere, 7, "{on} by {by}"},
	{KeyExpired, 8, "{on} {day}"},
	{KeyEndedBySale, 8, "{on} {day}"},
	{KeyEndedByUpkeep, 8, "{on} {day}"},
	{KeyEndedByWord, 8, "{on} {day}"},
	{KeyExcludedCause, 9, "{on} {by}"},
	{KeyTakenByOthers, 10, "{on} {by} {mm} mm"},
	{KeyOthersOpening, 10, "{on} {by}"},
	{KeyNearOthersWork, 10, "{on} {by} {mm} mm"},
	{KeyLeftTrouble, 11, "{on} {day}"},
	{KeyNearLeftTrouble, 11, "{on} {day} {mm} mm"},
	{KeyUpkeepPaused, 12, "{on} {day}..{to}"},
	{KeySalePaused, 12, "{on} {day}..{to}"},
	{KeyInForce, 13, "{on} {n} months"},
	{KeyCauseOpen, 13, ""},
	{KeyEntryOpen, 5, ""},
	{KeyAnyEntry, 5, ""},
}

// Keys returns the key words of grounds in the order of asking.
func Keys() []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = k.key
	}
	return out
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
	to, see := "open", ""
	if !g.To.IsZero() {
		to = g.To.String()
	}
	if g.See != "" {
		see = " see " + g.See
	}
	form := strings.NewReplacer(
		"{c}", g.Certificate, "{on}", g.On, "{by}", g.By, "{day}", g.Day.String(), "{to}", to,
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

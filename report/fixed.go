package report

import (
	"fmt"
	"strings"
)

// FixedSentence is a sentence that papers print exactly so, its {blanks}
// filled. What the shop may word otherwise in its terms is Changeable.
type FixedSentence struct {
	Key, Says  string
	Changeable bool
}

// Rights is the sentence that stands on every certificate, claim answer and
// history, and with every verdict.
const Rights = "This is what the certificate says. Rights the law gives the holder stand beside it."

// fixedSentences is the one place where these sentences stand. A sentence with
// two forms has a key for each.
var fixedSentences = []FixedSentence{
	{Key: "later", Says: "entry {n} of {day}. Later ones may exist."},
	{Key: "own", Says: "{name}. This is the holder's own copy. Pass on the other one: it names nobody."},
	{Key: "pass-on", Says: "not named: this is the copy to pass on"},
	{Key: "alone", Says: "A paper alone proves nothing."},
	{Key: "check-file", Says: "With the PDF: lapmark verify, or the check page, one file that any browser opens without a network. Take either from the shop's own site, from the project, or from anyone but the seller. Everything is recomputed; the printed pages are not trusted."},
	{Key: "check-older", Says: "With an older paper of this coach: ask earlier owners for theirs. Check both together; both must lie on one chain. Without a program: the older paper's head code must stand in the newer one's list of earlier papers."},
	{Key: "check-call", Says: "With paper only: ring the shop at a number you found yourself, not the one printed here, and read out the head code. The answer is: newest, older by so many entries, or not ours."},
	{Key: "shows", Says: "That this key signed these words, and that nothing in entries 1 to {n} was changed, taken out or put in since this paper was given out. Not that the work was done, a reading true, a clock right, who a mark such as hand-1 was, or that no second ledger exists. Who holds a stolen key can write a past that never was. Against that stands only a paper in other hands, or the shop's own chain: {advice}."},
	{Key: "shows-holder", Says: "keep this one"},
	{Key: "shows-other", Says: "ask for an older one"},
	{Key: "earlier-none", Says: "None was given out before this one."},
	{Key: "earlier-apart", Says: "{papers}: listed on the next page, each with its head code."},
	{Key: "empty-place", Says: "empty: nothing is promised here"},
	{Key: "empty-place-today", Says: "empty: nothing is in force here"},
	{Key: "not-looked", Says: "{area} m² {where} was not opened, and nobody has looked at it."},
	{Key: "not-looked-wish", Says: "{area} m² {where} was not opened, at the holder's wish, and nobody has looked at it."},
	{Key: "unknown", Says: "Never opened, not looked at: {area} m² {where}. Unknown, dry or wet."},
	{Key: "left", Says: "{place}: {what}. Left by the holder on {day}. {consequence}"},
	{Key: "own-work", Says: "{place}: the holder's own work."},
	{Key: "despite", Says: "{rule-says} Done all the same; reason given: \"{reason}\" ({mark}, entry {n}, {rule})."},
	{Key: "no-despite", Says: "No rule was set aside for this work."},
	{Key: "looser", Says: "This shop used {value} where {default} is usual (entry {n})."},
	{Key: "corrected", Says: "Corrected by entry {n}: {old} was {why}."},
	{Key: "settled", Says: "Settled on {day}: {reading}."},
	{Key: "all-printed", Says: "Every entry is printed here."},
	{Key: "not-shown", Says: "Not shown to you: {kinds}. Where they stood, the file holds a sealed mark, so that it still checks whole."},
	{Key: "nothing-kept", Says: "Nothing is kept from this reader."},
	{Key: "text-withdrawn", Says: "Text withdrawn on {day}."},
	{Key: "no-picture", Says: "Picture of {place}, {day}: not in this file."},
	{Key: "newer", Says: "Newer than this tool: \"{word}\", printed as it stands. What may depend on it: cannot say."},
	{Key: "guest", Says: "Entry {n} by a guest, {name}, {fingerprint}. {standing}"},
	{Key: "guest-on-paper", Says: "a key this shop does not vouch for"},
	{Key: "guest-in-check", Says: "a key not in your trust"},
	{Key: "guest-not-adopted", Says: "It changes no line of {house}."},
	{Key: "guest-adopted", Says: "Adopted by {house} in entry {m}."},
	{Key: "guest-promise", Says: "{no} is the promise of {guest} alone."},
	{Key: "guest-paper", Says: "These pages are the word of {fingerprint}, a guest, not of {house}."},
	{Key: "recovery-planned", Says: "New key from entry {n}, named by the recovery key. Planned."},
	{Key: "recovery-stolen", Says: "New key from entry {n}, named by the recovery key. The old one was stolen; the shop vouches for entries 1 to {firm}."},
	{Key: "doubtful", Says: "Doubtful: entries {list}, by the old key above entry {firm}, the last the shop vouches for, and not adopted since."},
	{Key: "disowned", Says: "The shop disowns entries {list} and says its key was stolen."},
	{Key: "disowned-day", Says: "The shop disowns entries {list} and says its key was stolen on {day}."},
	{Key: "disowned-certificate", Says: "{no} is among them: a claim on it ends in no verdict, which is neither yes nor no."},
	{Key: "disowned-built-on", Says: "Another shop had built on entry {n}."},
	{Key: "side-branch", Says: "Entries {first} to {last} were written beside this chain from entry {n} on, and taken in by entry {m}."},
	{Key: "lent", Says: "Lent to {shop} on {day}, up to entry {n}."},
	{Key: "answers", Says: "{shop} answers for {lines}, since {day}."},
	{Key: "nobody-there", Says: "Nobody's warranty runs there."},
	{Key: "margin", Says: "Within {m} mm of it a check must show whose fault a leak is."},
	{Key: "none-found", Says: "Nothing was found here.", Changeable: true},
	{Key: "goodwill", Says: "as goodwill, no warranty; it makes no rule for next time", Changeable: true},
	{Key: "terms-shown", Says: "You may read the full wording of our warranty before you decide: page {p}.", Changeable: true},

	{Key: "care", Says: "A wet or soft roof does not bear a person: use boards, and guard the edge. Before opening: gas shut, mains off; solar strings stay live in daylight. The makers' sheets and local codes rule."},
	{Key: "care-slip", Says: "Do not go up alone, nor on a wet, icy or windy day. Cooling and gas lines only by licensed trades."},
	{Key: "care-work", Says: "Isocyanates and solvents: mask and airing by the maker's safety sheet; nobody sleeps in the coach during cure. Hot air on foam: fire watch. Mould, glass-fibre and old paint or putty: by local rules, testing first. Moisture and cure figures here are aids."},
	{Key: "care-trade", Says: "This part needs a licensed trade; we did not judge it."},
	{Key: "ask-history", Says: "Before anyone works on this roof: ask for its history."},
	{Key: "next-hand", Says: "No program and no account is needed. Photograph this half page and each place, and send them to {shop}, within {days} days of the work. Then your work takes its place and {tie-in} mm round it out of the lines it enters, and nothing else changes. Unsent, a check must show, within {margin} mm of it, whose fault a leak is."},

	// 16 CFR 701.3(a)(7), (8), (9), the wording as given by reprints of the
	// rule; to be compared with the rule itself before a release.
	{Key: "us-implied", Says: "Some States do not allow limitations on how long an implied warranty lasts, so the above limitation may not apply to you."},
	{Key: "us-consequential", Says: "Some States do not allow the exclusion or limitation of incidental or consequential damages, so the above limitation or exclusion may not apply to you."},
	{Key: "us-rights", Says: "This warranty gives you specific legal rights, and you may also have other rights which vary from State to State."},
	// 16 CFR 701.4: a card that is no condition is not to look like one.
	{Key: "no-card", Says: "There is no card to send in."},
	// Directive (EU) 2019/771, Art. 17(2)(a), from memory.
	{Key: "eu-remedies", Says: "You have legal remedies against the seller, free of charge, if the goods are not in conformity. This guarantee does not affect them."},
}

// FixedSays is the fixed sentence of that key with its blanks as they stand.
// A key that is not in the table is a fault of the caller and panics.
func FixedSays(key string) string {
	for _, s := range fixedSentences {
		if s.Key == key {
			return s.Says
		}
	}
	panic(fmt.Sprintf("no fixed sentence %q", key))
}

// Fill puts values into the {blanks} of a text: name, value, name, value. A
// blank without a value stays as it is, to be filled at printing.
func Fill(text string, blanks ...string) string {
	pairs := make([]string, len(blanks))
	for i, b := range blanks {
		if i%2 == 0 {
			b = "{" + b + "}"
		}
		pairs[i] = b
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

// fixed is the fixed sentence of that key, filled.
func fixed(key string, blanks ...string) string { return Fill(FixedSays(key), blanks...) }

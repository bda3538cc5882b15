package check

import (
	"errors"
	"fmt"
	"strings"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/report"
	"lapmark/report/english"
)

// The sentences of a check that no paper prints. Those that papers print too
// stand in report.
const (
	saysWhole     = "Whole, complete up to entry {n} of {day}{written}; that is {age}."
	saysHeadCode  = "Head code of entry {n}: {code}."
	saysBroken    = "Entry {n} is not what was signed."
	saysHold      = "Entries 1–{m} hold; nothing later is used."
	saysOneHolds  = "Entry 1 holds; nothing later is used."
	saysNoneHolds = "No entry holds; nothing is used."

	saysLeft        = "This is the paper that left the house."
	saysDiffer      = "The facts inside are whole, but these pages are not the ones that left the house."
	saysPagesDiffer = "These pages are not the ones that left the house."
	saysSaved       = "The facts inside are whole; the file was saved again by some program, so the pages cannot be vouched for."
	saysPagesSaved  = "The file was saved again by some program, so the pages cannot be vouched for."
	saysNoFacts     = "A picture without facts: it proves nothing."

	saysCutOff = "The file is cut off at its end: ask for it again."

	saysBundleLeft   = "This is the bundle that left the house."
	saysBundleGuest  = "This bundle is the word of {fingerprint}, a guest, not of {house}."
	saysBundleDiffer = "The facts inside are whole, but this bundle is not as it left the house."
	saysBundleOther  = "This bundle is not as it left the house."
	saysBundleUnread = "Nothing in it was checked; ask for it again, as it left the house."

	saysInTrust     = "{house}, {fingerprint}: in your trust as {name}."
	saysByChange    = "{house}, {fingerprint}: led to by key-changes alone from {name}, which is in your trust."
	saysUnknown     = "Whole, signed by a key you do not know: {fingerprint}. Compare it with one from another source; read from the same paper it proves nothing."
	saysUnknownKey  = "Signed by a key you do not know: {fingerprint}. Compare it with one from another source; read from the same paper it proves nothing."
	saysRetired     = "Whole, but this key was retired; this file does not show the change. Ask the shop for a newer one."
	saysRetiredKey  = "This key was retired; this file does not show the change. Ask the shop for a newer one."
	saysDemo        = "{house}, {fingerprint}: a demo key, whose secret everybody has. It settles nothing outside a folder made by demo."
	saysTakenOn     = "{house} took the ledger on by entry {n} from {name}, which is in your trust; it is not settled until you trust that shop too."
	saysExpected    = "It is the key you expected."
	saysNotExpected = "It is not the key you expected."
	saysGivenUp     = "Signed with a key the house gave up: it was replaced by entry %s."

	saysGuestsBy     = "Entries {list} by a guest, {name}, {fingerprint}. {standing}"
	saysGuestsNoLine = "They change no line of {house}."

	saysSameState     = "The same state."
	saysOneChain      = "Both lie on one chain; %d %s between."
	saysTakenIn       = "They part after entry %d; the house took the branch in by entry %d."
	saysParted        = "They part after entry %d; the house has not taken the branch in."
	saysRest          = "%s %s of it %s not taken in."
	saysTwoLedgers    = "Two ledgers of one coach: they part after entry %d, and the house signed both. This is the gravest finding."
	saysJoined        = "Two ledgers of one coach, joined by entry %d."
	saysSameVIN       = "Two ledgers of one coach: they have no entry in common, and nothing joins them."
	saysOtherCoach    = "Not the same coach."
	saysHeadMissing   = "The paper of %s has %d entries, this file ends at %d: %s missing."
	saysDoubtfulSince = "Entry %s, by which this file was given out, is doubtful by the newer file %s."
	saysDoubtfulHere  = "Entry %s, by which %s was given out, is doubtful by the newer file %s."
	saysFactsDoubtful = "By it %s %s of this file %s doubtful: the shop does not vouch for what stands there."
	saysNothingHeld   = "Nothing to compare: of one of the two no entry holds."
	saysOtherKey      = "At its last entry the house is %s: %s."
	saysOtherGuest    = "It was given out by %s, a guest, not by the house."
	saysSeveral       = "It holds several ledgers."

	saysLedgerBroken  = "The ledger in it is not whole."
	saysTail          = "What stands behind the pages is not the tail that was written for them."
	saysBranchBad     = "Its text is in this file and does not hold."
	saysBranchMissing = "Its text is not in this file."

	saysWordsMissing = "the words {name} of entry {n} are missing"
	saysNoWords      = "The words of the entries are not in this file."
	saysErased       = "Private part erased on {day}: {ground}."
	saysLeftOut      = "{n} not printed: {list}."
	saysPictures     = "No picture is in this file; the entries name {n}."
	saysOwnWords     = "By the certificate's own words; later entries may end it."
	saysNewPlace     = "a place newer than this tool"

	saysClock        = "written %s before the entry above"
	saysGuestAdopts  = "a guest adopts nothing for the house: this has no effect"
	saysNoCorrection = "its correction of entry %s has no effect"
	saysBranchChange = "a %s in a side branch changes nothing"
	saysStruck       = "not about this coach, says entry %s"
	saysSameCoach    = "says that ledger %s is of the same coach"

	saysEmpty     = "The ledger has no entry."
	saysChain     = "It does not follow from the entries before it: one was changed, taken out or put in."
	saysKey       = "It names another key than the one that signed it."
	saysWeakKey   = "It is signed with a weak key, under which any words may pass."
	saysSignature = "Its signature does not fit its words."
	saysTooMany   = "A ledger holds at most 100,000 entries."
	saysShape     = "it is not written as entries are (%v)"

	saysMangled   = "A program changed its first bytes or its line ends on the way. Ask for it again, in a bundle."
	saysEmptyFile = "The file is empty: nothing was checked."
	saysTooLarge  = "The file has %d bytes, at most %d are read: nothing was checked."
	saysSQLite    = "This is a coach file from outside. Ask for a paper or a bundle."
	saysEncrypted = "The PDF is encrypted. Save it without protection, and check that."
	saysNoForm    = "This is no paper (PDF), no bundle (ZIP) and no ledger text: nothing was checked."
)

// brokenSays says which entry does not hold, and what holds before it. A breach
// of role is said as such: the entry is what was signed, and its key may not
// write it.
func brokenSays(b *ledger.Broken) []string {
	no := ledger.Decimal(b.Entry)
	if errors.Is(b, ledger.ErrEmpty) {
		return []string{saysEmpty}
	}
	if errors.Is(b, ledger.ErrRole) {
		return []string{"Entry " + no + ": " + roleSays(b) + ".", holdSays(b.Entry - 1)}
	}
	return []string{report.Fill(saysBroken, "n", no), whySays(b), holdSays(b.Entry - 1)}
}

// roleSays is what a key may not write, without an end.
func roleSays(b *ledger.Broken) string {
	return strings.TrimPrefix(b.Why.Error(), ledger.ErrRole.Error()+": ")
}

// whySays says in plain words why an entry does not hold.
func whySays(b *ledger.Broken) string {
	switch {
	case errors.Is(b, ledger.ErrEmpty):
		return saysEmpty
	case errors.Is(b, ledger.ErrChain):
		return saysChain
	case errors.Is(b, ledger.ErrKey):
		return saysKey
	case errors.Is(b, ledger.ErrRole):
		return sentence(roleSays(b))
	case errors.Is(b, sshsig.ErrWeakKey):
		return saysWeakKey
	case errors.Is(b, ledger.ErrSignature):
		return saysSignature
	case errors.Is(b, ledger.ErrTooMany):
		return saysTooMany
	}
	return sentence(fmt.Sprintf(saysShape, b.Why))
}

// holdSays says which entries hold before the first bad one.
func holdSays(m int64) string {
	switch m {
	case 0:
		return saysNoneHolds
	case 1:
		return saysOneHolds
	}
	return report.Fill(saysHold, "m", ledger.Decimal(m))
}

// wholeSays is the first sentence of an answer about a whole ledger.
func wholeSays(u *UpTo) string {
	age := u.Age
	switch {
	case age == "":
		age = fmt.Sprintf("%s ahead of the clock here", english.Numbered(-u.DaysAgo, "day", "days"))
	case age != "today":
		age += " ago"
	}
	written := ""
	if u.Written != "" {
		written = ", written " + longDay(u.Written)
	}
	return report.Fill(saysWhole, "n", ledger.Decimal(u.Entry), "day", longDay(u.Day), "written", written, "age", age)
}

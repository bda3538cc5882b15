package rules

// byHand is a rule that a person sees to: the tool does not ask it of a draft.
// plain is what it says on a paper that has not its figures.
func byHand(key, plain string, sentences ...string) Rule {
	return Rule{Key: key, Degree: Stopped, Plain: plain, Sentences: sentences}
}

// unasked are the rules that stop a note and that the tool does not ask yet. A
// reason may answer them, and a paper says beside it what they ask. A rule
// leaves this table when it gets its function.
var unasked = []Rule{
	byHand("photo-twice", "the same photo stands at another place too", "The same photo stands at {place} and {place}.", "The same photo is in the file of {coach}."),
	byHand("work-not-agreed", "the work was not agreed before it was done", "{area} m² of {operation} at {place} was not agreed before it was done. Ring the holder and write agree-extra."),
	byHand("correction-given-out", "a certificate rests on what was corrected", "Certificate {no} rests on entry {n}. Tell the holder and write the day."),
	byHand("withdraw", "", "{certificate} was issued {n} days ago.", "Claim {n} on {certificate} is open and will show the withdrawal."),
	byHand("ruling-below", "", "Verdict {v}, ruling {r}, to the holder's loss. Give the reason and a second mark."),
}

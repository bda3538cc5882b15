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
	byHand("closing-unread", "wet before, and not read again in time", "{place} was wet on {day} and has not been read since.", "The last reading at {place} is {h} h old, the limit is {limit} h."),
	byHand("closing-too-wet", "too wet to be closed by this shop's limit", "{place} reads {x} %, the limit is {limit} %. Leave it open, or say why it may be closed."),
	byHand("closing-no-photo", "", "No photo of {place} before it is hidden."),
	byHand("past-use-by", "a lot was used past its day", "Lot {lot}, {kind}, was good until {day}; used {day}.", "It also needs a bond-coupon passed within {h} h."),
	byHand("lot-overdrawn", "more of a lot was used than was received", "Lot {lot}: {used} used of {received} received."),
	byHand("lot-under-notice", "a lot under a maker's notice was used", "Lot {lot} is under a maker's notice since {day}: {what}."),
	byHand("no-coupon", "the pair that was joined there needs a coupon first", "{a} on {b} only after a {coupon} on these lots; none passed since {day}."),
	byHand("no-layer", "the pair that was joined there needs a layer or a primer between", "{a} on {b} needs a layer between.", "{a} on {b} needs primer first.", "{a} does not bond to {b}."),
	byHand("spread", "less glue was spread than its sheet asks for", "{x} g/m² at {place}; the sheet says {low}–{high}.", "{x} g/m² at {place} is under {p} % of the least {low}: starved."),
	byHand("near-dew", "the ground was too near the dew point", "Ground {t} °C, dew point {d} °C: {gap} K apart, {limit} K needed."),
	byHand("outside-sheet", "the work lay outside the figures of a maker's sheet", "{quantity} {x}: the sheet of {lot} says {low}–{high}."),
	byHand("no-weld-strip", "no weld strip was passed before the weld", "No weld-strip passed by {mark} on {day} before this weld."),
	byHand("bite-short", "a fastening bites too short", "{leg} mm through {layer} mm leaves {bite} mm; {limit} mm into solid needed."),
	byHand("flange-narrow", "the flange is narrower than this shop asks for", "{opening}: flange {x} mm, {limit} mm needed. Widen it, or say why."),
	byHand("load-early", "not yet released when it was loaded", "{place} is not released for {stage}; earliest {time}."),
	byHand("water-early", "the sealant was not yet cured through when water was put on it", "Sealant at {place} is cured through on {time} at the earliest."),
}

package rules

// later is a rule that a reason may answer and a paper may name, and that is
// not asked of a draft.
func later(key string, degree Degree, sentences ...string) Rule {
	return Rule{Key: key, Degree: degree, Sentences: sentences}
}

// plain gives a rule the words for a paper that has not its figures.
func (r Rule) plain(says string) Rule {
	r.Plain = says
	return r
}

// unasked are the rules of the trade that are known by their word and sentence
// alone: a person sees to them.
var unasked = []Rule{
	// Any note.
	later("odometer-back", Noted, "Odometer {a} on {day}, {b} on {day} before."),
	later("future", Refused, "{what} is dated {happened}, this machine says {now}. Mend the date or set the clock."),
	later("clock-back", Stopped, "This machine says {now}; entry {n} was written {prev}. Is that right?"),
	later("late-note", Noted, "Written {n} days after it happened."),
	later("before-intake", Refused, "{what} of {day} is older than the intake of {day}. Mark it from-paper and add the photo."),
	later("no-how-known", Refused, "Whose hand: {hand}. How is that known?"),
	later("named-no-paper", Refused, "A business is named only with its paper. Write other-shop, or add the photo of the paper."),
	later("pinless-percent", Refused, "A pinless number is not a percentage. Give it with the dry reference."),
	later("reading-jump", Noted, "{place} fell from {a} to {b} % in {h} h: meter, wrong spot, or dry on the face only?"),
	later("meter-cold", Noted, "Wood at {t} °C: a meter that does not correct for it reads about {n} % low."),
	later("photo-twice", Stopped, "The same photo stands at {place} and {place}.", "The same photo is in the file of {coach}.").plain("the same photo stands at another place too"),
	later("work-not-agreed", Stopped, "{area} m² of {operation} at {place} was not agreed before it was done. Ring the holder and write agree-extra.").plain("the work was not agreed before it was done"),
	later("agreed-late", Noted, "Agreed {how} on {day}, written {n} days later."),
	later("correction-given-out", Stopped, "Certificate {no} rests on entry {n}. Tell the holder and write the day.").plain("a certificate rests on what was corrected"),
	// Closing: work that is closed and hidden.
	later("closing-unread", Stopped, "{place} was wet on {day} and has not been read since.", "The last reading at {place} is {h} h old, the limit is {limit} h.").plain("wet before, and not read again in time"),
	later("closing-too-wet", Stopped, "{place} reads {x} %, the limit is {limit} %. Leave it open, or say why it may be closed.").plain("too wet to be closed by this shop's limit"),
	later("closing-no-photo", Stopped, "No photo of {place} before it is hidden."),
	// Using a lot, fastening, welding.
	later("past-use-by", Stopped, "Lot {lot}, {kind}, was good until {day}; used {day}.", "It also needs a bond-coupon passed within {h} h.").plain("a lot was used past its day"),
	later("lot-overdrawn", Stopped, "Lot {lot}: {used} used of {received} received.").plain("more of a lot was used than was received"),
	later("lot-no-delivery", Noted, "Lot {lot} has no delivery in this ledger: its amount and sheet values are not known here."),
	later("lot-under-notice", Stopped, "Lot {lot} is under a maker's notice since {day}: {what}.").plain("a lot under a maker's notice was used"),
	later("eats-foam", Refused, "{a} dissolves {b}: not written as work. If it is already on, write a finding eaten-foam, hand our-shop."),
	later("no-coupon", Stopped, "{a} on {b} only after a {coupon} on these lots; none passed since {day}.").plain("the pair that was joined there needs a coupon first"),
	later("no-layer", Stopped, "{a} on {b} needs a layer between.", "{a} on {b} needs primer first.", "{a} does not bond to {b}.").plain("the pair that was joined there needs a layer or a primer between"),
	later("pair-unknown", Noted, "{a} on {b} is not in the table. Ask the maker or make a coupon."),
	later("spread", Stopped, "{x} g/m² at {place}; the sheet says {low}–{high}.", "{x} g/m² at {place} is under {p} % of the least {low}: starved.").plain("less glue was spread than its sheet asks for"),
	later("near-dew", Stopped, "Ground {t} °C, dew point {d} °C: {gap} K apart, {limit} K needed.").plain("the ground was too near the dew point"),
	later("outside-sheet", Stopped, "{quantity} {x}: the sheet of {lot} says {low}–{high}.").plain("the work lay outside the figures of a maker's sheet"),
	later("no-weld-strip", Stopped, "No weld-strip passed by {mark} on {day} before this weld.").plain("no weld strip was passed before the weld"),
	later("bite-short", Stopped, "{leg} mm through {layer} mm leaves {bite} mm; {limit} mm into solid needed.").plain("a fastening bites too short"),
	later("flange-narrow", Stopped, "{opening}: flange {x} mm, {limit} mm needed. Widen it, or say why.").plain("the flange is narrower than this shop asks for"),
	later("load-on-foam", Noted, "{kg} kg presses {a} kPa on {foam} of {b} kPa at 10 %. Spreader?"),
	// Curing.
	later("load-early", Stopped, "{place} is not released for {stage}; earliest {time}.").plain("not yet released when it was loaded"),
	later("water-early", Stopped, "Sealant at {place} is cured through on {time} at the earliest.").plain("the sealant was not yet cured through when water was put on it"),
	// Certifying.
	later("withdraw", Stopped, "{certificate} was issued {n} days ago.", "Claim {n} on {certificate} is open and will show the withdrawal."),
	// Upkeep, sale, claim.
	later("upkeep-part", Noted, "Line {n} not served: {places} not reached.", "No photo of {place}: one by {day} mends it."),
	later("days-crossed", Refused, "Noticed {day}, reported {day}, written {day}: out of order.", "Told {day} of a sale dated {day}."),
	later("source-unshown", Refused, "Where the water comes in is not shown. A stain is not a source: hose or open up first."),
	later("verdict-old", Noted, "Entries {a}–{b} are newer than this verdict. Ask again."),
	later("ruling-below", Stopped, "Verdict {v}, ruling {r}, to the holder's loss. Give the reason and a second mark."),
	later("claim-open", Noted, "Claim {n}, ruled {r}, still lacks {what}."),
	// Keys, hand-over, papers.
	later("record-broken", Refused, "Entry {n} is not what was signed. Entries 1–{m} hold; nothing later is used."),
	later("old-key", Refused, "This key was replaced by entry {n} on {day}. Sign with {fingerprint}.", "Signed with a key the house gave up."),
	later("key-doubtful", Noted, "Entry {n}: signed between the last head the shop vouches for (entry {m}) and its report of a stolen key. Doubtful."),
	later("head-missing", Refused, "The paper of {day} has {n} entries, this file ends at {m}: {list} missing."),
	later("erased", Noted, "Private part erased on {day}: {ground}."),
	later("left-out", Noted, "{n} entries not printed: {number, kind, day}."),
}

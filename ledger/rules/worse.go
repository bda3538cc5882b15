package rules

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
)

// worseThanBefore refuses to take the place of a line where the holder would
// have less on any day, unless he has said yes to less. Where no line of the same
// promise lies over it, the old one runs on, and nothing is lost.
func worseThanBefore(c Case) []Outcome {
	var out []Outcome
	lines, _ := Lines(c.Replay, c.Act)
	for _, ref := range ledger.Objects(c.Act.Body["instead-of"]) {
		no, _ := c.Replay.Tagged(text(ref, "cert"))
		old := c.Replay.Act(no)
		if old == nil || old.Kind != "certificate" {
			out = append(out, refused("beside-unknown", saysBeside, text(ref, "cert")))
			continue
		}
		if yesToLess(c, ref) {
			continue
		}
		given := ledger.Ints(ref["lines"])
		before, _ := Lines(c.Replay, old)
		for _, l := range before {
			if len(given) > 0 && !slices.Contains(given, l.Number) {
				continue
			}
			if from, less := lessFrom(old, l, c.Act, lines); less {
				out = append(out, refused("worse-than-before", saysInstead, from.Long(), text(ref, "cert"), ledger.Decimal(l.Number)))
			}
		}
	}
	return out
}

// lessFrom is the first day on which a line that takes the place of an old one
// gives the holder less.
func lessFrom(before *ledger.Act, old Line, after *ledger.Act, lines []Line) (first day.Day, less bool) {
	for _, l := range lines {
		if l.Promise.Name != old.Promise.Name || !l.Region.Overlaps(old.Region) {
			continue
		}
		was, is := termOf(old.Object), termOf(l.Object)
		from, last := is.FirstDay, day.LastDay(was.FirstDay, was.Months)
		narrower := narrows(before.Body, after.Body) || l.Object["upkeep"] == true && old.Object["upkeep"] != true
		for t := from; !t.After(last); t = t.AddDays(1) {
			if was.ShareOn(t) > 0 && (narrower || is.ShareOn(t) < was.ShareOn(t)) {
				if !less || t.Before(first) {
					first, less = t, true
				}
				break
			}
		}
	}
	return first, less
}

func termOf(o format.Object) cover.Line {
	l := cover.Line{
		FirstDay: dayOf(text(o, "first-day")), Months: int(ledger.Int(o, "months")), FullMonths: int(ledger.Int(o, "full-months")), Floor: 1000,
	}
	if floor, said := o["floor"].(int64); said {
		l.Floor = floor
	}
	return l
}

// moreIsBetter are the numbers of a certificate of which a larger one is better
// for the holder; of the others a smaller one is.
var moreIsBetter = []string{
	"report-days", "notice-days", "transfers-most", "declare-days", "touch", "upkeep-every", "upkeep-early", "upkeep-grace", "upkeep-missed-most",
}

// narrows says whether a certificate excludes more, counts fewer causes as the
// shop's own, or has numbers that are worse for the holder than another's.
func narrows(before, after format.Object) bool {
	excluded, shopSide := ledger.Texts(before["exclusions"]), ledger.Texts(after["shop-side"])
	for _, name := range ledger.Texts(after["exclusions"]) {
		if !slices.Contains(excluded, name) {
			return true
		}
	}
	for _, name := range ledger.Texts(before["shop-side"]) {
		if !slices.Contains(shopSide, name) {
			return true
		}
	}
	was, is := object(before["numbers"]), object(after["numbers"])
	for name := range was {
		old, now := ledger.Int(was, name), ledger.Int(is, name)
		if _, said := is[name]; said && (slices.Contains(moreIsBetter, name) && now < old || !slices.Contains(moreIsBetter, name) && now > old) {
			return true
		}
	}
	return false
}

package cover

import (
	"slices"

	"lapmark/ledger/day"
)

// open answers where the place of entry is not known: for a leak. It asks at
// points that stand for every zone of the roof, and elsewhere, where no line
// holds.
func (j *judge) open() Answer {
	ours := func(c paper) bool { return !j.foreign(&c) }
	if !slices.ContainsFunc(j.asked, ours) {
		return j.answer(j.at(Point{}, ""), Point{})
	}
	var hard, kind []Answer
	causes := j.kindly()
	for _, p := range j.zones().points() {
		h, k := j.briefEnds(p, causes)
		hard, kind = append(hard, h), append(kind, k)
	}
	if len(j.q.Possible) == 0 || j.q.Elsewhere {
		none := j.answer(j.elsewhere(), Point{})
		hard, kind = append(hard, none), append(kind, none)
	}
	return j.together(slices.Concat(hard, kind))
}

// possible are the boxes of the roof where the water can come in.
func (j *judge) possible() []Box {
	if len(j.q.Possible) == 0 {
		return []Box{j.facts.Deck}
	}
	return j.q.Possible
}

// briefEnds are the two ends at a point, without their grounds.
func (j *judge) briefEnds(p Point, causes []cause) (hard, kind Answer) {
	hard, _ = j.brief(j.at(p, ""), p)
	for i, why := range causes {
		if one, _ := j.brief(j.at(p, why), p); i == 0 || one.better(kind) {
			kind = one
		}
	}
	return hard, kind
}

// elsewhere is water that did not come through the roof: no line answers.
func (j *judge) elsewhere() []held {
	var out []held
	for i := range j.asked {
		out = append(out, j.asked[i].noLine())
	}
	return out
}

// together is the one answer of all that are possible.
func (j *judge) together(all []Answer) Answer {
	first := all[0]
	share, most, alike := first.Share, first.Share, true
	line := first.Line
	var shops []string
	none := true
	out := Answer{Day: j.openDay(), Out: slices.Clone(first.Out)}
	for _, a := range all {
		share, most = min(share, a.Share), max(most, a.Share)
		alike = alike && a.Verdict == first.Verdict && a.Share == first.Share
		if a.Line != line {
			line = ""
		}
		out.Out = slices.DeleteFunc(out.Out, func(o string) bool { return !slices.Contains(a.Out, o) })
		if !a.says() {
			continue
		}
		if none {
			shops, none = slices.Clone(a.shops), false
		}
		shops = slices.DeleteFunc(shops, func(s string) bool { return !slices.Contains(a.shops, s) })
	}
	slices.Sort(shops)
	who := ""
	if len(shops) > 0 {
		who = shops[0]
	}
	out.Share, out.Most = share, most
	if alike && (!first.says() || who != "") {
		out.Verdict, out.Lead, out.Grounds = first.Verdict, KeyAnyEntry, []Ground{{Key: KeyAnyEntry}}
		if first.says() {
			out.Line, out.Who = line, who
		}
		return out
	}
	out.Verdict, out.Lead, out.Grounds, out.Check = CannotSayYet, KeyEntryOpen, []Ground{{Key: KeyEntryOpen}}, "hose"
	out.Who, out.Out = who, nil
	return out
}

// openDay is the day that counts with the entry open: that of the report where
// it is late for every asked certificate.
func (j *judge) openDay() day.Day {
	for _, c := range j.asked {
		if !c.late {
			return j.q.Noticed
		}
	}
	return j.q.Reported
}

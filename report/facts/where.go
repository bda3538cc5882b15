package facts

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/report/english"
)

// tape is the tolerance of the tape, mm; common practice, no source. A border
// that lies within it of the middle makes halves.
const tape = 10

// fewest is how many places a sentence names; more are counted.
const fewest = 3

// adverb says where a region lies, behind "this roof": "from 3700 mm aft to the
// rear", "in three places".
func (g ground) adverb(region place.Region) string {
	all := g.patches(region)
	if len(all) == 0 {
		return "beside the deck"
	}
	if len(all) == 2 && all[0].wide && all[1].wide {
		return g.between(all[0]) + " and " + g.between(all[1])
	}
	if len(all) > 1 {
		return "in " + english.Counted(len(all), "place", "places")
	}
	p := all[0]
	says := g.between(p)
	switch holes := g.holes(p); {
	case p.filled:
		return says
	case 2*p.region.Area() >= g.on(p.box).Area():
		return says + ", with " + english.Counted(len(holes), "place", "places") + " left out"
	default:
		return "in part, " + says
	}
}

// between says the rectangle round a patch: along, and across where it is not
// as wide as the deck.
func (g ground) between(p patch) string {
	wide := g.wide(p)
	switch {
	case wide && p.box.Front <= 0 && p.box.Rear >= g.length():
		return "over the whole deck"
	case g.half(p) != "":
		return "on the " + g.half(p)
	case wide:
		return g.along(p.box)
	}
	return g.along(p.box) + ", " + g.across(p.box)
}

// along says where a rectangle lies between front and rear.
func (g ground) along(box place.Rect) string {
	switch front, rear := box.Front <= 0, box.Rear >= g.length(); {
	case front && rear:
		return "over the whole length"
	case front:
		return "from the front to " + millimetres(box.Rear) + " aft"
	case rear:
		return "from " + millimetres(box.Front) + " aft to the rear"
	}
	return "between " + ledger.Decimal(box.Front) + " and " + millimetres(box.Rear) + " aft"
}

// wide says whether the rectangle round a patch is as wide as the deck there.
func (g ground) wide(p patch) bool {
	band := place.Rect{Front: p.box.Front, Rear: p.box.Rear, Left: -place.Farthest, Right: place.Farthest}
	return same(g.on(p.box), g.on(band))
}

// across says where a rectangle lies between the sides of the deck.
func (g ground) across(box place.Rect) string {
	left, right := box.Left, box.Right
	switch {
	case left == 0:
		return "from the middle to " + millimetres(right) + " right of it"
	case right == 0:
		return "from the middle to " + millimetres(-left) + " left of it"
	case left > 0:
		return "from " + ledger.Decimal(left) + " to " + millimetres(right) + " right of the middle"
	case right < 0:
		return "from " + ledger.Decimal(-right) + " to " + millimetres(-left) + " left of the middle"
	}
	return "from " + millimetres(-left) + " left to " + millimetres(right) + " right of the middle"
}

func millimetres(n int64) string { return ledger.Decimal(n) + " mm" }

// behind says where a region lies in a few words: "behind 3700 mm".
func (g ground) behind(region place.Region) string {
	all := g.patches(region)
	switch {
	case len(all) == 1 && all[0].filled && !all[0].wide && g.half(all[0]) == "":
		return "at " + g.rect(all[0].box)
	case len(all) != 1 || !all[0].wide:
		return g.adverb(region)
	}
	box := all[0].box
	switch front, rear := box.Front <= 0, box.Rear >= g.length(); {
	case front && rear:
		return "over the whole deck"
	case front:
		return "forward of " + millimetres(box.Rear)
	case rear:
		return "behind " + millimetres(box.Front)
	}
	return "from " + ledger.Decimal(box.Front) + " to " + millimetres(box.Rear)
}

// rect says a rectangle as it stands in a list: "3625–3775 mm", "5000–5400 ×
// 200–600 L".
func (g ground) rect(box place.Rect) string {
	aft := stretch(box.Front, box.Rear)
	if same(g.on(box), g.on(place.Rect{Front: box.Front, Rear: box.Rear, Left: -place.Farthest, Right: place.Farthest})) {
		return aft + " mm"
	}
	return aft + " × " + strings.TrimSpace(offs(box.Left, box.Right))
}

// stretch is a range along the coach; forward of the datum it says so.
func stretch(from, to int64) string {
	switch {
	case from >= 0:
		return ledger.Decimal(from) + "–" + ledger.Decimal(to)
	case to <= 0:
		return ledger.Decimal(-to) + "–" + ledger.Decimal(-from) + " forward"
	}
	return ledger.Decimal(-from) + " forward–" + ledger.Decimal(to)
}

// offs is a range across the coach.
func offs(from, to int64) string {
	switch {
	case from >= 0:
		return ledger.Decimal(from) + "–" + ledger.Decimal(to) + " R"
	case to <= 0:
		return ledger.Decimal(-to) + "–" + ledger.Decimal(-from) + " L"
	}
	return ledger.Decimal(-from) + " L–" + ledger.Decimal(to) + " R"
}

// the names a region as a field: "the field behind 3700 mm", "the whole deck",
// "three fields, …".
func (g ground) the(region place.Region) string {
	all := g.patches(region)
	if len(all) == 1 {
		return g.one(all[0])
	}
	if len(all) > 2*fewest {
		return english.InWords(len(all)) + " fields, hatched on the plan"
	}
	var out []string
	for _, p := range all {
		out = append(out, strings.TrimSuffix(g.rect(p.box), " mm")+g.without(p))
	}
	return english.InWords(len(all)) + " fields, mm aft × mm from the middle: " + strings.Join(out, "; ")
}

// one names one field, with what it leaves out.
func (g ground) one(p patch) string {
	box := g.on(p.box)
	switch {
	case same(box, g.deck):
		return "the whole deck" + g.without(p)
	case g.wide(p):
		return "the field " + g.behind(box) + g.without(p)
	case g.half(p) != "":
		return "the " + g.half(p) + " of the deck" + g.without(p)
	}
	return "the field " + g.between(p) + g.without(p)
}

// without says what a field leaves out of the rectangle round it.
func (g ground) without(p patch) string {
	holes := g.holes(p)
	if len(holes) == 0 {
		return ""
	}
	if len(holes) > fewest {
		return ", less " + english.Counted(len(holes), "place", "places")
	}
	var less []string
	for _, h := range holes {
		less = append(less, g.rect(h.box))
	}
	return ", less " + english.List(less)
}

// half says whether the rectangle round a patch is the left or the right half
// of the deck.
func (g ground) half(p patch) string {
	deck, _ := g.deck.Bounds(place.RoofPlane)
	switch along := p.box.Front <= 0 && p.box.Rear >= g.length(); {
	case along && p.box.Left <= deck.Left && p.box.Right == 0:
		return "left half"
	case along && p.box.Right >= deck.Right && p.box.Left == 0:
		return "right half"
	}
	return ""
}

package facts

import (
	"cmp"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/english"
	"lapmark/report/say"
)

// region says where the certificate reaches, and what of the deck it leaves
// out. What is left out are all lines together, though what only a narrow line
// reaches into is named apart.
func (s *subject) region(f *report.CertificateFacts) {
	f.RegionWords = s.reaches()
	if s.out.Empty() {
		f.WholeDeck, f.ComplementPlaces = true, "Everything that is not the roof deck"
		return
	}
	rest := s.deck.Minus(s.field)
	f.ComplementWords, f.ComplementMany = s.rest(rest)
	f.ComplementPlaces = s.everything(rest) + apart(s.reachingInto(rest))
}

// reaches says where the certificate reaches: the largest line, where that is
// more than half of all; else all lines, since one of many equal ones does not
// speak for the others.
func (s *subject) reaches() string {
	if s.in.Empty() {
		return s.besideDeck()
	}
	largest := slices.MaxFunc(s.lines, func(a, b rules.Line) int {
		return cmp.Or(
			cmp.Compare(s.deck.Intersect(a.Region).Area(), s.deck.Intersect(b.Region).Area()),
			cmp.Compare(b.Number, a.Number))
	})
	region := s.in
	if 2*s.deck.Intersect(largest.Region).Area() > s.in.Area() {
		region = largest.Region
	}
	all := s.patches(region)
	if len(all) == 1 && len(s.patches(s.in)) == 1 && !s.wide(all[0]) && s.half(all[0]) == "" {
		return "in one place, " + s.along(all[0].box) // its line says how wide
	}
	return s.adverb(region)
}

// besideDeck says where lines reach that lie on no deck.
func (s *subject) besideDeck() string {
	var places []place.Place
	for _, l := range s.lines {
		places = append(places, l.Places...)
	}
	if len(places) > fewest {
		return "in " + english.Counted(len(places), "place", "places") + " beside the deck"
	}
	return "at " + say.Places(places)
}

// rest names what is left out, as the subject of a sentence, and says whether
// that is more than one thing.
func (g ground) rest(region place.Region) (says string, many bool) {
	if same(region, g.deck) {
		return "The roof deck", false
	}
	all := g.patches(region)
	var parts []string
	for _, p := range all {
		if !p.wide {
			continue
		}
		switch front, rear := p.box.Front <= 0, p.box.Rear >= g.length(); {
		case front && halves(p.box.Rear, g.length()):
			parts = append(parts, "the front half")
		case rear && halves(p.box.Front, g.length()):
			parts = append(parts, "the rear half")
		case front:
			parts = append(parts, "the part forward of "+millimetres(p.box.Rear))
		case rear:
			parts = append(parts, "the part behind "+millimetres(p.box.Front))
		default:
			parts = append(parts, "the strip from "+ledger.Decimal(p.box.Front)+" to "+millimetres(p.box.Rear))
		}
	}
	if len(all) == 1 && all[0].filled && all[0].long {
		return english.Capital(g.side(all[0].box)), false
	}
	if more := len(all) - len(parts); more > 0 && len(parts) > 0 && more <= fewest {
		parts = append(parts, english.Counted(more, "place more", "places more"))
	} else if more > 0 {
		return "The rest of the deck", false
	}
	if len(parts) > fewest {
		return "The rest of the deck", false
	}
	return english.Capital(english.List(parts)), len(parts) > 1 || strings.HasSuffix(parts[0], "places more")
}

// halves says whether a border lies in the middle of the deck, within the
// tolerance of the tape.
func halves(border, length int64) bool {
	off := 2*border - length
	return -2*tape <= off && off <= 2*tape
}

// side names a part along the whole length.
func (g ground) side(box place.Rect) string {
	if half := g.half(patch{box: box}); half != "" {
		return "the " + half
	}
	deck, _ := g.deck.Bounds(place.RoofPlane)
	switch left, right := box.Left <= deck.Left, box.Right >= deck.Right; {
	case left && box.Right < 0:
		return "the part from " + millimetres(-box.Right) + " left of the middle to the left edge"
	case right && box.Left > 0:
		return "the part from " + millimetres(box.Left) + " right of the middle to the right edge"
	}
	return "the strip along the whole length"
}

// everything says where all lies that is left out.
func (g ground) everything(region place.Region) string {
	if same(region, g.deck) {
		return "Everything on the roof deck"
	}
	all := g.patches(region)
	var parts, places []string
	for _, p := range all {
		switch front, rear := p.box.Front <= 0, p.box.Rear >= g.length(); {
		case !p.filled || len(all) > fewest:
			return "Everything outside the places of the lines"
		case g.half(p) != "":
			parts = append(parts, "on the "+g.half(p))
		case !p.wide:
			places = append(places, g.rect(p.box))
		case front:
			parts = append(parts, "forward of "+millimetres(p.box.Rear))
		case rear:
			parts = append(parts, "behind "+millimetres(p.box.Front))
		default:
			parts = append(parts, "from "+ledger.Decimal(p.box.Front)+" to "+millimetres(p.box.Rear))
		}
	}
	if len(parts) == 0 {
		return "Everything at " + english.List(places)
	}
	if len(places) > 0 {
		return "Everything " + english.List(parts) + ", and " + english.List(places)
	}
	return "Everything " + english.List(parts)
}

// reachingInto names the narrow places that lie in a region.
func (s *subject) reachingInto(region place.Region) []string {
	var names []string
	for _, l := range s.lines {
		for _, spot := range l.Spots {
			if name := short(spot.Place); spot.Region.Overlaps(region) && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// apart says what is named apart from what is left out.
func apart(names []string) string {
	switch {
	case len(names) == 0:
		return ""
	case len(names) > fewest+1:
		return ", " + english.InWords(len(names)) + " narrow places of the lines apart"
	}
	return ", " + english.List(names) + " apart"
}

// short names a place by its opening, element or seam; without one by its
// numbers.
func short(p place.Place) string {
	switch {
	case p.Shape == place.Named:
		return p.Name
	case p.Part != "" && p.Number != nil:
		return ledger.Said("elements", p.Part) + " " + ledger.Decimal(*p.Number)
	case p.Part != "":
		return ledger.Said("elements", p.Part)
	}
	p.Layers = nil
	return say.Place(p)
}

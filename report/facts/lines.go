package facts

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/english"
	"lapmark/report/plan"
	"lapmark/report/say"
)

// lineFacts are the lines in their order.
func (s *subject) lineFacts() []report.CertificateLine {
	var out []report.CertificateLine
	for _, l := range s.lines {
		first := parseDay(l.Object, "first-day")
		months, full := int(ledger.Int(l.Object, "months")), int(ledger.Int(l.Object, "full-months"))
		floor := 1000
		if n, ok := l.Object["floor"].(int64); ok {
			floor = int(n)
		}
		one := report.CertificateLine{
			Number: int(l.Number), Promise: text(l.Object, "promise"), First: dayOf(first),
			Last: dayOf(day.LastDay(first, months)), Months: months, Full: full, Floor: floor,
			Upkeep: l.Object["upkeep"] == true, Layers: layersBeyond(l),
			Swatch: plan.Swatch(hatch(text(l.Object, "promise"))),
		}
		if full < months {
			one.Shares = shares(months, full, floor)
		}
		one.Places, one.Area = s.placesOf(l)
		out = append(out, one)
	}
	return out
}

// shares are the shares per mille a line bears at 0, 1, 2 … full months, one
// for each month of the term: all of it before the full months are over, then
// falling evenly to nothing at the end of the term, never under the floor;
// rounded half up.
func shares(months, full, floor int) []int {
	out := make([]int, months)
	for m := range out {
		out[m] = 1000
		if over := months - full; m >= full && over > 0 {
			out[m] = max(floor, (2000*(months-m)+over)/(2*over))
		}
	}
	return out
}

// layersBeyond says the layers of a line where they are not the promise's own.
func layersBeyond(l rules.Line) string {
	var named []string
	for _, p := range l.Places {
		for _, layer := range p.Layers {
			if !slices.Contains(named, layer) {
				named = append(named, layer)
			}
		}
	}
	plain := [][]string{nil, {"membrane"}, l.Promise.Layers}
	if slices.ContainsFunc(plain, func(p []string) bool { return slices.Equal(p, named) }) {
		return ""
	}
	return say.Layers(named) + " only"
}

// placesOf says where a line reaches, and the area that is printed with it: of
// a field that no narrower line takes something out of.
func (s *subject) placesOf(l rules.Line) (says string, area int64) {
	if slices.ContainsFunc(l.Places, offTheRoof) || !l.Region.Overlaps(s.deck) {
		return say.Places(l.Places), 0
	}
	switch {
	case isField(l.Promise.Name):
		return s.fieldOf(l)
	case l.Promise.Name == "watertight-fitting":
		return fittings(l.Places), 0
	case l.Promise.Name == "watertight-edge":
		return edges(l), 0
	case l.Promise.Name == "watertight-tie-in":
		return s.strips(l), 0
	}
	return members(l.Places), 0
}

// offTheRoof says whether a place lies on a wall or a slide-out.
func offTheRoof(p place.Place) bool { return p.Shape == place.Wall || p.Shape == place.Slide }

// fieldOf names the field of a line: what an earlier line named in full is "the
// whole field".
func (s *subject) fieldOf(l rules.Line) (says string, area int64) {
	area = s.deck.Intersect(l.Region).Area()
	says = s.the(l.Region)
	for _, m := range s.lines {
		if m.Number == l.Number {
			break
		}
		if isField(m.Promise.Name) && same(m.Region, l.Region) && !same(l.Region, s.deck) {
			says = "the whole field"
		}
	}
	if narrower := s.narrower(l); len(narrower) > 0 {
		return says + ", less the places of " + english.List(narrower), 0
	}
	return says, area
}

// narrower are the numbers of the lines that answer for the same trouble at a
// narrower place inside a line, and so instead of it.
func (s *subject) narrower(l rules.Line) []string {
	var out []string
	for _, m := range s.lines {
		same := slices.ContainsFunc(m.Promise.Answers, func(a string) bool { return slices.Contains(l.Promise.Answers, a) })
		if same && m.Promise.Width < l.Promise.Width && m.Region.Overlaps(l.Region) {
			out = append(out, ledger.Decimal(m.Number))
		}
	}
	return out
}

// fittings names openings with what is promised round them.
func fittings(places []place.Place) string {
	var names []string
	skirts := map[int64]bool{}
	for _, p := range places {
		if p.Shape == place.Named {
			skirts[skirtOf(p)] = true
		}
	}
	for _, p := range places {
		name := short(p)
		if p.Shape == place.Named && len(skirts) > 1 {
			name += " (" + millimetres(skirtOf(p)) + " around)"
		}
		names = append(names, name)
	}
	says := strings.Join(names, ", ")
	for skirt := range skirts {
		if len(skirts) == 1 {
			says += ", flange and " + millimetres(skirt) + " around"
		}
	}
	return says
}

func skirtOf(p place.Place) int64 {
	if p.Skirt != nil {
		return *p.Skirt
	}
	return place.UsualSkirt
}

// edges names edges and joints with their width: "left, right and rear joint,
// 75 mm".
func edges(l rules.Line) string {
	var names []string
	widths := map[int64]bool{}
	for _, spot := range l.Spots {
		names = append(names, short(spot.Place))
		widths[widthOf(spot)] = true
	}
	says := shared(names)
	for width := range widths {
		if len(widths) == 1 {
			says += ", " + millimetres(width)
		}
	}
	return says
}

// widthOf is how wide a strip along an edge is.
func widthOf(spot rules.Spot) int64 {
	if p := spot.Place; p.Shape == place.Part {
		if p.Width > 0 {
			return p.Width
		}
		return place.UsualStrip
	}
	box, _ := spot.Region.Bounds(place.RoofPlane)
	return min(box.Rear-box.Front, box.Right-box.Left)
}

// shared is a list of names in which left and right, front and rear are said
// alone where another edge or joint follows.
func shared(names []string) string {
	out := slices.Clone(names)
	for i := range max(0, len(names)-1) {
		side, word, two := strings.Cut(names[i], " ")
		if two && isEdge(word) && isEdge(lastWord(names[i+1])) && (word == "edge" || lastWord(names[i+1]) == word) {
			out[i] = side
		}
	}
	return english.List(out)
}

func isEdge(word string) bool { return word == "edge" || word == "joint" }

func lastWord(name string) string { return name[strings.LastIndex(name, " ")+1:] }

// strips names the places of a tie-in by their numbers.
func (s *subject) strips(l rules.Line) string {
	var out []string
	for _, p := range s.patches(l.Region) {
		out = append(out, s.rect(p.box))
	}
	return strings.Join(out, "; ")
}

// members names members of the frame, rafters in one: "rear header, rafters 8
// and 9". What is neither is said by its numbers.
func members(places []place.Place) string {
	var names, rafters []string
	at := 0
	for _, p := range places {
		switch {
		case p.Shape == place.Part && p.Number != nil && p.Side == "":
			if len(rafters) == 0 {
				at = len(names)
				names = append(names, "")
			}
			rafters = append(rafters, ledger.Decimal(*p.Number))
		default:
			p.Layers = nil
			names = append(names, strings.TrimPrefix(say.Place(p), "the "))
		}
	}
	switch len(rafters) {
	case 0:
	case 1:
		names[at] = "rafter " + rafters[0]
	default:
		names[at] = "rafters " + english.List(rafters)
	}
	if slices.ContainsFunc(names, func(n string) bool { return strings.Contains(n, ",") }) {
		return strings.Join(names, "; ")
	}
	return strings.Join(names, ", ")
}

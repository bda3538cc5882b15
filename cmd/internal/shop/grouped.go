package shop

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/place"
	"lapmark/ledger/sheet"
)

// Group are the pencil notes of one place of a coach, in the order of their days.
type Group struct {
	Place string // "bay 9", "A1", "" for notes that name none
	Notes []book.Note
	at    int64 // how far aft it begins, for the order
}

// Grouped puts the pencil of one coach together by place, from front to rear;
// notes that name no place come last. A note without a place that answers
// another stands with it. Of a coach that cannot be read the notes are grouped by
// what they say themselves, and the error is that of its file.
func (s *Shop) Grouped(plate string, notes []book.Note) ([]Group, error) {
	c, unread := s.byPlate(plate)
	if unread != nil {
		c = &Coach{Plate: plate}
	}
	g := grouping{replay: c.Replay, byTag: map[string]string{}, at: map[string]int64{"": math.MaxInt64}}
	names := make([]string, len(notes))
	for range 2 { // a note may answer one that stands below it
		for i, n := range notes {
			names[i] = g.name(n)
		}
	}
	var out []Group
	for i, n := range notes {
		at := slices.IndexFunc(out, func(one Group) bool { return one.Place == names[i] })
		if at < 0 {
			out = append(out, Group{Place: names[i], at: g.at[names[i]]})
			at = len(out) - 1
		}
		out[at].Notes = append(out[at].Notes, n)
	}
	slices.SortStableFunc(out, func(a, b Group) int { return cmp.Compare(a.at, b.at) })
	return out, unread
}

// grouping knows where each name of a place begins, and where tagged notes are.
type grouping struct {
	replay *ledger.Replay
	byTag  map[string]string
	at     map[string]int64
}

// name is the place of a note as a heading.
func (g *grouping) name(n book.Note) string {
	d, err := sheet.ReadLine(n.Line, headingOf(n))
	if err != nil {
		return ""
	}
	out := g.placed(d)
	if tag := d.Text("tag"); tag != "" && out != "" {
		g.byTag[tag] = out
	}
	return out
}

func (g *grouping) placed(d ledger.Draft) string {
	if places := ledger.PlacesIn(d.Kind, d.Body); len(places) > 0 {
		return g.known(places[0])
	}
	for _, ref := range ledger.Texts(d.Body["answers"]) {
		if at, ok := g.byTag[ref]; ok {
			return at
		}
		if a := g.entry(ref); a != nil {
			if places := ledger.PlacesIn(a.Kind, a.Body); len(places) > 0 {
				return g.known(places[0])
			}
		}
	}
	return ""
}

func (g *grouping) entry(ref string) *ledger.Act {
	if g.replay == nil {
		return nil
	}
	for _, a := range g.replay.Acts {
		if a.Text("tag") == ref || "#"+a.No.String() == ref {
			return a
		}
	}
	return nil
}

// known names a place and remembers where it begins.
func (g *grouping) known(p place.Place) string {
	name := g.heading(p)
	if _, there := g.at[name]; !there {
		g.at[name] = g.front(p)
	}
	return name
}

// front is how far aft a place begins; one that cannot be worked out comes
// behind those that can.
func (g *grouping) front(p place.Place) int64 {
	if g.replay != nil {
		any := &ledger.Act{Kind: "remark", House: true, Counts: true}
		if region, err := g.replay.Region(any, []place.Place{p}); err == nil {
			for _, on := range region.Planes() {
				if box, ok := region.Bounds(on); ok {
					return box.Front
				}
			}
		}
	}
	if p.Aft != nil {
		return p.Aft.From
	}
	return math.MaxInt64 - 1
}

// heading is what a group is called: a bay, an element, a name; millimetres go
// with the bay they begin in, where the rafters are known.
func (g *grouping) heading(p place.Place) string {
	switch p.Shape {
	case place.Named:
		return p.Name
	case place.Bay:
		return "bay " + strconv.FormatInt(p.Bay, 10)
	case place.Part:
		return partName(p)
	case place.Wall:
		return string(p.Wall) + " wall"
	case place.Slide:
		return "slide " + p.Slide
	}
	if p.Part != "" {
		return partName(p)
	}
	if p.Aft == nil {
		return "full length"
	}
	if bay, ok := g.bay(*p.Aft); ok {
		return "bay " + strconv.FormatInt(bay, 10)
	}
	if p.Aft.From == p.Aft.To {
		return strconv.FormatInt(p.Aft.From, 10) + " aft"
	}
	return strconv.FormatInt(p.Aft.From, 10) + "-" + strconv.FormatInt(p.Aft.To, 10) + " aft"
}

// bay is the bay that a place in millimetres lies in, if it lies in one.
func (g *grouping) bay(aft place.Range) (int64, bool) {
	if g.replay == nil {
		return 0, false
	}
	roof := g.replay.Roof()
	first, ok := roof.BayAt(min(aft.From+1, aft.To))
	last, both := roof.BayAt(aft.To)
	return first, ok && both && first == last
}

func partName(p place.Place) string {
	if p.Number != nil {
		return p.Part + " " + strconv.FormatInt(*p.Number, 10)
	}
	return p.Part
}

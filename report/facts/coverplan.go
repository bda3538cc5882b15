package facts

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/day"
	"lapmark/ledger/place"
	"lapmark/report/plan"
)

// CoverPlan draws the roof with the lines that are in force or paused on a day,
// what others worked at, what was left, and the places that are asked, black.
// The lines are numbered in the order of names, which says
// which each is. Nothing is drawn of a deck that was not measured.
func CoverPlan(r *ledger.Replay, f cover.Facts, on day.Day, asked []cover.Point) (d plan.Drawing, names []string) {
	s := &subject{r: r, roof: r.Roof()}
	if s.roof.Deck == nil {
		return plan.Drawing{}, nil
	}
	in := plan.Input{Roof: s.planRoof()}
	running := map[string]bool{}
	for _, row := range cover.StandingOn(f, on) {
		if row.Word == cover.StandsInForce || row.Word == cover.StandsPaused {
			running[row.Line] = true
		}
	}
	for _, c := range f.Certificates {
		for _, l := range c.Lines {
			var rects []place.Rect
			for _, p := range l.Places {
				if running[c.No+"/"+l.Line+"/"+p.Place] {
					rects = append(rects, clipped(p.Box, f.Deck))
				}
			}
			if len(rects) == 0 {
				continue
			}
			names = append(names, c.No+" line "+l.Line[1:]+", "+ledger.Said("promise", l.Promise))
			h := hatch(l.Promise)
			in.Covers = append(in.Covers, plan.Cover{
				Line: len(names), Hatch: h, Members: h == plan.Frame,
				Regions: place.RegionOf(place.RoofPlane, rects...).Rects(place.RoofPlane),
			})
		}
	}
	for _, w := range f.LaterWork {
		for _, b := range w.Boxes {
			if !w.Day.After(on) && (w.Back.IsZero() || w.Back.After(on)) {
				in.Notes = append(in.Notes, plan.Spot{Rect: clipped(b, f.Deck), Says: "work by others"})
			}
		}
	}
	for _, l := range f.Left {
		if !l.Day.After(on) && (l.Mended.IsZero() || l.Mended.After(on)) {
			in.Left = append(in.Left, plan.Trouble{Name: "left " + l.Day.Short(), Rect: clipped(l.Box, f.Deck)})
		}
	}
	for i, p := range asked {
		if !slices.Contains(asked[:i], p) {
			in.Reasons = append(in.Reasons, plan.Spot{Rect: about(p), Says: "asked"})
		}
	}
	d, _ = plan.Certificate(in)
	return d, names
}

// clipped is a box as far as it lies on the deck.
func clipped(b, deck cover.Box) place.Rect {
	return place.Rect{
		Front: max(b.Front, deck.Front), Rear: min(b.Rear, deck.Rear), Left: max(b.Left, deck.Left), Right: min(b.Right, deck.Right),
	}
}

// about is the square about a point.
func about(p cover.Point) place.Rect {
	return place.Rect{
		Front: p.Aft - place.UsualRadius, Rear: p.Aft + place.UsualRadius, Left: p.Off - place.UsualRadius, Right: p.Off + place.UsualRadius,
	}
}

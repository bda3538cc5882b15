package facts

import (
	"cmp"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/report"
	"lapmark/report/plan"
)

// Sizes on the plan, mm and mm²; common practice, no source.
const (
	slice     = 100       // a slanted part is drawn in slices so long
	mostBlack = 250_000   // a place closed with a reason is drawn black up to this area
	leastBare = 1_000_000 // an empty part has words from this area on
)

// roofPlan draws the plan, its legend and its list.
func (s *subject) roofPlan(f *report.CertificateFacts) {
	in := s.planInput(f)
	drawing, legend := plan.Certificate(in)
	f.RoofPlan, f.PlanNames = drawing, legend.Names
	for _, sample := range legend.Samples {
		f.Legend = append(f.Legend, report.LegendItem{Sample: sample.Drawing, Says: sample.Says})
	}
	f.PlanList = s.planList(in, f.Lines)
}

// planInput is what the plan shows.
func (s *subject) planInput(f *report.CertificateFacts) plan.Input {
	in := plan.Input{
		Roof: s.planRoof(), Margin: int64(f.Numbers.MarginMM), Left: s.crossed(), Borders: s.borders(), Empty: s.bare(),
	}
	for _, t := range in.Left {
		in.Margins = append(in.Margins, t.Rect)
		for i, o := range in.Roof.Openings {
			if o.Name == t.Name {
				in.Roof.Openings[i].Says += ", left"
			}
		}
	}
	for _, l := range s.lines {
		h := hatch(l.Promise.Name)
		in.Covers = append(in.Covers, plan.Cover{
			Line: int(l.Number), Hatch: h, Members: h == plan.Frame, Regions: drawn(s.deck.Intersect(l.Region)),
		})
		if l.Promise.Name == "watertight-tie-in" {
			for _, p := range s.patches(l.Region) {
				in.Notes = append(in.Notes, plan.Spot{Rect: p.box, Says: "tie-in"})
			}
		}
	}
	in.Reasons, in.Notes = s.reasons(in.Notes)
	return in
}

// drawn are rectangles that do not overlap for a region of the roof. A slanted
// part is cut into slices, each as wide as it is widest.
func drawn(region place.Region) []place.Rect {
	var rects []place.Rect
	for _, c := range region.Cells() {
		if c.Plane != place.RoofPlane {
			continue
		}
		if straight(c) {
			rects = append(rects, c.Box)
			continue
		}
		for front := c.Box.Front; front < c.Box.Rear; front += slice {
			cut := place.Rect{Front: front, Rear: min(front+slice, c.Box.Rear), Left: c.Box.Left, Right: c.Box.Right}
			if box, ok := region.Intersect(place.RegionOf(place.RoofPlane, cut)).Bounds(place.RoofPlane); ok {
				rects = append(rects, box)
			}
		}
	}
	return place.RegionOf(place.RoofPlane, rects...).Rects(place.RoofPlane)
}

// straight says whether a cell is the rectangle round it.
func straight(c place.Cell) bool {
	return !slices.ContainsFunc(c.Corners, func(p place.Point) bool {
		return p.Aft != c.Box.Front && p.Aft != c.Box.Rear || p.Off != c.Box.Left && p.Off != c.Box.Right
	})
}

// planRoof is the deck with its rafters, openings and seams.
func (s *subject) planRoof() plan.Roof {
	deck := s.roof.Deck
	out := plan.Roof{Length: deck.Length, Front: deck.Front, Rear: deck.Rear, Rafters: slices.Clone(s.roof.RaftersAt)}
	if every := s.roof.RaftersEvery; len(out.Rafters) == 0 && every > 0 {
		for at := every; at < deck.Length; at += every {
			out.Rafters = append(out.Rafters, at)
		}
	}
	out.Openings, out.Seams = s.openings(), s.planSeams()
	return out
}

// openings are the openings that are still there, from the front.
func (s *subject) openings() []plan.Opening {
	var out []plan.Opening
	for name, o := range s.roof.Openings {
		clear, err := s.clearOf(name)
		if err != nil || s.gone(name, clear) {
			continue
		}
		box, _ := clear.Bounds(place.RoofPlane)
		out = append(out, plan.Opening{
			Name: name, Says: ledger.Said("elements", o.Part), Clear: box, Round: o.Diameter > 0,
		})
	}
	slices.SortFunc(out, func(a, b plan.Opening) int {
		return cmp.Or(cmp.Compare(a.Clear.Front+a.Clear.Rear, b.Clear.Front+b.Clear.Rear), cmp.Compare(a.Name, b.Name))
	})
	return out
}

// clearOf is the clear size of an opening, without a skirt.
func (s *subject) clearOf(name string) (place.Region, error) {
	none := int64(0)
	return s.roof.Work(place.Place{Shape: place.Named, Name: name, Skirt: &none})
}

// gone says whether an opening was taken off, laid over, and not set back
// since.
func (s *subject) gone(name string, clear place.Region) bool {
	off, over := false, false
	for _, a := range s.r.Acts {
		if a.Kind != "work" || !a.Counts {
			continue
		}
		for _, op := range rules.Ops(a) {
			named := slices.ContainsFunc(op.Places, func(p place.Place) bool { return p.Shape == place.Named && p.Name == name })
			switch {
			case named && op.Word == "take-off-fitting":
				off, over = true, false
			case named && op.Word == "refit-fitting":
				off, over = false, false
			case off && laysOver(op.Word) && a.Text("state") == "closed":
				at, err := s.r.Region(a, op.Places)
				over = over || err == nil && at.Holds(clear, tape)
			}
		}
	}
	return off && over
}

func laysOver(op string) bool {
	return slices.Contains([]string{"lay-deck", "patch", "lay-membrane", "reskin"}, op)
}

// planSeams are the welds and seams that were closed.
func (s *subject) planSeams() []plan.Seam {
	var out []plan.Seam
	for _, op := range rules.Closed(s.r) {
		says := map[string]string{"weld": "weld", "bond-seam": "seam"}[op.Word]
		if says == "" {
			continue
		}
		for _, p := range op.Places {
			if p.Shape != place.Run {
				continue
			}
			region, err := s.r.Region(op.Act, []place.Place{p})
			if box, ok := region.Bounds(place.RoofPlane); ok && err == nil {
				out = append(out, plan.Seam{Name: op.Names, Says: says, Rect: box})
			}
		}
	}
	return out
}

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
	"lapmark/report/plan"
	"lapmark/report/say"
)

// crossed are the troubles that were left: each place of each finding that a
// decision named by the certificate leaves and nothing has mended since, of an
// opening its clear size.
func (s *subject) crossed() []plan.Trouble {
	var out []plan.Trouble
	for _, d := range append(s.acts("left"), s.acts("owner-work")...) {
		for _, f := range s.findings(d) {
			for _, p := range s.unmended(d, f) {
				if t, ok := s.trouble(f, p); ok && !slices.Contains(out, t) {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

func (s *subject) trouble(f *ledger.Act, p place.Place) (plan.Trouble, bool) {
	region, err := s.r.Region(f, []place.Place{p})
	if p.Shape == place.Named {
		region, err = s.clearOf(p.Name)
	}
	box, ok := s.deck.Intersect(region).Bounds(place.RoofPlane)
	name := short(p)
	if p.Shape != place.Named {
		name += ": " + ledger.Said("defects", f.Text("defect"))
	}
	return plan.Trouble{Name: name, Rect: box}, ok && err == nil
}

// borders are the stations where fields begin and end, the largest field
// first.
func (s *subject) borders() []int64 {
	all := s.patches(s.field)
	slices.SortStableFunc(all, func(a, b patch) int { return cmp.Compare(b.region.Area(), a.region.Area()) })
	var out []int64
	for _, p := range all {
		for _, at := range []int64{p.box.Front, p.box.Rear} {
			if at > 0 && at < s.length() && !slices.Contains(out, at) {
				out = append(out, at)
			}
		}
	}
	return out
}

// bare are the statements in the parts of the deck that no line reaches: in
// each the largest rectangle.
func (s *subject) bare() []plan.Statement {
	var out []plan.Statement
	for _, p := range s.patches(s.out) {
		best := roomiest(p)
		if area(best) < leastBare {
			continue
		}
		one := plan.Statement{Rect: best, Bold: []string{"Not in this warranty"}}
		if s.unseen(p.region) {
			one.Plain = []string{"not opened, not looked at"}
		}
		out = append(out, one)
	}
	return out
}

// roomiest is the largest rectangle of a patch.
func roomiest(p patch) place.Rect {
	best := place.Rect{}
	for _, r := range p.region.Rects(place.RoofPlane) {
		if area(r) > area(best) {
			best = r
		}
	}
	return best
}

func area(r place.Rect) int64 { return (r.Rear - r.Front) * (r.Right - r.Left) }

// unseen says whether nobody has looked at any of a part of the deck.
func (s *subject) unseen(part place.Region) bool {
	var all place.Region
	for _, a := range s.acts("unseen") {
		all = all.Union(s.unopened(a))
	}
	return all.Holds(part, tape)
}

// reasons are the places closed against a rule of closing: small ones black,
// larger ones with a leader alone, beside the notes given.
func (s *subject) reasons(notes []plan.Spot) (black, led []plan.Spot) {
	led = notes
	for _, a := range s.acts("overridden") {
		says := s.closedWith(a)
		box, ok := s.deck.Intersect(s.workRegion(a)).Bounds(place.RoofPlane)
		if says == "" || !ok {
			continue
		}
		spot := plan.Spot{Rect: box, Says: says}
		if area(box) > mostBlack {
			led = append(led, spot)
		} else {
			black = append(black, spot)
		}
	}
	return black, led
}

// closedWith says with what a place was closed against a rule, nothing where
// none of the rules set aside is one of closing.
func (s *subject) closedWith(a *ledger.Act) string {
	for _, o := range ledger.Objects(a.Body["overrides"]) {
		switch rule := text(o, "rule"); {
		case rule == "closing-too-wet":
			if tenths, ok := rules.ClosedAt(s.asked(a)); ok {
				reading := say.Quantity("moisture", tenths)
				return "closed at " + strings.ReplaceAll(reading, " ", "\u00a0") + ", see page\u00a02"
			}
			return "closed wet, see page\u00a02"
		case strings.HasPrefix(rule, "closing-"):
			return "closed with a reason, see page\u00a02"
		}
	}
	return ""
}

// planList says all that the plan shows, for who cannot see it.
func (s *subject) planList(in plan.Input, lines []report.CertificateLine) []string {
	var out []string
	for _, l := range lines {
		out = append(out, "Line "+ledger.Decimal(int64(l.Number))+", hatched: "+l.Places)
	}
	for _, e := range in.Empty {
		out = append(out, strings.Join(append(slices.Clone(e.Bold), e.Plain...), ", ")+": "+s.rect(e.Rect))
	}
	for _, o := range in.Roof.Openings {
		says := o.Name + " " + o.Says + ": " + s.rect(o.Clear)
		if slices.ContainsFunc(in.Left, func(t plan.Trouble) bool { return t.Name == o.Name }) {
			says += ", crossed"
		}
		out = append(out, says)
	}
	for _, t := range in.Left {
		if _, opening := s.roof.Openings[t.Name]; !opening {
			out = append(out, english.Capital(t.Name)+": "+s.rect(t.Rect)+", crossed")
		}
	}
	for _, spot := range slices.Concat(in.Reasons, in.Notes) {
		out = append(out, english.Capital(spot.Says)+": "+s.rect(spot.Rect))
	}
	for _, seam := range in.Roof.Seams {
		out = append(out, strings.TrimSpace(seam.Name+" "+seam.Says)+": "+s.rect(seam.Rect)+", dotted")
	}
	return out
}

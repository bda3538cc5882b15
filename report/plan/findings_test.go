package plan

import (
	"strings"
	"testing"

	"lapmark/ledger/place"
)

var findingsRoof = Roof{
	Length: 4000, Front: 2000, Rear: 2000, Rafters: []int64{1000, 2000, 3000},
	Openings: []Opening{{Name: "V1", Says: "roof vent", Clear: place.Rect{Front: 1400, Rear: 1800, Left: -200, Right: 200}}},
}

// dotRows are the rows of dots of a drawing.
func dotRows(d Drawing) []Line {
	var out []Line
	for _, m := range d.Marks {
		if l, ok := m.(Line); ok && l.Pen.Width == dotSide && len(l.Pen.Dash) == 2 {
			out = append(out, l)
		}
	}
	return out
}

// Dots lie in their place and in no opening, whole ones, on a lattice that
// neighbours share; the distance between them is that of the depth (REPORTS.md
// 8.7: core 1.5, frame 1.2, skin 2.4 mm).
func TestDots(t *testing.T) {
	for deep, pitch := range map[Deep]Unit{InTheSkin: 240, InTheCore: 150, InTheFrame: 120} {
		d, _ := Findings(FindingsInput{Roof: findingsRoof, Found: []Found{
			{Tag: "F1", Deep: deep, Regions: []place.Rect{{Front: 1000, Rear: 2200, Left: -600, Right: 600}}},
		}})
		s := newDraught(Input{Roof: findingsRoof}).s
		in, hole := s.box(place.Rect{Front: 1000, Rear: 2200, Left: -600, Right: 600}), s.box(findingsRoof.Openings[0].Clear)
		rows := dotRows(d)
		if len(rows) < 10 {
			t.Fatalf("%d rows of dots", len(rows))
		}
		for _, l := range rows {
			if l.Pen.Dash[0]+l.Pen.Dash[1] != pitch || (l.To.X-l.From.X-dotSide)%pitch != 0 {
				t.Errorf("pitch %v of a row %v to %v", l.Pen.Dash, l.From, l.To)
			}
			if l.From.Y < in.top || l.From.Y > in.bottom || l.From.X < in.left || l.To.X > in.right {
				t.Errorf("row %v to %v leaves its place %v", l.From, l.To, in)
			}
			if l.From.Y > hole.top && l.From.Y < hole.bottom && l.From.X < hole.right && l.To.X > hole.left {
				t.Errorf("row %v to %v enters the opening %v", l.From, l.To, hole)
			}
			if floorMod(l.From.X+dotSide/2-s.datum.X, pitch) != pitch/2 {
				t.Errorf("row %v is off the lattice", l.From)
			}
		}
	}
}

// Where two troubles overlap the dots of the deeper one stand alone.
func TestDeepestDotsStand(t *testing.T) {
	deep := place.Rect{Front: 2000, Rear: 3000, Left: 0, Right: 600}
	d, _ := Findings(FindingsInput{Roof: findingsRoof, Found: []Found{
		{Tag: "F1", Deep: InTheSkin, Regions: []place.Rect{{Front: 1900, Rear: 3500, Left: -600, Right: 800}}},
		{Tag: "F2", Deep: InTheFrame, Regions: []place.Rect{deep}},
	}})
	in := newDraught(Input{Roof: findingsRoof}).s.box(deep)
	shallow, frame := 0, 0
	for _, l := range dotRows(d) {
		if l.Pen.Dash[0]+l.Pen.Dash[1] == dotPitch[InTheFrame] {
			frame++
			continue
		}
		shallow++
		if l.From.Y > in.top && l.From.Y < in.bottom && l.From.X < in.right && l.To.X > in.left {
			t.Errorf("a shallow row %v to %v stands in the deep place %v", l.From, l.To, in)
		}
	}
	if shallow == 0 || frame == 0 {
		t.Errorf("%d shallow rows, %d deep ones", shallow, frame)
	}
}

// The sooner, the heavier the outline (REPORTS.md 8.7: 0.15, 0.30, 0.45, 0.70).
func TestOutlineSaysHowSoon(t *testing.T) {
	for soon, width := range map[Soon]Unit{CanWait: 15, BeforeWetSeason: 30, BeforeRain: 45, BeforeMoving: 70} {
		d, _ := Findings(FindingsInput{Roof: findingsRoof, Found: []Found{
			{Tag: "F1", Soon: soon, Regions: []place.Rect{{Front: 2200, Rear: 2900, Left: 100, Right: 700}}},
		}})
		found := false
		for _, m := range d.Marks {
			if p, ok := m.(Polyline); ok && len(p.Points) == 4 && p.Closed && p.Fill == NoFill && p.Pen.Width == width {
				found = true
			}
		}
		if !found {
			t.Errorf("no outline of %d", width)
		}
	}
}

// A map writes each newest reading, boxes what is over and dots it alone; what
// was never read stays empty.
func TestMoistureMap(t *testing.T) {
	left, right := place.Rect{Front: 2000, Rear: 3000, Left: -1000, Right: 0}, place.Rect{Front: 3000, Rear: 4000, Left: 0, Right: 1000}
	d := Moisture(findingsRoof, []Reading{
		{Rect: left, Place: "bay 3 left", Reads: "31.0", Was: "35.0", Wet: OverFull, Boxed: true},
		{Rect: right, Place: "bay 4 right", Reads: "11.2"},
	})
	in := newDraught(Input{Roof: findingsRoof}).s.box(left)
	for _, l := range dotRows(d) {
		if l.From.Y < in.top || l.From.Y > in.bottom || l.To.X > in.right {
			t.Errorf("dots at %v, outside %v", l.From, in)
		}
		if l.Pen.Dash[0]+l.Pen.Dash[1] != 70 {
			t.Errorf("over 28 %% the dots are 0.7 mm apart, not %v", l.Pen.Dash)
		}
	}
	if len(dotRows(d)) == 0 {
		t.Error("no dots")
	}
	written := map[string]bool{}
	for _, m := range d.Marks {
		if w, ok := m.(Words); ok {
			written[w.Text] = true
		}
	}
	for _, says := range []string{"31.0", "was 35.0", "11.2"} {
		if !written[says] {
			t.Errorf("%s is not written", says)
		}
	}
	if d.Says != "Deck 4000 by 2000 mm. 2 places were read; over the limit: bay 3 left." {
		t.Error(d.Says)
	}
}

// A spot, and a finding at an opening, has its tag beside the deck, and hides
// nothing; what has no room there is named.
func TestCrowdedTags(t *testing.T) {
	var found []Found
	for i := range 40 {
		at := int64(100 + 90*i)
		found = append(found, Found{Tag: "F" + number(int64(i+1)), Spot: true, Regions: []place.Rect{{Front: at, Rear: at + 50, Left: 500, Right: 550}}})
	}
	d, legend := Findings(FindingsInput{Roof: findingsRoof, Found: found})
	written := 0
	for _, m := range d.Marks {
		if w, ok := m.(Words); ok && len(w.Text) > 1 && w.Text[0] == 'F' {
			written++
		}
	}
	if written != mostLed-1 || !strings.Contains(strings.Join(legend.Names, "; "), "marked on the plan: F30, F31") {
		t.Errorf("%d tags stand beside the deck, %v", written, legend.Names)
	}
}

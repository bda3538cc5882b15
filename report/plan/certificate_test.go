package plan

import (
	"math"
	"reflect"
	"sort"
	"strings"
	"testing"

	"lapmark/ledger/place"
)

func hypot(x, y float64) float64 { return math.Hypot(x, y) }

// The sizes asked of the plan of a deck of 7400 × 2200 mm: 1:50, the deck
// 148 × 44 mm, the drawing at most 92.5 mm wide and about 172 mm high.
func TestDemoSheet(t *testing.T) {
	d, _ := Certificate(q7())
	c := deckOf(t, d)
	if w, h := c[1].X-c[0].X, c[2].Y-c[1].Y; w != 4400 || h != 14800 {
		t.Errorf("deck is %s × %s mm on paper", w, h)
	}
	if d.Width > 9250 || d.Height < 16800 || d.Height > 17600 {
		t.Errorf("drawing is %s × %s mm", d.Width, d.Height)
	}
	for _, want := range []string{"1\u00a0:\u00a050", "seen from above", "front", "1100\u00a0L", "1100\u00a0R", "0", "3700", "7400", "10", "2\u00a0m"} {
		if !has(d, want) {
			t.Errorf("%q does not stand on the plan", want)
		}
	}
	allInside(t, d)
	noneOverlap(t, d)
	noneCross(t, d)
	if n := len(leadersOf(d)); n != 11 {
		t.Errorf("%d leaders, not one for each of 7 openings, 2 welds, the tie-in and the reason", n)
	}
}

// A name stands level with its place where nothing pushes it, and none stands
// beyond the ends of the deck.
func TestNamesStandLevel(t *testing.T) {
	d, _ := Certificate(q7())
	c := deckOf(t, d)
	level := 0
	for _, l := range leadersOf(d) {
		if l.Points[0].Y == l.Points[1].Y {
			level++
		}
		if y := l.Points[1].Y; y < c[0].Y || y > c[3].Y {
			t.Errorf("a name stands at %s, the deck from %s to %s", y, c[0].Y, c[3].Y)
		}
	}
	if level < 8 {
		t.Errorf("only %d of 11 names stand level with their places", level)
	}
}

func has(d Drawing, text string) bool {
	for _, m := range d.Marks {
		if w, ok := m.(Words); ok && w.Text == text {
			return true
		}
	}
	return false
}

// Expected by hand: the deck divided by the scale is at most 150 × 56 mm, and
// by the next larger one it is not.
func TestScale(t *testing.T) {
	for _, c := range []struct{ length, front, rear, scale int64 }{
		{7400, 2200, 2200, 50},   // 148 × 44; at 40 it is 185 long
		{4200, 2000, 2000, 40},   // 105 × 50; at 30 it is 66.7 wide
		{11800, 2500, 2500, 100}, // 118 × 25; at 75 it is 157.3 long
		{3000, 1120, 1120, 20},   // 150 × 56, just so
		{3001, 1120, 1120, 25},
		{3000, 1000, 1121, 25}, // the rear is the wider end
		{7500, 2800, 2000, 50},
		{15000, 2500, 2500, 100},
		{15001, 2500, 2500, 200}, // larger than any sheet: halved
	} {
		in := Input{Roof: Roof{Length: c.length, Front: c.front, Rear: c.rear}}
		d, _ := Certificate(in)
		if !has(d, "1\u00a0:\u00a0"+number(c.scale)) {
			t.Errorf("%d × %d/%d is not drawn at 1:%d", c.length, c.front, c.rear, c.scale)
		}
	}
}

func TestNoDeckNoDrawing(t *testing.T) {
	for _, r := range []Roof{{}, {Length: 7400, Front: 2200}, {Length: -1, Front: 2200, Rear: 2200}, {Length: 1 << 60, Front: 1, Rear: 1}} {
		if d, l := Certificate(Input{Roof: r}); len(d.Marks) != 0 || len(l.Samples) != 0 {
			t.Errorf("%+v is drawn", r)
		}
		if d := Small(r, 8200); len(d.Marks) != 0 {
			t.Errorf("%+v is drawn small", r)
		}
	}
}

func TestSameInputSameMarks(t *testing.T) {
	a, la := Certificate(q7())
	b, lb := Certificate(q7())
	if !reflect.DeepEqual(a, b) || !reflect.DeepEqual(la, lb) || !reflect.DeepEqual(SVG(a), SVG(b)) {
		t.Error("two drawings of one roof differ")
	}
}

// A region is drawn alike whether it is one rectangle or many.
func TestRegionInPieces(t *testing.T) {
	whole, pieces := q7(), q7()
	pieces.Covers[0].Regions = nil
	for aft := int64(3700); aft < 7400; aft += 370 {
		for _, off := range []int64{-1100, -300, 500} {
			pieces.Covers[0].Regions = append(pieces.Covers[0].Regions,
				place.Rect{Front: aft, Rear: aft + 370, Left: off, Right: min(off+800, 1100)})
		}
	}
	a, _ := Certificate(whole)
	b, _ := Certificate(pieces)
	if !reflect.DeepEqual(sorted(a), sorted(b)) {
		t.Error("a field in thirty pieces is drawn otherwise than a whole one")
	}
}

// sorted returns the hatches and tags of a drawing as text, in order.
func sorted(d Drawing) []string {
	var out []string
	for _, m := range d.Marks {
		out = append(out, string(SVG(Drawing{Marks: []Mark{m}})))
	}
	sort.Strings(out)
	return out
}

// Each line has its number on each of its places: on every fitting, on both
// edges and the rear joint, on every member; and no tag hides an opening.
func TestTags(t *testing.T) {
	in := q7()
	d, _ := Certificate(in)
	tags := tagsOf(d)
	for line, want := range map[string]int{"1": 1, "2": 1, "3": 3, "4": 5, "5": 3, "6": 1} {
		if n := len(tags[line]); n != want {
			t.Errorf("line %s has %d tags, not %d", line, n, want)
		}
	}
	if a, b := tags["1"][0], tags["2"][0]; a.right != b.left || a.top != b.top {
		t.Errorf("lines 1 and 2 reach the same field, but their tags stand at %v and %v", a, b)
	}
	p := onPaper(t, d, 50)
	for _, o := range in.Roof.Openings {
		r := p.rect(o.Clear)
		for n, list := range tags {
			for _, b := range list {
				if float64(b.left) < r[2] && float64(b.right) > r[0] && float64(b.top) < r[3] && float64(b.bottom) > r[1] {
					t.Errorf("tag %s hides %s", n, o.Name)
				}
			}
		}
	}
}

func TestBordersTooNear(t *testing.T) {
	in := q7()
	in.Borders = []int64{3700, 3625, 3775, 190, 200, 5000, 7250, -5, 9000}
	d, _ := Certificate(in)
	for figure, want := range map[string]bool{
		"0": true, "3700": true, "5000": true, "7400": true, // apart
		"3625": false, "3775": false, // 1.5 mm from the main one
		"190": false, "200": true, // 3.8 and 4.0 mm from the front
		"7250": false, "-5": false, "9000": false,
	} {
		if has(d, figure) != want {
			t.Errorf("figure %s: %v", figure, !want)
		}
	}
}

func TestManyNamesGoToTheList(t *testing.T) {
	in := q7()
	_, l := Certificate(in)
	if len(l.Names) != 0 {
		t.Errorf("11 names are listed: %q", l.Names)
	}
	for i := range 10 {
		in.Roof.Openings = append(in.Roof.Openings, Opening{Name: "X" + number(int64(i)), Says: "antenna", Clear: about(300+int64(i)*300, 900, 40, 40)})
	}
	d, l := Certificate(in)
	if len(l.Names) != 19 || !strings.Contains(strings.Join(l.Names, "|"), "R1 refrigerator vent, left") {
		t.Errorf("names listed: %q", l.Names)
	}
	if !has(d, "R1") || !has(d, "X9") || has(d, "X9 antenna") {
		t.Error("beside the deck the names do not stand alone")
	}
	noneCross(t, d)
}

func TestTooSmallForWordsGetsALeader(t *testing.T) {
	in := q7()
	in.Empty[0].Rect = place.Rect{Front: 0, Rear: 300, Left: -1100, Right: 1100}
	d, _ := Certificate(in)
	if n := len(leadersOf(d)); n != 12 {
		t.Errorf("%d leaders, not 12", n)
	}
	for _, m := range d.Marks {
		if w, ok := m.(Words); ok && w.Bold && strings.HasPrefix(w.Text, "Not") && w.Size != 335 {
			t.Errorf("%q stands on the deck", w.Text)
		}
	}
}

func TestMemberAtLeast(t *testing.T) {
	in := Input{Roof: fellside(), Covers: []Cover{{
		Line: 1, Hatch: Frame, Members: true,
		Regions: []place.Rect{{Front: 1000, Rear: 1010, Left: -1100, Right: 1100}},
	}}}
	d, _ := Certificate(in)
	var lines int
	for _, m := range d.Marks {
		if _, h, ok := hatchOf(m); ok && h == Frame {
			lines++
		}
	}
	// 0.8 mm at a pitch of 0.4: two or three lines, where 0.2 mm has at most one.
	if lines < 2 || lines > 3 {
		t.Errorf("a member of 10 mm has %d lines", lines)
	}
}

func TestOtherDecks(t *testing.T) {
	for name, in := range map[string]Input{"trailer": trailer(), "long": longCoach(), "wider behind": tapered(1700, 2200), "narrower behind": tapered(2200, 1500)} {
		t.Run(name, func(t *testing.T) {
			d, _ := Certificate(in)
			allInside(t, d)
			noneOverlap(t, d)
			noneCross(t, d)
			if d.Width > 9250 {
				t.Errorf("%s mm wide", d.Width)
			}
		})
	}
}

// On a tapering deck everything hatched lies between its straight sides.
func TestTaperedHatch(t *testing.T) {
	for _, w := range [][2]int64{{1700, 2200}, {2200, 1500}, {2200, 200}} {
		in := tapered(w[0], w[1])
		d, _ := Certificate(in)
		c := deckOf(t, d)
		if half := float64(c[1].X-c[0].X) / 2; half != float64(w[0]) {
			t.Errorf("front of %d mm is %v on paper at 1:50", w[0], 2*half)
		}
		var n int
		for _, m := range d.Marks {
			l, _, ok := hatchOf(m)
			if !ok {
				continue
			}
			n++
			for _, p := range []Point{l.From, l.To} {
				down := float64(p.Y-c[0].Y) / float64(c[3].Y-c[0].Y)
				half := (float64(w[0]) + down*float64(w[1]-w[0])) // 1:50, half the width
				if out := math.Abs(float64(p.X)-float64(c[0].X+c[1].X)/2) - half; out > 1 {
					t.Fatalf("hatch ends %.1f hundredths outside the deck", out)
				}
			}
		}
		if n < 100 {
			t.Errorf("only %d hatch lines", n)
		}
	}
}

// Half of an odd width is a whole mm, rounded up, as places are worked out.
func TestHalfWidthsAreWholeMillimetres(t *testing.T) {
	drawing, _ := Certificate(tapered(2051, 1801))
	seen := map[string]bool{}
	for _, m := range drawing.Marks {
		if w, ok := m.(Words); ok {
			seen[w.Text] = true
		}
	}
	for _, want := range []string{"1026\u00a0L", "1026\u00a0R", "901\u00a0L", "901\u00a0R"} {
		if !seen[want] {
			t.Errorf("%q is not on the plan: %v", want, seen)
		}
	}
}

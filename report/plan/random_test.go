package plan

import (
	"reflect"
	"testing"

	"lapmark/ledger/place"
	"pgregory.net/rapid"
)

// spread draws a number from low to high, spread evenly: the drawer's own
// numbers are mostly small, and most rectangles would have no area.
func spread(t *rapid.T, low, high int64, what string) int64 {
	n := int64(rapid.Uint16().Draw(t, what)) * 40503 % 65536
	return low + n*(high-low+1)/65536
}

// anyRect draws a rectangle on the deck or a little beside it, sometimes
// without an area.
func anyRect(t *rapid.T, r Roof, what string) place.Rect {
	front := spread(t, -300, r.Length+100, what+" front")
	left := spread(t, -r.Front*6/10, r.Front/2, what+" left")
	return place.Rect{
		Front: front, Rear: front + spread(t, -5, 1500, what+" long"),
		Left: left, Right: left + spread(t, -5, 1200, what+" wide"),
	}
}

func anyWords(t *rapid.T) string {
	return rapid.SampledFrom([]string{
		"", "hatch", "roof vent", "refrigerator vent, left", "closed at 16.2\u00a0%, see page\u00a02",
		"solar panel with its cables, glued over the whole length", "Lüftung 灯", "<&>",
	}).Draw(t, "words")
}

func anyRoof(t *rapid.T) Roof {
	r := Roof{
		Length: spread(t, 800, 16000, "length"),
		Front:  spread(t, 600, 2700, "front"),
	}
	r.Rear = r.Front
	if rapid.Bool().Draw(t, "tapers") {
		r.Rear = spread(t, 600, 2700, "rear")
	}
	r.Rafters = rapid.SliceOfN(rapid.Int64Range(-100, r.Length+100), 0, 25).Draw(t, "rafters")
	for i := range spread(t, 0, 9, "openings") {
		r.Openings = append(r.Openings, Opening{Name: "O" + number(i), Says: anyWords(t), Clear: anyRect(t, r, "opening"), Round: rapid.Bool().Draw(t, "round")})
	}
	for i := range spread(t, 0, 3, "seams") {
		r.Seams = append(r.Seams, Seam{Name: "W" + number(i), Says: anyWords(t), Rect: anyRect(t, r, "seam")})
	}
	return r
}

func anyInput(t *rapid.T) Input {
	in := Input{Roof: anyRoof(t), Margin: rapid.Int64Range(-10, 500).Draw(t, "margin")}
	for i := range spread(t, 0, 6, "covers") {
		c := Cover{Line: int(i) + rapid.IntRange(1, 8).Draw(t, "line"), Hatch: Hatch(rapid.IntRange(0, 4).Draw(t, "hatch")), Members: rapid.Bool().Draw(t, "members")}
		for range spread(t, 0, 5, "regions") {
			c.Regions = append(c.Regions, anyRect(t, in.Roof, "region"))
		}
		in.Covers = append(in.Covers, c)
	}
	for range spread(t, 0, 2, "left") {
		r := anyRect(t, in.Roof, "left")
		in.Left, in.Margins = append(in.Left, Trouble{anyWords(t), r}), append(in.Margins, r)
	}
	for range spread(t, 0, 2, "spots") {
		in.Reasons = append(in.Reasons, Spot{anyRect(t, in.Roof, "reason"), anyWords(t)})
		in.Notes = append(in.Notes, Spot{anyRect(t, in.Roof, "note"), anyWords(t)})
		in.Empty = append(in.Empty, Statement{anyRect(t, in.Roof, "empty"), []string{"Not in this warranty"}, []string{anyWords(t)}})
	}
	in.Borders = rapid.SliceOfN(rapid.Int64Range(-100, in.Roof.Length+100), 0, 5).Draw(t, "borders")
	return in
}

// Whatever the roof: everything is inside the drawing, no tags overlap, no
// leaders cross, no opening is hatched, and a second drawing is the same.
func TestAnyRoof(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		in := anyInput(rt)
		d, l := Certificate(in)
		allInside(rt, d)
		noneOverlap(rt, d)
		noneCross(rt, d)
		noneHatched(rt, in.Roof, d)
		if len(l.Samples) > 6 {
			rt.Errorf("%d samples in the legend", len(l.Samples))
		}
		if again, _ := Certificate(in); !reflect.DeepEqual(d, again) {
			rt.Error("drawn twice, it differs")
		}
		allInside(rt, Small(in.Roof, Unit(rapid.IntRange(0, 12000).Draw(rt, "high"))))
	})
}

// noneHatched reports hatch inside openings, as far as those lie on the deck.
func noneHatched(t rapid.TB, r Roof, d Drawing) {
	p := onPaper(t, d, scaleOf(r, scales[:], mostLong, mostWide))
	for _, o := range r.Openings {
		if o.Round || o.Clear.Empty() {
			continue
		}
		b := p.rect(o.Clear)
		for _, m := range d.Marks {
			if l, _, ok := hatchOf(m); ok && lengthIn(l, [4]float64{b[0] + 1, b[1] + 1, b[2] - 1, b[3] - 1}) > 0 {
				t.Errorf("hatch %v in %s", l, o.Name)
			}
		}
	}
}

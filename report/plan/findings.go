package plan

import (
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger/place"
)

// Deep is how deep a trouble goes: the pitch of the dots that fill it.
type Deep int

// The six depths, from the face to the inside.
const (
	OnTheFace Deep = iota
	InTheSkin
	InTheDeck
	InTheCore
	InTheFrame
	ThroughIndoors
)

// Soon is how soon a trouble presses: the weight of its outline.
type Soon int

// The four weights of an outline.
const (
	CanWait Soon = iota
	BeforeWetSeason
	BeforeRain
	BeforeMoving
)

// dotPitch are the distances of the dots by depth, soonPen the pens by weight.
var (
	dotPitch = [...]Unit{300, 240, 190, 150, 120, 90}
	soonPen  = [...]Pen{{Width: 15}, {Width: 30}, {Width: 45}, {Width: 70}}
)

// unseenPen goes round what nobody has looked at.
var unseenPen = Pen{Width: 25, Dash: []Unit{200, 70, 30, 70}}

// Sizes of trouble, in hundredths of a millimetre.
const (
	dotSide   Unit = 40
	leastRun  Unit = 50
	leastRing Unit = 80 // radius
	spotDot   Unit = 45 // radius
)

// Found is one finding: its tag, how deep it goes and how soon it presses,
// where as rectangles that do not overlap. A Spot is drawn as a
// ring with a dot.
type Found struct {
	Tag     string
	Deep    Deep
	Soon    Soon
	Regions []place.Rect
	Spot    bool
}

// FindingsInput is all that the plan of a findings paper shows.
type FindingsInput struct {
	Roof  Roof
	Found []Found
	// Unseen are places nobody has looked at, Statements what stands in them.
	Unseen     [][]place.Rect
	Statements []Statement
	Borders    []int64
}

// Findings draws the plan of a findings paper and its legend: trouble is dots.
// A deck without a length and widths of 1 mm to 100 m is not drawn: both are
// empty.
func Findings(in FindingsInput) (Drawing, Legend) {
	if !in.Roof.sound() {
		return Drawing{}, Legend{}
	}
	d := newDraught(Input{Roof: in.Roof, Empty: in.Statements, Borders: in.Borders})
	d.ground()
	for _, boxes := range d.dotted(in.Found) {
		d.draw(boxes...)
	}
	for _, rects := range in.Unseen {
		d.outlineOf(d.s.boxes(rects), unseenPen)
	}
	for _, f := range in.Found {
		d.trouble(f)
	}
	for _, s := range in.Roof.Seams {
		d.seam(s.Rect)
	}
	for _, a := range d.apertures {
		d.draw(a.mark())
	}
	d.deckOutline(axisOver)
	tags, crowded := d.tagged(in.Found)
	d.words()
	for _, t := range tags {
		d.drawFound(t)
	}
	drawing := d.drawing()
	drawing.Title, drawing.Says = "Roof plan of the coach with what was found, front up", in.says()
	names := d.long
	if len(crowded) > 0 {
		names = append(names, "too close together to be marked on the plan: "+strings.Join(crowded, ", "))
	}
	return drawing, Legend{Samples: in.samples(), Names: names}
}

// boxesOf returns a finding on paper, at least as wide as a run is drawn.
func (d *draught) boxesOf(f Found) []box {
	var out []box
	for _, r := range f.Regions {
		if b := d.s.spot(r, leastRun); !b.empty() {
			out = append(out, b)
		}
	}
	return out
}

// dotted returns the dots of all findings: each point of the deck has those of
// the deepest finding there.
func (d *draught) dotted(all []Found) [][]Mark {
	deepest := slices.Clone(all)
	slices.SortStableFunc(deepest, func(a, b Found) int { return int(b.Deep - a.Deep) })
	leave := d.clear()
	var out [][]Mark
	for i := 0; i < len(deepest); {
		deep := deepest[i].Deep
		var same []box
		for ; i < len(deepest) && deepest[i].Deep == deep; i++ {
			if !deepest[i].Spot {
				same = append(same, d.boxesOf(deepest[i])...)
			}
		}
		out = append(out, dots(dotPitch[deep], d.s.datum, same, d.s.halves(), leave))
		leave.boxes = append(slices.Clone(leave.boxes), same...)
	}
	return out
}

// dots returns rows of dots as dashed lines, one dot at each point of a lattice
// tied to the datum, in the union of boxes, on the deck and outside the holes.
func dots(pitch Unit, datum Point, boxes []box, deck []half, leave holes) []Mark {
	if len(boxes) == 0 {
		return nil
	}
	pen := Pen{Width: dotSide, Dash: []Unit{dotSide, pitch - dotSide}}
	t := texture{dx: 1, step: pitch, lead: pitch / 2}
	low, high := offsets(t, datum, boxes)
	var out []Mark
	for o := low - floorMod(low-t.lead, pitch); o <= high; o += pitch {
		r := t.ray(datum, o)
		var in []span
		for _, b := range boxes {
			in = append(in, r.inside(r.inside(everywhere, b.halves()), deck))
		}
		for _, s := range without(in, leave.spans(r)) {
			lo := s.lo + floorMod(pitch/2-dotSide/2-s.lo, pitch)
			hi := lo + floorDiv(s.hi-dotSide-lo, pitch)*pitch + dotSide
			if lo+dotSide <= s.hi {
				out = append(out, Line{r.at(lo), r.at(hi), pen})
			}
		}
	}
	return out
}

// outlineOf draws the outline of a union of boxes, as far as it lies on the
// deck.
func (d *draught) outlineOf(boxes []box, pen Pen) {
	for _, loop := range newGrid(boxes).contours() {
		for _, chain := range chains(loop, func(r ray, long Unit) []span {
			in := r.inside(span{0, long}, d.s.halves())
			if in.lo >= in.hi {
				return nil
			}
			return []span{in}
		}) {
			d.draw(polyline(chain, pen))
		}
	}
}

// trouble draws the outline of a finding; a spot as a ring with a dot.
func (d *draught) trouble(f Found) {
	boxes := d.boxesOf(f)
	if !f.Spot {
		d.outlineOf(boxes, soonPen[f.Soon])
		return
	}
	for _, b := range boxes {
		pen := soonPen[f.Soon]
		d.draw(Circle{Middle: b.middle(), Radius: max(leastRing, b.width()/2) + pen.Width/2, Pen: pen, Fill: White},
			Circle{Middle: b.middle(), Radius: spotDot, Fill: Black})
	}
}

// foundTag is the tag of a finding at its place.
type foundTag struct {
	says string
	at   box
}

// mostLed is how many names and tags have room beside the deck.
const mostLed = 30

// tagged places the tags, the smallest finding first. A spot, and a finding
// whose tag would hide an opening or has no room, gets a leader to its tag beside
// the deck; those for which there is no room there are crowded.
func (d *draught) tagged(found []Found) (out []foundTag, crowded []string) {
	order := slices.Clone(found)
	for _, f := range found {
		d.hidden = append(d.hidden, d.boxesOf(f)...)
	}
	slices.SortStableFunc(order, func(a, b Found) int { return int(total(d.boxesOf(a)) - total(d.boxesOf(b))) })
	y := d.yard(d.labels(), nil)
	d.long = nil
	for _, s := range d.in.Empty {
		if at, ok := d.statementBox(s, nil); ok {
			y.words = append(y.words, at.at)
		}
	}
	for _, f := range order {
		boxes := d.boxesOf(f)
		if len(boxes) == 0 {
			continue
		}
		at, ok := y.find(target{boxes: boxes, size: total(boxes), strip: strip(hull(boxes))}, d.wideTag(f.Tag))
		switch {
		case ok && !f.Spot && !meetsAny(at, y.openings):
			y.taken = append(y.taken, at)
			y.narrow = append(y.narrow, boxes...) // a larger one rather has its tag beside it
			out = append(out, foundTag{f.Tag, at})
		case len(d.in.Notes)+len(d.apertures) < mostLed:
			d.in.Notes = append(d.in.Notes, Spot{Rect: largest(f.Regions), Says: f.Tag})
		default:
			crowded = append(crowded, f.Tag)
		}
	}
	return out, crowded
}

// strip says whether a box is long and narrow.
func strip(b box) bool { return max(b.width(), b.height()) >= 4*min(b.width(), b.height()) }

// largest is the largest of rectangles.
func largest(rects []place.Rect) place.Rect {
	area := func(r place.Rect) int64 { return (r.Rear - r.Front) * (r.Right - r.Left) }
	return slices.MaxFunc(rects, func(a, b place.Rect) int { return int(area(a) - area(b)) })
}

// wideTag is the width of a tag's box.
func (d *draught) wideTag(says string) Unit { return tagBox(d.face, says) }

func tagBox(face *typeface, says string) Unit {
	return max(tagSide, face.width(says, textSize, true)+160)
}

// drawFound draws a tag.
func (d *draught) drawFound(t foundTag) {
	d.draw(t.at.mark(tickPen, White))
	w := text(t.at.middle().X, t.at.middle().Y+middleDrop+2, t.says, AtMiddle)
	w.Bold = true
	d.draw(w)
}

// Tag draws the tag of a finding as it stands on the plan.
func Tag(says string) Drawing {
	const side = 440
	wide := tagBox(newTypeface(), says) + 40
	frame := box{15, 15, wide - 15, side - 15}
	w := text(wide/2, 338, says, AtMiddle)
	w.Bold = true
	return Drawing{Width: wide, Height: side, Title: says, Says: says, Marks: []Mark{frame.mark(tickPen, NoFill), w}}
}

// says tells in words what the plan shows.
func (in FindingsInput) says() string {
	if len(in.Found) == 0 {
		return "Deck " + in.Roof.size() + ". Nothing was found on it."
	}
	var tags []string
	for _, f := range in.Found {
		tags = append(tags, f.Tag)
	}
	return fmt.Sprintf("Deck %s. Dots are trouble: %s.", in.Roof.size(), strings.Join(tags, ", "))
}

// samples are the samples of what occurs.
func (in FindingsInput) samples() []Sample {
	var out []Sample
	add := func(occurs bool, says string, m ...Mark) {
		if occurs {
			out = append(out, Sample{Drawing{Width: sampleWide, Height: sampleTall, Marks: m, Title: says}, says})
		}
	}
	frame := box{0, 0, sampleWide, sampleTall}.grown(-13)
	spot, area := false, false
	for _, f := range in.Found {
		spot, area = spot || f.Spot, area || !f.Spot
	}
	left, right := frame, frame
	left.right, right.left = frame.middle().X-40, frame.middle().X+40
	both := append(dots(dotPitch[OnTheFace], Point{}, []box{left}, nil, holes{}), dots(dotPitch[InTheFrame], Point{}, []box{right}, nil, holes{})...)
	add(area, "trouble: closer dots, deeper; thicker line, sooner", append(both, left.mark(soonPen[CanWait], NoFill), right.grown(-20).mark(soonPen[BeforeMoving], NoFill))...)
	add(spot, "ring with a dot: one spot", Circle{Middle: frame.middle(), Radius: leastRing, Pen: soonPen[BeforeWetSeason]}, Circle{Middle: frame.middle(), Radius: spotDot, Fill: Black})
	add(len(in.Unseen) > 0, "dash and dot: not looked at", frame.mark(unseenPen, White))
	return out
}

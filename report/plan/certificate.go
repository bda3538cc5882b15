package plan

// The pens of the plan, in hundredths of a millimetre (ISO 128 for the dashes
// of hidden edges and of axes, from memory).
var (
	outlinePen = Pen{Width: 60}
	openingPen = Pen{Width: 35}
	skirtPen   = Pen{Width: 30}
	crossPen   = Pen{Width: 30}
	borderPen  = Pen{Width: 25}
	memberPen  = Pen{Width: 20}
	edgePen    = Pen{Width: 18}
	finePen    = Pen{Width: 15}
	tickPen    = Pen{Width: 30}
	rafterPen  = Pen{Width: 10, Dash: []Unit{120, 90}}
	axisPen    = Pen{Width: 12, Dash: []Unit{300, 70, 50, 70}}
	seamPen    = Pen{Width: 35, Dash: []Unit{40, 50}}
	ringPen    = Pen{Width: 25, Dash: []Unit{100, 80}}
)

// What is smaller on paper is drawn so large.
const (
	leastOpening Unit = 110
	leastSpot    Unit = 120
	leastCross   Unit = 160
	leastMember  Unit = 80
)

// Certificate draws the large plan of a certificate and its legend. A deck
// without a length and widths of 1 mm to 100 m is not drawn: both are empty.
func Certificate(in Input) (Drawing, Legend) {
	if !in.Roof.sound() {
		return Drawing{}, Legend{}
	}
	d := newDraught(in)
	d.ground()
	d.promises()
	d.troubles()
	d.deckOutline(axisOver)
	d.words()
	return d.drawing(), d.legend()
}

// draught is a plan being drawn.
type draught struct {
	in        Input
	s         sheet
	face      *typeface
	left      Unit // the dimension line of the ladder
	names     Unit // where the names begin
	apertures []aperture
	ring      [][]Point
	marks     []Mark
	foot      Unit     // the last base line
	long      []string // names that are only given short beside the deck
	hidden    []box    // places that no statement may hide
}

// newDraught measures the sheet: the ladder on the left as wide as its longest
// figure, then the deck, then the names.
func newDraught(in Input) *draught {
	d := &draught{in: in, face: newTypeface()}
	scale := scaleOf(in.Roof, scales[:], mostLong, mostWide)
	s := newSheet(in.Roof, scale, Point{})
	d.left = d.face.width(number(in.Roof.Length), textSize, false) + figureGap + 40
	figures := max(d.reach(in.Roof.Front, s.front), d.reach(in.Roof.Rear, s.rear))
	s.datum = Point{max(d.left+ladderWide+s.wide(), figures+10), deckTop}
	d.s = s
	d.names = s.deck().right + namesGap
	d.apertures = s.apertures()
	d.ring = s.ring(in.Margins, in.Margin)
	return d
}

func (d *draught) draw(m ...Mark) { d.marks = append(d.marks, m...) }

// ground draws the white deck and the rafters under it.
func (d *draught) ground() {
	d.draw(Polyline{Points: d.s.outline(), Closed: true, Fill: White})
	away := d.clear()
	away.boxes = append(away.boxes, d.regions(Frame)...)
	for _, y := range d.rafters() {
		r := ray{Point{d.s.datum.X, y}, 1, 0}
		in := r.inside(everywhere, d.s.halves())
		for _, s := range without([]span{in}, away.spans(r)) {
			d.draw(Line{r.at(s.lo), r.at(s.hi), rafterPen})
		}
	}
}

// rafters returns the heights of the rafters on the deck.
func (d *draught) rafters() []Unit {
	var out []Unit
	for _, r := range d.in.Roof.Rafters {
		if r > 0 && r < d.in.Roof.Length {
			out = append(out, d.s.aft(r))
		}
	}
	return out
}

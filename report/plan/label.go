package plan

import (
	"strings"

	"lapmark/ledger/place"
)

// label is a name right of the deck with its leader.
type label struct {
	short string // its name alone, where it has one
	full  string
	bold  string // what of it is bold, above the rest
	rows  []Words
	feet  []Point // where its leader may begin, the best first
	foot  Point
	port  Unit // height of the leader's end, the middle of the first row
}

// Labels, in hundredths of a millimetre.
const (
	mostLabels      = 16
	labelGap   Unit = 430 // least distance of two labels
	elbowOff   Unit = 120 // the elbow of a leader off the deck
	leaderEnd  Unit = 260
	footDot    Unit = 45
)

// deep returns the distance from the port of a label to that of the next.
func (l label) deep() Unit { return Unit(max(1, len(l.rows))-1)*textLead + labelGap }

// labels returns the names beside the deck, placed so that they keep their
// distance and their leaders do not cross. Where there are more than sixteen,
// or no room for their words, only the short name stands there.
func (d *draught) labels() []label {
	all := d.named()
	room := d.room(all)
	var tall Unit
	for i, l := range all {
		all[i].rows = d.rows(l.bold, l.full, room)
		tall += all[i].deep()
	}
	if len(all) > mostLabels || tall > d.s.length+labelGap {
		for i, l := range all {
			if l.short != "" {
				all[i].rows = d.rows("", l.short, room)
				d.long = append(d.long, l.full)
			}
		}
	}
	return d.arranged(all)
}

// room returns how wide names may be: as wide as the drawing leaves, or as
// wide as the longest word.
func (d *draught) room(all []label) Unit {
	room := namesEnd - d.names
	for _, l := range all {
		for _, w := range strings.Split(l.full, " ") {
			room = max(room, d.face.width(w, textSize, false))
		}
		for _, w := range strings.Split(l.bold, " ") {
			room = max(room, d.face.width(w, textSize, true))
		}
	}
	return room
}

// rows breaks the words of a label.
func (d *draught) rows(bold, plain string, room Unit) []Words {
	var out []Words
	for _, r := range d.face.rows(bold, textSize, true, room) {
		out = append(out, Words{Text: r, Size: textSize, Bold: true})
	}
	for _, r := range d.face.rows(plain, textSize, false, room) {
		out = append(out, Words{Text: r, Size: textSize})
	}
	return out
}

// named returns what gets a name beside the deck.
func (d *draught) named() []label {
	var all []label
	add := func(l label, feet []Point) {
		if l.short != "" && l.full != "" {
			l.full = " " + l.full
		}
		l.full = l.short + l.full
		if len(feet) > 0 && l.full+l.bold != "" {
			l.feet, l.foot = feet, feet[0]
			all = append(all, l)
		}
	}
	for _, a := range d.apertures {
		add(label{short: a.Name, full: a.Says}, d.openingFeet(a))
	}
	for _, t := range d.in.Left {
		if !d.in.Roof.opening(t.Name) {
			add(label{full: t.Name}, d.boxFeet(d.s.spot(t.Rect, leastCross)))
		}
	}
	for _, r := range d.in.Reasons {
		add(label{full: r.Says}, d.boxFeet(d.s.spot(r.Rect, leastSpot)))
	}
	for _, n := range d.in.Notes {
		add(label{full: n.Says}, d.freeFeet(n.Rect))
	}
	for _, e := range d.in.Empty {
		if _, ok := d.statementBox(e, nil); !ok {
			add(label{bold: strings.Join(e.Bold, " "), full: strings.Join(e.Plain, ", ")}, d.freeFeet(e.Rect))
		}
	}
	for _, s := range d.in.Roof.Seams {
		add(label{short: s.Name, full: s.Says}, d.seamFeet(s))
	}
	return all
}

// openingFeet returns the feet of an opening, inside it.
func (d *draught) openingFeet(a aperture) []Point {
	c := a.circle()
	if !a.Round || c.Radius < 100 {
		return d.boxFeet(a.box)
	}
	var out []Point
	for _, up := range [...]Unit{0, -1, 1} {
		out = append(out, d.s.onto(Point{c.Middle.X + c.Radius/2, c.Middle.Y + up*c.Radius/3}))
	}
	return out
}

// boxFeet returns the feet of a box: in its right part at several heights, or
// its middle where it is small.
func (d *draught) boxFeet(b box) []Point {
	if b.empty() {
		return nil
	}
	x, parts := b.right-min(140, b.width()/4), []Unit{30, 20, 40, 15, 45}
	if b.width() < 300 {
		x = b.middle().X
	}
	if b.height() < 200 {
		parts = parts[:1]
	}
	var out []Point
	for _, part := range parts {
		out = append(out, d.s.onto(Point{x, b.top + b.height()*part/60}))
	}
	return out
}

// freeFeet returns the feet of a place outside the openings, or all where none
// is free.
func (d *draught) freeFeet(r place.Rect) []Point {
	all := d.boxFeet(d.s.box(r))
	var out []Point
	for _, p := range all {
		free := true
		for _, a := range d.apertures {
			free = free && !a.box.holds(box{p.X, p.Y, p.X, p.Y})
		}
		if free {
			out = append(out, p)
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}

// onto returns a point moved across onto the deck where that is narrower.
func (s sheet) onto(p Point) Point {
	half := max(0, s.half(p.Y)-60)
	p.X = max(s.datum.X-half, min(s.datum.X+half, p.X))
	return p
}

// seamFeet returns feet along a seam, outside the openings; on one across the
// deck those towards its right end first.
func (d *draught) seamFeet(s Seam) []Point {
	const pieces = 12
	r, run := d.s.seamRun(s.Rect)
	in := r.inside(run, d.s.halves())
	if in.lo >= in.hi {
		return nil
	}
	away := d.clear().spans(r)
	var out []Point
	for i := Unit(1); i < pieces; i++ {
		k := i
		if r.dx != 0 {
			k = pieces - 1 - i%(pieces-1) // 10, 9, … 1, 11
		}
		t := in.lo + (in.hi-in.lo)*k/pieces
		if len(without([]span{{t, t + 1}}, away)) > 0 {
			out = append(out, r.at(t))
		}
	}
	return out
}

// leader draws the line from a foot to its name, and the name.
func (d *draught) leader(l label) {
	elbow := d.s.deck().right + elbowOff
	d.draw(Circle{Middle: l.foot, Radius: footDot, Fill: Black})
	d.draw(Polyline{Points: []Point{l.foot, {elbow, l.port}, {elbow + leaderEnd - elbowOff, l.port}}, Pen: finePen})
}

// write writes the rows of a name.
func (d *draught) write(l label) {
	for i, r := range l.rows {
		r.At = Point{d.names, l.port + middleDrop + Unit(i)*textLead}
		d.draw(r)
	}
}

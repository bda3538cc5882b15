package plan

// The distance of a statement from what lies round it.
const (
	statementSpace Unit = 150
	statementRoom  Unit = 800 // more room round it than this is no better
)

// paragraph is the rows of a statement with their size on the page.
type paragraph struct {
	rows []Words // base lines from the top of the paragraph, middles at 0
	tall Unit
	wide Unit
}

// paragraph breaks a statement into rows no wider than most.
func (d *draught) paragraph(s Statement, most Unit) paragraph {
	var p paragraph
	add := func(text string, size, lead Unit, bold bool) {
		for _, r := range d.face.rows(text, size, bold, most) {
			w := Words{At: Point{0, p.tall + size*capHeight/100}, Text: r, Size: size, Anchor: AtMiddle, Bold: bold}
			p.rows = append(p.rows, w)
			p.tall += lead
			p.wide = max(p.wide, d.face.width(r, size, bold))
		}
	}
	for _, t := range s.Bold {
		add(t, boldSize, boldLead, true)
	}
	if len(p.rows) > 0 && len(s.Plain) > 0 {
		p.tall += 80
	}
	for _, t := range s.Plain {
		add(t, textSize, textLead, false)
	}
	return p
}

// statementBox returns where a statement's words stand: in its place, clear of
// openings, margins and what else is in the way, with as much room round them
// as there is, rather on the middle, and in narrower rows where wide ones find
// no room. False: there is no room.
func (d *draught) statementBox(s Statement, away []Mark) (set, bool) {
	place := d.s.box(s.Rect)
	away = append(d.outlines(), away...)
	for _, wide := range [...]Unit{3000, 2000, 1500} {
		p := d.paragraph(s, min(wide, place.width()-2*statementSpace))
		if len(p.rows) == 0 {
			return set{}, false
		}
		if b, ok := d.find(p, place, away); ok {
			return set{p, b}, true
		}
	}
	return set{}, false
}

// set is a statement in its place.
type set struct {
	paragraph
	at box
}

// find returns the place of a paragraph.
func (d *draught) find(p paragraph, place box, away []Mark) (box, bool) {
	full := box{-p.wide / 2, 0, p.wide - p.wide/2, p.tall}.grown(statementSpace)
	best, most, found := box{}, Unit(0), false
	for y := place.top; y+full.height() <= place.bottom; y += 50 {
		for _, shift := range [...]Unit{0, -1, 1, -2, 2, -3, 3, -4, 4} {
			x := place.middle().X + shift*(place.width()-full.width())/8
			b := full.moved(x, y-full.top)
			if !place.holds(b) || !d.deckHolds(b) {
				continue
			}
			room, ok := d.around(b, place, away)
			if room = min(room, statementRoom) - 300*max(shift, -shift); ok && (!found || room > most) {
				best, most, found = b, room, true
			}
		}
	}
	return best, found
}

// deckHolds says whether a box lies on the deck, also where it tapers.
func (d *draught) deckHolds(b box) bool {
	half := min(d.s.half(b.top), d.s.half(b.bottom))
	return b.left >= d.s.datum.X-half && b.right <= d.s.datum.X+half
}

// around returns the room above and below a box in its place, and whether the
// box is free of openings and the marks given.
func (d *draught) around(b, place box, away []Mark) (Unit, bool) {
	room := min(b.top-place.top, place.bottom-b.bottom)
	for _, a := range d.apertures {
		if a.box.grown(leastSpot / 2).meets(b) {
			return 0, false
		}
		if a.box.left < b.right && a.box.right > b.left {
			room = min(room, b.apart(a.box))
		}
	}
	for _, m := range away {
		if strikes(m, b) {
			return 0, false
		}
		if l, ok := m.(Polyline); ok {
			room = min(room, b.apart(hullOf(l.Points)))
		}
	}
	return room, true
}

// outlines returns what a statement must not hide: the margins' outlines piece
// by piece, the places that are crossed or black, and all that is hatched.
func (d *draught) outlines() []Mark {
	var out []Mark
	for _, c := range d.ring {
		for i := 1; i < len(c); i++ {
			out = append(out, Polyline{Points: c[i-1 : i+1]})
		}
	}
	boxes := append(d.regions(Skin, SkinNarrow, Bond, Frame, Lining), d.hidden...)
	for _, t := range d.in.Left {
		boxes = append(boxes, d.s.spot(t.Rect, leastCross))
	}
	for _, r := range d.in.Reasons {
		boxes = append(boxes, d.s.spot(r.Rect, leastSpot))
	}
	for _, b := range boxes {
		out = append(out, b.mark(Pen{}, NoFill))
	}
	return out
}

// hullOf returns the smallest box round points.
func hullOf(p []Point) box {
	b := box{p[0].X, p[0].Y, p[0].X, p[0].Y}
	for _, q := range p {
		b = box{min(b.left, q.X), min(b.top, q.Y), max(b.right, q.X), max(b.bottom, q.Y)}
	}
	return b
}

// strikes says whether a line or a box enters b.
func strikes(m Mark, b box) bool {
	switch m := m.(type) {
	case Polyline:
		for i := 1; i < len(m.Points); i++ {
			if b.struck(m.Points[i-1], m.Points[i]) {
				return true
			}
		}
	case Box:
		return b.meets(box{m.At.X, m.At.Y, m.At.X + m.Width, m.At.Y + m.Height})
	}
	return false
}

// state writes a statement, each row on a white ground.
func (d *draught) state(s set) {
	for _, w := range s.rows {
		w.At.X, w.At.Y = s.at.middle().X, w.At.Y+s.at.top+statementSpace
		d.draw(d.backing(w), w)
	}
}

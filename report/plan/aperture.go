package plan

// aperture is an opening on paper.
type aperture struct {
	Opening
	box box
}

// circle returns a round opening.
func (a aperture) circle() Circle {
	return Circle{Middle: a.box.middle(), Radius: min(a.box.width(), a.box.height()) / 2}
}

// apertures returns the openings that lie on the deck.
func (s sheet) apertures() []aperture {
	var out []aperture
	for _, o := range s.roof.Openings {
		if b := s.spot(o.Clear, leastOpening); !b.empty() {
			out = append(out, aperture{o, b})
		}
	}
	return out
}

// clear returns what no hatch may enter: the openings.
func (d *draught) clear() holes {
	var h holes
	for _, a := range d.apertures {
		if a.Round {
			h.circles = append(h.circles, a.circle())
			continue
		}
		h.boxes = append(h.boxes, a.box)
	}
	return h
}

// mark draws the border of an opening round its white middle.
func (a aperture) mark() Mark {
	if a.Round {
		c := a.circle()
		c.Pen, c.Fill = openingPen, White
		return c
	}
	return a.box.mark(openingPen, White)
}

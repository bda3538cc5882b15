package plan

// regions returns the regions on paper of all lines with one of the hatches.
func (d *draught) regions(hatches ...Hatch) []box {
	var out []box
	for _, c := range d.in.Covers {
		for _, h := range hatches {
			if c.Hatch == h {
				out = append(out, d.boxes(c)...)
			}
		}
	}
	return out
}

// boxes returns the regions of one line on paper; members at least 0.8 wide.
func (d *draught) boxes(c Cover) []box {
	out := d.s.boxes(c.Regions)
	if c.Members {
		for i, b := range out {
			if b.width() > b.height() {
				b = b.atLeast(0, leastMember)
			} else {
				b = b.atLeast(leastMember, 0)
			}
			out[i] = b.within(d.s.deck())
		}
	}
	return out
}

// promises draws the hatches, the narrowest named thing instead of the field,
// and their borders.
func (d *draught) promises() {
	clear, members, narrow := d.clear(), d.regions(Frame), d.regions(SkinNarrow)
	beside := func(b ...box) holes { return holes{append(append([]box{}, clear.boxes...), b...), clear.circles} }
	halves := d.s.halves()
	hatch := func(h Hatch, leave holes) {
		d.draw(hatched(h.texture(), d.s.datum, d.regions(h), halves, leave)...)
	}
	hatch(Skin, beside(append(narrow, members...)...))
	hatch(Bond, beside(members...))
	hatch(Lining, beside(members...))
	hatch(SkinNarrow, beside(members...))
	hatch(Frame, clear)
	for _, h := range []Hatch{Skin, Bond, Lining, SkinNarrow, Frame} {
		for _, c := range d.in.Covers {
			if c.Hatch == h {
				d.borders(c)
			}
		}
	}
}

// borders draws the border of what a line reaches. That of a field ends where
// a narrow thing lies, that of an edge where a skirt lies.
func (d *draught) borders(c Cover) {
	for _, part := range parts(d.boxes(c)) {
		pen, over := edgePen, d.regions(Frame)
		switch {
		case c.Hatch == Frame:
			pen, over = memberPen, nil
		case c.Hatch == SkinNarrow && d.skirt(part):
			pen = skirtPen
		case c.Hatch == SkinNarrow:
			over = append(over, d.skirts()...)
		default:
			pen, over = borderPen, append(over, d.regions(SkinNarrow)...)
		}
		for _, a := range d.apertures {
			over = append(over, a.box)
		}
		var away holes
		for _, b := range over {
			away.boxes = append(away.boxes, b.grown(1))
		}
		for _, loop := range newGrid(part).contours() {
			for _, chain := range chains(loop, func(r ray, long Unit) []span { return without(d.s.onDeck(r, long), away.spans(r)) }) {
				d.draw(polyline(chain, pen))
			}
		}
	}
}

// skirts returns the skirts of all lines.
func (d *draught) skirts() []box {
	var out []box
	for _, c := range d.in.Covers {
		if c.Hatch != SkinNarrow {
			continue
		}
		for _, part := range parts(d.boxes(c)) {
			if d.skirt(part) {
				out = append(out, part...)
			}
		}
	}
	return out
}

// skirt says whether a part lies round an opening.
func (d *draught) skirt(part []box) bool {
	b := hull(part)
	for _, a := range d.apertures {
		if b.holds(a.box) && b.area() < 4*a.box.grown(paper(150, d.s.scale)).area() {
			return true
		}
	}
	return false
}

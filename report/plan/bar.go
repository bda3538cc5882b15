package plan

// bar draws the bar scale under the deck, in black and white halves of metres,
// beside it the scale's figure and how the roof is seen, and returns the last
// base line. The words beside it keep clear of the names above.
func (d *draught) bar(names Unit) Unit {
	deck := d.s.deck()
	y := deck.bottom + barGap
	if d.in.Roof.Front != d.in.Roof.Rear {
		y += 520
	}
	metres := int64(max(1, 2*d.s.wide()/paper(1000, d.s.scale)))
	for i := range 2 * metres {
		from, to := paper(500*i, d.s.scale), paper(500*(i+1), d.s.scale)
		b := box{deck.left + from, y, deck.left + to, y + barHeight}
		d.draw(b.mark(Pen{Width: 20}, Fill(2-i%2)))
	}
	left := max(d.names, deck.left+paper(1000*metres, d.s.scale)+namesGap)
	base := y + 470
	d.barFigures(metres, base, left-namesGap)
	line := max(y+160, names+textLead+100)
	d.draw(text(left, line, "1\u00a0:\u00a0"+number(d.s.scale), AtLeft))
	for _, r := range d.face.rows("seen from above", textSize, false, namesEnd-left) {
		line += textLead
		d.draw(text(left, line, r, AtLeft))
	}
	return max(base, line)
}

// barFigures writes the metres under the bar, as many as have room, the last
// not beyond the right end.
func (d *draught) barFigures(metres int64, base, right Unit) {
	deck, metre := d.s.deck(), paper(1000, d.s.scale)
	d.draw(text(deck.left, base, "0", AtLeft))
	every := int64((figureRoom + metre - 1) / metre)
	for m := every; m <= metres; m += every {
		figure := number(m) + "\u00a0m"
		half := d.face.width(figure, textSize, false) / 2
		at := min(deck.left+paper(1000*m, d.s.scale), right+60-half)
		d.draw(text(at, base, figure, AtMiddle))
	}
}

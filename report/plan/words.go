package plan

import (
	"fmt"
	"sort"
	"strings"
)

// words draws all that is written: ladder, half widths, tags, leaders, names
// and statements, and the bar under the deck.
func (d *draught) words() {
	d.ladder()
	d.widths()
	labels := d.labels()
	var lines []Mark
	for _, l := range labels {
		lines = append(lines, Polyline{Points: []Point{l.foot, {d.s.deck().right + elbowOff, l.port}}})
	}
	var says []set
	var at []box
	for _, e := range d.in.Empty {
		s, ok := d.statementBox(e, lines)
		if !ok {
			s, ok = d.statementBox(e, nil)
		}
		if ok {
			says, at = append(says, s), append(at, s.at)
		}
	}
	for _, t := range d.tags(labels, at) {
		d.drawTag(t)
	}
	for _, l := range labels {
		d.leader(l)
	}
	names := d.s.deck().top
	for _, l := range labels {
		d.write(l)
		names = max(names, l.port+l.deep()-labelGap+middleDrop)
	}
	for _, s := range says {
		d.state(s)
	}
	d.foot = d.bar(names)
}

// backing returns the white ground under a line of text.
func (d *draught) backing(w Words) Box {
	wide := d.face.width(w.Text, w.Size, w.Bold)
	b := box{w.At.X - wide/2, w.At.Y - w.Size*capHeight/100 - 60, w.At.X + wide - wide/2, w.At.Y + w.Size*26/100}
	return b.grownBy(60, 0).mark(Pen{}, White)
}

// drawing returns the finished drawing.
func (d *draught) drawing() Drawing {
	wide := d.s.deck().right + tagOver + 40
	for _, m := range d.marks {
		if w, ok := m.(Words); ok {
			wide = max(wide, d.face.end(w)+10)
		}
	}
	return Drawing{
		Width: wide, Height: d.foot + bottomSpace, Marks: d.marks,
		Title: "Roof plan of the coach, front up", Says: d.says(),
	}
}

// end returns the right end of a line of text.
func (t *typeface) end(w Words) Unit {
	wide := t.width(w.Text, w.Size, w.Bold)
	switch w.Anchor {
	case AtMiddle:
		return w.At.X + wide - wide/2
	case AtRight:
		return w.At.X
	default:
		return w.At.X + wide
	}
}

// size says how large the deck is.
func (r Roof) size() string {
	if r.Front == r.Rear {
		return fmt.Sprintf("%d by %d mm", r.Length, r.Front)
	}
	return fmt.Sprintf("%d by %d mm, %d mm wide at the rear", r.Length, r.Front, r.Rear)
}

// says tells in words what the plan shows: the deck, what is hatched and what
// was left.
func (d *draught) says() string {
	s := "Deck " + d.in.Roof.size() + ". "
	from, to, lines := d.in.Roof.Length, int64(0), map[int]bool{}
	for _, c := range d.in.Covers {
		for _, r := range c.Regions {
			from, to = min(from, max(0, r.Front)), max(to, min(r.Rear, d.in.Roof.Length))
		}
		lines[c.Line] = true
	}
	if from < to {
		s += fmt.Sprintf("Hatched, and so in this warranty: places from %d to %d mm aft, by %s; empty is not in it.", from, to, listed(lines))
	} else {
		s += "Nothing is hatched: no place is in this warranty."
	}
	var left []string
	for _, t := range d.in.Left {
		left = append(left, t.Name)
	}
	if len(left) > 0 {
		s += " Crossed, trouble that was left: " + strings.Join(left, ", ") + "."
	}
	return s
}

// listed returns the numbers of lines in order.
func listed(lines map[int]bool) string {
	var n []int
	word := "line "
	if len(lines) > 1 {
		word = "lines "
	}
	for l := range lines {
		n = append(n, l)
	}
	sort.Ints(n)
	var out []string
	for _, l := range n {
		out = append(out, number(int64(l)))
	}
	return word + strings.Join(out, ", ")
}

package plan

import "sort"

// Tags, in hundredths of a millimetre.
const (
	tagSide  Unit = 400
	tagGap   Unit = 40 // between tags that are apart
	tagOver  Unit = 160
	tagFoot  Unit = 30 // how far a tag reaches into its place at least
	stripLen Unit = 2000
)

// target is a place that gets a tag: the lines that reach it, and the boxes
// they have in common.
type target struct {
	lines []int
	boxes []box
	size  Unit // area of the largest line's boxes
	skirt bool
	strip bool
}

// targets returns the places to be tagged: each part of each line; of a
// narrow line each long strip; lines that reach the same place together.
func (d *draught) targets() []target {
	var out []target
	for _, c := range d.in.Covers {
		for _, part := range parts(d.boxes(c)) {
			for _, t := range d.split(c, part) {
				out = join(out, t)
			}
		}
	}
	for i := range out {
		sort.Ints(out[i].lines)
	}
	return out
}

// split returns the long strips of a narrow part, or the part as a whole.
func (d *draught) split(c Cover, part []box) []target {
	whole := target{lines: []int{c.Line}, boxes: part, size: total(part)}
	if c.Hatch != SkinNarrow && c.Hatch != Frame {
		return []target{whole}
	}
	if whole.skirt = d.skirt(part); whole.skirt {
		return []target{whole}
	}
	var out []target
	for _, b := range merged(part) {
		if long := max(b.width(), b.height()); long >= stripLen && long >= 4*min(b.width(), b.height()) {
			out = append(out, target{lines: whole.lines, boxes: []box{b}, size: b.area(), strip: true})
		}
	}
	if len(out) == 0 {
		return []target{whole}
	}
	return out
}

// join adds a target, to another one where they share most of their place.
func join(all []target, t target) []target {
	for i, o := range all {
		var shared []box
		for _, a := range o.boxes {
			for _, b := range t.boxes {
				if c := a.overlap(b); !c.empty() {
					shared = append(shared, c)
				}
			}
		}
		if size := max(o.size, t.size); total(shared)*10 >= size*7 {
			all[i].lines = append(append([]int{}, o.lines...), t.lines...)
			all[i].boxes, all[i].size = shared, size
			all[i].strip = o.strip || t.strip
			return all
		}
	}
	return append(all, t)
}

// tag is a target's numbers at their place.
type tag struct {
	target
	at box
}

// tagWide returns the width of the square, or of the box of a longer number.
func (d *draught) tagWide(line int) Unit {
	return max(tagSide, d.face.width(number(int64(line)), textSize, true)+160)
}

// tags places the tags, those with the least choice first: skirts, strips,
// then the fields. A place so crowded that no tag fits has none.
func (d *draught) tags(leaders []label, words []box) []tag {
	all := d.targets()
	sort.SliceStable(all, func(i, j int) bool { return rank(all[i]) < rank(all[j]) })
	y := d.yard(leaders, words)
	var out []tag
	for _, t := range all {
		var wide Unit
		for _, l := range t.lines {
			wide += d.tagWide(l)
		}
		if at, ok := y.find(t, wide); ok {
			y.taken = append(y.taken, at)
			out = append(out, tag{t, at})
		}
	}
	return out
}

func rank(t target) int {
	switch {
	case t.skirt:
		return 0
	case t.strip:
		return 1
	}
	return 2
}

// drawTag draws the numbers of a tag side by side.
func (d *draught) drawTag(t tag) {
	x := t.at.left
	for _, l := range t.lines {
		w := d.tagWide(l)
		b := box{x, t.at.top, x + w, t.at.bottom}
		d.draw(b.mark(tickPen, White))
		words := text(b.middle().X, b.middle().Y+middleDrop+2, number(int64(l)), AtMiddle)
		words.Bold = true
		d.draw(words)
		x += w
	}
}

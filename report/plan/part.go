package plan

// parts returns the boxes sorted into those that hang together.
func parts(boxes []box) [][]box {
	var out [][]box
	for _, b := range boxes {
		mine := []box{b}
		var rest [][]box
		for _, p := range out {
			if touches(p, b) {
				mine = append(p, mine...)
			} else {
				rest = append(rest, p)
			}
		}
		out = append(rest, mine)
	}
	return out
}

func touches(p []box, b box) bool {
	for _, q := range p {
		if q.grown(1).meets(b) {
			return true
		}
	}
	return false
}

// hull returns the smallest box round boxes.
func hull(boxes []box) box {
	var h box
	for i, b := range boxes {
		if i == 0 {
			h = b
		}
		h = box{min(h.left, b.left), min(h.top, b.top), max(h.right, b.right), max(h.bottom, b.bottom)}
	}
	return h
}

// merged returns boxes with those joined that make one larger box.
func merged(boxes []box) []box {
	out := append([]box{}, boxes...)
	for again := true; again; {
		again = false
		for i := range out {
			for j := i + 1; j < len(out) && !again; j++ {
				a, b := out[i], out[j]
				across := a.left == b.left && a.right == b.right && (a.bottom == b.top || b.bottom == a.top)
				along := a.top == b.top && a.bottom == b.bottom && (a.right == b.left || b.right == a.left)
				if across || along {
					out[i] = hull([]box{a, b})
					out = append(out[:j], out[j+1:]...)
					again = true
				}
			}
			if again {
				break
			}
		}
	}
	return out
}

func total(boxes []box) Unit {
	var sum Unit
	for _, b := range boxes {
		sum += b.area()
	}
	return sum
}

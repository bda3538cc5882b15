package plan

import "sort"

// arranged picks the feet and sets the ports. It begins with the best foot of
// each label; then each label in turn takes the foot that makes the whole
// easier to read, twice round.
func (d *draught) arranged(all []label) []label {
	best, least := d.attempt(all)
	for range 2 {
		for i := range all {
			kept := all[i].foot
			for _, f := range all[i].feet {
				all[i].foot = f
				if tried, c := d.attempt(all); c < least {
					best, least, kept = tried, c, f
				}
			}
			all[i].foot = kept
		}
	}
	return best
}

// attempt places labels with the feet they have, and weighs the outcome.
func (d *draught) attempt(all []label) ([]label, Unit) {
	deck := d.s.deck()
	tried := append([]label{}, all...)
	untangle(tried, deck.right+elbowOff, deck.top, deck.bottom)
	var c Unit
	for _, l := range tried {
		c += d.weigh(l, tried)
	}
	return tried, c
}

// weigh says how hard a leader is to follow: how far it slants, whether it
// runs over other openings or feet, or along a rafter or a member.
func (d *draught) weigh(l label, all []label) Unit {
	end := Point{d.s.deck().right + elbowOff, l.port}
	c := max(l.foot.Y-l.port, l.port-l.foot.Y)
	for i, f := range l.feet {
		if f == l.foot {
			c += Unit(i) * 5
		}
	}
	for _, a := range d.apertures {
		if p := (box{l.foot.X, l.foot.Y, l.foot.X, l.foot.Y}); !a.box.holds(p) && a.box.struck(l.foot, end) {
			c += 800
		}
	}
	for _, o := range all {
		if f := (box{o.foot.X, o.foot.Y, o.foot.X, o.foot.Y}).grown(80); o.foot != l.foot && f.struck(l.foot, end) {
			c += 1500
		}
	}
	along := func(top, bottom Unit) bool {
		return min(l.foot.Y, l.port) > top-70 && max(l.foot.Y, l.port) < bottom+70
	}
	for _, y := range d.rafters() {
		if along(y, y) {
			c += 200
		}
	}
	for _, m := range d.regions(Frame) {
		if along(m.top, m.bottom) && m.right > l.foot.X {
			c += 300
		}
	}
	return c
}

// untangle orders the labels and sets their ports between top and bottom so
// that no two leaders cross. It begins with the height of the feet; where
// leaders still cross, the topmost port takes the foot that has all others
// below its leader, and so on. Rows of different numbers move the ports each
// time; if that does not come to rest, all labels get the same height, and
// then the ports do not depend on the order.
func untangle(all []label, elbow, top, bottom Unit) {
	sort.SliceStable(all, func(i, j int) bool {
		if all[i].foot.Y != all[j].foot.Y {
			return all[i].foot.Y < all[j].foot.Y
		}
		return all[i].foot.X > all[j].foot.X
	})
	for range 2*len(all) + 4 {
		settle(all, top, bottom)
		if !tangled(all, elbow) {
			return
		}
		takeTurns(all, elbow)
	}
	var deep Unit
	for _, l := range all {
		deep = max(deep, l.deep())
	}
	for i := range all {
		all[i].port = top + Unit(i)*deep
	}
	takeTurns(all, elbow)
}

// settle sets the ports as near to the feet as their distances allow: labels
// that push each other move as one block.
func settle(all []label, top, bottom Unit) {
	type block struct{ sum, n Unit }
	var blocks []block
	var before Unit
	depth := make([]Unit, len(all))
	for i, l := range all {
		depth[i] = before
		blocks = append(blocks, block{l.foot.Y - before, 1})
		for n := len(blocks); n > 1 && blocks[n-2].sum*blocks[n-1].n > blocks[n-1].sum*blocks[n-2].n; n-- {
			blocks[n-2].sum += blocks[n-1].sum
			blocks[n-2].n += blocks[n-1].n
			blocks = blocks[:n-1]
		}
		before += l.deep()
	}
	i := 0
	for _, b := range blocks {
		for range b.n {
			// The last row of the last label ends at the bottom.
			z := min(floorDiv(b.sum, b.n), bottom-before+labelGap)
			all[i].port = max(z, top) + depth[i]
			i++
		}
	}
}

// tangled says whether two leaders cross.
func tangled(all []label, elbow Unit) bool {
	for i := range all {
		for j := range i {
			if cross(all[i].foot, Point{elbow, all[i].port}, all[j].foot, Point{elbow, all[j].port}) {
				return true
			}
		}
	}
	return false
}

// cross says whether two lines meet, other than at a foot they share.
func cross(a, b, c, d Point) bool {
	if a == c {
		return false
	}
	s1, s2, s3, s4 := sign(turn(a, b, c)), sign(turn(a, b, d)), sign(turn(c, d, a)), sign(turn(c, d, b))
	if s1*s2 > 0 || s3*s4 > 0 {
		return false
	}
	if s1 == 0 && s2 == 0 && s3 == 0 && s4 == 0 {
		return max(a.X, b.X) >= min(c.X, d.X) && max(c.X, d.X) >= min(a.X, b.X)
	}
	return true
}

// takeTurns gives the ports, from the top, each to the foot whose leader has
// all feet that are left on or below it; the nearest, where several do.
func takeTurns(all []label, elbow Unit) {
	ports := make([]Unit, len(all))
	for i, l := range all {
		ports[i] = l.port
	}
	for k := range all {
		port, best := Point{elbow, ports[k]}, k
		for i := k + 1; i < len(all); i++ {
			t := turn(port, all[best].foot, all[i].foot)
			if t > 0 || t == 0 && all[i].foot.X > all[best].foot.X {
				best = i
			}
		}
		picked := all[best]
		copy(all[k+1:best+1], all[k:best])
		all[k] = picked
		all[k].port = ports[k]
	}
	for k := range all {
		all[k].port = ports[k]
	}
}

package cover

import "slices"

// zones are the parts of the roof in which every question has one answer: the
// points that stand for them, each zone once.
type zones struct {
	possible   []Box
	afts, offs []int64 // where a zone can begin or end, and what lies between
	near       []nearness
	borders    []border
	instead    []replacing
}

// nearness is a box of which it matters whether a point lies within some
// distances, ascending.
type nearness struct {
	box    Box
	limits []int64
}

// border is a line's box of which it matters whether it holds a point well
// inside.
type border struct {
	box   Box
	touch int64
	deck  Box
}

// replacing is a line's box and one of a certificate that may stand in its place.
type replacing struct {
	old, by Box
	touch   int64
}

// zones gathers what an open entry depends on.
func (j *judge) zones() *zones {
	z := &zones{possible: j.possible()}
	for _, b := range append([]Box{j.facts.Deck}, z.possible...) {
		z.edges(b, 0)
	}
	for _, c := range j.facts.Certificates {
		z.certificate(j, c)
	}
	var ties, margins []int64
	for _, c := range j.asked {
		ties, margins = append(ties, c.Numbers.TieIn), append(margins, c.Numbers.Margin)
	}
	for _, w := range j.facts.LaterWork {
		for _, b := range w.Boxes {
			z.close(b, slices.Concat(ties, margins))
		}
	}
	for _, l := range j.facts.Left {
		z.close(l.Box, margins)
	}
	z.afts, z.offs = withMiddles(z.afts), withMiddles(z.offs)
	return z
}

// certificate adds the lines of a certificate that answer the kind.
func (z *zones) certificate(j *judge, c Certificate) {
	for _, l := range c.Lines {
		if !l.answers(j.q.Kind) {
			continue
		}
		for _, at := range l.Places {
			z.edges(at.Box, 0)
			z.edges(at.Box, c.Numbers.Touch)
			z.near = append(z.near, nearness{at.Box, []int64{c.Numbers.Touch}})
			z.borders = append(z.borders, border{at.Box, c.Numbers.Touch, j.facts.Deck})
			z.replacing(j, c, l, at.Box)
		}
	}
}

func (z *zones) replacing(j *judge, c Certificate, l Line, old Box) {
	for _, by := range j.facts.Certificates {
		if !by.insteadOf(c.No, l.Line) {
			continue
		}
		for _, new := range by.Lines {
			if new.Promise != l.Promise {
				continue
			}
			for _, at := range new.Places {
				z.instead = append(z.instead, replacing{old, at.Box, c.Numbers.Touch})
			}
		}
	}
}

// close adds a box near which an answer changes.
func (z *zones) close(b Box, limits []int64) {
	z.edges(b, 0)
	for _, mm := range limits {
		z.edges(b, mm+1)
	}
	all := append([]int64{0}, limits...)
	slices.Sort(all)
	z.near = append(z.near, nearness{b, slices.Compact(all)})
}

func (z *zones) edges(b Box, by int64) {
	z.afts = append(z.afts, b.Front-by, b.Rear+by)
	z.offs = append(z.offs, b.Left-by, b.Right+by)
}

// withMiddles sorts and adds the whole middles between neighbours, rounded down.
func withMiddles(list []int64) []int64 {
	slices.Sort(list)
	list = slices.Compact(list)
	out := make([]int64, 0, 2*len(list))
	for i, n := range list {
		out = append(out, n)
		if i+1 < len(list) {
			out = append(out, halfDown(n+list[i+1]))
		}
	}
	return slices.Compact(out)
}

// points returns a point of each zone that lies in a possible box.
func (z *zones) points() []Point {
	var out []Point
	seen := map[string]bool{}
	key := make([]byte, 0, len(z.near)+len(z.borders)+len(z.instead))
	for _, aft := range z.afts {
		row := z.row(aft)
		for _, off := range z.offs {
			p := Point{aft, off}
			if !holdAt(z.possible, p) {
				continue
			}
			key = row.key(key[:0], p)
			if !seen[string(key)] {
				seen[string(key)] = true
				out = append(out, p)
			}
		}
	}
	return out
}

// row are the zones as far as one aft value reaches them.
type row struct {
	near    []nearIn
	borders []borderIn
	instead []insteadIn
}

type (
	nearIn struct {
		nearness
		n uint16
	}
	borderIn struct {
		border
		n uint16
	}
	insteadIn struct {
		replacing
		n uint16
	}
)

func (z *zones) row(aft int64) row {
	var r row
	for i, n := range z.near {
		if beyond(n.box.Front, n.box.Rear, aft) <= n.limits[len(n.limits)-1] {
			r.near = append(r.near, nearIn{n, uint16(i)})
		}
	}
	for i, b := range z.borders {
		if beyond(b.box.Front, b.box.Rear, aft) == 0 {
			r.borders = append(r.borders, borderIn{b, uint16(i)})
		}
	}
	for i, n := range z.instead {
		if beyond(n.old.Front, n.old.Rear, aft) <= n.touch {
			r.instead = append(r.instead, insteadIn{n, uint16(i)})
		}
	}
	return r
}

// key is what an answer at a point depends on: of each box that it is near, how
// near.
func (r row) key(key []byte, p Point) []byte {
	mark := func(n uint16, class byte) { key = append(key, byte(n), byte(n>>8), class) }
	for _, n := range r.near {
		s := square(beyond(n.box.Front, n.box.Rear, p.Aft)) + square(beyond(n.box.Left, n.box.Right, p.Off))
		for i, limit := range n.limits {
			if s <= square(limit) { // the distance, rounded up, is at most the limit
				mark(n.n, byte(i))
				break
			}
		}
	}
	key = append(key, 0xff, 0xff, 0xff)
	for _, b := range r.borders {
		if b.box.wellInside(p, b.touch, b.deck) {
			mark(b.n, 0)
		}
	}
	key = append(key, 0xff, 0xff, 0xff)
	for _, n := range r.instead {
		if n.old.within(p, n.touch) && n.by.within(n.old.nearest(p), 0) {
			mark(n.n, 0)
		}
	}
	return key
}

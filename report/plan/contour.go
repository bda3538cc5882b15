package plan

import "sort"

// grid is a union of boxes cut into cells at every edge of a box.
type grid struct {
	xs, ys []Unit
	full   []bool // cell (i, j) at i + j*(len(xs)-1)
}

// newGrid returns the union of boxes.
func newGrid(boxes []box) grid {
	var g grid
	for _, b := range boxes {
		g.xs, g.ys = append(g.xs, b.left, b.right), append(g.ys, b.top, b.bottom)
	}
	g.xs, g.ys = distinct(g.xs), distinct(g.ys)
	g.full = make([]bool, max(0, len(g.xs)-1)*max(0, len(g.ys)-1))
	for _, b := range boxes {
		i0, i1 := sort.Search(len(g.xs), func(i int) bool { return g.xs[i] >= b.left }), sort.Search(len(g.xs), func(i int) bool { return g.xs[i] >= b.right })
		j0, j1 := sort.Search(len(g.ys), func(i int) bool { return g.ys[i] >= b.top }), sort.Search(len(g.ys), func(i int) bool { return g.ys[i] >= b.bottom })
		for j := j0; j < j1; j++ {
			for i := i0; i < i1; i++ {
				g.full[i+j*(len(g.xs)-1)] = true
			}
		}
	}
	return g
}

// distinct returns the values in order, each once.
func distinct(v []Unit) []Unit {
	sort.Slice(v, func(i, j int) bool { return v[i] < v[j] })
	var out []Unit
	for i, x := range v {
		if i == 0 || x != v[i-1] {
			out = append(out, x)
		}
	}
	return out
}

// at says whether a cell is part of the union; one outside the grid is not.
func (g grid) at(i, j int) bool {
	w, h := len(g.xs)-1, len(g.ys)-1
	return i >= 0 && j >= 0 && i < w && j < h && g.full[i+j*w]
}

// fillPockets closes every hole that is shut in all round.
func (g grid) fillPockets() {
	w, h := len(g.xs)-1, len(g.ys)-1
	open := make([]bool, len(g.full))
	var todo [][2]int
	reach := func(i, j int) {
		if i >= 0 && j >= 0 && i < w && j < h && !g.full[i+j*w] && !open[i+j*w] {
			open[i+j*w] = true
			todo = append(todo, [2]int{i, j})
		}
	}
	for i := range w {
		reach(i, 0)
		reach(i, h-1)
	}
	for j := range h {
		reach(0, j)
		reach(w-1, j)
	}
	for len(todo) > 0 {
		c := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		reach(c[0]-1, c[1])
		reach(c[0]+1, c[1])
		reach(c[0], c[1]-1)
		reach(c[0], c[1]+1)
	}
	for k := range g.full {
		g.full[k] = !open[k]
	}
}

// The four ways along the grid, each a right turn after the one before.
var ways = [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}

// contours returns the closed lines round the union, with the inside on the
// right hand, corners only. Cells that meet in a corner alone are apart.
func (g grid) contours() [][]Point {
	w, h := len(g.xs), len(g.ys)
	out := make([][4]bool, w*h) // ways that an edge leaves a corner
	for j := range h {
		for i := range w {
			// The edge to the right has its inside below, and so on round.
			out[i+j*w] = [4]bool{
				g.at(i, j) && !g.at(i, j-1),
				g.at(i-1, j) && !g.at(i, j),
				g.at(i-1, j-1) && !g.at(i-1, j),
				g.at(i, j-1) && !g.at(i-1, j-1),
			}
		}
	}
	var loops [][]Point
	for k := range out {
		for way := range 4 {
			if out[k][way] {
				loops = append(loops, g.follow(out, k%w, k/w, way))
			}
		}
	}
	return loops
}

// follow walks one contour and takes its edges out.
func (g grid) follow(out [][4]bool, i, j, way int) []Point {
	w := len(g.xs)
	var loop []Point
	for last := -1; ; {
		k := i + j*w
		if way = leaving(out[k], way); way < 0 {
			break
		}
		if way != last {
			loop = append(loop, Point{g.xs[i], g.ys[j]})
		}
		out[k][way] = false
		last = way
		i, j = i+ways[way][0], j+ways[way][1]
	}
	if n := len(loop); n > 2 && straight(loop[n-1], loop[0], loop[1]) {
		loop = loop[1:]
	}
	return loop
}

// leaving returns the way on from a corner, rather to the right, -1 for none.
func leaving(out [4]bool, way int) int {
	for _, turn := range [3]int{1, 0, 3} {
		if next := (way + turn) % 4; out[next] {
			return next
		}
	}
	return -1
}

// straight says whether three corners lie in one line along the grid.
func straight(a, b, c Point) bool { return a.X == b.X && b.X == c.X || a.Y == b.Y && b.Y == c.Y }

// chains cuts a contour with keep, which returns the stretches to be drawn of
// an edge from a point along a ray, and returns what is left as lines. A line
// that comes back to its beginning ends where it began.
func chains(loop []Point, keep func(ray, Unit) []span) [][]Point {
	var out [][]Point
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		r := ray{p, sign(q.X - p.X), sign(q.Y - p.Y)}
		for _, s := range keep(r, (q.X-p.X)*r.dx+(q.Y-p.Y)*r.dy) {
			a, b := r.at(s.lo), r.at(s.hi)
			if n := len(out); n > 0 && out[n-1][len(out[n-1])-1] == a {
				out[n-1] = append(out[n-1], b)
				continue
			}
			out = append(out, []Point{a, b})
		}
	}
	if n := len(out); n > 1 && out[n-1][len(out[n-1])-1] == out[0][0] {
		out[0] = append(out[n-1], out[0][1:]...)
		out = out[:n-1]
	}
	return out
}

func sign(x Unit) Unit {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// polyline draws a chain; one that comes back to its beginning is closed.
func polyline(chain []Point, p Pen) Polyline {
	n := len(chain)
	if n > 3 && chain[0] == chain[n-1] {
		return Polyline{Points: chain[:n-1], Closed: true, Pen: p}
	}
	return Polyline{Points: chain, Pen: p}
}

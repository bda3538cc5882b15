package place

// Work works a place out against what had been measured. Places in mm need no
// measure; with a deck, a field ends at its sides. It answers ErrNoDeck,
// ErrNoRafters, ErrNoName or ErrNoSuch for what was not measured, and
// ErrMalformed for what nothing could be measured for.
func (r Roof) Work(p Place) (Region, error) { return r.work(p, 0) }

// deepest is how many names may rest on one another: the name of a seam, laid
// along another seam.
const deepest = 2

func (r Roof) work(p Place, depth int) (Region, error) {
	if err := p.Check(); err != nil {
		return Region{}, err
	}
	deck, err := r.outline()
	switch {
	case p.onRafters() && !r.rafters():
		return Region{}, ErrNoRafters
	case err != nil && p.needsDeck():
		return Region{}, err
	}
	switch p.Shape {
	case Spot:
		return on(deck, RoofPlane, p.square()), nil
	case Run:
		return on(deck, RoofPlane, p.strip()), nil
	case Field:
		return deck.field(p), nil
	case Bay:
		return r.bayRegion(p, deck)
	case Named:
		return r.named(p, deck, depth)
	case Part:
		return r.part(p, deck)
	case Wall:
		return on(deck, WallPlane(p.Wall), p.onWall()), nil
	}
	return on(deck, SlidePlane(p.Slide), Rect{p.Aft.From, p.Aft.To, p.Out.From, p.Out.To}), nil
}

// needsDeck says whether a place reaches to the deck's edge somewhere.
func (p Place) needsDeck() bool {
	switch p.Shape {
	case Field:
		return p.Aft == nil || p.Off == nil
	case Bay, Part:
		return true
	}
	return false
}

// onRafters says whether a place is said by the rafters.
func (p Place) onRafters() bool {
	return p.Shape == Bay || p.Shape == Part && p.Number != nil
}

func on(deck outline, plane Plane, r Rect) Region {
	return region(deck, []cell{{plane: plane, rect: r}})
}

// about is the rectangle round a middle.
func about(aft, off, along, across int64) Rect {
	return Rect{aft - along, aft + along, off - across, off + across}
}

// square is a spot: its circle's square, so that areas and distances are exact.
func (p Place) square() Rect {
	r := usual(p.Radius, UsualRadius)
	return about(p.Aft.From, p.Off.From, r, r)
}

// usual is what was said, or else what is usual.
func usual(said, otherwise int64) int64 {
	if said == 0 {
		return otherwise
	}
	return said
}

// strip is a run: its line in the middle of its width.
func (p Place) strip() Rect {
	wide := half(p.Width)
	if p.Off.single() {
		return Rect{p.Aft.From, p.Aft.To, p.Off.From - wide, p.Off.From + wide}
	}
	return Rect{p.Aft.From - wide, p.Aft.From + wide, p.Off.From, p.Off.To}
}

// onWall lays a wall place on its plane.
func (p Place) onWall() Rect {
	if p.Wall == Left || p.Wall == Right {
		return Rect{p.Along.From, p.Along.To, p.Down.From, p.Down.To}
	}
	return Rect{p.Down.From, p.Down.To, p.Along.From, p.Along.To}
}

// field is a rectangle, ended at the deck's sides where the deck is known.
func (o outline) field(p Place) Region {
	r := Rect{0, o.length, -o.widest(), o.widest()}
	if p.Aft != nil {
		r.Front, r.Rear = p.Aft.From, p.Aft.To
	}
	if p.Off != nil {
		r.Left, r.Right = p.Off.From, p.Off.To
	}
	if !o.known() {
		return on(o, RoofPlane, r)
	}
	return region(o, o.between(r))
}

// band is the full width of the deck from one aft to another.
func (o outline) band(front, rear int64) Region {
	return region(o, o.between(Rect{front, rear, -o.widest(), o.widest()}))
}

// side is what of a region lies on one side of the roof; no side is all.
func (o outline) side(r Region, s Side) Region {
	half := Rect{-2 * Farthest, 2 * Farthest, -2 * Farthest, 2 * Farthest}
	switch s {
	case Left:
		half.Right = 0
	case Right:
		half.Left = 0
	case Middle:
		return r.Intersect(region(o, o.middle().between(half)))
	default:
		return r
	}
	return r.Intersect(on(o, RoofPlane, half))
}

package place

// named is an opening with its skirt, or what another name was given to.
func (r Roof) named(p Place, deck outline, depth int) (Region, error) {
	if o, ok := r.Openings[p.Name]; ok {
		skirt := UsualSkirt
		if p.Skirt != nil {
			skirt = *p.Skirt
		}
		return o.region(deck, skirt)
	}
	naming, ok := r.Names[p.Name]
	if !ok || depth == deepest {
		return Region{}, ErrNoName{p.Name}
	}
	then := r
	if naming.Then != nil {
		then = *naming.Then
	}
	var cells []cell
	for _, given := range naming.Places {
		one, err := then.work(given, depth+1)
		if err != nil {
			return Region{}, err
		}
		cells = append(cells, one.cells...)
	}
	all := region(deck, cells)
	if p.Skirt != nil {
		return all.Grow(*p.Skirt), nil
	}
	return all, nil
}

func (o Opening) region(deck outline, skirt int64) (Region, error) {
	along, across := o.Clear[0], o.Clear[1]
	if o.Diameter != 0 {
		along, across = o.Diameter, o.Diameter
	}
	err := all(length("clear size", along), length("clear size", across), single("opening", At(o.Aft)), single("opening", At(o.Off)))
	if err != nil {
		return Region{}, err
	}
	return on(deck, RoofPlane, about(o.Aft, o.Off, half(along)+skirt, half(across)+skirt)), nil
}

// part is all of an element: a rafter, a strip along the deck's outline, or
// else the whole deck.
func (r Roof) part(p Place, deck outline) (Region, error) {
	if p.Number != nil {
		return r.rafterRegion(p, deck)
	}
	whole := deck.band(0, deck.length)
	lie, ok := Lies(p.Part)
	if !ok {
		return deck.side(whole, p.Side), nil
	}
	wide := min(usual(p.Width, UsualStrip), deck.length)
	var all Region
	if lie.Front {
		all = all.Union(deck.band(0, wide))
	}
	if lie.Rear {
		all = all.Union(deck.band(deck.length-wide, deck.length))
	}
	edges := whole.Minus(region(deck, deck.narrowed(wide).between(Rect{0, deck.length, -deck.widest(), deck.widest()})))
	if lie.Left {
		all = all.Union(deck.side(edges, Left))
	}
	if lie.Right {
		all = all.Union(deck.side(edges, Right))
	}
	return deck.side(all, p.Side), nil
}

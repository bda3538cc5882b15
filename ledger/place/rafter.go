package place

// rafters says whether the rafters are measured.
func (r Roof) rafters() bool {
	return len(r.RaftersAt) > 0 || positive("rafters-every", r.RaftersEvery) == nil
}

// lastRafter is the number of the rearmost rafter.
func (r Roof) lastRafter(deck outline) int64 {
	if n := int64(len(r.RaftersAt)); n > 0 {
		return n
	}
	return deck.length / r.RaftersEvery
}

// station is where a rafter stands, from 0, the front header, to the last.
func (r Roof) station(n int64) int64 {
	switch {
	case n == 0:
		return 0
	case len(r.RaftersAt) > 0:
		return r.RaftersAt[n-1]
	}
	return n * r.RaftersEvery
}

// bayRegion is a bay or a side of it: between two rafters, the last bay
// between a rafter and the deck's end.
func (r Roof) bayRegion(p Place, deck outline) (Region, error) {
	last := r.lastRafter(deck)
	if r.station(last) < deck.length {
		last++
	}
	if p.Bay > last {
		return Region{}, ErrNoSuch{"bay", p.Bay, last}
	}
	front, rear := r.station(p.Bay-1), deck.length
	if p.Bay < last {
		rear = r.station(p.Bay)
	}
	if front < 0 || rear > deck.length || front >= rear {
		return Region{}, ErrMalformed{"rafter stations out of order"}
	}
	return deck.side(deck.band(front, rear), p.Side), nil
}

// rafterRegion is a rafter or a side of it, its station in the middle.
func (r Roof) rafterRegion(p Place, deck outline) (Region, error) {
	if p.Part != rafterPart {
		return Region{}, ErrMalformed{p.Part + " has no number"}
	}
	if last := r.lastRafter(deck); *p.Number > last {
		return Region{}, ErrNoSuch{rafterPart, *p.Number, last}
	}
	at := r.station(*p.Number)
	if err := single("rafter station", At(at)); err != nil {
		return Region{}, err
	}
	wide := half(usual(p.Width, UsualRafter))
	return deck.side(deck.band(at-wide, at+wide), p.Side), nil
}

// BayAt returns the bay that lies at so many mm aft; on a rafter it is the bay
// in front of it. ok is false where rafters or deck are not measured, or where it
// lies beside the deck.
func (r Roof) BayAt(aft int64) (bay int64, ok bool) {
	if r.Deck == nil || !r.rafters() || aft < 0 || aft > r.Deck.Length {
		return 0, false
	}
	last := r.lastRafter(outline{length: r.Deck.Length})
	for n := int64(1); n <= last; n++ {
		if aft <= r.station(n) {
			return n, true
		}
	}
	return last + 1, true
}

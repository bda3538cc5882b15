package ledger

import (
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// measure lays a newer measure over what was known, member by member, opening
// by opening.
func (r *Replay) measure(a *Act) {
	roof := r.roof(a.Signer, a.Counts)
	if o, ok := a.Body["deck"].(format.Object); ok {
		roof.Deck = &place.Deck{Length: Int(o, "length"), Front: Int(o, "front"), Rear: Int(o, "rear")}
	}
	if n, ok := a.Body["rafters-every"].(int64); ok {
		roof.RaftersEvery, roof.RaftersAt = n, nil
	}
	if list, ok := a.Body["rafters-at"].(format.Array); ok {
		roof.RaftersAt = Ints(list)
	}
	for _, o := range Objects(a.Body["openings"]) {
		name, _ := o["name"].(string)
		roof.Openings[name] = openingOf(o)
	}
	r.roofs = append(r.roofs, r.roofBy(a, roof))
}

func (r *Replay) roofBy(a *Act, roof place.Roof) roofFrom {
	from := roofFrom{at: max(a.No.N, a.Adopted.N), roof: roof}
	if !a.Counts {
		from.guest = a.Signer
	}
	return from
}

func openingOf(o format.Object) place.Opening {
	part, _ := o["part"].(string)
	values, _ := o["values"].(format.Object)
	out := place.Opening{Part: part, Aft: Int(o, "aft"), Off: Int(o, "off"), Diameter: Int(values, "diameter")}
	if clear := Ints(values["clear"]); len(clear) == 2 {
		out.Clear = [2]int64{clear[0], clear[1]}
	}
	return out
}

// seams learns the names that operations give.
func (r *Replay) seams(a *Act) {
	var roof *place.Roof
	for _, o := range Objects(a.Body["ops"]) {
		name, ok := o["names"].(string)
		if !ok {
			continue
		}
		if roof == nil {
			copied := r.roof(a.Signer, a.Counts)
			roof = &copied
		}
		then := r.roof(a.Signer, a.Counts)
		if _, taken := roof.Names[name]; !taken {
			roof.Names[name] = place.Naming{Places: PlacesOf(o["places"]), Then: &then}
		}
	}
	if roof != nil {
		r.roofs = append(r.roofs, r.roofBy(a, *roof))
	}
}

// roof returns a copy of what is known last: the house's measures and those it
// adopted, and a guest's own for that guest.
func (r *Replay) roof(signer string, counts bool) place.Roof {
	return r.roofAt(int64(len(r.Coach.Entries))+1, signer, counts)
}

func (r *Replay) roofAt(before int64, signer string, counts bool) place.Roof {
	out := place.Roof{Openings: map[string]place.Opening{}, Names: map[string]place.Naming{}}
	for i := len(r.roofs) - 1; i >= 0; i-- {
		from := r.roofs[i]
		if from.at >= before || from.guest != "" && (counts || from.guest != signer) {
			continue
		}
		out.Deck, out.RaftersEvery, out.RaftersAt = from.roof.Deck, from.roof.RaftersEvery, from.roof.RaftersAt
		for name, o := range from.roof.Openings {
			out.Openings[name] = o
		}
		for name, n := range from.roof.Names {
			out.Names[name] = n
		}
		break
	}
	return out
}

// Roof returns the roof as measured now, by the house's own and adopted
// measures.
func (r *Replay) Roof() place.Roof { return r.roof("", true) }

// Region works out the places of an act (or of a draft, with a zero number)
// against the newest measures before it. A deck measured later answers for
// what reaches all over; an error says what was not measured.
func (r *Replay) Region(a *Act, places []place.Place) (place.Region, error) {
	if len(places) > MaxPlaces {
		return place.Region{}, ErrPlaces
	}
	before := a.No.N
	if a.Entry == nil || a.No.Branch != 0 {
		before = int64(len(r.Coach.Entries)) + 1
	}
	if a.Kind == "intake" || a.Kind == "measure" || a.Kind == "work" {
		before++ // what the entry itself measures or names
	}
	roof := r.roofAt(before, a.Signer, a.Counts || a.Entry == nil)
	if a.Entry == nil {
		r.ownSeams(a, &roof)
	}
	if roof.Deck == nil {
		roof.Deck = r.Roof().Deck
	}
	var out place.Region
	for _, p := range places {
		one, err := roof.Work(p)
		if err != nil {
			return place.Region{}, err
		}
		out = out.Union(one)
	}
	return out, nil
}

// ownSeams lets a draft speak of the seams it names itself.
func (r *Replay) ownSeams(a *Act, roof *place.Roof) {
	for _, o := range Objects(a.Body["ops"]) {
		if name, ok := o["names"].(string); ok {
			roof.Names[name] = place.Naming{Places: PlacesOf(o["places"])}
		}
	}
}

type roofFrom struct {
	at    int64  // the entry from which it answers: its own, or the one that adopted it
	guest string // the key of a guest whose measure is not adopted
	roof  place.Roof
}

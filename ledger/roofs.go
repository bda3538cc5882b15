package ledger

import (
	"slices"

	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// roofs is what was measured and named, as it came. A newer measure answers for
// what it says, from its own entry on; nothing is copied, so that a ledger of
// any length is worked through in one pass.
type roofs map[string]*measures // by voice; "" = the house's own, and what it adopted

type measures struct {
	decks    history[*place.Deck]
	rafters  history[rafters]
	openings map[string]history[place.Opening]
	names    map[string]history[naming]
}

type rafters struct {
	every int64
	at    []int64
}

// naming is a name that an operation gave; what it rests on is looked up as it
// was then.
type naming struct {
	places []place.Place
	before int64
}

// history holds values by the entry from which each answers, oldest first.
type history[T any] []since[T]

type since[T any] struct {
	entry int64
	value T
}

func (h history[T]) with(entry int64, value T) history[T] {
	at := len(h)
	for at > 0 && h[at-1].entry > entry {
		at--
	}
	return slices.Insert(h, at, since[T]{entry, value})
}

// at returns the newest value from before an entry.
func (h history[T]) at(before int64) (out since[T], ok bool) {
	n, _ := slices.BinarySearchFunc(h, before, func(s since[T], before int64) int {
		if s.entry < before {
			return -1
		}
		return 1
	})
	if n == 0 {
		return out, false
	}
	return h[n-1], true
}

// newest picks between what the house says and what a guest says for himself.
func newest[T any](pick func(*measures) history[T], before int64, views []*measures) (T, bool) {
	var best since[T]
	found := false
	for _, m := range views {
		if one, ok := pick(m).at(before); ok && (!found || one.entry > best.entry) {
			best, found = one, true
		}
	}
	return best.value, found
}

// voice is who speaks in an act: "" the house, else a guest, or the house where
// it is doubtful or wrote beside the chain. What such a voice measures answers
// for its own notes, adopted or not, so that a place already inked never moves.
func (a *Act) voice() string {
	switch {
	case a.Entry.Role == Guest:
		return a.Signer
	case a.Counts && a.Adopted == (No{}):
		return ""
	}
	return "beside " + a.Signer
}

// of returns the measures of one voice.
func (r roofs) of(voice string) *measures {
	m := r[voice]
	if m == nil {
		m = &measures{openings: map[string]history[place.Opening]{}, names: map[string]history[naming]{}}
		r[voice] = m
	}
	return m
}

// answers are the measures that an act adds to, each with the entry from which
// it answers: its own voice, and the house's once the house took it as its own.
func (r roofs) answers(a *Act, learn func(m *measures, from int64)) {
	voice := a.voice()
	learn(r.of(voice), a.No.N)
	if voice != "" && a.Counts {
		learn(r.of(""), max(a.No.N, a.Adopted.N))
	}
}

// views are the voices that answer for an act: the house, and its own.
func (r roofs) views(voice string) []*measures {
	var out []*measures
	if m := r[""]; m != nil {
		out = append(out, m)
	}
	if m := r[voice]; m != nil && voice != "" {
		out = append(out, m)
	}
	return out
}

// takes takes in what an intake or a measure says, from an entry on.
func (m *measures) takes(a *Act, from int64) {
	if o, ok := a.Body["deck"].(format.Object); ok {
		m.decks = m.decks.with(from, &place.Deck{Length: Int(o, "length"), Front: Int(o, "front"), Rear: Int(o, "rear")})
	}
	every, spaced := a.Body["rafters-every"].(int64)
	at, listed := a.Body["rafters-at"].(format.Array)
	if spaced || listed {
		m.rafters = m.rafters.with(from, rafters{every: every, at: Ints(at)})
	}
	for _, o := range Objects(a.Body["openings"]) {
		name, _ := o["name"].(string)
		m.openings[name] = m.openings[name].with(from, openingOf(o))
	}
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

// seams takes in the names that operations give, each to one thing only.
func (m *measures) seams(a *Act, from int64) {
	for _, o := range Objects(a.Body["ops"]) {
		name, ok := o["names"].(string)
		if ok && len(m.names[name]) == 0 {
			m.names[name] = m.names[name].with(from, naming{PlacesOf(o["places"]), a.No.N})
		}
	}
}

// namesDeep is how deep names may rest on names.
const namesDeep = 2

// roof puts together what the places speak of, as it was known before an entry.
func (r roofs) roof(places []place.Place, before int64, views []*measures, deep int) place.Roof {
	out := place.Roof{Openings: map[string]place.Opening{}, Names: map[string]place.Naming{}}
	out.Deck, _ = newest(func(m *measures) history[*place.Deck] { return m.decks }, before, views)
	between, _ := newest(func(m *measures) history[rafters] { return m.rafters }, before, views)
	out.RaftersEvery, out.RaftersAt = between.every, between.at
	for _, p := range places {
		if p.Shape != place.Named {
			continue
		}
		if o, ok := newest(func(m *measures) history[place.Opening] { return m.openings[p.Name] }, before, views); ok {
			out.Openings[p.Name] = o
		}
		n, ok := newest(func(m *measures) history[naming] { return m.names[p.Name] }, before, views)
		if ok && deep < namesDeep {
			then := r.roof(n.places, n.before, views, deep+1)
			out.Names[p.Name] = place.Naming{Places: n.places, Then: &then}
		}
	}
	return out
}

// Deck is the deck as measured now, nil where it is not.
func (r *Replay) Deck() *place.Deck {
	deck, _ := newest(func(m *measures) history[*place.Deck] { return m.decks }, r.next(), r.roofs.views(""))
	return deck
}

// beside is how far off its deck a coach still has something, in mm; common
// practice, no source.
const beside = 300

// OffRoof says of a place typed by its millimetres that it is nowhere near this
// roof, as now measured; "" of any other.
func (r *Replay) OffRoof(p place.Place) string {
	deck := r.Deck()
	if deck == nil || p.Shape != place.Spot && p.Shape != place.Field {
		return ""
	}
	width := max(deck.Front, deck.Rear)
	on := true
	if p.Aft != nil {
		on = p.Aft.From >= -beside && p.Aft.To <= deck.Length+beside
	}
	if p.Off != nil {
		on = on && 2*max(-p.Off.From, p.Off.To) <= width+2*beside
	}
	if on {
		return ""
	}
	return SayPlace(p) + " is not on this roof: its deck is " + Decimal(deck.Length) + " mm long and " + Decimal(width) + " mm wide"
}

// next is the number of the entry to come.
func (r *Replay) next() int64 { return int64(len(r.Coach.Entries)) + 1 }

// Roof returns the whole roof as measured now, by the house's own and adopted
// measures.
func (r *Replay) Roof() place.Roof {
	var all []place.Place
	for _, m := range r.roofs.views("") {
		for name := range m.openings {
			all = append(all, place.Place{Shape: place.Named, Name: name})
		}
		for name := range m.names {
			all = append(all, place.Place{Shape: place.Named, Name: name})
		}
	}
	return r.roofs.roof(all, r.next(), r.roofs.views(""), 0)
}

// Region works out the places of an act (or of a draft, with a zero number)
// against the newest measures before it. A deck measured later answers for
// what reaches all over; an error says what was not measured.
func (r *Replay) Region(a *Act, places []place.Place) (place.Region, error) {
	if len(places) > MaxPlaces {
		return place.Region{}, ErrPlaces
	}
	before := a.No.N
	if a.Entry == nil || a.No.Branch != 0 {
		before = r.next()
	}
	if a.Kind == "intake" || a.Kind == "measure" || a.Kind == "work" {
		before++ // what the entry itself measures or names
	}
	roof := r.roofs.roof(places, before, r.views(a), 0)
	if a.Entry == nil {
		ownSeams(a, &roof)
	}
	if roof.Deck == nil {
		roof.Deck = r.Deck()
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

// views are the voices that answer for an act, or for a draft of whose ledger it
// is.
func (r *Replay) views(a *Act) []*measures {
	switch {
	case r.as != "" && (a.Entry == nil || a.Signer == r.as):
		return r.roofs.views(r.as)
	case a.Entry == nil:
		return r.roofs.views("")
	}
	return r.roofs.views(a.voice())
}

// ownSeams lets a draft speak of the seams it names itself.
func ownSeams(a *Act, roof *place.Roof) {
	for _, o := range Objects(a.Body["ops"]) {
		if name, ok := o["names"].(string); ok {
			roof.Names[name] = place.Naming{Places: PlacesOf(o["places"])}
		}
	}
}

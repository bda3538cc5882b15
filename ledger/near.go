package ledger

import (
	"errors"
	"slices"

	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// ErrNoArea is a place that has no area on this coach.
var ErrNoArea = errors.New("it has no area on this coach")

// Near compares entries with a place that somebody asks about, on the deck as
// measured now. How deep a place goes is not compared.
type Near struct {
	Place  place.Place
	Why    error // why it could not be worked out: then only entries that say the same place touch it
	region place.Region
	r      *Replay
}

// Near works out a place that somebody asks about.
func (r *Replay) Near(asked place.Place) Near {
	n := Near{Place: asked, r: r}
	n.region, n.Why = r.Region(&Act{}, []place.Place{asked})
	if n.Why == nil && n.region.Empty() {
		n.Why = ErrNoArea
	}
	return n
}

// askedOpen is why an entry is not compared with a place that was not measured.
const askedOpen = "the place asked about was not worked out"

// Touch is how an entry lies to a place that was asked about.
type Touch struct {
	Speaks  bool     // it says some place
	Touches bool     // one of its places shares area with the place asked about
	Open    []string // why some of its places could not be compared
}

// Touch compares an entry's places, wherever they stand in it, each on what was
// measured when it was written.
func (n Near) Touch(a *Act) Touch {
	said := n.r.spoken(a, a.Body)
	t := Touch{Speaks: len(said) > 0}
	for _, s := range said {
		touches, open := n.meets(s)
		t.Touches = t.Touches || touches
		if open != "" && !slices.Contains(t.Open, open) {
			t.Open = append(t.Open, open)
		}
	}
	for _, odd := range a.Entry.Odd() {
		t.Open = append(t.Open, "newer than this tool: "+odd.What)
	}
	if t.Touches {
		t.Open = nil
	}
	return t
}

func (n Near) meets(s spoken) (touches bool, open string) {
	if s.odd {
		return false, "" // what this tool does not know is said by Odd
	}
	region, err := n.r.Region(s.by, []place.Place{s.place})
	switch {
	case n.Why == nil && err == nil:
		return region.Overlaps(n.region), ""
	case alike(n.Place, s.place):
		return true, ""
	case n.Why != nil:
		return false, askedOpen
	}
	return false, SayPlace(s.place) + ": " + err.Error()
}

// alike says whether two places that were not measured say the same: one name,
// one bay or rafter, one element, on sides that are not apart.
func alike(a, b place.Place) bool {
	one := a.Shape == b.Shape && a.Name == b.Name && a.Bay == b.Bay && sameNumber(a.Number, b.Number)
	sides := a.Side == "" || b.Side == "" || a.Side == b.Side
	switch a.Shape {
	case place.Named, place.Bay:
		return one && sides
	case place.Part:
		return one && sides && a.Part == b.Part
	}
	return false
}

func sameNumber(a, b *int64) bool { return a == b || a != nil && b != nil && *a == *b }

// spoken is a place that an entry speaks of, and the entry whose measures
// answer for it.
type spoken struct {
	by    *Act
	place place.Place
	odd   bool // no place this program knows
}

// spoken collects the places that stand anywhere in a value, in kinds and
// members that this program does not know too: places, openings, and the lines
// of certificates it names.
func (r *Replay) spoken(a *Act, v format.Value) (out []spoken) {
	switch v := v.(type) {
	case format.Array:
		for _, one := range v {
			out = append(out, r.spoken(a, one)...)
		}
	case format.Object:
		if v["shape"] != nil {
			p, err := PlaceOf(v)
			return []spoken{{a, p, err != nil}}
		}
		if name, opening := openingName(v); opening {
			out = append(out, spoken{by: a, place: place.Place{Shape: place.Named, Name: name}})
		}
		if _, line := v["cert"].(string); line {
			return r.promised(v)
		}
		for _, name := range format.Names(v) {
			out = append(out, r.spoken(a, v[name])...)
		}
	}
	return out
}

func openingName(o format.Object) (name string, ok bool) {
	name, ok = o["name"].(string)
	_, part := o["part"].(string)
	_, aft := o["aft"].(int64)
	return name, ok && part && aft
}

// promised are the places of the cover lines that a reference names; without
// numbers, of all lines.
func (r *Replay) promised(ref format.Object) (out []spoken) {
	tag, _ := ref["cert"].(string)
	a := r.acts[r.tags[tag]]
	if a == nil {
		return nil
	}
	numbers := map[int64]bool{}
	for _, n := range Ints(ref["lines"]) {
		numbers[n] = true
	}
	for _, line := range Objects(a.Body["lines"]) {
		if len(numbers) == 0 || numbers[Int(line, "line")] {
			out = append(out, r.spoken(a, line["places"])...)
		}
	}
	return out
}

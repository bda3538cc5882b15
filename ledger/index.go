package ledger

import (
	"slices"

	"lapmark/ledger/day"
)

// index finds acts without walking the ledger, by what rules ask for: their
// kind, the day they happened, a photo of theirs; each in the order of the
// chain.
type index struct {
	kinds  map[string][]*Act
	days   map[day.Day][]*Act
	photos map[string][]*Act
}

func newIndex() index {
	return index{kinds: map[string][]*Act{}, days: map[day.Day][]*Act{}, photos: map[string][]*Act{}}
}

// add learns an act as it counts now.
func (x index) add(a *Act) {
	x.kinds[a.Kind] = append(x.kinds[a.Kind], a)
	x.days[a.Day()] = append(x.days[a.Day()], a)
	for _, photo := range a.Photos() {
		x.photos[photo] = append(x.photos[photo], a)
	}
}

// OfKind returns the acts of a kind. Nobody may change the list.
func (r *Replay) OfKind(kind string) []*Act { return r.index.kinds[kind] }

// Earlier returns the acts of some kinds that count and stand in the ledger
// before an act, kind by kind in the order of the chain; before a draft stand
// all of them.
func (r *Replay) Earlier(a *Act, kinds ...string) []*Act {
	var out []*Act
	for _, kind := range kinds {
		for _, b := range r.index.kinds[kind] {
			if b.Counts && a.Follows(b) {
				out = append(out, b)
			}
		}
	}
	return out
}

// On returns the acts that say that they happened on a day. Nobody may change
// the list.
func (r *Replay) On(d day.Day) []*Act { return r.index.days[d] }

// WithPhoto returns the acts that show a photo, by the hash of its travel copy.
// Nobody may change the list.
func (r *Replay) WithPhoto(hex string) []*Act { return r.index.photos[hex] }

// Photos returns the photos of an act, each once: its own, and those of the
// places it looked at.
func (a *Act) Photos() []string {
	out := Texts(a.Body["photos"])
	for _, o := range Objects(a.Body["looked"]) {
		out = append(out, Texts(o["photos"])...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

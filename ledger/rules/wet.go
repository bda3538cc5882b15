package rules

import (
	"math"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/trade"
)

// wetDefects are the defects that make a place wet.
var wetDefects = []string{"wet-timber", "wet-core", "rot"}

// readable are the layers that a check of moisture can measure.
var readable = map[string][]string{
	"pins": {"over-deck", "deck", "inner-ply", "frame"}, "core-sample": {"core"},
}

// Moisture is what a pins or core sample read, in tenths of a percent; ok is
// false of any other check. A core sample is rounded half up.
func Moisture(result format.Object) (tenths int64, ok bool) {
	values := object(result["values"])
	switch text(result, "check") {
	case "pins":
		tenths, ok = values["moisture"].(int64)
		return tenths, ok
	case "core-sample":
		wet, dry := trade.Milligram(ledger.Int(values, "wet-mass")), trade.Milligram(ledger.Int(values, "dry-mass"))
		water, err := trade.CoreSample(wet, dry)
		return int64(math.Floor(float64(water)*10 + 0.5)), err == nil
	}
	return 0, false
}

// wettest is the highest reading that a place may be closed at, in tenths of a
// percent.
func (l Limits) wettest(check string) int64 {
	numbers := l.numbers(keyTooWet)
	if check == "core-sample" {
		return numbers[1]
	}
	return numbers[0]
}

// Reading is one pins or core sample at a place.
type Reading struct {
	Act    *ledger.Act
	Place  place.Place
	Check  string
	Tenths int64  // of a percent
	Spots  []Spot // none where the place could not be worked out
	named  bool   // its places say the layer
}

// history is what stands before an act, in the order it happened, and the act
// itself behind it; each act is read once.
type history struct {
	r    *ledger.Replay
	acts []*ledger.Act
	read map[*ledger.Act][]Reading
}

func historyOf(r *ledger.Replay, a *ledger.Act) *history {
	return &history{r: r, acts: append(before(r, a, withResults...), a), read: map[*ledger.Act][]Reading{}}
}

// readings are the pins and core samples of an act.
func (h *history) readings(a *ledger.Act) []Reading {
	out, known := h.read[a]
	if known {
		return out
	}
	for _, o := range results(a, "pins", "core-sample") {
		tenths, ok := Moisture(o)
		if !ok {
			continue
		}
		for _, p := range ledger.PlacesOf(o["places"]) {
			one := Reading{Act: a, Place: p, Check: text(o, "check"), Tenths: tenths, named: len(p.Layers) > 0}
			one.Spots, _ = spots(h.r, a, []place.Place{p}, readable[one.Check])
			out = append(out, one)
		}
	}
	h.read[a] = out
	return out
}

// Wet is a wet place: where it is, and what showed it.
type Wet struct {
	*history
	Place  place.Place
	By     *ledger.Act
	Spot   Spot
	named  bool    // its layer was said, or is that of what was found
	open   []piece // what of it may not be closed yet
	closed []piece // what was closed by the rules, or with a reason
}

// piece is a part of a wet place in one layer. Where it was opened again, only
// what was read since counts.
type piece struct {
	layer  string
	region place.Region
	since  *ledger.Act
}

// WetAt returns the places in a region that are wet when an act happens, by what
// stands in the ledger before it and by the act itself: what it cuts out and
// renews is gone, what it opens is open. What it closes is not closed yet.
func WetAt(r *ledger.Replay, l Limits, a *ledger.Act, at place.Region) []*Wet {
	h := historyOf(r, a)
	found := h.wet(l, at)
	for _, w := range found {
		for _, b := range h.acts {
			if b.Kind == "work" && (b == a || !b.Before(w.By)) {
				w.work(r, b)
			}
			if b.Kind == "work" && b != a && !b.Before(w.By) {
				w.close(b)
			}
		}
	}
	return slices.DeleteFunc(found, func(w *Wet) bool { return len(w.open) == 0 && len(w.closed) == 0 })
}

// wet are the findings and readings over the limit that touch a region.
func (h *history) wet(l Limits, at place.Region) []*Wet {
	var out []*Wet
	add := func(b *ledger.Act, spot Spot, named bool) {
		if spot.Region.Overlaps(at) {
			out = append(out, h.newWet(b, spot, named))
		}
	}
	for _, b := range h.acts {
		if b.Kind == "finding" && slices.Contains(wetDefects, b.Text("defect")) {
			w, _ := ledger.WordIn("defects", b.Text("defect"))
			list, _ := spots(h.r, b, b.Places(), w.Layers)
			for _, s := range list {
				add(b, s, true)
			}
		}
		for _, one := range h.readings(b) {
			if one.Tenths <= l.wettest(one.Check) {
				continue
			}
			for _, s := range one.Spots {
				add(b, s, one.named)
			}
		}
	}
	return out
}

func (h *history) newWet(by *ledger.Act, spot Spot, named bool) *Wet {
	w := &Wet{history: h, Place: spot.Place, By: by, Spot: spot, named: named}
	for _, layer := range spot.Layers {
		w.open = append(w.open, piece{layer: layer, region: spot.Region})
	}
	return w
}

// renewing are the operations that leave nothing of a wet place in their layer.
var renewing = []string{"cut-out", "replace-member", "fit-core", "lay-deck", "strip"}

// opening are the operations that open a place again.
var opening = []string{"open-up", "strip"}

// work takes away what a work renewed, and opens again what it opened.
func (w *Wet) work(r *ledger.Replay, a *ledger.Act) {
	for _, op := range Ops(a) {
		for _, s := range op.bared(r) {
			if slices.Contains(renewing, op.Word) && sameElement(s.Place, w.Place) {
				gone := func(p piece) bool { return slices.ContainsFunc(s.Layers, sameLayer(p.layer)) }
				w.open, w.closed = without(w.open, s.Region, gone), without(w.closed, s.Region, gone)
			}
			if slices.Contains(opening, op.Word) {
				w.reopen(a, s)
			}
		}
	}
}

// bared are the spots of an operation; a strip that names no layer takes off
// what lies on the deck.
func (op Op) bared(r *ledger.Replay) []Spot {
	if op.Word != "strip" {
		return op.spots(r)
	}
	out, _ := spots(r, op.Act, op.Places, []string{"coating", "membrane", "over-deck", "skin"})
	return out
}

// sameElement says whether two places may be of one element: where both name
// one, it must be the same.
func sameElement(a, b place.Place) bool {
	return a.Part == "" || b.Part == "" || a.Part == b.Part
}

func sameLayer(layer string) func(string) bool {
	return func(other string) bool { return weather(layer) == weather(other) }
}

// without leaves out of some pieces what lies in a region.
func without(pieces []piece, region place.Region, which func(piece) bool) []piece {
	var out []piece
	for _, p := range pieces {
		if which(p) && p.region.Overlaps(region) {
			p.region = p.region.Minus(region)
		}
		if !p.region.Empty() {
			out = append(out, p)
		}
	}
	return out
}

// reopen makes what was closed wet again where it was opened, from there inward,
// until it is read.
func (w *Wet) reopen(a *ledger.Act, s Spot) {
	under := func(p piece) bool { return lies(p.layer, s.Layers) }
	for _, p := range w.closed {
		if under(p) && p.region.Overlaps(s.Region) {
			w.open = append(w.open, piece{p.layer, p.region.Intersect(s.Region), a})
		}
	}
	w.closed = without(w.closed, s.Region, under)
}

// lies says whether a layer is one of some, or lies inward of them. Of no layers
// it lies inward.
func lies(layer string, under []string) bool {
	if len(under) == 0 {
		return true
	}
	return slices.ContainsFunc(under, func(o string) bool { return depth(layer) >= depth(o) })
}

// depth is the place of a layer from outside in; of those that count as one it
// is the outermost.
func depth(layer string) int {
	return slices.IndexFunc(ledger.WordsOf("layers"), func(w ledger.Word) bool { return weather(w.Name) == weather(layer) })
}

// close takes what a work closed by the rules, or with a reason, to what is
// closed: with one of its layers the place is closed in all of them, for the
// reading or the reason spoke of the place.
func (w *Wet) close(a *ledger.Act) {
	for _, h := range hidden(w.r, a) {
		for _, p := range w.open {
			if !lies(p.layer, h.Layers) || !p.region.Overlaps(h.Region) || !w.settled(a, p) {
				continue
			}
			for _, q := range w.open {
				if at := q.region.Intersect(h.Region); !at.Empty() {
					w.closed = append(w.closed, piece{q.layer, at, q.since})
				}
			}
			w.open = without(w.open, h.Region, func(piece) bool { return true })
			break
		}
	}
}

// settled says whether a work was let close a piece: on a reading that counted,
// or with a reason.
func (w *Wet) settled(a *ledger.Act, p piece) bool {
	if overridden(a, keyUnread) || overridden(a, keyTooWet) {
		return true
	}
	l := UsualLimits().Over(a)
	newest, ok := w.newest(l, a, p)
	return ok && newest.age <= l.numbers(keyUnread)[0] && newest.Tenths <= l.wettest(newest.Check)
}

// newestReading is the reading that a piece may be closed on.
type newestReading struct {
	Reading       // of the newest day the one that is furthest over its limit, else the highest
	age     int64 // minutes from the newest reading
}

// newest finds what was read last at a piece before an act, or in it.
func (w *Wet) newest(l Limits, a *ledger.Act, p piece) (out newestReading, ok bool) {
	for _, b := range slices.Backward(w.acts) {
		if b != a && !b.Before(a) {
			continue
		}
		if p.since != nil && b.Before(p.since) || ok && b.Day() != out.Act.Day() {
			break
		}
		for _, one := range w.readings(b) {
			switch {
			case !w.readBy(one):
			case !ok:
				out, ok = newestReading{one, minutesBetween(b, a)}, true
			case l.wetter(one, out.Reading):
				out.Reading = one
			}
		}
	}
	return out, ok
}

// wetter says whether a reading speaks more against closing than another.
func (l Limits) wetter(a, b Reading) bool {
	overA, overB := a.Tenths > l.wettest(a.Check), b.Tenths > l.wettest(b.Check)
	if overA != overB {
		return overA
	}
	return a.Tenths > b.Tenths
}

// readBy says whether a reading speaks for the place. Where both name a layer it
// must be the same; a reading without one speaks for what it can measure.
func (w *Wet) readBy(one Reading) bool {
	return slices.ContainsFunc(one.Spots, func(s Spot) bool {
		layered := one.named && !w.named || sharesLayer(s.Layers, w.Spot.Layers)
		return layered && s.Region.Overlaps(w.Spot.Region)
	})
}

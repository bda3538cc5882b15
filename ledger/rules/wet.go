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

// reading is one pins or core sample at a place.
type reading struct {
	act    *ledger.Act
	place  place.Place
	check  string
	tenths int64  // of a percent
	spots  []Spot // none where the place could not be worked out
	named  bool   // its place says the layer
}

// history is what stands before an act, in the order it happened, and the act
// itself behind it; each is worked out once.
type history struct {
	r      *ledger.Replay
	limits Limits
	acts   []*ledger.Act
	read   map[int][]reading // by the place among acts
	worked []worked
}

// worked is what a work did to what lay there.
type worked struct {
	at     int
	bared  []done // what it renewed or opened
	hidden []Spot // what it closed and hid
}

// done is a spot of an operation.
type done struct {
	renews, opens bool
	Spot
}

func historyOf(r *ledger.Replay, l Limits, a *ledger.Act) *history {
	h := &history{r: r, limits: l, acts: append(before(r, a, withResults...), a), read: map[int][]reading{}}
	for i, b := range h.acts {
		if b.Kind != "work" {
			continue
		}
		one := worked{at: i, hidden: hidden(r, b)}
		for _, op := range Ops(b) {
			renews, opens := slices.Contains(renewing, op.Word), slices.Contains(opening, op.Word)
			if renews || opens {
				for _, s := range op.bared(r) {
					one.bared = append(one.bared, done{renews, opens, s})
				}
			}
		}
		h.worked = append(h.worked, one)
	}
	return h
}

// readings are the pins and core samples of an act.
func (h *history) readings(i int) []reading {
	out, known := h.read[i]
	if known {
		return out
	}
	a := h.acts[i]
	for _, o := range results(a, "pins", "core-sample") {
		tenths, ok := Moisture(o)
		if !ok {
			continue
		}
		for _, p := range ledger.PlacesOf(o["places"]) {
			one := reading{act: a, place: p, check: text(o, "check"), tenths: tenths, named: len(p.Layers) > 0}
			one.spots, _ = spots(h.r, a, []place.Place{p}, readable[one.check])
			out = append(out, one)
		}
	}
	h.read[i] = out
	return out
}

// wet is a wet place: where it is, and what showed it.
type wet struct {
	*history
	Spot
	by     int     // what showed it, among acts
	named  bool    // its layer was said, or is that of what was found
	open   []piece // what of it may not be closed yet
	closed []piece // what was closed by the rules, or with a reason
}

// piece is a part of a wet place in one layer. Where it was opened again, only
// what was read since counts.
type piece struct {
	layer  string
	region place.Region
	since  int // among acts
}

// wetAt returns the places in a region that are wet when an act happens, by what
// stands in the ledger before it and by the act itself: what it cuts out and
// renews is gone, what it opens is open. What it closes is not closed yet.
func wetAt(r *ledger.Replay, l Limits, a *ledger.Act, at place.Region) []*wet {
	h := historyOf(r, l, a)
	found := h.wet(at)
	last := len(h.acts) - 1
	for _, w := range found {
		for _, work := range h.worked {
			if work.at > w.by {
				w.bare(work)
			}
			if work.at >= w.by && work.at < last {
				w.close(work)
			}
		}
	}
	return slices.DeleteFunc(found, func(w *wet) bool { return len(w.open) == 0 && len(w.closed) == 0 })
}

// wet are the findings and readings over the limit that touch a region.
func (h *history) wet(at place.Region) []*wet {
	var out []*wet
	add := func(i int, list []Spot, named bool) {
		for _, s := range list {
			if !s.Region.Overlaps(at) {
				continue
			}
			w := &wet{history: h, Spot: s, by: i, named: named}
			for _, layer := range s.Layers {
				w.open = append(w.open, piece{layer: layer, region: s.Region})
			}
			out = append(out, w)
		}
	}
	for i, b := range h.acts {
		if b.Kind == "finding" && slices.Contains(wetDefects, b.Text("defect")) {
			w, _ := ledger.WordIn("defects", b.Text("defect"))
			list, _ := spots(h.r, b, b.Places(), w.Layers)
			add(i, list, true)
		}
		for _, one := range h.readings(i) {
			if h.limits.over(one) {
				add(i, one.spots, one.named)
			}
		}
	}
	return out
}

// renewing are the operations that leave nothing of a wet place in their layer.
var renewing = []string{"cut-out", "replace-member", "fit-core", "lay-deck", "strip"}

// opening are the operations that open a place again.
var opening = []string{"open-up", "strip"}

// bare takes away what a work renewed, and opens again what it opened.
func (w *wet) bare(work worked) {
	for _, d := range work.bared {
		if !d.Region.Overlaps(w.Region) {
			continue
		}
		if d.renews && sameElement(d.Place, w.Place) {
			gone := func(p piece) bool { return slices.ContainsFunc(d.Layers, sameLayer(p.layer)) }
			w.open, w.closed = without(w.open, d.Region, gone), without(w.closed, d.Region, gone)
		}
		if d.opens {
			w.reopen(work.at, d.Spot)
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
func (w *wet) reopen(at int, s Spot) {
	under := func(p piece) bool { return lies(p.layer, s.Layers) }
	for _, p := range w.closed {
		if under(p) && p.region.Overlaps(s.Region) {
			w.open = append(w.open, piece{p.layer, p.region.Intersect(s.Region), at})
		}
	}
	w.closed = without(w.closed, s.Region, under)
}

// close takes what a work closed by the rules, or with a reason, to what is
// closed: with one of its layers the place is closed in all of them, for the
// reading or the reason spoke of the place.
func (w *wet) close(work worked) {
	for _, h := range work.hidden {
		if !h.Region.Overlaps(w.Region) {
			continue
		}
		for _, p := range w.open {
			if !lies(p.layer, h.Layers) || !p.region.Overlaps(h.Region) || !w.settled(work.at, p) {
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

// settled says whether a work was let close a piece: on a reading that counted by
// the limits of its entry, or with a reason.
func (w *wet) settled(at int, p piece) bool {
	a := w.acts[at]
	if overridden(a, keyUnread) || overridden(a, keyTooWet) {
		return true
	}
	l := w.limits.Over(a)
	newest, ok := w.newest(l, at, p)
	return ok && newest.age <= l.numbers(keyUnread)[0] && !l.over(newest.reading)
}

// newestReading is the reading that a piece may be closed on.
type newestReading struct {
	reading       // of the newest day one that is over its limit, else the highest
	age     int64 // minutes from the newest reading
}

// newest finds what was read last at a piece before an act, or in it.
func (w *wet) newest(l Limits, at int, p piece) (out newestReading, ok bool) {
	for i := at; i >= p.since; i-- {
		b := w.acts[i]
		for _, one := range w.readings(i) {
			if !w.readBy(one) {
				continue
			}
			if ok && b.Day() != out.act.Day() {
				return out, ok
			}
			if !ok {
				out, ok = newestReading{one, minutesBetween(b, w.acts[at])}, true
			} else if l.wetter(one, out.reading) {
				out.reading = one
			}
		}
	}
	return out, ok
}

// over says whether a reading is over its limit.
func (l Limits) over(one reading) bool { return one.tenths > l.wettest(one.check) }

// wetter says whether a reading speaks more against closing than another.
func (l Limits) wetter(a, b reading) bool {
	if l.over(a) != l.over(b) {
		return l.over(a)
	}
	return a.tenths > b.tenths
}

// readBy says whether a reading speaks for the place. Where both name a layer it
// must be the same; a reading without one speaks for what it can measure.
func (w *wet) readBy(one reading) bool {
	return slices.ContainsFunc(one.spots, func(s Spot) bool {
		layered := one.named && !w.named || sharesLayer(s.Layers, w.Layers)
		return layered && s.Region.Overlaps(w.Region)
	})
}

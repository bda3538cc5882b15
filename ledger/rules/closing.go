package rules

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/place"
)

const (
	keyUnread  = "closing-unread"
	keyTooWet  = "closing-too-wet"
	keyNoPhoto = "closing-no-photo"

	saysUnread  = "{place} was wet on {day} and has not been read since."
	saysStale   = "The last reading at {place} is {h} h old, the limit is {limit} h."
	saysTooWet  = "{place} reads {x} %, the limit is {limit} %. Leave it open, or say why it may be closed."
	saysNoPhoto = "No photo of {place} before it is hidden."
)

var forWork = []string{"work"}

var closingRules = []Rule{
	{
		Key: keyUnread, Degree: Stopped, Kinds: forWork, Sentences: []string{saysUnread, saysStale},
		Plain: "wet before, and not read again in time", Look: known(closingUnread),
	},
	{
		Key: keyTooWet, Degree: Stopped, Kinds: forWork, Sentences: []string{saysTooWet},
		Plain: "too wet to be closed by this shop's limit", Look: known(closingTooWet),
	},
	{
		Key: keyNoPhoto, Degree: Stopped, Kinds: forWork, Sentences: []string{saysNoPhoto},
		Plain: "no photo before it was hidden", Look: known(closingNoPhoto),
	},
}

// known asks a rule of a coach that has its ledger.
func known(look func(Case) []Outcome) func(Case) []Outcome {
	return func(c Case) []Outcome {
		if c.Replay == nil {
			return nil
		}
		return look(c)
	}
}

// stopped is an outcome that a reason answers. limit is the limit of the shop's
// terms that decided, "" if none did.
func stopped(rule, limit, sentence string, values ...string) Outcome {
	return Outcome{Rule: rule, Degree: Stopped, Sentence: fill(sentence, values...), Limit: limit}
}

// noted is an outcome that is only written.
func noted(rule, limit, sentence string, values ...string) Outcome {
	return Outcome{Rule: rule, Degree: Noted, Sentence: fill(sentence, values...), Limit: limit}
}

// toClose is a wet place that a work closes.
type toClose struct {
	*Wet
	newest newestReading
	read   bool
}

// wetToClose are the wet places that a work would hide, each once, with what was
// read there last.
func wetToClose(c Case) []toClose {
	if c.seen.once("wet") {
		c.seen.wet = findWetToClose(c)
	}
	return c.seen.wet
}

func findWetToClose(c Case) []toClose {
	hides := hidden(c.Replay, c.Act)
	if len(hides) == 0 {
		return nil
	}
	var out []toClose
	for _, w := range WetAt(c.Replay, c.Limits, c.Act, union(hides)) {
		pieces := w.open
		if asksAnew(c.Act) {
			pieces = slices.Concat(w.open, w.closed)
		}
		for _, p := range pieces {
			if !slices.ContainsFunc(hides, func(h Spot) bool { return lies(p.layer, h.Layers) && h.Region.Overlaps(p.region) }) {
				continue
			}
			one := toClose{Wet: w}
			one.newest, one.read = w.newest(c.Limits, c.Act, p)
			out = append(out, one)
			break
		}
	}
	return newestOfEach(out)
}

// newestOfEach keeps of wet places that are said alike what was found last.
func newestOfEach(list []toClose) []toClose {
	var out []toClose
	for _, one := range list {
		alike := func(o toClose) bool { return ledger.SayPlace(o.Place) == ledger.SayPlace(one.Place) }
		if i := slices.IndexFunc(out, alike); i < 0 {
			out = append(out, one)
		} else if !one.By.Before(out[i].By) {
			out[i] = one
		}
	}
	return out
}

func closingUnread(c Case) []Outcome {
	var out []Outcome
	limit := c.Limits.numbers(keyUnread)[0]
	for _, w := range wetToClose(c) {
		switch {
		case !w.read:
			out = append(out, stopped(keyUnread, "", saysUnread, capital(c.say(w.Place)), w.By.Day().Long()))
		case w.newest.age <= limit:
		case w.newest.Act == w.By:
			out = append(out, stopped(keyUnread, keyUnread, saysUnread, capital(c.say(w.Place)), w.By.Day().Long()))
		default:
			out = append(out, stopped(keyUnread, keyUnread, saysStale, c.say(w.Place), sayHours(w.newest.age), sayHours(limit)))
		}
	}
	return out
}

// closingTooWet says each reading over its limit once, of however many wet places
// it is the last one.
func closingTooWet(c Case) []Outcome {
	var out []Outcome
	for _, w := range wetToClose(c) {
		limit := c.Limits.wettest(w.newest.Check)
		if w.read && w.newest.Tenths > limit {
			place := capital(c.say(w.newest.Place))
			out = appendOnce(out, stopped(keyTooWet, keyTooWet, saysTooWet, place, trade1(w.newest.Tenths), trade1(limit)))
		}
	}
	return out
}

// ClosedAt is the highest reading over its limit that stood where a work closes;
// ok is false where none did.
func ClosedAt(c Case) (tenths int64, ok bool) {
	c.seen = newSeen()
	for _, w := range wetToClose(c) {
		if w.read && w.newest.Tenths > c.Limits.wettest(w.newest.Check) {
			tenths, ok = max(tenths, w.newest.Tenths), true
		}
	}
	return tenths, ok
}

// closingNoPhoto asks for a picture of what is hidden: in the note itself, or in
// an earlier one of a place that holds it, since it was opened last.
func closingNoPhoto(c Case) []Outcome {
	if c.Act.Body["photos"] != nil {
		return nil
	}
	var out []Outcome
	var told []string
	for _, h := range hidden(c.Replay, c.Act) {
		if place := c.say(bare(h.Place)); !pictured(c, h.Region) && !slices.Contains(told, place) {
			out = append(out, stopped(keyNoPhoto, "", saysNoPhoto, place))
			told = append(told, place)
		}
	}
	return out
}

// bare is a place without its layers.
func bare(p place.Place) place.Place {
	p.Layers = nil
	return p
}

func pictured(c Case, hidden place.Region) bool {
	acts := c.before(withPhotos()...)
	opened := -1
	for i, a := range acts {
		if a.Kind == "work" && opens(c.Replay, a, hidden) {
			opened = i
		}
	}
	for _, a := range acts[max(opened, 0):] {
		if a.Body["photos"] == nil {
			continue
		}
		if at, err := c.Replay.Region(a, ledger.PlacesIn(a.Kind, a.Body)); err == nil && at.Holds(hidden, tape) {
			return true
		}
	}
	return false
}

// withPhotos are the kinds of entries that may hold pictures of a place.
func withPhotos() []string {
	var out []string
	for _, k := range ledger.Kinds() {
		out = append(out, k.Name)
	}
	return out
}

// opens says whether a work opened a place.
func opens(r *ledger.Replay, a *ledger.Act, at place.Region) bool {
	return slices.ContainsFunc(Ops(a), func(op Op) bool {
		return slices.Contains(opening, op.Word) && union(op.bared(r)).Overlaps(at)
	})
}

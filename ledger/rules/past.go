package rules

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
)

// before returns the acts of some kinds that count, stand in the ledger before
// an act and happened before it, in the order they happened.
func before(r *ledger.Replay, a *ledger.Act, kinds ...string) []*ledger.Act {
	out := slices.DeleteFunc(r.Earlier(a, kinds...), func(b *ledger.Act) bool { return !b.Before(a) })
	slices.SortFunc(out, func(a, b *ledger.Act) int {
		switch {
		case a.Before(b):
			return -1
		case b.Before(a):
			return 1
		}
		return 0
	})
	return out
}

// seen is what the rules have looked up of one case, so that each looks it up
// once.
type seen struct {
	acts  map[string][]*ledger.Act // by kinds
	laid  []laidOp
	pairs []pair
	wet   []toClose
	did   map[string]bool
}

func newSeen() *seen { return &seen{acts: map[string][]*ledger.Act{}, did: map[string]bool{}} }

// once says whether something is to be looked up for the first time.
func (s *seen) once(what string) bool {
	first := !s.did[what]
	s.did[what] = true
	return first
}

// before is before of the note that is judged.
func (c Case) before(kinds ...string) []*ledger.Act {
	key := strings.Join(kinds, " ")
	if c.seen.once(key) {
		c.seen.acts[key] = before(c.Replay, c.Act, kinds...)
	}
	return c.seen.acts[key]
}

// andItself is before, and the note itself behind it.
func (c Case) andItself(kinds ...string) []*ledger.Act {
	return append(slices.Clip(c.before(kinds...)), c.Act)
}

// withResults are the kinds that hold checks.
var withResults = []string{"check", "finding", "work", "upkeep"}

// results returns the checks of an act by their words; no word: all.
func results(a *ledger.Act, words ...string) []format.Object {
	return slices.DeleteFunc(slices.Clone(ledger.Objects(a.Body["results"])), func(o format.Object) bool {
		return len(words) > 0 && !slices.Contains(words, text(o, "check"))
	})
}

// minutesBetween is how long after one act another happened, not less than 0. A
// note without a time stands at 12:00 of its day, by the clock of the other.
func minutesBetween(from, to *ledger.Act) int64 {
	a, b := momentOf(from), momentOf(to)
	if a.IsZero() {
		a = noon(from.Day(), b.Offset())
	}
	if b.IsZero() {
		b = noon(to.Day(), a.Offset())
	}
	return max(0, b.UTC()-a.UTC())
}

func momentOf(a *ledger.Act) day.Moment {
	m, err := day.ParseMoment(a.Text("happened"))
	if err != nil {
		return day.Moment{}
	}
	return m
}

// noon is 12:00 of a day.
func noon(d day.Day, offset int) day.Moment {
	m, err := day.ParseMoment(d.String() + "T12:00+00:00")
	if err != nil {
		return day.Moment{}
	}
	return day.MomentAt(m.UTC()-int64(offset), offset)
}

// sayHours says minutes as hours, to a tenth, rounded up: what is over a limit is
// said so.
func sayHours(minutes int64) string { return trimZeros((minutes+5)/6, 1) }

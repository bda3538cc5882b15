package rules

import (
	"fmt"
	"maps"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// Limits are the values of limits that the shop works by. The zero value has
// the usual ones.
type Limits struct {
	own map[string]string // by rule or check, as a terms file writes them
}

// UsualLimits are the usual ones.
func UsualLimits() Limits { return Limits{} }

// ownTerms is the source of a limit that the shop has set for itself.
const ownTerms = "terms of the shop"

// With returns the limits with one of them set, its values as a terms file
// writes them. The error says how they are written, or that no such limit can
// be set.
func (l Limits) With(rule, says string) (Limits, error) {
	t, ok := ledger.TermOf(rule)
	if !ok {
		return l, fmt.Errorf("no limit of %q can be set", rule)
	}
	numbers, err := t.Numbers(says)
	if err != nil {
		return l, fmt.Errorf("%s: %w", rule, err)
	}
	own := maps.Clone(l.own)
	if own == nil {
		own = map[string]string{}
	}
	own[rule] = says
	if usual, err := t.Numbers(t.Usual); err == nil && slices.Equal(numbers, usual) {
		delete(own, rule)
	}
	return Limits{own}, nil
}

// says is a limit as the terms file has it, and its source.
func (l Limits) says(t ledger.Term) (says, source string) {
	if own, ok := l.own[t.Rule]; ok {
		return own, ownTerms
	}
	return t.Usual, t.Source
}

// numbers are the values of a limit, as kept. With has read them before.
func (l Limits) numbers(rule string) []int64 {
	t, _ := ledger.TermOf(rule)
	says, _ := l.says(t)
	numbers, err := t.Numbers(says)
	if err != nil {
		return make([]int64, len(t.Parts))
	}
	return numbers
}

// used is a limit as it is written into an entry where it decided something.
func (l Limits) used(rule string) format.Object {
	t, _ := ledger.TermOf(rule)
	says, _ := l.says(t)
	return format.Object{"rule": rule, "says": says}
}

// passes is what a result of a check passes by: the shop's limit, or the one
// that no shop sets; nil where a rule, a sheet or an agreement decides.
func (l Limits) passes(w ledger.Word, result format.Object) *ledger.Passes {
	t, ok := ledger.TermOf(w.Name)
	if !ok {
		return w.Passes
	}
	says, source := l.says(t)
	if w.Name == "bite" {
		return l.leastLeg(result, source)
	}
	p, err := t.Passes(says, source)
	if err != nil {
		return w.Passes
	}
	return p
}

// leastLeg is the limit of a bite, which is never stored (ENTRIES 1): the leg
// that leaves the least bite behind the layers it only passes; nil where these
// were not measured.
func (l Limits) leastLeg(result format.Object, source string) *ledger.Passes {
	over, measured := object(result["values"])["over-layer"].(int64)
	if !measured {
		return nil
	}
	leg := over + l.leastBite(text(result, "fastener"))
	return &ledger.Passes{Quantity: "leg", AtLeast: &leg, Source: source}
}

// leastBite is the least bite of a fastener into solid, in micrometres: the
// first value for staple and nail, the second for screw and rivet. One that is
// not named is taken for a screw.
func (l Limits) leastBite(fastener string) int64 {
	numbers := l.numbers("bite")
	switch fastener {
	case "staple", "nail":
		return numbers[0]
	}
	return numbers[1]
}

// useLimit writes a limit into an act where it decided something, once.
func useLimit(a *ledger.Act, used format.Object) {
	list, _ := a.Body["limits"].(format.Array)
	if !slices.ContainsFunc(list, func(v format.Value) bool { return format.Same(v, used) }) {
		a.Body["limits"] = append(slices.Clip(list), used)
	}
}

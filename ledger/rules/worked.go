package rules

import (
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/place"
)

// Spots works out places of an act, each with its own layers or the usual ones.
// One that cannot be worked out yet is left out.
func Spots(r *ledger.Replay, a *ledger.Act, places []place.Place, usual []string) []Spot {
	out, _ := spots(r, a, places, usual)
	return out
}

// Spots works out where an operation was, in its layers.
func (op Op) Spots(r *ledger.Replay) []Spot { return op.spots(r) }

// ClosedByAnyone returns the operations of closed work that counts, of the house
// and of guests that it adopted, in the order of the chain.
func ClosedByAnyone(r *ledger.Replay) []Op {
	return closedBy(r, func(*ledger.Act) bool { return true })
}

// Serves says whether a place that was looked at serves a place of a line: by
// its name or element, else by holding it.
func Serves(looked, asked Spot) bool { return serves(looked, asked) }

// LeavesTrouble says whether a decision of this choice leaves a trouble where it
// is.
func LeavesTrouble(choice string) bool { return slices.Contains(settledBy, choice) }

package place

import (
	"errors"
	"fmt"
)

// ErrNoDeck says that the deck is not measured yet: what reaches all over, or
// to its edge, has no area and no distance until then.
var ErrNoDeck = errors.New("the deck is not measured yet")

// ErrNoRafters says that the rafters are not measured yet.
var ErrNoRafters = errors.New("the rafters are not measured yet")

// ErrNoName says that nothing is called so.
type ErrNoName struct{ Name string }

func (e ErrNoName) Error() string { return "nothing is called " + e.Name }

// ErrNoSuch says that there is no bay or rafter of that number; Last is the
// highest there is.
type ErrNoSuch struct {
	What         string // "bay" or "rafter"
	Number, Last int64
}

func (e ErrNoSuch) Error() string {
	return fmt.Sprintf("no %s %d: the last is %d", e.What, e.Number, e.Last)
}

// Deck is the roof deck as measured, mm: its length on the centreline and its
// full widths in front and at the rear.
type Deck struct{ Length, Front, Rear int64 }

// Opening is a fitting's hole as measured, mm: where its middle is, and its
// clear size along and across the coach, or its diameter.
type Opening struct {
	Part     string // which element it is: a word of the list elements
	Aft, Off int64
	Clear    [2]int64 // along, across
	Diameter int64    // 0: Clear says the size
}

// Naming is what a name was given to: a seam that was made. Then is what had
// been measured at that time, so that no later measure moves it; nil is the
// roof that asks.
type Naming struct {
	Places []Place
	Then   *Roof
}

// Roof is what had been measured when a place was said. Nil, empty and 0 are
// not measured. Rafters 1, 2, … stand at RaftersAt or at every RaftersEvery;
// where both are given, RaftersAt goes first. Rafter 0 is the front header, at
// 0.
type Roof struct {
	Deck         *Deck
	RaftersEvery int64
	RaftersAt    []int64
	Openings     map[string]Opening
	Names        map[string]Naming
}

// Outline returns the corners of the deck, clockwise from the front left. It
// answers ErrNoDeck or ErrMalformed.
func (r Roof) Outline() ([]Point, error) {
	o, err := r.outline()
	if err != nil {
		return nil, err
	}
	return []Point{{0, -o.front}, {0, o.front}, {o.length, o.rear}, {o.length, -o.rear}}, nil
}

func (r Roof) outline() (outline, error) {
	d := r.Deck
	if d == nil {
		return outline{}, ErrNoDeck
	}
	err := all(positive("deck length", d.Length), positive("front width", d.Front), positive("rear width", d.Rear))
	if err != nil {
		return outline{}, err
	}
	return outline{d.Length, half(d.Front), half(d.Rear)}, nil
}

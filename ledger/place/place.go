// Package place says where something is on a coach, works that out against
// what was measured, and reckons with the result: areas, distances, what holds
// what.
//
// A Place is what was said. A Roof is what had been measured. Roof.Work makes
// a Region of the two: cells on planes, in whole millimetres, exact.
//
// On the roof, aft is counted from the datum, the front edge of the roof deck
// on the centreline, and is negative forward of it; off is counted from the
// centreline, negative to the left as seen facing forward. A wall has along
// (aft on a side wall, off on an end wall) and down from the roof's edge; a
// slide-out has aft from its own front edge and out from the coach's side.
package place

import "fmt"

// Shape says how a place was said.
type Shape string

// The eight shapes.
const (
	Spot  Shape = "spot"  // the square about a point: Aft, Off, Radius
	Run   Shape = "run"   // a strip along or across: Aft, Off, Width
	Field Shape = "field" // a rectangle: Aft, Off
	Bay   Shape = "bay"   // between two rafters: Bay, Side
	Named Shape = "named" // an opening, a seam: Name, Skirt
	Part  Shape = "part"  // all of an element: Part, Number, Side, Width
	Wall  Shape = "wall"  // on a wall: Wall, Along, Down
	Slide Shape = "slide" // on a slide-out's roof: Slide, Aft, Out
)

// Side is a side of the roof, or one of the four walls.
type Side string

// The sides. Left and right are seen facing forward; Middle is a quarter of
// the width each side of the centreline.
const (
	Left   Side = "left"
	Middle Side = "middle"
	Right  Side = "right"
	Front  Side = "front"
	Rear   Side = "rear"
)

// Range is from one value to a larger one, mm; a single value when both are
// the same.
type Range struct{ From, To int64 }

// At returns the range that is the single value n.
func At(n int64) *Range { return &Range{n, n} }

// Over returns the range from one value to another.
func Over(from, to int64) *Range { return &Range{from, to} }

// Place is one place as it was said. A member that was not said is nil, empty
// or 0; which members a shape has stands beside Shape.
type Place struct {
	Shape  Shape
	Part   string   // which element is meant: a word of the list elements
	Layers []string // how deep, from outside in; none: as the defect or operation says

	Aft, Off *Range // spot: two single values; run: one range and one single value; field: nil reaches all over
	Radius   int64  // of a spot; 0: UsualRadius
	Width    int64  // of a run; of a part, 0: UsualStrip, for a rafter UsualRafter
	Bay      int64  // from 1
	Number   *int64 // of a rafter; 0 is the front header
	Side     Side   // of a bay or part: Left, Middle or Right; empty: full width
	Name     string // of an opening, a seam or another named place
	Skirt    *int64 // of a named place; nil: UsualSkirt round an opening, none round anything else
	Wall     Side   // Left, Right, Front or Rear
	Along    *Range // on a wall: aft on a side wall, off on an end wall
	Down     *Range // on a wall, from the roof's edge
	Slide    string // the name of the slide-out
	Out      *Range // on a slide-out, from the coach's side
}

// What a place has where nothing is said, mm (common practice, no source).
const (
	UsualRadius int64 = 25
	UsualSkirt  int64 = 75
	UsualStrip  int64 = 75
	UsualRafter int64 = 60
)

// Farthest is the largest number of millimetres a place or measure may have:
// one kilometre, so that no sum of hostile numbers runs over.
const Farthest int64 = 1_000_000

// ErrMalformed says that a place or measure is not one that can be worked out,
// whatever was measured.
type ErrMalformed struct{ What string }

func (e ErrMalformed) Error() string { return "not a place: " + e.What }

// Check answers ErrMalformed unless the place has the members its shape needs,
// its ranges begin with the smaller number, and no number lies beyond
// Farthest. Members that its shape does not have are not looked at.
func (p Place) Check() error {
	switch p.Shape {
	case Spot:
		return all(single("aft", p.Aft), single("off", p.Off), length("radius", p.Radius))
	case Run:
		if p.Aft != nil && p.Aft.single() {
			return all(single("aft", p.Aft), stretch("off", p.Off), positive("width", p.Width))
		}
		return all(stretch("aft", p.Aft), single("off", p.Off), positive("width", p.Width))
	case Field:
		return all(maybe("aft", p.Aft), maybe("off", p.Off))
	case Bay:
		return all(positive("bay", p.Bay), third(p.Side))
	case Named:
		return all(said("name", p.Name), atLeast0("skirt", p.Skirt))
	case Part:
		return all(said("part", p.Part), atLeast0("number", p.Number), length("width", p.Width), third(p.Side))
	case Wall:
		switch p.Wall {
		case Left, Right, Front, Rear:
			return all(stretch("along", p.Along), stretch("down", p.Down), below("down", p.Down))
		}
		return ErrMalformed{fmt.Sprintf("wall %q", p.Wall)}
	case Slide:
		return all(said("slide", p.Slide), stretch("aft", p.Aft), stretch("out", p.Out), below("out", p.Out))
	}
	return ErrMalformed{fmt.Sprintf("shape %q", p.Shape)}
}

func (r Range) single() bool { return r.From == r.To }

// all is the first of several errors.
func all(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func near(n int64) bool { return -Farthest <= n && n <= Farthest }

func single(what string, r *Range) error {
	if r == nil || !r.single() || !near(r.From) {
		return ErrMalformed{what + " is no single number"}
	}
	return nil
}

func stretch(what string, r *Range) error {
	if r == nil || r.From >= r.To || !near(r.From) || !near(r.To) {
		return ErrMalformed{what + " is no range"}
	}
	return nil
}

func maybe(what string, r *Range) error {
	if r == nil {
		return nil
	}
	return stretch(what, r)
}

func below(what string, r *Range) error {
	if r == nil || r.From < 0 {
		return ErrMalformed{what + " is below 0"}
	}
	return nil
}

func length(what string, n int64) error {
	if n < 0 || n > Farthest {
		return ErrMalformed{fmt.Sprintf("%s %d", what, n)}
	}
	return nil
}

func positive(what string, n int64) error {
	if n == 0 {
		return ErrMalformed{what + " not said"}
	}
	return length(what, n)
}

func atLeast0(what string, n *int64) error {
	if n == nil {
		return nil
	}
	return length(what, *n)
}

func said(what, text string) error {
	if text == "" {
		return ErrMalformed{what + " not said"}
	}
	return nil
}

func third(s Side) error {
	switch s {
	case "", Left, Middle, Right:
		return nil
	}
	return ErrMalformed{fmt.Sprintf("side %q", s)}
}

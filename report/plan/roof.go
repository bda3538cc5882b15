package plan

import "lapmark/ledger/place"

// Roof is what was measured of the deck: its length and its width at the front
// and the rear edge in millimetres, the rafters' stations in millimetres aft
// (rafter 1 first), the openings and the seams. Between front and rear the
// sides are straight, so a deck may taper.
type Roof struct {
	Length, Front, Rear int64
	Rafters             []int64
	Openings            []Opening
	Seams               []Seam
}

// Opening is a hole in the deck: its name ("R1"), what it is in words
// ("refrigerator vent, left") and its clear size. A round one fills Clear as
// the largest circle about its middle.
type Opening struct {
	Name, Says string
	Clear      place.Rect
	Round      bool
}

// Seam is a weld or seam, drawn dotted along the middle of its rectangle.
type Seam struct {
	Name, Says string
	Rect       place.Rect
}

// Hatch says which layer a promise lies in: the direction, pitch and pen of
// the lines that stand for it.
type Hatch int

// The five hatches.
const (
	// Skin is the field of the weather skin: rising lines, wide apart.
	Skin Hatch = iota
	// SkinNarrow is a narrow place of the weather skin, a fitting, an edge or
	// a tie-in: rising lines, close together.
	SkinNarrow
	// Bond is the deck and its core: falling lines.
	Bond
	// Frame is a member of the frame: lines across.
	Frame
	// Lining is the inside: dotted lines along.
	Lining
)

// Cover is one line of a warranty on the plan: its number, its hatch, and what
// it reaches as rectangles that do not overlap. Members says that the regions
// are bars of the frame, which are drawn at least 0.8 mm wide on paper.
type Cover struct {
	Line    int
	Hatch   Hatch
	Regions []place.Rect
	Members bool
}

// Trouble is a known trouble that was left as it is; it is drawn crossed. One
// that bears the name of an opening crosses that opening.
type Trouble struct {
	Name string
	Rect place.Rect
}

// Spot is a place that is explained in words beside the deck.
type Spot struct {
	Rect place.Rect
	Says string
}

// Statement is what stands in an empty part of the deck: a bold sentence and,
// under it, a plain one. Each string is broken into rows as needed.
type Statement struct {
	Rect        place.Rect
	Bold, Plain []string
}

// Input is all that a certificate's plan shows.
type Input struct {
	Roof   Roof
	Covers []Cover
	// Left are troubles left as they are: crossed.
	Left []Trouble
	// Margins are the places that keep a distance of Margin millimetres; one
	// dashed outline runs round all of them together.
	Margins []place.Rect
	Margin  int64
	// Reasons are places closed with a reason: solid black, with a leader.
	Reasons []Spot
	// Notes are places that only get a leader with their words.
	Notes []Spot
	// Empty are the statements in parts that no line reaches.
	Empty []Statement
	// Borders are the aft stations written on the left, the main one first. One
	// nearer than 4 mm on paper to an earlier one, or to an end, is left out.
	Borders []int64
}

// longest is the longest and widest deck that is drawn.
const longest = 100_000

// sound says whether the deck has a length and widths that can be drawn.
func (r Roof) sound() bool {
	return min(r.Length, r.Front, r.Rear) > 0 && max(r.Length, r.Front, r.Rear) <= longest
}

// opening says whether an opening bears this name.
func (r Roof) opening(name string) bool {
	for _, o := range r.Openings {
		if o.Name == name {
			return true
		}
	}
	return false
}

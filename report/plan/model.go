// Package plan draws the roof of a coach, front up, true to scale: one drawing
// of plain primitives that every renderer prints alike.
package plan

// Unit is a length on paper, in whole hundredths of a millimetre.
type Unit int64

// Point is a place on paper: X to the right, Y down, from the upper left
// corner of the drawing.
type Point struct{ X, Y Unit }

// Pen is how a line is drawn: its width, and the lengths of dash and gap in
// turn (none: a whole line).
type Pen struct {
	Width Unit
	Dash  []Unit
}

// Fill is what closes a shape.
type Fill int

// The two fills and none.
const (
	NoFill Fill = iota
	White
	Black
)

// Anchor says which end of a text stands at its point.
type Anchor int

// The three anchors of a text.
const (
	AtLeft Anchor = iota
	AtMiddle
	AtRight
)

// Mark is one primitive of a drawing: Line, Polyline, Box, Circle or Words.
type Mark interface{ mark() }

// Line is a straight line.
type Line struct {
	From, To Point
	Pen      Pen
}

// Polyline is a line through several points, closed or not.
type Polyline struct {
	Points []Point
	Closed bool
	Pen    Pen
	Fill   Fill
}

// Box is a rectangle from its upper left corner. A pen of width 0 draws no
// border.
type Box struct {
	At            Point
	Width, Height Unit
	Pen           Pen
	Fill          Fill
}

// Circle is a circle about its middle.
type Circle struct {
	Middle Point
	Radius Unit
	Pen    Pen
	Fill   Fill
}

// Words is one line of text on its base line. Size is the type size in
// hundredths of a millimetre (9.5 pt = 335).
type Words struct {
	At     Point
	Text   string
	Size   Unit
	Anchor Anchor
	Bold   bool
	Mono   bool
}

func (Line) mark()     {}
func (Polyline) mark() {}
func (Box) mark()      {}
func (Circle) mark()   {}
func (Words) mark()    {}

// Drawing is a finished picture: marks in the order they are drawn, and the
// two sentences that say the same for who cannot see it.
type Drawing struct {
	Width, Height Unit
	Marks         []Mark
	Title, Says   string
}

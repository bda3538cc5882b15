package pdf

import "lapmark/report"

// Lengths in mm unless a name says points. Sizes and distances are our own,
// tried in print.
const (
	point = 25.4 / 72

	// The text block; the sheet only moves it.
	blockWidth  = 178.0
	blockHeight = 260.0

	headGap = 3.4 // under the head line
	planGap = 2.2 // above a plan
	footGap = 1.6 // above the foot box
	lowGap  = 6.0 // under a section at the lower edge

	thickRule = 0.9
	frameRule = 0.35
	tableRule = 0.25
	thinRule  = 0.2

	paragraphGap = 1.4
	itemGap      = 0.7
	headingGap   = 3.0
	underHeading = 1.2
	cellGap      = 3.0
	linesGap     = 2.0
	legendGap    = 1.0
	legendRow    = 0.4
	tick         = 2.6
	tickGap      = 0.9
	tickApart    = 2.6
	penRow       = 7.0
	pictureWidth = 56.0
)

// typeface is a size of type with its leading, in points.
type typeface struct{ size, leading float64 }

// The sizes of type. Nothing is smaller than base.
var (
	base      = typeface{9.5, 12.6}
	lead      = typeface{13, 17.4}
	headSize  = typeface{11.5, 14}
	shopSize  = typeface{11, 12.6}
	titleSize = typeface{25, 29}
	footSize  = typeface{9.5, 11.6}
)

// height is one line in mm.
func (t typeface) height() float64 { return t.leading * point }

// baseline is how far the base line lies below the top of a line, in mm: the
// line's middle and a third of the size.
func (t typeface) baseline() float64 { return (t.leading/2 + t.size*0.365) * point }

// faceOf is the face of a style, where plain type is set in plain.
func faceOf(s report.Style, plain face) face {
	switch s {
	case report.Bold:
		return bold
	case report.Italic:
		return italic
	case report.Mono:
		return mono
	}
	return plain
}

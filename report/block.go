package report

import "lapmark/report/plan"

// Style is how a span is set in type.
type Style int

// The four styles. Bold is for what is answered, italic for labels and for
// whose hand it was, mono for VIN, serial, head code and keys.
const (
	Plain Style = iota
	Bold
	Italic
	Mono
)

// Span is a piece of text in one style. U+00A0 in it keeps two words on one
// line.
type Span struct {
	Text  string
	Style Style
	// Right sets the span at the right edge of its line; the line ends there.
	Right bool
	// Tick puts an empty box, to be ticked by pen, before the span.
	Tick bool
	// PageOf names a section: where there are pages, the number of the one it
	// begins on stands instead of the text.
	PageOf string
}

// Column says where in its section a block stands: over the full width, or in
// one of the section's columns.
type Column int

// The places of a block. In a section that flows the columns fill by
// themselves.
const (
	Full Column = iota
	First
	Second
	Third
)

// Place is what every block carries: its column, and whether it may be split
// between two columns or pages. What is never split keeps its room on the
// page; what may be split beside it gives way.
type Place struct {
	Column Column
	Whole  bool
}

// Block is one of the seven: Heading, Paragraph, List, Table, Plan, Picture,
// Note.
type Block interface{ place() Place }

func (p Place) place() Place { return p }

// Where is the place of a block.
func Where(b Block) Place { return b.place() }

// Heading is the title of the paper, or the head of a part of it.
type Heading struct {
	Place
	Spans []Span
	// Title is set once: the title of the paper.
	Title bool
	// Ruled draws the thick rule above the heading.
	Ruled bool
}

// Paragraph is running text.
type Paragraph struct {
	Place
	Spans []Span
	// Lead is the headline of the paper, in larger type.
	Lead bool
}

// List is a list of items, numbered or not.
type List struct {
	Place
	Items    [][]Span
	Numbered bool
}

// Rules says which rules a table has.
type Rules int

// The rules of a table: a thin one above each row, one above the first and one
// below the last row, or none.
const (
	RuledRows Rules = iota
	RuledAround
	Unruled
)

// Width is the width of a table column in hundredths of a millimetre, or one
// of Natural and Rest.
type Width = plan.Unit

// Natural is as wide as its widest cell; Rest shares what the others leave.
const (
	Natural Width = 0
	Rest    Width = -1
)

// Cell is one cell of a table.
type Cell struct {
	Spans []Span
	// Drawing stands in the cell instead of the spans, which say the same for
	// a reader who cannot see it.
	Drawing *plan.Drawing
	// ByPen makes the cell an empty ruled line; its spans are printed on it.
	ByPen bool
}

// Table is rows of cells. A row with fewer cells than columns stretches its
// last cell over the rest. Rows are never split.
type Table struct {
	Place
	Columns []Width
	Head    []Cell
	Rows    [][]Cell
	Rules   Rules
	// Abreast sets short rows two abreast where the table has the full width.
	Abreast bool
	// More stands where the table breaks off, Again above the part that
	// goes on elsewhere.
	More, Again []Span
}

// Plan is a drawing of the roof. Listed says the same as a list, for a reader
// who cannot see it.
type Plan struct {
	Place
	Drawing plan.Drawing
	Listed  []string
}

// Picture is a photograph, 56 mm wide. Says is read where there is no picture.
type Picture struct {
	Place
	JPEG    []byte
	Says    string
	Caption []Span
}

// Note is a remark set off by a thin rule above. In a section at the lower
// edge of its page the last note stands on that edge.
type Note struct {
	Place
	Spans []Span
}

// Section is a part of a paper with one arrangement of columns.
type Section struct {
	// Name is what a span says the page of it by.
	Name   string
	Blocks []Block
	// Columns are the widths, Gap the room between them; none: one column
	// over the full width.
	Columns []plan.Unit
	Gap     plan.Unit
	// Flow lets the blocks fill one column after the other.
	Flow bool
	// Low sets the section at the lower edge of its page, at least so high.
	Low plan.Unit
	// NewPage begins a page. Head is the head line of that page and of the
	// pages after it; empty: the name of the paper.
	NewPage bool
	Head    string
	// Short stands instead of Blocks where these leave no room on the page for
	// the section at its lower edge that comes next; Apart then follows that
	// one on a page of its own.
	Short, Apart []Block
}

// FootCell is one cell of the foot box: a label in italics and what it says.
type FootCell struct {
	Label string
	Says  []Span
}

// Furniture is what stands on every page beside the blocks: the head line,
// and the foot box like the title block of a drawing.
type Furniture struct {
	// Shop and Desk are the head line of page one, left and right; Name and
	// Mark that of later pages. Mark is the VIN or serial.
	Shop, Desk, Name, Mark string
	// Foot are the cells before the last one, which counts the pages.
	Foot []FootCell
	// Page is the label of the page cell, Of stands between its two numbers.
	Page, Of string
}

// Paper is a whole paper in reading order.
type Paper struct {
	Title, Language string
	Furniture       Furniture
	Sections        []Section
}

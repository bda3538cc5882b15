package pdf

import (
	"bytes"
	"strings"

	"github.com/go-pdf/fpdf"

	"lapmark/report/plan"
)

// canvas draws on the sheets of a document. Places are in mm from the upper
// left corner of the text block.
type canvas struct {
	doc         *fpdf.Fpdf
	left, top   float64
	face        face
	size        float64
	loaded      [faces]bool
	pen         float64
	dashed      bool
	whiteFilled bool
	meter       *meter
	pictures    map[string]bool
	err         error
}

// newSheet begins a page; what was set for lines and type is set anew on it.
func (c *canvas) newSheet() {
	c.doc.AddPage()
	c.size, c.pen = 0, 0
}

// line draws a set line whose top is at y.
func (c *canvas) line(x, y float64, l line, t typeface) {
	baseline := y + t.baseline()
	for _, r := range l.runs {
		if r.tick {
			c.box(x+r.x, baseline-tick+0.3, tick, tick, thinRule)
			continue
		}
		c.text(x+r.x, baseline, r.face, r.size, r.text)
	}
}

// text draws a text of one face on its base line.
func (c *canvas) text(x, baseline float64, f face, size float64, text string) {
	c.use(f)
	if c.face != f || c.size != size {
		c.doc.SetFont(f.family(), "", size)
		c.face, c.size = f, size
	}
	c.doc.Text(c.left+x, c.top+baseline, drawn.Replace(text))
}

// use puts a face into the document. fpdf writes into the bytes it is given
// and does not report a font it cannot read: the clone keeps the fonts whole.
func (c *canvas) use(f face) {
	if c.loaded[f] {
		return
	}
	c.loaded[f] = true
	c.doc.AddUTF8FontFromBytes(f.family(), "", bytes.Clone(f.ttf()))
}

// stroke sets the pen.
func (c *canvas) stroke(width float64, dash []plan.Unit) {
	if c.pen != width {
		c.doc.SetLineWidth(width)
		c.pen = width
	}
	if len(dash) == 0 && !c.dashed {
		return
	}
	pattern := make([]float64, len(dash))
	for i, d := range dash {
		pattern[i] = mm(d)
	}
	c.doc.SetDashPattern(pattern, 0)
	c.dashed = len(dash) > 0
}

// rule is a level line.
func (c *canvas) rule(x, y, width, pen float64) {
	c.stroke(pen, nil)
	c.doc.Line(c.left+x, c.top+y, c.left+x+width, c.top+y)
}

// upright is a line going down.
func (c *canvas) upright(x, y, height, pen float64) {
	c.stroke(pen, nil)
	c.doc.Line(c.left+x, c.top+y, c.left+x, c.top+y+height)
}

// frame is the border of the foot box, its pen within the box.
func (c *canvas) frame(x, y, width, height float64) {
	c.box(x, y, width, height, frameRule)
}

// box is an empty rectangle, its pen within it.
func (c *canvas) box(x, y, width, height, pen float64) {
	c.stroke(pen, nil)
	c.doc.Rect(c.left+x+pen/2, c.top+y+pen/2, width-pen, height-pen, "D")
}

// drawn is a text as it is drawn: no-break spaces as spaces, and without the
// joiners of a slip, which draw nothing.
var drawn = strings.NewReplacer("\u00a0", " ", "\u200c", "", "\u200d", "")

package pdf

import (
	"github.com/go-pdf/fpdf"

	"lapmark/report/plan"
)

// drawing draws a plan or a sample at its true size.
func (c *canvas) drawing(d plan.Drawing, x, y float64) {
	for _, mark := range d.Marks {
		switch m := mark.(type) {
		case plan.Line:
			c.stroke(mm(m.Pen.Width), m.Pen.Dash)
			c.doc.Line(c.left+x+mm(m.From.X), c.top+y+mm(m.From.Y), c.left+x+mm(m.To.X), c.top+y+mm(m.To.Y))
		case plan.Polyline:
			c.polyline(m, x, y)
		case plan.Box:
			if how := c.shape(m.Pen, m.Fill); how != "" {
				c.doc.Rect(c.left+x+mm(m.At.X), c.top+y+mm(m.At.Y), mm(m.Width), mm(m.Height), how)
			}
		case plan.Circle:
			if how := c.shape(m.Pen, m.Fill); how != "" {
				c.doc.Circle(c.left+x+mm(m.Middle.X), c.top+y+mm(m.Middle.Y), mm(m.Radius), how)
			}
		case plan.Words:
			c.words(m, x, y)
		}
	}
	c.stroke(c.pen, nil)
	c.fill(plan.Black)
}

// shape sets pen and fill, and says how fpdf draws a shape with them.
func (c *canvas) shape(pen plan.Pen, fill plan.Fill) string {
	how := ""
	if pen.Width > 0 {
		c.stroke(mm(pen.Width), pen.Dash)
		how = "D"
	}
	if fill != plan.NoFill {
		c.fill(fill)
		how = "F" + how
	}
	return how
}

func (c *canvas) fill(f plan.Fill) {
	if white := f == plan.White; white != c.whiteFilled {
		shade := 0
		if white {
			shade = 255
		}
		c.doc.SetFillColor(shade, shade, shade)
		c.whiteFilled = white
	}
}

func (c *canvas) polyline(m plan.Polyline, x, y float64) {
	how := c.shape(m.Pen, m.Fill)
	if how == "" || len(m.Points) < 2 {
		return
	}
	points := make([]fpdf.PointType, len(m.Points))
	for i, p := range m.Points {
		points[i] = fpdf.PointType{X: c.left + x + mm(p.X), Y: c.top + y + mm(p.Y)}
	}
	if m.Closed {
		c.doc.Polygon(points, how)
		return
	}
	c.doc.MoveTo(points[0].X, points[0].Y)
	for _, p := range points[1:] {
		c.doc.LineTo(p.X, p.Y)
	}
	c.doc.DrawPath(how)
}

// words draws one line of text at its anchor.
func (c *canvas) words(m plan.Words, x, y float64) {
	f := regular
	switch {
	case m.Mono:
		f = mono
	case m.Bold:
		f = bold
	}
	size := mm(m.Size) / point
	s := &setter{meter: c.meter}
	l := line{}
	w := word{}
	s.extend(&w, f, m.Text, typeface{size, size}, false)
	l.add(w)
	switch m.Anchor {
	case plan.AtMiddle:
		l.shift(-l.width / 2)
	case plan.AtRight:
		l.shift(-l.width)
	case plan.AtLeft:
	}
	if s.err != nil && c.err == nil {
		c.err = s.err
	}
	c.fill(plan.Black)
	for _, r := range l.runs {
		c.text(x+mm(m.At.X)+r.x, y+mm(m.At.Y), r.face, r.size, r.text)
	}
}

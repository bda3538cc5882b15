package plan

import (
	"bytes"
	"encoding/xml"
	"fmt"
)

// SVG returns the drawing as an SVG picture in millimetres, with its two
// sentences as title and description.
func SVG(d Drawing) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%smm" height="%smm" role="img" fill="none" stroke="none" font-family="Go, 'Liberation Sans', sans-serif">`,
		d.Width, d.Height, d.Width, d.Height)
	fmt.Fprintf(&b, "\n<title>%s</title><desc>%s</desc>\n", escaped(d.Title), escaped(d.Says))
	for _, m := range d.Marks {
		svgMark(&b, m)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// String returns the length in millimetres, as SVG writes it.
func (u Unit) String() string {
	s := ""
	if u < 0 {
		s, u = "-", -u
	}
	return fmt.Sprintf("%s%d.%02d", s, u/100, u%100)
}

func escaped(s string) string {
	var b bytes.Buffer
	// A bytes.Buffer takes every write.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}

func svgMark(b *bytes.Buffer, m Mark) {
	switch m := m.(type) {
	case Line:
		fmt.Fprintf(b, `<path d="M%s %sL%s %s"%s/>`, m.From.X, m.From.Y, m.To.X, m.To.Y, paint(m.Pen, NoFill))
	case Polyline:
		b.WriteString(`<path d="`)
		for i, p := range m.Points {
			fmt.Fprintf(b, "%c%s %s", "ML"[min(i, 1)], p.X, p.Y)
		}
		if m.Closed {
			b.WriteByte('Z')
		}
		fmt.Fprintf(b, `"%s/>`, paint(m.Pen, m.Fill))
	case Box:
		fmt.Fprintf(b, `<rect x="%s" y="%s" width="%s" height="%s"%s/>`, m.At.X, m.At.Y, m.Width, m.Height, paint(m.Pen, m.Fill))
	case Circle:
		fmt.Fprintf(b, `<circle cx="%s" cy="%s" r="%s"%s/>`, m.Middle.X, m.Middle.Y, m.Radius, paint(m.Pen, m.Fill))
	case Words:
		fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" fill="#000"%s>%s</text>`, m.At.X, m.At.Y, m.Size, letter(m), escaped(m.Text))
	}
	b.WriteByte('\n')
}

// paint returns the attributes of a pen and a fill.
func paint(p Pen, f Fill) string {
	s := ""
	switch f {
	case White:
		s = ` fill="#fff"`
	case Black:
		s = ` fill="#000"`
	case NoFill:
	}
	if p.Width <= 0 {
		return s
	}
	s += fmt.Sprintf(` stroke="#000" stroke-width="%s"`, p.Width)
	for i, d := range p.Dash {
		if i == 0 {
			s += ` stroke-dasharray="`
		}
		s += d.String()
		if i < len(p.Dash)-1 {
			s += " "
		} else {
			s += `"`
		}
	}
	return s
}

// letter returns the attributes of a line of text.
func letter(w Words) string {
	s := ""
	switch w.Anchor {
	case AtMiddle:
		s += ` text-anchor="middle"`
	case AtRight:
		s += ` text-anchor="end"`
	case AtLeft:
	}
	if w.Bold {
		s += ` font-weight="700"`
	}
	if w.Mono {
		s += ` font-family="'Go Mono', 'Liberation Mono', monospace"`
	}
	return s
}

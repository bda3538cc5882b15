package plan

import "fmt"

// Legend explains what occurs on a plan: at most six samples. Names is the list
// of what stands beside the deck by its short name alone, in the order from
// front to rear; it has to be printed below the plan. It is empty where the
// names stand beside the deck in full.
type Legend struct {
	Samples []Sample
	Names   []string
}

// Sample is one way of drawing, 9 × 4.4 mm, and what it says.
type Sample struct {
	Drawing Drawing
	Says    string
}

// The sizes of the samples of a legend and of a list of lines.
const (
	sampleWide, sampleTall Unit = 900, 440
	swatchWide, swatchTall Unit = 1100, 620
)

// legend returns what occurs on this plan.
func (d *draught) legend() Legend {
	l := Legend{Names: d.long}
	add := func(occurs bool, says string, m ...Mark) {
		if occurs {
			l.Samples = append(l.Samples, Sample{Drawing{Width: sampleWide, Height: sampleTall, Marks: m, Title: says}, says})
		}
	}
	frame := box{0, 0, sampleWide, sampleTall}.grown(-13)
	add(len(d.in.Empty) > 0, "empty: nothing is promised here", frame.mark(borderPen, White))
	add(len(d.in.Left) > 0, "crossed: known trouble, left by the holder", frame.mark(borderPen, White),
		Line{Point{frame.left, frame.top}, Point{frame.right, frame.bottom}, crossPen},
		Line{Point{frame.left, frame.bottom}, Point{frame.right, frame.top}, crossPen})
	add(len(d.in.Margins) > 0, fmt.Sprintf("long dashes: %d mm round such a trouble", d.in.Margin), frame.mark(ringPen, White))
	level := func(p Pen) Line { return Line{Point{0, sampleTall / 2}, Point{sampleWide, sampleTall / 2}, p} }
	add(len(d.in.Roof.Seams) > 0, "dotted: weld or seam", level(seamPen))
	middle := box{}.atLeast(leastSpot, leastSpot).moved(sampleWide/2, sampleTall/2)
	add(len(d.in.Reasons) > 0, "black: closed with a reason", middle.mark(Pen{}, Black))
	add(len(d.rafters()) > 0, "thin dashes: rafter. Numbers left: bays, mm aft", level(rafterPen))
	return l
}

// Swatch returns the sample of a hatch for a list of lines, 11 × 6.2 mm. The
// lines of the frame are drawn twice as far apart as on the plan.
func Swatch(h Hatch) Drawing {
	frame := box{0, 0, swatchWide, swatchTall}.grown(-13)
	t := h.texture()
	if h == Frame {
		t.step *= 2
	}
	marks := []Mark{frame.mark(Pen{}, White)}
	marks = append(marks, hatched(t, Point{}, []box{frame}, nil, holes{})...)
	marks = append(marks, frame.mark(borderPen, NoFill))
	return Drawing{Width: swatchWide, Height: swatchTall, Marks: marks, Title: "Sample of a hatch", Says: h.says()}
}

// says names the layer a hatch stands for.
func (h Hatch) says() string {
	switch h {
	case SkinNarrow:
		return "Rising lines, close together: weather skin at fittings, edges or a tie-in."
	case Bond:
		return "Falling lines: deck and core."
	case Frame:
		return "Lines across: frame."
	case Lining:
		return "Dotted lines along: inside, lining."
	default:
		return "Rising lines: weather skin, the field."
	}
}

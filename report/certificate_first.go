package report

import (
	"fmt"
	"strconv"
	"strings"

	"lapmark/report/plan"
)

// first are the blocks of page one.
func (p *printer) first() []Block {
	f := p.f
	blocks := []Block{
		Heading{Title: true, Spans: plainly(p.get("title"))},
		Paragraph{Lead: true, Spans: marked(p.get("headline"),
			marking{p.units(f.RegionWords), Bold}, marking{"until " + f.longest().Long(), Bold}, marking{p.units(f.complement()), Bold})},
	}
	if f.Guest != nil {
		blocks = append(blocks, Paragraph{Spans: plainly(p.get("guest-promise") + " " + p.get("guest-paper"))})
	}
	blocks = append(blocks,
		p.facts(),
		Plan{Place: Place{Column: First, Whole: true}, Drawing: f.RoofPlan, Listed: f.PlanList},
		Heading{Place: Place{Column: Second}, Spans: plainly(p.get("head-in"))},
		p.lines(),
		Heading{Place: Place{Column: Second, Whole: true}, Ruled: true, Spans: plainly(p.get("head-out"))},
		List{Place: Place{Column: Second, Whole: true}, Items: p.notIn()})
	if legend := p.legend(); len(legend.Rows) > 0 {
		blocks = append(blocks, legend)
	}
	if len(f.PlanNames) > 0 {
		blocks = append(blocks, Paragraph{Place: Place{Whole: true}, Spans: plainly(strings.Join(f.PlanNames, "; "))})
	}
	return blocks
}

// facts is the table under the headline.
func (p *printer) facts() Table {
	f := p.f
	holder := holderSays(f.Copy, f.HolderName, p.get)
	rows := [][]Cell{
		{label("coach"), cell(f.Coach.says()), label("certificate"), {Spans: []Span{
			{Text: unbroken(f.Number), Style: Bold}, {Text: Bind(", " + p.get("given"))},
		}}},
		{f.Coach.markLabel(), f.Coach.markCell(), label("first day"), cell(p.get("first-day"))},
		{label("holder"), cell(holder), label("for"), cell(p.get("for"))},
	}
	stands := append(p.some("beside", len(f.Beside)), p.some("instead", len(f.InsteadOf))...)
	for _, s := range stands {
		rows = append(rows, []Cell{label("stands"), cell(s)})
	}
	return Table{Columns: []Width{Natural, Rest, Natural, Rest}, Rows: rows, Rules: RuledAround}
}

// holderSays names the holder on his own copy, as far as his name is at hand,
// and says which of the two copies this is.
func holderSays(c Copy, name string, get func(key string) string) string {
	if c != OwnCopy {
		return get("pass-on")
	}
	says := Fill(get("own"), "holder-name", name, "name", name)
	return strings.TrimPrefix(says, ". ")
}

// lines is the table of what is in the warranty.
func (p *printer) lines() Table {
	t := Table{
		Place: Place{Column: Second}, Columns: []Width{tagWidth, swatchWidth, Rest},
		More: []Span{{Text: p.get("more-lines"), Style: Italic}}, Again: []Span{{Text: p.get("again-lines"), Style: Bold}},
	}
	for _, l := range p.f.Lines {
		key := fmt.Sprintf("line-%d", l.Number)
		tag, swatch := tagDrawing(strconv.Itoa(l.Number)), l.Swatch
		t.Rows = append(t.Rows, []Cell{
			{Drawing: &tag, Spans: []Span{{Text: strconv.Itoa(l.Number) + ".", Style: Bold}}},
			{Drawing: &swatch},
			{Spans: []Span{
				{Text: Bind(p.get(key + "-name")), Style: Bold},
				{Text: unbroken(p.get(key + "-until")), Style: Bold, Right: true},
				{Text: Bind(p.get(key))},
			}},
		})
	}
	return t
}

// Widths of the two columns before a line's words, gaps not counted.
const (
	tagWidth    Width = 440
	swatchWidth Width = 1100
)

// tagDrawing is the number of a line in a square, as on the plan.
func tagDrawing(says string) plan.Drawing {
	side := plan.Unit(440)
	wide := side + plan.Unit(len(says)-1)*80
	return plan.Drawing{Width: wide, Height: side, Title: says, Says: says, Marks: []plan.Mark{
		plan.Box{At: plan.Point{X: 15, Y: 15}, Width: wide - 30, Height: side - 30, Pen: plan.Pen{Width: 30}},
		plan.Words{At: plan.Point{X: wide / 2, Y: 338}, Text: says, Size: 335, Anchor: plan.AtMiddle, Bold: true},
	}}
}

// notIn are the items of what is not in the warranty. What was not looked at
// stands with the place it speaks of.
func (p *printer) notIn() [][]Span {
	f := p.f
	complement := p.opt("complement")
	if f.ComplementPlaces != "" {
		complement = p.get("complement")
	}
	looked := strings.Join(p.some("not-looked", len(f.NotLooked)), " ")
	texts := []string{strings.TrimSpace(complement + " " + looked)}
	texts = append(texts, p.some("left", len(leftTogether(f.Left)))...)
	texts = append(texts, p.some("own-work", len(f.OwnWork))...)
	texts = append(texts, p.some("another-shop", len(f.AnotherShop))...)
	if implied := p.each("implied"); len(implied) > 0 {
		texts = append(texts, strings.TrimSpace(strings.Join(implied, " ")+" "+p.under(US, "us-implied")))
	}
	return items(append(texts, p.get("further-out")))
}

// legend are the sentences on the plan's samples, each with the sample that
// says the same; one whose sample is not drawn stands alone.
func (p *printer) legend() Table {
	t := Table{Place: Place{Whole: true}, Columns: []Width{sampleWidth, Rest}, Rules: Unruled, Abreast: true}
	for _, says := range p.some("legend", len(p.f.Legend)) {
		row := []Cell{{}, cell(says)}
		for _, l := range p.f.Legend {
			if p.units(l.Says) == says {
				row[0].Drawing = &l.Sample
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// sampleWidth is the width of a sample in the legend.
const sampleWidth Width = 900

package report

// nextHand are the blocks of the half page for the next hand on this roof.
func (p *printer) nextHand() []Block {
	f := p.f
	_, mark := f.Coach.mark()
	away := p.some("keep-away", len(f.Next.KeepAway))
	if len(away) == 0 {
		away = []string{p.get("keep-away-none")}
	}
	return []Block{
		Heading{Ruled: true, Spans: []Span{
			{Text: Bind(p.get("head-next"))},
			{Text: unbroken(f.Coach.Builder+" "+f.Coach.Model) + ", ", Right: true},
			{Text: mark, Style: Mono, Right: true},
		}},
		labelled(First, p.get("next-lies")),
		p.lies(),
		labelled(Second, p.get("next-mark")),
		Plan{Place: Place{Column: Second, Whole: true}, Drawing: f.Next.Bare},
		labelled(Third, p.get("next-done")),
		byPen(),
		labelled(Third, p.get("next-away")),
		List{Place: Place{Column: Third}, Items: items(away)},
		Note{Spans: marked(p.get("next-hand"), marking{"No program and no account is needed.", Bold})},
	}
}

// labelled is a small heading in italics over a column.
func labelled(c Column, text string) Paragraph {
	return Paragraph{Place: Place{Column: c}, Spans: []Span{{Text: Bind(text), Style: Italic}}}
}

// lies is the table of what lies here.
func (p *printer) lies() Table {
	t := Table{Place: Place{Column: First}, Columns: []Width{Natural, Rest}}
	for _, r := range p.f.Next.rows() {
		t.Rows = append(t.Rows, []Cell{cell(r.label), cell(p.get("next-" + r.key))})
	}
	return t
}

// byPen are the lines to be filled in by pen.
func byPen() Table {
	line := func(spans ...Span) []Cell { return []Cell{{ByPen: true, Spans: spans}} }
	tick := func(words ...string) []Cell {
		var spans []Span
		for _, w := range words {
			spans = append(spans, Span{Text: unbroken(w), Tick: true})
		}
		return line(spans...)
	}
	into := tick("face", "skin", "deck", "core", "frame")
	into[0].Spans = append([]Span{{Text: "into: "}}, into[0].Spans...)
	return Table{Place: Place{Column: Third}, Columns: []Width{3300, Rest}, Rules: Unruled, Rows: [][]Cell{
		line(Span{Text: "place:"}, Span{Text: unbroken("mm behind the front edge"), Right: true}),
		line(Span{Text: "mm", Right: true}, Span{Text: "left", Tick: true, Right: true},
			Span{Text: "right", Tick: true, Right: true}, Span{Text: " " + unbroken("of the middle"), Right: true}),
		tick("screwed on", "opening cut", "opening closed"),
		tick("patched", "resealed", "removed"),
		into,
		line(Span{Text: "sheet or part, lot:"}),
		line(Span{Text: "sealant or glue, lot:"}),
		line(Span{Text: "what you found there:"}),
		{{ByPen: true, Spans: []Span{{Text: "day:"}}}, {ByPen: true, Spans: []Span{{Text: "done by, telephone:"}}}},
	}}
}

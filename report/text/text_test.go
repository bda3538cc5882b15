package text

import (
	"strings"
	"testing"
	"unicode/utf8"

	"lapmark/report"
	"lapmark/report/plan"
)

func words(text string) []report.Span { return []report.Span{{Text: text}} }

func paperOf(blocks ...report.Block) report.Paper {
	return report.Paper{Furniture: report.Furniture{Shop: "Quillstead Roof Works", Name: "Trial"}, Sections: []report.Section{{Blocks: blocks}}}
}

// Each block as it is read.
func TestBlocks(t *testing.T) {
	tag := plan.Drawing{Title: "1"}
	for name, c := range map[string]struct {
		block report.Block
		want  string
	}{
		"title":     {report.Heading{Title: true, Spans: words("Limited warranty")}, "Limited warranty\n================\n"},
		"heading":   {report.Heading{Spans: []report.Span{{Text: "Next hand"}, {Text: "Tarnholt, ", Right: true}, {Text: "TB78", Right: true}}}, "Next hand\n---------\nTarnholt, TB78\n"},
		"paragraph": {report.Paragraph{Spans: []report.Span{{Text: "In full for "}, {Text: "60\u00a0months", Style: report.Bold}, {Text: "."}}}, "In full for 60 months.\n"},
		"list":      {report.List{Items: [][]report.Span{words("a " + strings.Repeat("b", 75)), words("c")}}, "- a\n  " + strings.Repeat("b", 75) + "\n- c\n"},
		"numbered":  {report.List{Numbered: true, Items: [][]report.Span{words("one"), words("two")}}, "1. one\n2. two\n"},
		"note":      {report.Note{Spans: words("Unsent.")}, strings.Repeat("-", 78) + "\nUnsent.\n"},
		"plan": {
			report.Plan{Drawing: plan.Drawing{Title: "Roof plan", Says: "Empty is not in it."}, Listed: []string{"R1: crossed"}},
			"[Plan] Roof plan. Empty is not in it.\n- R1: crossed\n",
		},
		"picture": {report.Picture{Says: "Rear header", Caption: words("F4")}, "[Picture] Rear header\nF4\n"},
		"labels": {report.Table{Columns: make([]report.Width, 4), Rows: [][]report.Cell{{
			{Spans: []report.Span{{Text: "coach", Style: report.Italic}}},
			{Spans: words("Tarnholt")},
			{Spans: []report.Span{{Text: "for", Style: report.Italic}}},
			{Spans: words("every owner")},
		}}}, "coach: Tarnholt\nfor: every owner\n"},
		"columns": {report.Table{
			Columns: make([]report.Width, 3), Head: []report.Cell{{Spans: words("entry")}, {Spans: words("day")}, {Spans: words("what")}},
			Rows: [][]report.Cell{{{Spans: words("1")}, {Spans: words("16 Mar 2020")}, {Spans: words("came in")}}},
		}, "entry  day          what\n1      16 Mar 2020  came in\n"},
		"too wide for columns": {report.Table{
			Columns: make([]report.Width, 4), Head: []report.Cell{{Spans: words("day")}, {Spans: words("what")}, {Spans: words("code")}, {Spans: words("given out as")}},
			Rows: [][]report.Cell{{{Spans: words("20 Mar 2020")}, {Spans: words(strings.Repeat("w", 26))}, {Spans: words(strings.Repeat("c", 26))}, {Spans: words("entry 16")}}},
		}, "day 20 Mar 2020; what " + strings.Repeat("w", 26) + "; code\n  " + strings.Repeat("c", 26) + "; given out as entry 16\n"},
		"a line of a warranty": {
			report.Table{Columns: make([]report.Width, 3), Rows: [][]report.Cell{{
				{Drawing: &tag, Spans: words("1.")},
				{Drawing: &tag},
				{Spans: []report.Span{{Text: "Deck"}, {Text: "until 2030", Right: true}, {Text: "stays bonded"}}},
			}}},
			"1.  Deck" + strings.Repeat(" ", 60) + "until 2030\n    stays bonded\n",
		},
		"by pen": {
			report.Table{Columns: make([]report.Width, 2), Rows: [][]report.Cell{
				{{ByPen: true, Spans: []report.Span{{Text: "place:"}, {Text: "mm aft", Right: true}}}},
				{{ByPen: true, Spans: []report.Span{{Text: "left", Tick: true}, {Text: "right", Tick: true}}}},
				{{ByPen: true, Spans: words("day:")}, {ByPen: true, Spans: words("by:")}},
			}},
			"place: ________ mm aft\n[ ] left [ ] right\nday: ________ by: ________\n",
		},
	} {
		got := Render(paperOf(c.block))
		if !strings.Contains(got, "\n"+c.want) {
			t.Errorf("%s: %q is not in\n%s", name, c.want, got)
		}
	}
}

// No line is wider than 78 characters, whatever the words; no word is lost.
func TestWidth(t *testing.T) {
	long := strings.Repeat("Tannery", 40)
	text := "Ring the shop at " + long + " and read out the head code of the paper you have, slowly."
	right := []report.Span{{Text: text}, {Text: "until 23 April 2030 " + text, Right: true}}
	got := Render(paperOf(report.Heading{Spans: words(text)}, report.Paragraph{Spans: right}, report.List{Numbered: true, Items: [][]report.Span{words(text), right}},
		report.Note{Spans: words(text)}, report.Plan{Drawing: plan.Drawing{Says: text}, Listed: []string{text}},
		report.Table{Columns: make([]report.Width, 3), Rows: [][]report.Cell{{{Spans: words(text)}, {Spans: words(text)}, {Spans: right}}}},
		report.Table{Columns: make([]report.Width, 2), Rows: [][]report.Cell{{{Spans: []report.Span{{Text: text, Style: report.Italic}}}, {Spans: words(text)}}}}))
	for _, line := range strings.Split(got, "\n") {
		if n := utf8.RuneCountInString(line); n > 78 {
			t.Errorf("%d characters: %s", n, line)
		}
	}
	joined := strings.Join(strings.Fields(got), "")
	if n := strings.Count(joined, "readouttheheadcode"); n < 8 {
		t.Errorf("of the texts %d are left", n)
	}
}

package report

import "lapmark/report/english"

// EarlierPaper is a paper of this coach that was given out before: its day,
// what it is ("findings", "certificate Q-0007"), for whom ("the holder"), up to
// which entry it is complete ("15", on a side branch "60/1"), its head code as
// it prints it, and the entry it was given out as.
type EarlierPaper struct {
	Day       Day
	What, For string
	UpTo      string
	Code      string
	GivenOut  string
}

// earlierSays are the fixed sentences of the list of earlier papers.
var earlierSays = []string{"earlier-none", "earlier-apart"}

// earlierPapers are the blocks that list all papers given out before this one
// in a table, or say that there is none.
func earlierPapers(papers []EarlierPaper, table func([]EarlierPaper) Table, says func(key string) string) []Block {
	if len(papers) == 0 {
		return []Block{heading(says("head-earlier")), Paragraph{Spans: plainly(says("earlier-none"))}}
	}
	return []Block{heading(says("head-earlier")), table(papers)}
}

// earlierWide is the list over the full width: one line for each paper.
func earlierWide(papers []EarlierPaper) Table {
	t := Table{Columns: []Width{Natural, Rest, Natural, Natural, Natural, Natural}}
	for _, says := range []string{"day", "what", "for", "complete up to", "head code", "given out as"} {
		t.Head = append(t.Head, label(says))
	}
	for _, e := range papers {
		t.Rows = append(t.Rows, []Cell{
			cell(unbroken(e.Day.Short())), cell(e.What), cell(unbroken(e.For)), cell(e.upTo()),
			{Spans: []Span{e.code()}},
			cell("entry " + e.GivenOut),
		})
	}
	return t
}

// earlierNarrow is the list in one of two columns: a few lines for each paper,
// said in full, since a head would take as much room as a paper.
func earlierNarrow(papers []EarlierPaper) Table {
	t := Table{Columns: []Width{Natural, Rest}}
	for _, e := range papers {
		says := cell(e.What + ", for " + unbroken(e.For) + ", complete up to " + e.upTo() + ": ")
		says.Spans = append(says.Spans, e.code())
		t.Rows = append(t.Rows, []Cell{cell(unbroken(e.Day.Short())), says})
	}
	return t
}

// upTo says the last entry a paper shows.
func (e EarlierPaper) upTo() string { return "entry " + e.UpTo }

// code is the head code as the paper's own foot box prints it.
func (e EarlierPaper) code() Span { return codeSpan(e.Code) }

// earlierApart are the blocks that stand instead of the list where it follows
// on a page of its own.
func earlierApart(papers []EarlierPaper, says func(key string) string) []Block {
	n := english.Capital(english.Counted(len(papers), "paper", "papers"))
	return []Block{heading(says("head-earlier")), Paragraph{Spans: plainly(Fill(says("earlier-apart"), "papers", n))}}
}

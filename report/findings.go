package report

import (
	"fmt"
	"strconv"
)

// FindingsFacts is all a findings paper prints in its plain form: what stands
// in the ledger, entry by entry.
type FindingsFacts struct {
	Shop    Shop
	Coach   Coach
	Head    PaperHead
	Given   Day
	Entries []FindingsEntry
	// NoneFound is said where there is no entry; empty: the usual sentence.
	NoneFound string
	// Earlier are all papers of this coach given out before this one, oldest
	// first.
	Earlier []EarlierPaper
}

// FindingsEntry is one entry as a sentence.
type FindingsEntry struct {
	Number   int
	Day      Day
	Sentence string
}

// Findings lays out the findings paper: the entries by number, then how to
// check the paper, what to take care of, and the papers given out before. Its
// error is a MissingDay.
func Findings(f FindingsFacts) (Paper, error) {
	return entryByEntry("What we found", "as of "+f.Given.Long(), findingsHeadline(f), f)
}

// entryByEntry lays out a paper that tells the ledger in its own order.
func entryByEntry(title, made, headline string, f FindingsFacts) (Paper, error) {
	if err := given(f.printedDays()); err != nil {
		return Paper{}, err
	}
	markLabel, mark := f.Coach.mark()
	blocks := []Block{
		Heading{Title: true, Spans: plainly(title)},
		Paragraph{Lead: true, Spans: plainly(headline)},
		Table{Columns: []Width{Natural, Rest, Natural, Rest}, Rules: RuledAround, Rows: [][]Cell{
			{label("coach"), cell(fmt.Sprintf("%s %s, %d", f.Coach.Builder, f.Coach.Model, f.Coach.Year)), label("made"), cell(made)},
			{label(markLabel), {Spans: []Span{{Text: mark, Style: Mono}}}, label("by"), cell(f.Shop.Name)},
		}},
	}
	if len(f.Entries) > 0 {
		blocks = append(blocks, heading("Entry by entry"), findingsTable(f.Entries))
	}
	earlier := append(earlierPapers(f.Earlier, earlierWide, lastPageSays), Note{Spans: []Span{{Text: FixedSays("ask-history"), Style: Bold}}})
	others := checking(lastPageSays, f.Head.UpTo, FixedSays("shows-holder"), "care", "care-work")
	return Paper{
		Title: title, Language: "en",
		Furniture: Furniture{
			Shop: f.Shop.Name, Desk: deskLine(f.Shop), Name: title, Mark: mark,
			Foot: foot("this paper is", FixedSays("later"), f.Head), Page: "page", Of: "of",
		},
		Sections: []Section{
			{Blocks: blocks},
			{NewPage: true, Head: title + ", for others", Columns: twoColumns, Gap: 700, Flow: true, Blocks: others},
			{Blocks: earlier},
		},
	}, nil
}

// findingsHeadline says how much was written, and from when to when.
func findingsHeadline(f FindingsFacts) string {
	if len(f.Entries) == 0 && f.NoneFound != "" {
		return f.NoneFound
	}
	if len(f.Entries) == 0 {
		return FixedSays("none-found")
	}
	first, last := f.Entries[0].Day, f.Entries[len(f.Entries)-1].Day
	span := "on " + first.Long()
	if first != last {
		span = fmt.Sprintf("from %s to %s", first.beside(last), last.Long())
	}
	return fmt.Sprintf("What was seen, measured and said of this roof %s, in %s.", span, counted(len(f.Entries), "entry", "entries"))
}

// findingsTable is the entries by number.
func findingsTable(entries []FindingsEntry) Table {
	t := Table{Columns: []Width{Natural, Natural, Rest}, Head: []Cell{label("entry"), label("day"), label("what")}}
	for _, e := range entries {
		t.Rows = append(t.Rows, []Cell{
			{Spans: []Span{{Text: strconv.Itoa(e.Number), Style: Bold}}},
			cell(unbroken(e.Day.Short())), cell(e.Sentence),
		})
	}
	return t
}

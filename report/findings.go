package report

import (
	"fmt"
	"slices"
	"strconv"

	"lapmark/report/english"
)

// FindingsFacts is all a findings paper prints in its plain form: what stands
// in the ledger, entry by entry.
type FindingsFacts struct {
	Shop  Shop
	Coach Coach
	Head  PaperHead
	Given Day
	Copy  Copy
	// HolderName is printed on the holder's own copy alone.
	HolderName string
	Entries    []FindingsEntry
	// NoneFound is said where there is no entry; empty: the usual sentence.
	NoneFound string
	// Earlier are all papers of this coach given out before this one, oldest
	// first.
	Earlier []EarlierPaper
}

// FindingsEntry is one entry as a sentence. Finding says that it is a finding
// that counts for the shop.
type FindingsEntry struct {
	Number   int
	Day      Day
	Finding  bool
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
			{label("holder"), cell(holderSays(f.Copy, f.HolderName, lastPageSays))},
		}},
	}
	if len(f.Entries) > 0 {
		blocks = append(blocks, heading("Entry by entry"), findingsTable(f.Entries))
	}
	earlier := append(earlierPapers(f.Earlier, earlierWide, lastPageSays), Note{Spans: []Span{{Text: FixedSays("ask-history"), Style: Bold}}})
	others := checking(lastPageSays, f.Head.UpTo, lastPageSays(adviceKey(f.Copy)), "care", "care-work")
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

// findingsHeadline says how many findings there are, on which days they were
// made, and how much stands below.
func findingsHeadline(f FindingsFacts) string {
	if len(f.Entries) == 0 && f.NoneFound != "" {
		return f.NoneFound
	}
	if len(f.Entries) == 0 {
		return FixedSays("none-found")
	}
	found := "No finding is written of this roof."
	if n, days := findingDays(f.Entries); n > 0 {
		found = fmt.Sprintf("%s of this roof, made %s.", english.Capital(english.Counted(n, "finding", "findings")), onDays(days))
	}
	return fmt.Sprintf("%s All that was seen, measured and said of it stands below, in %s.", found, english.Counted(len(f.Entries), "entry", "entries"))
}

// findingDays are how many findings there are, and the days they were made on,
// each once, the earliest first: notes are inked late.
func findingDays(entries []FindingsEntry) (n int, days []Day) {
	for _, e := range entries {
		if e.Finding {
			n++
			days = append(days, e.Day)
		}
	}
	slices.SortFunc(days, Day.compare)
	return n, slices.Compact(days)
}

// onDays says days in order: "on 17 March and 18 March 2020", more than two as
// a span.
func onDays(days []Day) string {
	first, last := days[0], days[len(days)-1]
	switch len(days) {
	case 1:
		return "on " + first.Long()
	case 2:
		return "on " + first.beside(last) + " and " + last.Long()
	}
	return "from " + first.beside(last) + " to " + last.Long()
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

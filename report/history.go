package report

import (
	"fmt"

	"lapmark/report/english"
)

// HistoryFacts is all a history prints: the whole ledger in its own order,
// entry by entry.
type HistoryFacts struct {
	Shop  Shop
	Coach Coach
	Head  PaperHead
	Given Day
	Copy  Copy
	// HolderName is printed on the holder's own copy alone.
	HolderName string
	Reader     string // a word of the list reader
	Entries    []HistoryEntry
	// Earlier are all papers of this coach given out before this one, oldest
	// first.
	Earlier []EarlierPaper
}

// HistoryEntry is one entry as a sentence.
type HistoryEntry struct {
	Number   string // as on paper: 60/1 of a side branch
	Day      Day
	Sentence string
}

// historyReaders say for whom a history was made.
var historyReaders = map[string]string{
	"holder": "for the holder", "buyer": "for a buyer", "later-shop": "for a later shop", "shop": "for the shop",
}

// History lays out the coach history: every entry by number, then how to check
// the paper, what to take care of, and the papers given out before. Its error
// is a MissingDay.
func History(f HistoryFacts) (Paper, error) {
	if err := given(f.printedDays()); err != nil {
		return Paper{}, err
	}
	const title = "Coach history"
	_, mark := f.Coach.mark()
	blocks := []Block{
		Heading{Title: true, Spans: plainly(title)},
		Paragraph{Lead: true, Spans: plainly(historyHeadline(f))},
		Table{Columns: []Width{Natural, Rest, Natural, Rest}, Rules: RuledAround, Rows: [][]Cell{
			{label("coach"), cell(f.Coach.says()), label("made"), cell(historyReaders[f.Reader] + ", as of " + f.Given.Long())},
			{f.Coach.markLabel(), f.Coach.markCell(), label("by"), cell(f.Shop.Name)},
			{label("holder"), cell(holderSays(f.Copy, f.HolderName, lastPageSays))},
		}},
	}
	if len(f.Entries) > 0 {
		blocks = append(blocks, heading("Entry by entry"), entriesTable(f.Entries), Note{Spans: plainly(Rights)})
	}
	return Paper{
		Title: title, Language: "en", Furniture: furnished(f.Shop, title, mark, "this paper is", f.Head),
		Sections: append([]Section{{Blocks: blocks}}, forOthers(title, f.Copy, f.Head, f.Earlier, nil)...),
	}, nil
}

// historyHeadline says how much is told, and from when to when.
func historyHeadline(f HistoryFacts) string {
	if len(f.Entries) == 0 {
		return FixedSays("none-found")
	}
	first, last := f.Entries[0].Day, f.Entries[len(f.Entries)-1].Day
	return fmt.Sprintf("What was found, done and promised on this roof from %s to %s, in %s.",
		first.beside(last), last.Long(), english.Counted(len(f.Entries), "entry", "entries"))
}

// entriesTable is the entries by number.
func entriesTable(entries []HistoryEntry) Table {
	t := Table{Columns: []Width{Natural, Natural, Rest}, Head: []Cell{label("entry"), label("day"), label("what")}}
	for _, e := range entries {
		t.Rows = append(t.Rows, []Cell{
			{Spans: []Span{{Text: e.Number, Style: Bold}}},
			cell(unbroken(e.Day.Short())), cell(e.Sentence),
		})
	}
	return t
}

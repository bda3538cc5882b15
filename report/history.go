package report

import (
	"fmt"

	"lapmark/report/english"
)

// HistoryFacts is all a history prints: the whole ledger in its own order.
type HistoryFacts struct {
	FindingsFacts
	Reader string // a word of the list reader
}

// historyReaders say for whom a history was made.
var historyReaders = map[string]string{
	"holder": "for the holder", "buyer": "for a buyer", "later-shop": "for a later shop", "shop": "for the shop",
}

// History lays out the coach history: every entry by number, then how to check
// the paper, what to take care of, and the papers given out before. Its error
// is a MissingDay.
func History(f HistoryFacts) (Paper, error) {
	made := historyReaders[f.Reader] + ", as of " + f.Given.Long()
	return entryByEntry("Coach history", made, historyHeadline(f), f.FindingsFacts)
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

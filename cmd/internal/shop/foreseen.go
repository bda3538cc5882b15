package shop

import (
	"fmt"

	"lapmark/ledger"
)

// foreseen refuses a number that a note names of an entry which was not there
// when the note was written, unless that entry is a note before it in this very
// inking, and no note before it has stayed: else the number may have become
// another entry's.
func (w *writing) foreseen(n Pending) error {
	if n.Note == 0 {
		return nil
	}
	stayed := int64(len(w.results)) > w.coach.size()-w.start
	for _, no := range n.Draft.Numbers() {
		e := w.entry(no)
		switch {
		case e == nil: // said by Resolve
		case no.N <= w.start && e.Line.At <= n.Written, no.N > w.start && !stayed:
		default:
			return fmt.Errorf("%w: #%s was not there when this note was written. Which entry is meant? Mend the note",
				ledger.ErrNoSuchEntry, no)
		}
	}
	return nil
}

func (w *writing) entry(no ledger.No) *ledger.Entry {
	if w.coach.Ledger == nil {
		return nil
	}
	return w.coach.Ledger.Entry(no)
}

package check

import (
	"fmt"

	"lapmark/ledger"
	"lapmark/ledger/chain"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/report"
)

// remarks puts into the answer what is to be said of single entries and breaks
// nothing.
func (a *Answer) remarks(r *ledger.Replay) {
	if len(r.Newer()) > 0 {
		a.unsettled(NewerThanThis)
	}
	gone := givenUp(r.Coach)
	above := map[bool]*ledger.Entry{} // the entry before, on the chain and in a branch
	for _, act := range r.Acts {
		e := act.Entry
		beside := e.No.Branch > 0
		a.clock(e, above[beside])
		above[beside] = e
		a.odd(act)
		a.noEffect(r, act)
		if replaced := gone[e.Key]; e.Role == ledger.Guest && replaced > 0 {
			a.remark(e.No, saysGivenUp, ledger.Decimal(replaced))
		}
		if act.StruckBy != (ledger.No{}) {
			a.remark(e.No, saysStruck, act.StruckBy)
		}
		if act.Kind == "same-coach" && act.Counts {
			a.remark(e.No, saysSameCoach, otherID(e))
		}
	}
}

func (a *Answer) remark(no ledger.No, text string, args ...any) {
	if len(args) > 0 {
		text = fmt.Sprintf(text, args...)
	}
	a.Remarks = append(a.Remarks, Remark{no.String(), text})
}

// clock remarks an entry whose clock stood before that of the entry above.
func (a *Answer) clock(e, above *ledger.Entry) {
	if above == nil || e.Line.At >= above.Line.At {
		return
	}
	now, err := day.ParseStamp(e.Line.At)
	before, beforeErr := day.ParseStamp(above.Line.At)
	if err != nil || beforeErr != nil {
		return
	}
	a.remark(e.No, saysClock, duration(before.Unix()-now.Unix()))
}

// odd remarks what this program does not know.
func (a *Answer) odd(act *ledger.Act) {
	for _, o := range act.Entry.Odd() {
		a.remark(act.No, report.Fill(report.FixedSays("newer"), "word", o.What))
	}
}

// noEffect remarks what an entry says and may not do.
func (a *Answer) noEffect(r *ledger.Replay, act *ledger.Act) {
	e := act.Entry
	if e.Role == ledger.Guest && len(e.Refs("adopts")) > 0 {
		a.remark(e.No, saysGuestAdopts)
	}
	if act.Kind == "correction" {
		for _, no := range act.Refs("answers") {
			if !corrects(r.Act(no), act) {
				a.remark(e.No, saysNoCorrection, no)
			}
		}
	}
	if e.No.Branch > 0 {
		switch act.Kind {
		case "key-change", "hand-over", "take-on", "take-in":
			a.remark(e.No, saysBranchChange, act.Kind)
		}
	}
}

// corrects says whether a correction did anything to an entry.
func corrects(what, by *ledger.Act) bool {
	if what == nil {
		return false
	}
	if what.StruckBy == by.No {
		return true
	}
	for _, c := range what.Corrected {
		if c.By == by.No {
			return true
		}
	}
	return false
}

// otherID is the ID of the ledger that a same-coach names.
func otherID(e *ledger.Entry) string {
	id, err := format.DecodeBase64(e.Text("ledger"))
	if err != nil || len(id) != 32 {
		return e.Text("ledger")
	}
	return chain.ID(chain.Hash(id))
}

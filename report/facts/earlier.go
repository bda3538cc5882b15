package facts

import (
	"lapmark/ledger"
	"lapmark/ledger/chain"
	"lapmark/report"
)

// earlier are the papers that the house gave out up to an entry, the newest one
// that the paper to be printed shows; those of a side branch stand behind the
// entry that took it in. A given-out stands on the head before it: that head's
// code is the one on its paper.
func earlier(r *ledger.Replay, upTo int) []report.EarlierPaper {
	var out []report.EarlierPaper
	chained := int64(0) // the newest entry of the chain so far
	for _, a := range r.Acts {
		if a.No.Branch == 0 {
			chained = a.No.N
		}
		if a.Kind != "given-out" || !a.House || chained > int64(upTo) {
			continue
		}
		head := a.Entry.Line.Prev
		one := report.EarlierPaper{
			Day: dayOf(a.Day()), What: paperName(r, a), For: ledger.Said("reader", a.Text("reader")),
			UpTo: ledger.Decimal(head.Size), Code: string(chain.HeadCode(r.Coach.Ledger, head.Size, head.Root)), GivenOut: a.No.String(),
		}
		if a.No.Branch != 0 {
			one.What += ", written beside this chain, taken in by entry " + ledger.Decimal(chained)
			if head.Size > a.No.N {
				one.UpTo = ledger.No{N: a.No.N, Branch: a.No.Branch - 1}.String()
			}
		}
		out = append(out, one)
	}
	return out
}

// paperName is what a given-out gave out: "findings", "certificate Q-0007".
func paperName(r *ledger.Replay, a *ledger.Act) string {
	name := ledger.Said("paper", a.Text("paper"))
	for _, no := range a.Refs("answers") {
		if b := r.Act(no); b != nil && b.Kind == "certificate" {
			name += " " + b.Text("tag")
		}
	}
	if _, doubtful := r.Coach.Doubtful(a.No); doubtful {
		name += ", doubtful"
	}
	return name
}

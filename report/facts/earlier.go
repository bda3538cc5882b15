package facts

import (
	"lapmark/ledger"
	"lapmark/report"
)

// earlier are the papers that the house gave out up to an entry, the newest one
// that the paper to be printed shows. A given-out stands on the head before it:
// that head's code is the one on its paper.
func earlier(r *ledger.Replay, upTo int) []report.EarlierPaper {
	var out []report.EarlierPaper
	for _, a := range r.Acts {
		if a.Kind != "given-out" || !a.House || a.No.Branch != 0 || a.No.N > int64(upTo) {
			continue
		}
		out = append(out, report.EarlierPaper{
			Day: dayOf(a.Day()), What: paperName(r, a), For: ledger.Said("reader", a.Text("reader")),
			UpTo: int(a.No.N) - 1, Code: string(r.Coach.Code(a.No.N - 1)), GivenOut: int(a.No.N),
		})
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

package facts

import (
	"cmp"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/report"
	"lapmark/report/say"
)

// History gathers a history for a reader, a word of the list reader: every
// entry by number, as sentences, those of a side branch behind its take-in. The holder's own copy has the
// private values of his own entries, the copy to pass on has none.
func History(r *ledger.Replay, o Options, reader string) report.HistoryFacts {
	f := report.HistoryFacts{
		Reader: reader,
		Shop:   shopOf(o.Terms), Coach: coachOf(r), Head: o.Head, Given: o.Given, Copy: o.Copy, Earlier: earlier(r, o.Head.UpTo),
	}
	if o.Copy == report.OwnCopy {
		f.HolderName = o.HolderName
	}
	names := guestNames(r)
	shown := *r
	shown.Opened = mayRead(r, o.Copy)
	for _, a := range r.Acts {
		f.Entries = append(f.Entries, report.HistoryEntry{
			Number: a.No.String(), Day: dayOf(a.Day()),
			Sentence: strings.TrimSpace(say.Entry(&shown, a) + " " + standing(r, a, names)),
		})
	}
	return f
}

// standing says of an entry that it is a guest's, or doubtful.
func standing(r *ledger.Replay, a *ledger.Act, names map[string]string) string {
	if doubt, doubtful := r.Coach.Doubtful(a.No); doubtful {
		return report.Fill(report.FixedSays("doubtful"), "list", a.No.String(), "firm", ledger.Decimal(doubt.Firm))
	}
	if a.Entry == nil || a.Entry.Role != ledger.Guest {
		return ""
	}
	counts := report.Fill(report.FixedSays("guest-not-adopted"), "house", r.HouseNameAt(a.No.N))
	if a.Adopted != (ledger.No{}) {
		counts = report.Fill(report.FixedSays("guest-adopted"), "house", r.HouseNameAt(a.Adopted.N), "m", a.Adopted.String())
	}
	return report.Fill(report.FixedSays("guest"), "n", a.No.String(), "name", cmp.Or(names[a.Signer], "not named"), "fingerprint", a.Entry.Line.Key,
		"standing", counts)
}

// guestNames are what signers first call themselves in their own entries, by
// their keys.
func guestNames(r *ledger.Replay) map[string]string {
	names := map[string]string{}
	for _, a := range r.Acts {
		if name := text(object(a.Body["shop"]), "name"); name != "" && names[a.Signer] == "" {
			names[a.Signer] = "by its own word " + name
		}
	}
	return names
}

// mayRead are the values that the reader of a copy may see: all free texts, and
// on the holder's own copy what the holder of the day may see of his own
// entries.
func mayRead(r *ledger.Replay, c report.Copy) map[ledger.No]map[string]string {
	out := map[ledger.No]map[string]string{}
	holder := r.Holder()
	for _, a := range r.Acts {
		kind, _ := ledger.KindNamed(a.Kind)
		free := kind.FreeTexts()
		out[a.No] = map[string]string{}
		for name, value := range r.Opened[a.No] {
			p, private := kind.PrivateNamed(name)
			own := private && p.Sight == ledger.SightHolder && c == report.OwnCopy && a.Holder == holder
			if own || slices.Contains(free, name) {
				out[a.No][name] = value
			}
		}
	}
	return out
}

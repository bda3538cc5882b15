package check

import (
	"slices"

	"lapmark/ledger"
	"lapmark/report"
)

// Doubtful is what one key-change disowns: house entries between the last head
// the shop vouches for and the key-change, not adopted since.
type Doubtful struct {
	Entries      string   `json:"entries"`
	Firm         int64    `json:"firm"`
	Change       int64    `json:"change"`
	Certificates []string `json:"certificates"`       // by number, among them
	BuiltOn      int64    `json:"built_on,omitempty"` // the newest of them that a guest's entry stands on
	Says         []string `json:"says"`
}

// doubts lists what is doubtful, by the key-change that disowns it.
func (a *Answer) doubts(c *ledger.Coach) {
	by := map[ledger.Doubt][]ledger.No{}
	var order []ledger.Doubt
	guest, guestBefore := int64(0), map[int64]int64{} // by key-change
	for _, e := range c.Entries {
		switch {
		case e.Role == ledger.Guest:
			guest = e.No.N
		case e.Kind() == "key-change":
			guestBefore[e.No.N] = guest
		}
		if d, ok := c.Doubtful(e.No); ok {
			if by[d] == nil {
				order = append(order, d)
			}
			by[d] = append(by[d], e.No)
		}
	}
	for _, d := range order {
		a.Doubtful = append(a.Doubtful, disowned(c, d, by[d], guestBefore[d.Change]))
	}
}

// disowned says what one key-change disowns; guest is the newest guest's entry
// before it.
func disowned(c *ledger.Coach, d ledger.Doubt, nos []ledger.No, guest int64) Doubtful {
	out := Doubtful{Entries: runs(nos), Firm: d.Firm, Change: d.Change, Certificates: []string{}}
	for _, no := range nos {
		if no.N < guest {
			out.BuiltOn = no.N
		}
		if e := c.Entry(no); e.Kind() == "certificate" {
			out.Certificates = append(out.Certificates, e.Text("tag"))
		}
	}
	say := func(key string, blanks ...string) {
		out.Says = append(out.Says, report.Fill(report.FixedSays(key), blanks...))
	}
	say("doubtful", "list", out.Entries, "firm", ledger.Decimal(d.Firm))
	if c.Entries[d.Change-1].Text("reason") == "stolen" {
		say("disowned", "list", out.Entries)
	}
	for _, no := range out.Certificates {
		say("disowned-certificate", "no", no)
	}
	if out.BuiltOn > 0 {
		say("disowned-built-on", "n", ledger.Decimal(out.BuiltOn))
	}
	return out
}

// Guest is an entry that neither the house nor the recovery key signed.
type Guest struct {
	Entry       string `json:"entry"`
	Kind        string `json:"kind"`
	Fingerprint string `json:"fingerprint"`
	TrustedAs   string `json:"trusted_as,omitempty"`
	AdoptedBy   string `json:"adopted_by,omitempty"` // the house entry that adopted it
	Says        string `json:"says"`
	no          ledger.No
	house       string // the name of the house of that time
}

// guests lists the entries of guests, those of branches too. What the house
// took as its own, or did not, is said of the house of that entry.
func (a *Answer) guests(replay *ledger.Replay, r *ring) {
	for _, act := range replay.Acts {
		e := act.Entry
		if e.Role != ledger.Guest {
			continue
		}
		g := Guest{Entry: e.No.String(), Kind: e.Kind(), Fingerprint: e.Line.Key, no: e.No, house: replay.HouseNameAt(e.No.N)}
		g.TrustedAs, _ = r.vouched(e.Key)
		if act.Adopted != (ledger.No{}) {
			g.AdoptedBy, g.house = act.Adopted.String(), replay.HouseNameAt(act.Adopted.N)
		}
		g.Says = saysGuests([]Guest{g})
		a.Guests = append(a.Guests, g)
	}
}

// guestsSaid says who the guests are: one sentence for the entries of one guest
// that stand alike.
func (a *Answer) guestsSaid() []string {
	alike := map[Guest][]Guest{}
	var order []Guest
	for _, g := range a.Guests {
		same := Guest{Fingerprint: g.Fingerprint, AdoptedBy: g.AdoptedBy, house: g.house}
		if alike[same] == nil {
			order = append(order, same)
		}
		alike[same] = append(alike[same], g)
	}
	var out []string
	for _, same := range order {
		out = append(out, saysGuests(alike[same]))
	}
	return out
}

// saysGuests says entries of one guest that stand alike.
func saysGuests(list []Guest) string {
	g := list[0]
	says, standing := report.FixedSays("guest"), report.FixedSays("guest-not-adopted")
	var nos []ledger.No
	for _, g := range list {
		nos = append(nos, g.no)
	}
	if len(list) > 1 {
		says, standing = saysGuestsBy, saysGuestsNoLine
	}
	if g.AdoptedBy != "" {
		standing = report.FixedSays("guest-adopted")
	}
	return report.Fill(says, "n", g.Entry, "list", runs(nos),
		"name", firstOf(g.TrustedAs, report.FixedSays("guest-in-check")), "fingerprint", g.Fingerprint,
		"standing", report.Fill(standing, "house", g.house, "m", g.AdoptedBy))
}

// Branch is a side branch that the house took in.
type Branch struct {
	TakeIn int64  `json:"take_in"`
	From   int64  `json:"from"` // the last common entry
	First  string `json:"first"`
	Last   string `json:"last"`
	Count  int64  `json:"count"`
	Hex    string `json:"hex"`
	Read   bool   `json:"read"`          // its entries are at hand and hold
	Why    string `json:"why,omitempty"` // why not
	Says   string `json:"says"`
}

// branches lists what was taken in; a text that is not at hand, or does not
// hold, leaves the answer unsettled.
func (a *Answer) branches(c *ledger.Coach) {
	for _, b := range c.Branches {
		count, _ := c.Entries[b.TakeIn-1].Body()["count"].(int64)
		out := Branch{
			TakeIn: b.TakeIn, From: b.From, Count: count, Hex: b.Hex, Read: b.Text != nil && b.Why == nil,
			First: ledger.No{N: b.From, Branch: b.Nth}.String(),
			Last:  ledger.No{N: b.From, Branch: b.Nth + max(count, 1) - 1}.String(),
		}
		out.Says = report.Fill(report.FixedSays("side-branch"), "first", out.First, "last", out.Last,
			"n", ledger.Decimal(b.From), "m", ledger.Decimal(b.TakeIn))
		switch {
		case b.Why != nil:
			out.Why = saysBranchBad
		case b.Text == nil:
			out.Why = saysBranchMissing
		}
		if !out.Read {
			a.unsettled(BranchMissing)
		}
		a.Branches = append(a.Branches, out)
	}
}

// lent lists bundles that were given out to work on, and have not come back: no
// guest entry, take-in or remark that answers them stands after them.
func (a *Answer) lent(c *ledger.Coach) {
	back := map[ledger.No]bool{} // what a later remark answers
	for _, e := range slices.Backward(c.Entries) {
		switch {
		case e.Role == ledger.Guest, e.Kind() == "take-in":
			slices.Reverse(a.Lent)
			return // what was lent before has come back
		case e.Kind() == "remark":
			for _, no := range e.Refs("answers") {
				back[no] = true
			}
		case e.Kind() == givenOut && e.Role == ledger.House && e.Body()["to-work"] == true && !back[e.No]:
			a.Lent = append(a.Lent, Remark{e.No.String(), report.Fill(report.FixedSays("lent"),
				"shop", e.Text("to"), "day", longDay(e.Day()), "n", ledger.Decimal(e.No.N-1))})
		}
	}
	slices.Reverse(a.Lent)
}

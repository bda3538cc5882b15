package check

import (
	"fmt"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report/english"
)

// Relation is how two files of one coach lie to each other.
type Relation string

// The relations. Only the first four let two files stand beside each other.
const (
	SameState   Relation = "same-state"
	OneChain    Relation = "one-chain"    // one goes on where the other ends
	TakenIn     Relation = "taken-in"     // they part, and one took the other in
	Joined      Relation = "joined"       // two ledgers that quote each other
	Parted      Relation = "parted"       // they part, and not all of it was taken in
	TwoLedgers  Relation = "two-ledgers"  // they part, and the house signed both
	SameVIN     Relation = "same-vin"     // two ledgers from entry 1 on, of one VIN
	OtherCoach  Relation = "other-coach"  // two ledgers of two coaches
	NotRead     Relation = "not-read"     // nothing could be checked in the other file
	NothingHeld Relation = "nothing-held" // no entry of one of them holds
)

// Compared is one other paper, and how it lies to the file asked about.
type Compared struct {
	File       string   `json:"file"`
	Against    string   `json:"against,omitempty"` // another of these; "" the file asked about
	Relation   Relation `json:"relation"`
	Whole      bool     `json:"whole"`
	FirstBad   int64    `json:"first_bad"`
	Entries    int64    `json:"entries"`
	Paper      Pages    `json:"paper"`
	Bundle     Packing  `json:"bundle,omitempty"`    // of a bundle: what Paper is of a paper
	PagesWhy   string   `json:"pages_why,omitempty"` // why the pages, or the bundle, are not as they left
	UpTo       *UpTo    `json:"complete_up_to,omitempty"`
	Key        string   `json:"key,omitempty"`   // the house at its last entry, where that is not settled here
	Between    int64    `json:"between"`         // entries between the two ends
	PartsAfter int64    `json:"parts_after"`     // the last common entry, where they part
	JoinedBy   int64    `json:"joined_by"`       // the take-in, or the same-coach
	Missing    string   `json:"missing"`         // entries that the other has and this file lacks
	Newer      string   `json:"newer,omitempty"` // "this" or "other", on one chain
	Says       []string `json:"says"`
}

// compare says how another file lies to this one.
func compare(this, other *file) Compared {
	c := Compared{
		File: other.name, Whole: other.whole(), Entries: other.entries(), Paper: other.pages, Bundle: other.packing,
		Says: []string{},
	}
	if other.nothing != "" || other.coach == nil {
		c.Relation = NotRead
		c.say(firstOf(other.nothing, other.why, saysSeveral))
		return c
	}
	if other.broken != nil {
		c.FirstBad = other.broken.Entry
		c.Says = append(c.Says, brokenSays(other.broken)...)
	}
	if this.entries() == 0 || other.entries() == 0 {
		c.Relation = NothingHeld
		c.say(saysNothingHeld)
		return c
	}
	if this.coach.Ledger != other.coach.Ledger {
		c.ledgers(this.coach, other.coach)
		return c
	}
	k := common(this.coach.Entries, other.coach.Entries)
	switch n, m := this.entries(), other.entries(); {
	case k == n && k == m:
		c.Relation = SameState
		c.say(saysSameState)
	case k == n || k == m:
		c.oneChain(this, other)
	default:
		c.part(this.coach, other.coach, k)
	}
	return c
}

func (c *Compared) say(text string, args ...any) {
	if len(args) > 0 {
		text = fmt.Sprintf(text, args...)
	}
	c.Says = append(c.Says, text)
}

// common is how many entries two chains have in common.
func common(a, b []*ledger.Entry) int64 {
	n := 0
	for n < len(a) && n < len(b) && a[n].Hash == b[n].Hash {
		n++
	}
	return int64(n)
}

// oneChain says how far two ends of one chain lie apart, and what this file
// lacks where it is the shorter and no paper that ends with its own given-out.
func (c *Compared) oneChain(this, other *file) {
	n, m := this.entries(), other.entries()
	c.Relation, c.Between, c.Newer = OneChain, max(n-m, m-n), "this"
	c.say(saysOneChain, c.Between, english.Plural(int(c.Between), "entry lies", "entries lie"))
	if n > m {
		return
	}
	c.Newer = "other"
	if this.endsGivenOut() {
		return
	}
	c.Missing = runs(between(n+1, m))
	c.say(saysHeadMissing, longDay(other.coach.Entry(ledger.No{N: other.upTo()}).Day()), m, n, c.Missing)
}

// part says what it means that two chains go on differently after entry k.
func (c *Compared) part(this, other *ledger.Coach, k int64) {
	c.PartsAfter = k
	by, rest, ok := takenIn(this, other, k)
	if !ok {
		by, rest, ok = takenIn(other, this, k)
	}
	switch {
	case ok && len(rest) == 0:
		c.Relation, c.JoinedBy = TakenIn, by
		c.say(saysTakenIn, k, by)
	case ok && !signed(rest, ledger.House):
		c.Relation, c.JoinedBy = Parted, by
		c.say(saysTakenIn, k, by)
		list := runs(between(rest[0].No.N, rest[len(rest)-1].No.N))
		c.say(saysRest, english.Plural(len(rest), "Entry", "Entries"), list, english.Plural(len(rest), "was", "were"))
	case signed(this.Entries[k:], ledger.House) && signed(other.Entries[k:], ledger.House):
		c.Relation = TwoLedgers
		c.say(saysTwoLedgers, k)
	default:
		c.Relation = Parted
		c.say(saysParted, k)
	}
}

func signed(entries []*ledger.Entry, role ledger.Role) bool {
	return slices.ContainsFunc(entries, func(e *ledger.Entry) bool { return e.Role == role })
}

// takenIn looks for the take-in by which main took in what side has after
// entry k; a doubtful one took nothing in. rest is what side has beyond the
// head that was taken in.
func takenIn(main, side *ledger.Coach, k int64) (by int64, rest []*ledger.Entry, ok bool) {
	for _, b := range main.Branches {
		head, _ := headIn(main.Entries[b.TakeIn-1], "head")
		_, doubtful := main.Doubtful(ledger.No{N: b.TakeIn})
		switch {
		case doubtful || head.Size <= k:
		case head.Size <= int64(len(side.Entries)):
			if side.Head(head.Size) == head {
				return b.TakeIn, side.Entries[head.Size:], true
			}
		case isStart(side.Entries[k:], b.Items):
			return b.TakeIn, nil, true
		}
	}
	return 0, nil, false
}

// isStart says whether some entries are the first ones of a branch.
func isStart(some, branch []*ledger.Entry) bool {
	return len(some) <= len(branch) && common(some, branch) == int64(len(some))
}

// ledgers says what two different ledgers have to do with each other.
func (c *Compared) ledgers(this, other *ledger.Coach) {
	here, there := quotes(this, other), quotes(other, this)
	same := plate(this) != "" && plate(this) == plate(other)
	switch {
	case here > 0 && there > 0:
		c.Relation, c.JoinedBy = Joined, here
		c.say(saysJoined, here)
	case same:
		c.Relation = SameVIN
		c.say(saysSameVIN)
	default:
		c.Relation = OtherCoach
		c.say(saysOtherCoach)
	}
}

// quotes is the same-coach of a ledger that names another, 0 if there is none.
// The head it quotes must lie on the other's chain, as far as that is at hand.
func quotes(c, other *ledger.Coach) int64 {
	want := format.EncodeBase64(other.Ledger[:])
	for _, a := range ledger.NewReplay(c, nil).Acts {
		if a.Kind == "same-coach" && a.Counts && a.StruckBy == (ledger.No{}) && a.Text("ledger") == want && quoted(other, a.Entry) {
			return a.No.N
		}
	}
	return 0
}

// quoted says whether the head that an entry quotes is one of a chain, or of
// later than its end.
func quoted(c *ledger.Coach, e *ledger.Entry) bool {
	head, ok := headIn(e, "head")
	return ok && head.Size > 0 && (head.Size > int64(len(c.Entries)) || c.Head(head.Size) == head)
}

func plate(c *ledger.Coach) string { return ledger.NewReplay(c, nil).Plate() }

// between are the numbers from one entry to another.
func between(from, to int64) []ledger.No {
	var out []ledger.No
	for n := from; n <= to; n++ {
		out = append(out, ledger.No{N: n})
	}
	return out
}

// Package waiting says what waits in a shop: what the clock, the roof or a
// person wants now, most pressing first. It reads replayed coaches, their
// pencil and the names in the inbox, and asks the rules that inking would ask.
package waiting

import (
	"cmp"
	"slices"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/rules"
)

// Group is what a line belongs to; groups stand in the order of who cannot
// wait.
type Group int

// The groups in their order.
const (
	Unread  Group = iota // a coach file that cannot be read
	Curing               // open stages
	Closing              // wet places of an open job
	Pencil               // notes that wait, files of the inbox
	Ringing              // decisions awaited
	Working              // decisions without work, days to repair by
	Signing              // certificates that can be signed
	Upkeep               // upkeep due, and late
	Ending               // lines that run out
	Away                 // coaches lent
)

// Groups are all groups in their order.
func Groups() []Group {
	return []Group{Unread, Curing, Closing, Pencil, Ringing, Working, Signing, Upkeep, Ending, Away}
}

// String is the word of a group in an answer.
func (g Group) String() string {
	return [...]string{"unread", "curing", "before-closing", "pencil", "to-ring", "work", "certify", "upkeep", "ending", "away"}[g]
}

// Heading is how a group is headed for people.
func (g Group) Heading() string {
	return [...]string{
		"Cannot be read", "Curing", "Before it is closed", "In pencil", "To ring", "Agreed, not done", "Can be certified", "Upkeep", "Runs out", "Away",
	}[g]
}

// Line is one thing that waits.
type Line struct {
	Group Group
	Coach string // VIN or serial; "" of a file in the inbox
	What  string // what it is and where
	Needs string // what is needed next
	When  string // the day or moment that it turns on, "" if none
	Late  bool   // that is over
	Entry ledger.No
	Note  int64  // in pencil
	Do    string // the verb that does it, "" if none
}

// Coach is one coach of the shop.
type Coach struct {
	Plate  string
	Replay *ledger.Replay // nil of one that is in pencil only, or cannot be read
	Broken string         // why it cannot be read
	Notes  []Note
	Lent   string // what is said of a coach that is lent
}

// Note is one note in pencil.
type Note struct {
	ID      int64
	Day     string
	Written string // UTC
	Kind    string
	State   string // clear, short, unclear, stopped, refused
	Why     string
}

// Look is how the shop looks at its coaches.
type Look struct {
	Now     day.Moment // by the shop's clock
	Stamp   day.Stamp  // the same in UTC
	Limits  rules.Limits
	Certify func(plate string) (lines int, may bool) // how many lines a certificate would have, and whether it may be signed now
}

// Inbox are the lines of files that lie in the inbox.
func Inbox(names []string) []Line {
	var out []Line
	for _, name := range names {
		out = append(out, Line{Group: Pencil, What: name + " lies in the inbox", Needs: "Read it, or put its note into pencil.", Do: "sheet"})
	}
	return out
}

// Order puts lines into their order, most pressing first.
func Order(lines []Line) { slices.SortStableFunc(lines, pressing) }

// pressing orders lines: by group, what is late first, then by their time, those
// without one last.
func pressing(a, b Line) int {
	return cmp.Or(
		cmp.Compare(a.Group, b.Group), -compareBool(a.Late, b.Late), compareBool(a.When == "", b.When == ""), cmp.Compare(a.When, b.When),
		cmp.Compare(a.Coach, b.Coach),
	)
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// Of returns what waits of a coach, in no order.
func (s Look) Of(c Coach) []Line {
	if c.Broken != "" {
		return []Line{{Group: Unread, Coach: c.Plate, What: c.Broken, Needs: "Put a sound copy of the file back. Nothing else is asked of it."}}
	}
	out := s.pencil(c)
	if c.Lent != "" {
		out = append(out, Line{Group: Away, Coach: c.Plate, What: c.Lent, Needs: "Take it in when it comes back."})
	}
	if c.Replay == nil {
		return out
	}
	cures := s.cures(c)
	out = append(out, cures...)
	out = append(out, s.decisions(c)...)
	out = append(out, s.claims(c)...)
	out = append(out, s.covers(c)...)
	if !openJob(c.Replay) {
		return out
	}
	out = append(out, s.wet(c)...)
	out = append(out, s.findings(c)...)
	if len(cures) == 0 {
		out = append(out, s.certificates(c)...)
	}
	return out
}

// openJob says whether something was found, worked or checked by the house since
// it signed for the coach last.
func openJob(r *ledger.Replay) bool {
	for _, a := range slices.Backward(r.Acts) {
		if !a.Counts {
			continue
		}
		switch a.Kind {
		case "certificate":
			return false
		case "finding", "work", "check":
			return true
		}
	}
	return false
}

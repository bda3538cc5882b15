// Package sheet writes and reads the canonical text of notes: one way only to
// write a thing. Everything it knows of kinds, members, words and units it
// takes from the tables of package ledger.
//
//	entry    = head ":" " " part { "; " part }          the canonical line
//	         | head ":" { newline "  " part }           the same line, folded
//	head     = kind [ " " tag ]
//	part     = item { ", " item }
//	item     = token { " " token }
//	text     = '"' characters '"'                       a quote inside is doubled
//
// A part is known by its first word, an item by its first word. What it reads
// it writes back to the same bytes, and it refuses the rest.
package sheet

import (
	"fmt"
)

// Reason is why a note is unclear: one of the fixed words.
type Reason string

// The reasons a note can be unclear.
const (
	ReasonKind      Reason = "kind"
	ReasonWord      Reason = "word"
	ReasonNumber    Reason = "number"
	ReasonUnit      Reason = "unit"
	ReasonPlace     Reason = "place"
	ReasonDay       Reason = "day"
	ReasonTime      Reason = "time"
	ReasonWho       Reason = "who"
	ReasonReference Reason = "reference"
	ReasonPrivate   Reason = "private"
)

// Unclear is a note that has not one sure reading: why, and what in it.
type Unclear struct {
	Reason Reason
	What   string
}

// Error says "REASON: what".
func (u *Unclear) Error() string { return string(u.Reason) + ": " + u.What }

func unclear(reason Reason, format string, args ...any) error {
	return &Unclear{Reason: reason, What: fmt.Sprintf(format, args...)}
}

// Heading is what stands above a note: the coach (a VIN or serial), the day of
// the notes and the offset of the shop's clock from UTC on it (+01:00).
type Heading struct {
	Coach string
	Day   string
	Zone  string
}

// Lines writes the headings that differ from those before.
func (h Heading) Lines(before Heading) []string {
	var out []string
	if h.Coach != before.Coach && h.Coach != "" {
		out = append(out, "coach "+h.Coach)
	}
	if h.Day != before.Day || h.Zone != before.Zone {
		out = append(out, "on "+h.Day+" zone "+h.Zone)
	}
	return out
}

package check

import (
	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/report"
)

// Certificate is what a shop put its name to, by the certificate's own words:
// no sum over later entries is made here.
type Certificate struct {
	Entry string   `json:"entry"`
	Tag   string   `json:"tag"`
	Day   string   `json:"day"`
	By    string   `json:"by"` // house, or the fingerprint of a guest
	Lines []Line   `json:"lines"`
	Later []Remark `json:"later"` // later entries that name the certificate
	Says  string   `json:"says"`
}

// Line is one numbered line of a certificate.
type Line struct {
	Line     int64  `json:"line"`
	Promise  string `json:"promise"`
	Says     string `json:"says"` // the promise in words
	Places   string `json:"places"`
	FirstDay string `json:"first_day"`
	Months   int64  `json:"months"`
	LastDay  string `json:"last_day"` // "" where first day and months give none
	State    State  `json:"state"`    // on the reader's day
}

// State is whether the term of a line runs on a day.
type State string

// The states of a term; StateUnknown where there is no day to ask for.
const (
	NotBegun     State = "not begun"
	Running      State = "running"
	Over         State = "over"
	StateUnknown State = ""
)

// certificate says the lines of one certificate, and which later entries name
// it: those may end what it says.
func (a *Answer) certificate(act *ledger.Act, naming map[string][]*ledger.Act) Certificate {
	c := Certificate{
		Entry: act.No.String(), Tag: act.Text("tag"), Day: act.Day().String(), By: signer(act),
		Lines: []Line{}, Later: []Remark{}, Says: saysOwnWords,
	}
	if act.Entry.Role == ledger.Guest {
		c.Says += " " + report.Fill(report.FixedSays("guest-promise"), "no", c.Tag, "guest", c.By)
	}
	today, err := day.Parse(a.Today)
	if err != nil {
		today = day.Day{}
	}
	for _, o := range ledger.Objects(act.Body["lines"]) {
		c.Lines = append(c.Lines, line(o, today))
	}
	for _, later := range naming[c.Tag] {
		if later.No.N > act.No.N && len(c.Later) < MaxNamed {
			c.Later = append(c.Later, Remark{later.No.String(), later.Kind + guestSaid(later)})
		}
	}
	return c
}

// naming lists the entries that speak of a certificate by its number, without
// those that count for nothing.
func naming(r *ledger.Replay) map[string][]*ledger.Act {
	out := map[string][]*ledger.Act{}
	for _, act := range r.Acts {
		if !stands(act) {
			continue
		}
		told := map[string]bool{}
		for _, member := range []string{"covers", "instead-of"} {
			for _, o := range ledger.Objects(act.Body[member]) {
				if tag, ok := o["cert"].(string); ok && !told[tag] {
					told[tag] = true
					out[tag] = append(out[tag], act)
				}
			}
		}
	}
	return out
}

// monthsMost is the longest term that is counted: the calendar ends in 9999.
const monthsMost = 12 * 9999

func line(o format.Object, today day.Day) Line {
	promise, _ := o["promise"].(string)
	firstDay, _ := o["first-day"].(string)
	l := Line{
		Line: ledger.Int(o, "line"), Promise: promise, Says: ledger.Said("promise", promise),
		Places: placesSaid(o["places"]), FirstDay: firstDay, Months: ledger.Int(o, "months"),
	}
	first, err := day.Parse(firstDay)
	if err != nil || l.Months < 1 || l.Months > monthsMost {
		return l
	}
	last := day.LastDay(first, int(l.Months))
	l.LastDay = last.String()
	switch {
	case today.IsZero():
	case today.Before(first):
		l.State = NotBegun
	case today.After(last):
		l.State = Over
	default:
		l.State = Running
	}
	return l
}

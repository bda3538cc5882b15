// Package may answers whether something may be done on a roof now: close a
// place, take a press off, load it, put water on it. It makes the note that
// would be written of it and asks the rules that inking would ask; nothing is
// written. What stands in pencil is no entry yet and does not count.
package may

import (
	"errors"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

// What may be asked. Of a certificate the caller asks with the lines that it
// would propose.
const (
	Close    = "close"
	PressOff = "press-off"
	Load     = "load"
	Water    = "water"
	Certify  = "certify"
)

// All are the words that may be asked.
func All() []string { return []string{Close, PressOff, Load, Water, Certify} }

// Question is what is asked of a coach.
type Question struct {
	What string
	At   []format.Object // places as a body holds them; none: the whole coach
	Now  day.Moment
	Case rules.Case // what inking would ask with; its act is the one made here
}

// Answer is yes or no, and why.
type Answer struct {
	Yes      bool
	Why      []rules.Outcome // what stops or refuses it
	Noted    []rules.Outcome // what would be printed with it
	Says     []string        // what was looked at, a sentence each
	Earliest day.Moment      // zero where no time is known, or where it may be done now
}

// Ask answers a question other than Certify.
func Ask(q Question) Answer {
	if q.What == Close {
		return q.close()
	}
	return q.stage()
}

// draft is a note of this moment.
func (q Question) draft(kind string, body format.Object) rules.Case {
	body["happened"] = q.Now.String()
	c := q.Case
	c.Act = &ledger.Act{No: q.next(), Kind: kind, Body: body, House: true, Counts: true}
	return c
}

func (q Question) next() ledger.No { return ledger.No{N: int64(len(q.Case.Replay.Coach.Entries)) + 1} }

// Take takes what all rules say.
func (a *Answer) Take(outcomes []rules.Outcome) { a.asked(outcomes) }

// asked takes the outcomes of some rules; no key: of all.
func (a *Answer) asked(outcomes []rules.Outcome, keys ...string) {
	for _, o := range outcomes {
		switch {
		case len(keys) > 0 && !slices.Contains(keys, o.Rule):
		case o.Degree == rules.Noted:
			a.Noted = append(a.Noted, o)
		default:
			a.Why = append(a.Why, o)
		}
	}
}

// closing are the rules that ask of a place and of no more than the place.
var closing = []string{"closing-unread", "closing-too-wet", "load-early"}

// ofPlace are those that need to know where exactly.
var ofPlace = []string{"closing-no-photo", "work-not-agreed", "agreed-late", "place"}

// close makes a note of closed work that hides what is under it. A glue line
// closes deck and core and takes nothing away that was wet.
func (q Question) close() Answer {
	var a Answer
	at, keys := q.At, slices.Concat(closing, ofPlace)
	if len(at) == 0 {
		at, keys = []format.Object{{"shape": "field"}}, closing
		a.Says = append(a.Says, "Asked of the whole roof. Whether it was agreed, and whether there is a photo, is asked of a place.")
	}
	list := make(format.Array, len(at))
	for i, o := range at {
		list[i] = o
	}
	c := q.draft("work", format.Object{
		"state": "closed", "hides": true, "ops": format.Array{format.Object{"op": "laminate", "places": list}},
	})
	a.asked(rules.Ask(c), keys...)
	for i, o := range a.Why { // nobody asked about a glue line
		a.Why[i].Sentence = strings.Replace(o.Sentence, ledger.Said("operations", "laminate"), "closed work", 1)
	}
	a.Yes = len(a.Why) == 0
	if slices.ContainsFunc(a.Why, func(o rules.Outcome) bool { return o.Rule != "load-early" }) {
		return a // no clock brings that
	}
	a.Earliest = q.latest(Load, PressOff)
	return a
}

// stage makes a note of a release for each cure that waits there.
func (q Question) stage() Answer {
	var a Answer
	waits := q.waits(q.What)
	for _, w := range waits {
		a.release(q, w)
	}
	a.Says = append(a.Says, q.released()...)
	a.Yes = len(a.Why) == 0
	if len(waits) == 0 {
		a.Says = append(a.Says, "No cure there waits for "+ledger.Said("stages", q.What)+".")
		a.Says = append(a.Says, q.unstarted()...)
	}
	if !a.Yes {
		a.Earliest = q.latest(q.What)
	}
	return a
}

// release asks one release as inking would.
func (a *Answer) release(q Question, w *rules.Wait) {
	p, err := w.Progress(q.What, q.Case.Limits)
	at := sayWork(q.Case, w)
	if err == nil && !p.Logged {
		a.Why = append(a.Why, held("No temperature of "+at+" was logged: how far it has cured is not known."))
		return
	}
	c := q.draft("cure", format.Object{
		"answers": format.Array{w.Start.No.Value()}, "releases": format.Array{format.Object{"stage": q.What}},
	})
	err = errors.Join(err, rules.Fill(c))
	var early *rules.Early
	switch {
	case errors.As(err, &early):
		a.Why = append(a.Why, early.Outcome)
	case err != nil:
		a.Why = append(a.Why, held(err.Error()))
	default:
		when := day.MomentAt(p.At, q.Now.Offset())
		a.Says = append(a.Says, "Reached at "+at+" on "+say(when)+". Write the release.")
		a.asked(rules.Ask(c))
	}
}

func held(sentence string) rules.Outcome {
	return rules.Outcome{Rule: "cure-early", Degree: rules.Refused, Sentence: sentence}
}

func say(m day.Moment) string { return m.Day().Long() + " " + m.Clock() }

// sayWork says where the work of a cure lies.
func sayWork(c rules.Case, w *rules.Wait) string {
	if w.Work == nil {
		return "the place of entry " + w.Start.No.String()
	}
	sayPlace := c.Say
	if sayPlace == nil {
		sayPlace = ledger.SayPlace
	}
	var out []string
	for _, op := range rules.Ops(w.Work) {
		for _, p := range op.Places {
			p.Layers = nil
			if s := sayPlace(p); !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	if more := len(out) - mostPlaces; more > 0 {
		out = append(out[:mostPlaces], "and "+ledger.Decimal(int64(more))+" more")
	}
	return strings.Join(out, "; ")
}

// mostPlaces are named in a sentence.
const mostPlaces = 4

// waits are the cures at the place of which a stage is open.
func (q Question) waits(stage string) []*rules.Wait {
	return slices.DeleteFunc(rules.Waits(q.Case.Replay, nil), func(w *rules.Wait) bool {
		return !slices.Contains(w.Open(), stage) || !q.there(w.Work)
	})
}

// there says whether an act lies at the place that is asked about. One whose
// place is not known may lie there.
func (q Question) there(a *ledger.Act) bool {
	if len(q.At) == 0 || a == nil {
		return true
	}
	own, err := q.Case.Replay.Region(a, ledger.PlacesIn(a.Kind, a.Body))
	asked, err2 := q.Region()
	return err != nil || err2 != nil || own.Overlaps(asked)
}

// Region is the place that is asked about, worked out on this coach as it stands.
func (q Question) Region() (place.Region, error) {
	list := make(format.Array, len(q.At))
	for i, o := range q.At {
		list[i] = o
	}
	return q.Case.Replay.Region(&ledger.Act{No: q.next(), Kind: "work", Body: format.Object{"happened": q.Now.String()}}, ledger.PlacesOf(list))
}

// Place is the error of a place that cannot be worked out on this coach.
func (q Question) Place() error {
	if len(q.At) == 0 {
		return nil
	}
	_, err := q.Region()
	return err
}

// released says what was released there before.
func (q Question) released() []string {
	var out []string
	for _, w := range rules.Waits(q.Case.Replay, nil) {
		if no, done := w.Released[q.What]; done && q.there(w.Work) {
			out = append(out, "Released at "+sayWork(q.Case, w)+" with entry "+no.String()+" of "+q.Case.Replay.Act(no).Day().Long()+".")
		}
	}
	return out
}

// unstarted says which lots there have no cure: nothing is known of them.
func (q Question) unstarted() []string {
	r, waits := q.Case.Replay, rules.Waits(q.Case.Replay, nil)
	var out []string
	for _, op := range rules.Closed(r) {
		if !q.there(op.Act) || slices.ContainsFunc(waits, func(w *rules.Wait) bool { return w.Work == op.Act }) {
			continue
		}
		for _, lot := range op.Lots {
			material, _ := r.Lots[lot].Shape["material"].(string)
			if says := "Lot " + lot + " there has no cure-start: nothing is known of its cure."; ledger.Cures(material) && !slices.Contains(out, says) {
				out = append(out, says)
			}
		}
	}
	return out
}

// Cured is when every cure there is reached in all its stages, zero where one
// has no such time.
func (q Question) Cured() day.Moment { return q.latest(PressOff, Load, Water) }

// latest is the time at which the last open stage there is reached, zero where
// one has none.
func (q Question) latest(stages ...string) (last day.Moment) {
	at := int64(0)
	for _, stage := range stages {
		for _, w := range q.waits(stage) {
			p, err := w.Progress(stage, q.Case.Limits)
			if err != nil || !p.Known {
				return day.Moment{}
			}
			at = max(at, p.At)
		}
	}
	if at == 0 {
		return day.Moment{}
	}
	return day.MomentAt(at, q.Now.Offset())
}

// Package rules is the trade's judgement over a note before it is inked: what
// is noted, what is stopped unless a reason is given, what is refused. Each
// rule is declared once, with its key word and its sentence.
//
// A rule reads the replayed coach, the draft and the shop's limits, nothing
// else.
package rules

import (
	"cmp"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

// Degree is what a rule does with a note.
type Degree int

// Noted: written, and the sentence is shown for ever. Stopped: written only
// with a reason. Refused: not written.
const (
	Noted Degree = iota
	Stopped
	Refused
)

// String is the word for a degree.
func (d Degree) String() string { return [...]string{"noted", "stopped", "refused"}[d] }

// Outcome is one thing a rule says of a note.
type Outcome struct {
	Rule     string
	Degree   Degree
	Sentence string
	Mend     string // the one mend that is always right, if there is one
	Limit    string // the limit of the shop's terms whose value decided, "" = none did
}

// Case is what a rule looks at.
type Case struct {
	Replay  *ledger.Replay    // nil where the coach has no ledger yet
	Act     *ledger.Act       // the draft, with numbers for tags
	Private map[string]string // what the draft says in private
	Zone    string            // offset of the shop's clock on the day of the note
	Now     day.Stamp         // what this machine's clock says, zero where nobody asks
	Limits  Limits
	Taken   func(certificate string) (coach string, taken bool) // asks the shop's book
	Next    func() (certificate string, err error)              // the shop's next free number
	Shown   func(photo string) (coach string, shown bool)       // asks the shop's book which other coach has the photo
	Say     func(place.Place) string                            // how a place is said; nil: as ledger.SayPlace does
	Lot     func(lot string) BookLot                            // asks the shop's book of its other coaches
	seen    *seen
}

// say says places, at the beginning of a sentence.
func (c Case) say(places ...place.Place) string {
	say := c.Say
	if say == nil {
		say = ledger.SayPlace
	}
	var out []string
	for _, p := range places {
		if s := say(p); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return join(out)
}

// Rule is one rule, declared once.
type Rule struct {
	Key       string
	Degree    Degree               // the strongest it does
	Kinds     []string             // the kinds of entry it looks at; none: all
	Sentences []string             // the sentence, and second forms; {} are blanks
	Plain     string               // what it says of a place on a paper that has not its figures; "" of one that is asked again
	Look      func(Case) []Outcome // nil: not asked of a draft, or asked while it is filled
}

// Rules returns all rules in the order they are asked.
func Rules() []Rule {
	return slices.Concat(ruleLists()...)
}

func ruleLists() [][]Rule {
	return [][]Rule{
		noteRules, datedRules, namedRules, readingRules, photoRules, agreedRules, mendedRules,
		{overrideRule()},
		closingRules, lotRules, fitRules, glueRules, weldRules, fastenRules, loadRules, certifyRules,
		termsRules, upkeepRules, claimRules, withdrawRules,
	}
}

// RuleNamed returns the rule of a key.
func RuleNamed(key string) (r Rule, ok bool) {
	all := Rules()
	i := slices.IndexFunc(all, func(r Rule) bool { return r.Key == key })
	if i < 0 {
		return Rule{}, false
	}
	return all[i], true
}

// Ask asks every rule that looks at the kind of the draft. An outcome that is
// stopped and has its reason in the note is no longer in the answer. The limits
// that decided something are written into the draft, as Fill writes those of
// its checks and cures.
func Ask(c Case) []Outcome {
	c.seen = newSeen()
	var out []Outcome
	for _, list := range ruleLists() {
		for i := range list {
			out = append(out, list[i].ask(c)...)
		}
	}
	return out
}

func (r *Rule) ask(c Case) []Outcome {
	if r.Look == nil || len(r.Kinds) > 0 && !contains(r.Kinds, c.Act.Kind) {
		return nil
	}
	said := r.Look(c)
	for _, o := range said {
		if o.Limit != "" {
			useLimit(c.Act, c.Limits.used(o.Limit))
		}
	}
	return slices.DeleteFunc(said, func(o Outcome) bool {
		return o.Degree == Stopped && overridden(c.Act, o.Rule)
	})
}

const (
	keyNoRule  = "override-unknown"
	saysNoRule = "{rule} is no rule that stops a note. A reason answers one that does, by its word."
)

// overrideRule refuses a reason that answers no rule, or one that asks for no
// reason: it would be printed for ever as one that was set aside.
func overrideRule() Rule {
	return Rule{Key: keyNoRule, Degree: Refused, Sentences: []string{saysNoRule}, Look: func(c Case) []Outcome {
		var out []Outcome
		for _, o := range ledger.Objects(c.Act.Body["overrides"]) {
			if r, known := RuleNamed(text(o, "rule")); !known || r.Degree != Stopped {
				out = append(out, refused(keyNoRule, saysNoRule, text(o, "rule")))
			}
		}
		return out
	}}
}

// ofEach asks a rule of the note itself and, where the note is a correction, of
// each entry that it mends: there only what is new counts.
func ofEach(look func(*ledger.Act) []Outcome) func(Case) []Outcome {
	return mendedToo(func(c Case) []Outcome { return look(c.Act) })
}

// mendedToo is ofEach for a rule that looks at more than the note.
func mendedToo(look func(Case) []Outcome) func(Case) []Outcome {
	return func(c Case) []Outcome {
		if c.Act.Kind != "correction" || c.Replay == nil {
			return look(c)
		}
		var out []Outcome
		for _, no := range c.Act.Refs("answers") {
			if a := c.Replay.Act(no); a != nil {
				old := look(c.of(a))
				fresh := slices.DeleteFunc(look(c.of(a.Mended(c.Act))), func(o Outcome) bool { return slices.Contains(old, o) })
				out = append(out, fresh...)
			}
		}
		return out
	}
}

// of is the case of another act.
func (c Case) of(a *ledger.Act) Case {
	c.Act, c.seen = a, newSeen()
	return c
}

func contains(list []string, s string) bool {
	for _, one := range list {
		if one == s {
			return true
		}
	}
	return false
}

func overridden(a *ledger.Act, rule string) bool {
	for _, o := range ledger.Objects(a.Body["overrides"]) {
		if o["rule"] == rule {
			return true
		}
	}
	return false
}

// fill puts values into the blanks of a sentence, in their order.
func fill(sentence string, values ...string) string {
	var out strings.Builder
	for {
		before, rest, ok := strings.Cut(sentence, "{")
		out.WriteString(before)
		if !ok {
			return out.String()
		}
		_, after, _ := strings.Cut(rest, "}")
		if len(values) > 0 {
			out.WriteString(values[0])
			values = values[1:]
		}
		sentence = after
	}
}

func text(o format.Object, name string) string {
	s, _ := o[name].(string)
	return s
}

func dayOf(s string) day.Day {
	d, err := day.Parse(s)
	if err != nil {
		return day.Day{}
	}
	return d
}

// appendOnce adds an outcome that was not said yet.
func appendOnce(list []Outcome, o Outcome) []Outcome {
	if slices.Contains(list, o) {
		return list
	}
	return append(list, o)
}

// newestFirst sorts acts by when they happened; of those at one time the one
// inked last comes first.
func newestFirst(list []*ledger.Act, when func(*ledger.Act) int64) {
	slices.SortStableFunc(list, func(a, b *ledger.Act) int {
		if d := cmp.Compare(when(b), when(a)); d != 0 {
			return d
		}
		if a.Follows(b) {
			return -1
		}
		return 1
	})
}

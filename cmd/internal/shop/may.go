package shop

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/may"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
)

// Permission is the answer of May: yes or no, and what stands in pencil and was
// not counted.
type Permission struct {
	may.Answer
	Pencil []string // kinds, in the order of the notes
}

// May answers whether something may be done on a coach now, at some places as a
// sheet writes them, or anywhere. Nothing is written.
func (s *Shop) May(c *Coach, what string, places []string) (Permission, error) {
	if !slices.Contains(may.All(), what) {
		return Permission{}, fmt.Errorf("%w: %q is nothing to ask: %s", ErrUse, what, strings.Join(may.All(), ", "))
	}
	if c.Ledger == nil {
		return Permission{}, fmt.Errorf("%w: %s is not inked yet", ErrNoCoach, c.Plate)
	}
	at, err := typedPlaces(c, places)
	if err != nil {
		return Permission{}, err
	}
	q, err := s.question(c, what, at)
	if err != nil {
		return Permission{}, err
	}
	if err := q.Place(); err != nil {
		return Permission{}, fmt.Errorf("%w: %w", ErrUse, err)
	}
	p := Permission{}
	if what == may.Certify {
		p.Answer, _, err = s.mayCertify(c, q)
	} else {
		p.Answer = may.Ask(q)
	}
	if err != nil {
		return Permission{}, err
	}
	p.Pencil, err = s.inPencil(c.Plate, what)
	return p, err
}

func typedPlaces(c *Coach, places []string) ([]format.Object, error) {
	var out []format.Object
	for _, text := range places {
		p, err := placeTyped(text)
		if err != nil {
			return nil, notAPlace(text, err)
		}
		if off := c.Replay.OffRoof(p); off != "" {
			return nil, fmt.Errorf("%w: %s. Read the place again", ErrUse, off)
		}
		body, err := placeBody(text)
		if err != nil {
			return nil, notAPlace(text, err)
		}
		out = append(out, ledger.Objects(format.Array{body})...)
	}
	return out, nil
}

func (s *Shop) question(c *Coach, what string, at []format.Object) (may.Question, error) {
	now, err := s.moment()
	if err != nil {
		return may.Question{}, err
	}
	w, err := s.begin(c, Hand{Key: dryKey{s.House}})
	if err != nil {
		return may.Question{}, err
	}
	_, zone := s.Today()
	asked, err := w.caseOf(&ledger.Act{}, zone)
	return may.Question{What: what, At: at, Now: now, Case: asked}, err
}

// mayCertify asks of the certificate that certify would propose, of its lines at
// the place; and says how many these are.
func (s *Shop) mayCertify(c *Coach, q may.Question) (a may.Answer, lines int, err error) {
	p, err := s.Propose(c, Wish{By: "foreman"})
	if strike := elsewhere(q, p); err == nil && len(strike) > 0 {
		p, err = s.Propose(c, Wish{By: "foreman", Strike: strike})
	}
	if errors.Is(err, ErrRefused) {
		return may.Answer{Says: []string{"Nothing there is closed and tested that the terms promise anything for."}}, 0, nil
	}
	if err != nil {
		return a, 0, err
	}
	in, err := s.Dry(c.Plate, []Pending{p})
	if err != nil {
		return a, 0, err
	}
	r := in.Results[0]
	a.Take(r.Outcomes)
	var held *Held
	if a.Yes = r.Why == nil; r.Why != nil && !errors.As(r.Why, &held) {
		a.Says = append(a.Says, r.Why.Error())
	}
	a.Says = append(a.Says, lineSays(p)...)
	if !a.Yes && !slices.ContainsFunc(a.Why, func(o rules.Outcome) bool { return o.Rule != "stage-open" }) {
		a.Earliest = q.Cured()
	}
	return a, len(ledger.Objects(p.Draft.Body["lines"])), nil
}

// elsewhere are the proposed lines that share no area with the place asked about.
func elsewhere(q may.Question, p Pending) (strike []int64) {
	if len(q.At) == 0 {
		return nil
	}
	lines, _ := rules.Lines(q.Case.Replay, &ledger.Act{Kind: "certificate", Body: p.Draft.Body})
	for _, l := range lines {
		if at, err := q.Region(); err == nil && !l.Region.Overlaps(at) {
			strike = append(strike, l.Number)
		}
	}
	return strike
}

// lineSays says what would be certified.
func lineSays(p Pending) (out []string) {
	for _, o := range ledger.Objects(p.Draft.Body["lines"]) {
		promise, _ := o["promise"].(string)
		first, _ := o["first-day"].(string)
		out = append(out, fmt.Sprintf("Line %d would be %s from %s: %s.", ledger.Int(o, "line"), ledger.Said("promise", promise), first,
			sayAll(ledger.PlacesOf(o["places"]))))
	}
	return out
}

func sayAll(places []place.Place) string {
	var out []string
	for _, p := range places {
		out = append(out, ledger.SayPlace(p))
	}
	return strings.Join(out, "; ")
}

// relevant are the kinds of notes that would change an answer; those of Certify
// are all.
var relevant = map[string][]string{
	may.Close: {"finding", "check", "work", "decision", "correction", "cure"}, may.PressOff: {"cure", "correction"},
	may.Load: {"cure", "correction"}, may.Water: {"cure", "correction"},
}

// inPencil are the kinds of the notes of a coach that may change the answer once
// they are inked.
func (s *Shop) inPencil(plate, what string) ([]string, error) {
	notes, err := s.Notes(plate)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, p := range notes {
		if kinds := relevant[what]; kinds == nil || slices.Contains(kinds, p.Draft.Kind) {
			out = append(out, p.Draft.Kind)
		}
	}
	return out, nil
}

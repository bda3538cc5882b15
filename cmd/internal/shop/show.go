package shop

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

// Wanted is what is asked of the entries of a coach; what is empty asks
// nothing, and an entry has to fit all of it.
type Wanted struct {
	Entries  []string // numbers or tags
	Kinds    []string
	Places   []string // as a sheet writes them: an entry fits one of them
	From, To string   // first and last day
}

// Picked is the answer: the entries that fit, and what could not be worked out.
type Picked struct {
	Acts    []PickedAct
	Places  []AskedPlace
	Unknown []NotCompared
}

// PickedAct is an entry that fits; Answers is the entry of that place that it
// answers, where it says no place itself.
type PickedAct struct {
	*ledger.Act
	Answers ledger.No
}

// AskedPlace is a place that was asked about; Why says why it could not be
// worked out.
type AskedPlace struct{ Place, Why string }

// NotCompared is an entry of which it is not known whether it fits.
type NotCompared struct {
	No  ledger.No
	Why string
}

// Pick finds the entries of a coach that fit.
func (c *Coach) Pick(w Wanted) (p Picked, err error) {
	acts, err := c.entriesNamed(w.Entries)
	if err != nil {
		return p, err
	}
	if acts, err = ofKinds(acts, w.Kinds); err != nil {
		return p, err
	}
	if acts, err = p.between(acts, w.From, w.To); err != nil {
		return p, err
	}
	near, err := c.near(w.Places)
	if err != nil {
		return p, err
	}
	for i, n := range near {
		asked := AskedPlace{Place: w.Places[i]}
		if n.Why != nil {
			asked.Why = n.Why.Error()
		}
		p.Places = append(p.Places, asked)
	}
	p.touching(c.Replay, acts, near)
	return p, nil
}

func (c *Coach) entriesNamed(names []string) ([]*ledger.Act, error) {
	if len(names) == 0 {
		return c.Replay.Acts, nil
	}
	var out []*ledger.Act
	for _, name := range names {
		no, ok := ledger.ParseNo(strings.TrimPrefix(name, "#"))
		if tagged, is := c.Replay.Tagged(name); is {
			no, ok = tagged, true
		}
		a := c.Replay.Act(no)
		if !ok || a == nil {
			return nil, fmt.Errorf("%w: there is no entry %s; the newest is %d", ErrUse, name, len(c.Ledger.Entries))
		}
		out = append(out, a)
	}
	return out, nil
}

// ofKinds keeps the entries of some kinds. A kind that is newer than this tool
// can be asked for where the ledger has it.
func ofKinds(acts []*ledger.Act, kinds []string) ([]*ledger.Act, error) {
	if len(kinds) == 0 {
		return acts, nil
	}
	for _, name := range kinds {
		_, known := ledger.KindNamed(name)
		if !known && !slices.ContainsFunc(acts, func(a *ledger.Act) bool { return a.Kind == name }) {
			return nil, fmt.Errorf("%w: %q is no kind of entry: %s", ErrUse, name, strings.Join(KindNames(), ", "))
		}
	}
	return slices.DeleteFunc(slices.Clone(acts), func(a *ledger.Act) bool { return !slices.Contains(kinds, a.Kind) }), nil
}

// KindNames are the kinds of entries that this tool knows.
func KindNames() []string {
	var out []string
	for _, k := range ledger.Kinds() {
		out = append(out, k.Name)
	}
	return out
}

// between keeps what happened from one day to another, both included.
func (p *Picked) between(acts []*ledger.Act, from, to string) (out []*ledger.Act, err error) {
	if err := errors.Join(AsOf(from), AsOf(to)); err != nil {
		return nil, err
	}
	if from != "" && to != "" && to < from {
		return nil, fmt.Errorf("%w: %s comes after %s", ErrUse, from, to)
	}
	for _, a := range acts {
		when := a.Day()
		asked := from != "" || to != ""
		switch {
		case asked && when.IsZero():
			p.Unknown = append(p.Unknown, NotCompared{a.No, "it says no day that this tool knows"})
		case (from == "" || when.String() >= from) && (to == "" || when.String() <= to):
			out = append(out, a)
		}
	}
	return out, nil
}

func (c *Coach) near(places []string) ([]ledger.Near, error) {
	var out []ledger.Near
	for _, text := range places {
		p, err := placeTyped(text)
		if err != nil {
			return nil, notAPlace(text, err)
		}
		out = append(out, c.Replay.Near(p))
	}
	return out, nil
}

func notAPlace(text string, err error) error {
	return fmt.Errorf(`%w: %q: %w. Write it as in a sheet: "bay 9 left", "5550-6450 aft full width", A1, left-edge`, ErrUse, text, err)
}

// placeTyped reads a place as a sheet writes it.
func placeTyped(text string) (place.Place, error) {
	o, err := placeBody(text)
	if err != nil {
		return place.Place{}, err
	}
	return ledger.PlaceOf(o)
}

// placeBody is the same as a body holds it.
func placeBody(text string) (format.Value, error) {
	kind, _ := ledger.KindNamed("remark")
	d := ledger.Draft{Kind: kind.Name, Body: format.Object{}}
	if err := sheet.ReadPart(&d, kind, "at "+text, sheet.Heading{}); err != nil {
		return nil, err
	}
	list, _ := d.Body["places"].(format.Array)
	if len(list) != 1 || len(d.Body) != 1 {
		return nil, errors.New("that is not one place")
	}
	return list[0], nil
}

// touching keeps what touches one of the places asked about, and what says no
// place itself and answers an entry that does.
func (p *Picked) touching(r *ledger.Replay, acts []*ledger.Act, near []ledger.Near) {
	if len(near) == 0 {
		for _, a := range acts {
			p.Acts = append(p.Acts, PickedAct{Act: a})
		}
		return
	}
	known := map[ledger.No]ledger.Touch{}
	touch := func(a *ledger.Act) ledger.Touch {
		t, done := known[a.No]
		if !done {
			t = touchAny(a, near)
			known[a.No] = t
		}
		return t
	}
	for _, a := range acts {
		t := touch(a)
		at := slices.IndexFunc(a.Refs("answers"), func(no ledger.No) bool {
			b := r.Act(no)
			return b != nil && touch(b).Touches
		})
		switch {
		case t.Touches:
			p.Acts = append(p.Acts, PickedAct{Act: a})
		case !t.Speaks && at >= 0:
			p.Acts = append(p.Acts, PickedAct{Act: a, Answers: a.Refs("answers")[at]})
		case len(t.Open) > 0:
			p.Unknown = append(p.Unknown, NotCompared{a.No, strings.Join(t.Open, "; ")})
		}
	}
}

func touchAny(a *ledger.Act, near []ledger.Near) (all ledger.Touch) {
	for _, n := range near {
		t := n.Touch(a)
		all.Touches, all.Speaks = all.Touches || t.Touches, t.Speaks
		for _, why := range t.Open {
			if !slices.Contains(all.Open, why) {
				all.Open = append(all.Open, why)
			}
		}
	}
	return all
}

// Noted are the sentences that rules have noted of entries of the main chain,
// each asked again of the ledger as it stood before it.
func (c *Coach) Noted(acts []PickedAct) map[ledger.No][]string {
	out := map[ledger.No][]string{}
	last := int64(0)
	for _, a := range acts {
		if a.No.Branch == 0 {
			out[a.No], last = []string{}, max(last, a.No.N)
		}
	}
	c.Replay.Each(last, func(before *ledger.Replay, a *ledger.Act) {
		if _, wanted := out[a.No]; !wanted {
			return
		}
		for _, o := range rules.NotedOf(before, a, zoneOf(a.Entry)) {
			out[a.No] = append(out[a.No], o.Sentence)
		}
	})
	return out
}

package shop

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/chain"
	"lapmark/ledger/file"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

// Pending is one note on its way into ink.
type Pending struct {
	Note    int64  // its number in pencil, 0 of one made by a verb
	Written string // when it was put into pencil, UTC
	Line    string
	Heading sheet.Heading
	Draft   ledger.Draft
}

// Result is what became of one note.
type Result struct {
	Note     int64
	Line     string          // as it was read
	Entry    int64           // its number, 0 where it stays
	Outcomes []rules.Outcome // what rules say of it, noted ones of inked notes too
	Why      error           // why it stays: short, a reference, a picture, a rule
	Papers   []Paper         // the papers a given-out makes
}

// Inked is the answer of one inking.
type Inked struct {
	Plate   string
	ID      string
	Results []Result
	Code    chain.Code // the new head code
	Size    int64
}

// Notes reads the pencil notes of a coach as they would be inked, in order;
// unclear and dropped ones are left out.
func (s *Shop) Notes(plate string) ([]Pending, error) {
	notes, err := s.Book.Notes(plate)
	if err != nil {
		return nil, err
	}
	var out []Pending
	for _, n := range notes {
		if !legible(n) {
			continue
		}
		p, err := pending(n)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// legible says whether a note in pencil is to be inked at all.
func legible(n book.Note) bool { return n.Line != "" && n.State != book.Dropped }

func headingOf(n book.Note) sheet.Heading {
	return sheet.Heading{Coach: n.Coach, Day: n.Day, Zone: n.Zone}
}

func pending(n book.Note) (Pending, error) {
	h := headingOf(n)
	d, err := sheet.ReadLine(n.Line, h)
	if err != nil {
		return Pending{}, fmt.Errorf("note %d: %w", n.ID, err)
	}
	return Pending{Note: n.ID, Written: n.Written, Line: n.Line, Heading: h, Draft: d}, nil
}

// Ink signs the pencil notes of a coach into its ledger: those that can go in,
// in one transaction, all or none. What is short, stopped or refused stays in
// pencil with what leans on it. A clock that looks wrong is ErrClock, unless
// clockIsRight.
func (s *Shop) Ink(ctx context.Context, plate string, key sshsig.Signer, clockIsRight bool) (Inked, error) {
	return s.inkNotes(ctx, plate, Hand{Key: key}, clockIsRight)
}

func (s *Shop) inkNotes(ctx context.Context, plate string, hand Hand, clockIsRight bool) (Inked, error) {
	notes, err := s.Notes(plate)
	if err != nil {
		return Inked{}, err
	}
	if len(notes) == 0 {
		return Inked{Plate: plate}, fmt.Errorf("%w: nothing in pencil for %s is ready to be inked", ErrNothing, plate)
	}
	for _, n := range notes {
		if err := s.missingPhotos(plate, n); err != nil {
			return Inked{}, err
		}
	}
	if err := s.clearInbox(plate); err != nil {
		return Inked{}, err
	}
	chosen := func() ([]Pending, error) { return s.stillThere(plate, notes) }
	in, err := s.ink(ctx, plate, chosen, hand, clockIsRight)
	if err == nil && len(in.Results) == 0 {
		err = fmt.Errorf("%w: another window has inked these notes meanwhile", ErrNothing)
	}
	return in, err
}

// stillThere reads the chosen notes again, without those that have left pencil.
// One that stands under its line and heading as it did is what it was.
func (s *Shop) stillThere(plate string, chosen []Pending) ([]Pending, error) {
	rows, err := s.Book.Notes(plate)
	if err != nil {
		return nil, err
	}
	var out []Pending
	for _, n := range rows {
		i := slices.IndexFunc(chosen, func(c Pending) bool { return c.Note == n.ID && c.Line == n.Line })
		if i < 0 || !legible(n) {
			continue
		}
		p := chosen[i]
		if p.Heading != headingOf(n) {
			if p, err = pending(n); err != nil {
				return nil, err
			}
		}
		p.Written = n.Written
		out = append(out, p)
	}
	return out, nil
}

// Dry says what Ink would do, and signs and writes nothing.
func (s *Shop) Dry(plate string, notes []Pending) (Inked, error) { return s.dry(plate, notes, false) }

func (s *Shop) dry(plate string, notes []Pending, early bool) (Inked, error) {
	c, err := s.byPlate(plate)
	if err != nil {
		return Inked{}, err
	}
	w, err := s.begin(c, Hand{Key: dryKey{s.House}})
	if err != nil {
		return Inked{}, err
	}
	w.dry, w.early = true, early
	for _, n := range notes {
		w.one(n)
	}
	return w.answer(), nil
}

// fresh returns the notes that are to be inked, as they stand when the coach is
// locked: another window may have inked some meanwhile.
type fresh func() ([]Pending, error)

func just(p Pending) fresh { return func() ([]Pending, error) { return []Pending{p}, nil } }

func (s *Shop) ink(ctx context.Context, plate string, notes fresh, hand Hand, clockIsRight bool) (Inked, error) {
	if err := ctx.Err(); err != nil {
		return Inked{}, err
	}
	id, err := s.idOf(plate)
	if err != nil {
		return Inked{}, err
	}
	may := func(c *Coach) error {
		if !clockIsRight {
			if err := s.clock(c); err != nil {
				return err
			}
		}
		return hand.mayWrite(s, c)
	}
	if id == "" {
		return s.inkNew(ctx, plate, may, notes, hand)
	}
	return s.inkMore(ctx, id, may, notes, hand)
}

// inkNew makes the file of a coach that has none. The plate is claimed first,
// so that two windows never make two ledgers of one coach.
func (s *Shop) inkNew(ctx context.Context, plate string, may func(*Coach) error, notes fresh, hand Hand) (in Inked, err error) {
	c := &Coach{Plate: plate}
	if err := may(c); err != nil {
		return Inked{}, err
	}
	if err := s.claim(ctx, plate); err != nil {
		return Inked{}, err
	}
	defer func() { err = errors.Join(err, s.Book.Unset(claimed+plate)) }()
	id, err := s.idOf(plate)
	if err != nil {
		return Inked{}, err
	}
	if id != "" {
		return s.inkMore(ctx, id, may, notes, hand)
	}
	w, err := s.draw(c, notes, hand)
	if err != nil || len(w.leaves) == 0 {
		return s.inked(w, intent{}, err)
	}
	w.coach.ID = w.coach.Ledger.ID()
	meant, err := s.ready(w)
	if err == nil {
		err = file.CreateWith(s.coachPath(w.coach.ID), w.inking())
	}
	return s.inked(w, meant, err)
}

// draw seals what can go in of the notes.
func (s *Shop) draw(c *Coach, notes fresh, hand Hand) (*writing, error) {
	list, err := notes()
	if err != nil {
		return nil, err
	}
	w, err := s.begin(c, hand)
	if err != nil {
		return nil, err
	}
	for _, n := range list {
		w.one(n)
	}
	return w, w.proof.settled()
}

// ready puts the slips into the book, and what follows the commit. A slip
// without its entry is harmless.
func (s *Shop) ready(w *writing) (intent, error) {
	in := s.intend(w)
	text, err := json.Marshal(in)
	if err != nil {
		return in, err
	}
	return in, s.Book.Together(book.PutSlips(in.Coach, w.slips), book.Set(in.key(), string(text)))
}

// inkMore adds to the file of a coach. It is read and checked once, under its
// lock: only what stands then counts.
func (s *Shop) inkMore(ctx context.Context, id string, may func(*Coach) error, notes fresh, hand Hand) (in Inked, err error) {
	f, err := file.Open(s.coachPath(id))
	if err != nil {
		return Inked{}, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	var w *writing
	var meant intent
	err = f.Ink(ctx, func(text []byte, branches [][]byte) (file.Inking, error) {
		now, err := s.read(id, text, branches)
		if err != nil {
			return file.Inking{}, err
		}
		if err := may(now); err != nil {
			return file.Inking{}, err
		}
		if err := errors.Join(s.headMissing(now), s.settle(now)); err != nil {
			return file.Inking{}, err
		}
		if w, err = s.draw(now, notes, hand); err != nil || len(w.leaves) == 0 {
			return file.Inking{}, err
		}
		meant, err = s.ready(w)
		return w.inking(), err
	})
	return s.inked(w, meant, err)
}

// inked does what follows a commit: notes out of pencil, papers, index, heads;
// and writes beside each note that stays why it does.
func (s *Shop) inked(w *writing, meant intent, err error) (Inked, error) {
	if err != nil {
		return Inked{}, err
	}
	if err := s.remember(w); err != nil {
		return w.answer(), err
	}
	if len(w.leaves) > 0 {
		if err := s.finish(w.coach, meant); err != nil {
			return w.answer(), err
		}
		for i := range w.results {
			for j := range w.results[i].Papers {
				p := &w.results[i].Papers[j]
				p.Entry = w.results[i].Entry
				p.Name = s.paperName(w.coach, p.Entry, *p)
			}
		}
	}
	return w.answer(), nil
}

// remember notes in pencil why a note was not inked.
func (s *Shop) remember(w *writing) error {
	if !slices.ContainsFunc(w.results, func(r Result) bool { return r.Entry == 0 }) {
		return nil
	}
	pencil, err := s.Book.Notes(w.plate)
	if err != nil {
		return err
	}
	for _, r := range w.results {
		i := slices.IndexFunc(pencil, func(n book.Note) bool { return n.ID == r.Note && r.Entry == 0 })
		if i < 0 {
			continue
		}
		n := pencil[i]
		n.State, n.Why = stateOf(r.Why), r.Why.Error()
		if err := s.Book.ChangeNote(n); err != nil && !errors.Is(err, book.ErrMoved) {
			return err
		}
	}
	return nil
}

func stateOf(why error) book.State {
	var held *Held
	switch {
	case errors.As(why, &held) && held.Outcome.Degree == rules.Stopped:
		return book.Stopped
	case errors.As(why, &held):
		return book.Refused
	}
	return book.Short
}

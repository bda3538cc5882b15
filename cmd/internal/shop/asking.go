package shop

import (
	"errors"
	"fmt"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/day"
	"lapmark/ledger/questions"
	"lapmark/ledger/sheet"
)

// Asked is a note that is made by questions. From its first answer on it stands
// in pencil, so that nothing is lost when the power goes.
type Asked struct {
	*questions.Asking
	Plate   string
	Heading sheet.Heading
	Read    Read  // as it stands in pencil
	Note    int64 // its number in pencil, 0 before the first answer
	version int
}

// Ask begins a note of a kind for a coach, on a day; "" is today. known are
// parts that are not asked. The error is questions.ErrKind, or that of the coach.
func (s *Shop) Ask(kind, coach, on string, known ...string) (*Asked, error) {
	plate, err := s.PlateOf(coach)
	if err != nil {
		return nil, err
	}
	if kind == "ruling" {
		known = append(known, s.openVerdict(coach)...)
	}
	return s.askOf(plate, kind, on, known...)
}

// openVerdict is the one verdict of a coach that nobody has ruled on yet, as a
// part of a ruling; none where there are several, or none.
func (s *Shop) openVerdict(coach string) []string {
	c, err := s.Coach(coach)
	if err != nil || c.Replay == nil {
		return nil
	}
	ruled := map[ledger.No]bool{}
	for _, a := range c.Replay.OfKind("ruling") {
		for _, no := range a.Refs("answers") {
			ruled[no] = true
		}
	}
	var open []string
	for _, a := range c.Replay.OfKind("verdict") {
		if a.Counts && !ruled[a.No] {
			open = append(open, "answers #"+a.No.String())
		}
	}
	if len(open) != 1 {
		return nil
	}
	return open
}

// askOf begins a note for a plate that need not be known yet.
func (s *Shop) askOf(plate, kind, on string, known ...string) (*Asked, error) {
	today, zone := s.Today()
	h := sheet.Heading{Coach: plate, Day: today, Zone: zone}
	if on != "" {
		d, err := day.Parse(on)
		if err != nil {
			return nil, fmt.Errorf("%w: %q is no day: write 2020-03-16", ErrUse, on)
		}
		h.Day, h.Zone = on, s.zoneOf(d)
	}
	asking, err := questions.New(kind, h, known...)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUse, err)
	}
	return &Asked{Asking: asking, Plate: plate, Heading: h}, nil
}

// AskIntake begins the intake of a coach by its plate: "vin" or "serial".
func (s *Shop) AskIntake(plate, called string) (*Asked, error) {
	return s.askOf(plate, "intake", "", called+" "+plate, "holder holder-1")
}

// NoIntakeYet refuses a second intake of a plate before its questions are asked.
func (s *Shop) NoIntakeYet(plate string) error {
	id, err := s.idOf(plate)
	if err != nil {
		return err
	}
	if id != "" {
		return fmt.Errorf("%w: %s was taken in before, and has one intake for ever. A new holder: lapmark add transfer. "+
			"What is wrong: lapmark add finding, or add claim", ErrUse, plate)
	}
	notes, err := s.Book.Notes(plate)
	if err != nil {
		return err
	}
	for _, n := range notes {
		if n.State == book.Dropped {
			continue
		}
		if p, err := pending(n); err == nil && p.Draft.Kind == "intake" {
			return fmt.Errorf("%w: an intake of %s is in pencil, note %d. Go on with it: lapmark add --go-on %d. Rub it out: lapmark pencil --rub-out %d",
				ErrUse, plate, n.ID, n.ID, n.ID)
		}
	}
	return nil
}

// Stands says whether the note stands in pencil as it was last answered here.
func (s *Shop) Stands(a *Asked) (bool, error) {
	n, err := s.note(a.Note)
	if errors.Is(err, book.ErrNoNote) {
		return false, nil
	}
	return err == nil && n.Version == a.version, err
}

// GoOn takes up a note again that was made by questions and broken off.
func (s *Shop) GoOn(note int64) (*Asked, error) {
	n, err := s.note(note)
	if err != nil {
		return nil, err
	}
	a := &Asked{Plate: n.Coach, Heading: headingOf(n), Note: n.ID, version: n.Version}
	if a.Asking, err = questions.Resume(n.Words, a.Heading); err != nil {
		return nil, fmt.Errorf("%w: note %d: %w. Mend it: lapmark pencil --mend %d --line '…'", ErrUse, note, err, note)
	}
	one, err := s.readAsked(a)
	if err == nil && n.Line != one.Line {
		err = fmt.Errorf("%w: note %d was written anew since; mend it: lapmark pencil --mend %d --line '…'", ErrUse, note, note)
	}
	a.Read = one
	return a, err
}

// Answer answers the open question and keeps the note in pencil. An answer that
// does not fit is not taken, and the error says why.
func (s *Shop) Answer(a *Asked, text string) error {
	if err := a.Asking.Answer(text); err != nil {
		return err
	}
	one, err := s.readAsked(a)
	if err == nil && one.State == book.Unclear {
		err = errors.New(one.Why)
	}
	if err != nil {
		a.Back()
		return err
	}
	return s.keepAsked(a, one)
}

// TakeBack takes the last answer back; ok is false where there is none.
func (s *Shop) TakeBack(a *Asked) (ok bool, err error) {
	if !a.Back() {
		return false, nil
	}
	one, err := s.readAsked(a)
	if err != nil {
		return true, err
	}
	return true, s.keepAsked(a, one)
}

// readAsked reads the note as far as it is answered, like a line of a sheet.
func (s *Shop) readAsked(a *Asked) (Read, error) {
	bare := Read{Plate: a.Plate, Heading: a.Heading, Words: a.Lines(), State: book.Short, Kind: a.Kind(), Why: "only begun"}
	line, err := sheet.Line(a.Draft(), a.Heading)
	if err != nil || strings.HasSuffix(line, ": ") {
		return bare, err
	}
	notes, err := s.Reading([]byte(strings.Join(a.Heading.Lines(sheet.Heading{}), "\n")+"\n"+sheet.Fold(line)+"\n"), "")
	if err != nil {
		return bare, err
	}
	if len(notes) != 1 {
		return bare, fmt.Errorf("%w: one note was asked for, %d were read", ErrUse, len(notes))
	}
	notes[0].Words = a.Lines()
	return notes[0], nil
}

// keepAsked writes the note into pencil. Where another window has changed it
// meanwhile, ours is kept beside it.
func (s *Shop) keepAsked(a *Asked, one Read) error {
	n := book.Note{
		ID: a.Note, Version: a.version, Day: a.Heading.Day, Zone: a.Heading.Zone, Words: one.Words, Line: one.Line,
		State: one.State, Why: one.Why, Written: s.stamp(),
	}
	a.Read = one
	if a.Note > 0 {
		err := s.Book.ChangeNote(n)
		if err == nil {
			a.version++
			return nil
		}
		if !errors.Is(err, book.ErrMoved) && !errors.Is(err, book.ErrNoNote) {
			return err
		}
	}
	id, err := s.Book.AddNote(a.Plate, n)
	moved := a.Note
	a.Note, a.version = id, 1
	if err == nil && moved > 0 {
		err = fmt.Errorf("%w: note %d; what was answered here is kept as note %d", book.ErrMoved, moved, id)
	}
	return err
}

// AskedPhotos takes the photos of a finished note from the folders.
func (s *Shop) AskedPhotos(a *Asked, folders []string) error {
	if a.Note == 0 || len(a.Read.Photos) == 0 {
		return nil
	}
	if err := s.takePhotos(a.Read, a.Note, folders); err != nil {
		return err
	}
	return s.clearInbox(a.Plate)
}

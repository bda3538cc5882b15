package shop

import (
	"errors"
	"os"
	"runtime"
	"strings"
	"sync"

	"lapmark/ledger/book"
	"lapmark/ledger/day"
	"lapmark/ledger/may"
	"lapmark/ledger/waiting"
	"lapmark/report/english"
)

// Waiting is what waits in the shop, and how many coach files were looked at.
type Waiting struct {
	Now    day.Moment
	Looked int
	Lines  []waiting.Line
}

// Waits looks at every coach file, at pencil and at the inbox. A coach is let go
// once it was looked at.
func (s *Shop) Waits() (Waiting, error) {
	look, err := s.look()
	if err != nil {
		return Waiting{}, err
	}
	pencil, err := s.pencilByPlate()
	if err != nil {
		return Waiting{}, err
	}
	names, err := s.inboxNames()
	if err != nil {
		return Waiting{}, err
	}
	w := Waiting{Now: look.Now, Lines: waiting.Inbox(names)}
	looked, err := s.each(func(plate string, c *Coach, err error) ([]waiting.Line, error) {
		return s.waits(look, plate, c, err, pencil[plate])
	})
	if err != nil {
		return Waiting{}, err
	}
	for plate, lines := range looked {
		w.Looked++
		w.Lines = append(w.Lines, lines...)
		delete(pencil, plate)
	}
	for plate, notes := range pencil { // those that are in pencil only
		w.Lines = append(w.Lines, look.Of(waiting.Coach{Plate: plate, Notes: notes})...)
	}
	waiting.Order(w.Lines)
	return w, nil
}

func (s *Shop) look() (l waiting.Look, err error) {
	if l.Now, err = s.moment(); err != nil {
		return l, err
	}
	if l.Stamp, err = day.ParseStamp(s.stamp()); err != nil {
		return l, err
	}
	l.Limits, err = limitsOf(s.Terms)
	return l, err
}

// waits is what waits of one coach, or that it cannot be read.
func (s *Shop) waits(look waiting.Look, plate string, c *Coach, broken error, notes []waiting.Note) ([]waiting.Line, error) {
	if broken != nil {
		return look.Of(waiting.Coach{Plate: plate, Broken: sentenceOf(broken)}), nil
	}
	lent, err := lentOf(c)
	if err != nil {
		return nil, err
	}
	look.Certify = func(string) (int, bool) { return s.signable(c) }
	return look.Of(waiting.Coach{Plate: plate, Replay: c.Replay, Notes: notes, Lent: lent}), nil
}

func (s *Shop) moment() (day.Moment, error) {
	return day.ParseMoment(s.Now().In(s.location()).Format("2006-01-02T15:04-07:00"))
}

// each looks at every coach file, on all processors, and returns what was seen by
// plate.
func (s *Shop) each(look func(plate string, c *Coach, err error) ([]waiting.Line, error)) (map[string][]waiting.Line, error) {
	rows, err := s.Book.Coaches()
	if err != nil {
		return nil, err
	}
	known, err := s.remembered()
	if err != nil {
		return nil, err
	}
	seen, failed := make([][]waiting.Line, len(rows)), make([]error, len(rows))
	next := make(chan int)
	var hands sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		hands.Go(func() {
			for i := range next {
				c, err := known.load(s, rows[i].ID)
				seen[i], failed[i] = look(rows[i].VIN+rows[i].Serial, c, err)
			}
		})
	}
	for i := range rows {
		next <- i
	}
	close(next)
	hands.Wait()
	s.keep(known)
	out := map[string][]waiting.Line{}
	for i, row := range rows {
		plate := row.VIN + row.Serial
		out[plate] = append(out[plate], seen[i]...) // a coach begun twice has two files
	}
	return out, errors.Join(failed...)
}

func sentenceOf(err error) string {
	text := err.Error()
	var damaged *Damaged
	if errors.As(err, &damaged) {
		text = damaged.Error()
	}
	return english.Capital(english.Sentence(text))
}

// pencilByPlate are the notes in pencil of every coach that has some.
func (s *Shop) pencilByPlate() (map[string][]waiting.Note, error) {
	plates, err := s.Book.Pencilled()
	if err != nil {
		return nil, err
	}
	out := map[string][]waiting.Note{}
	for _, plate := range plates {
		if out[plate], err = s.waitingNotes(plate); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (s *Shop) waitingNotes(plate string) ([]waiting.Note, error) {
	rows, err := s.Book.Notes(plate)
	if err != nil {
		return nil, err
	}
	var out []waiting.Note
	for _, n := range rows {
		if n.State == book.Dropped {
			continue
		}
		one := waiting.Note{ID: n.ID, Day: n.Day, Written: n.Written, State: string(n.State), Why: n.Why}
		if n.Line != "" {
			if p, err := pending(n); err == nil {
				one.Kind = p.Draft.Kind
			}
		}
		out = append(out, one)
	}
	return out, nil
}

// inboxNames are the files that lie in the inbox and were not read.
func (s *Shop) inboxNames() ([]string, error) {
	files, err := os.ReadDir(s.path(inboxFolder))
	if err != nil {
		return nil, ignoreMissing(err)
	}
	var out []string
	for _, f := range files {
		if !f.IsDir() && !strings.HasPrefix(f.Name(), ".") {
			out = append(out, f.Name())
		}
	}
	return out, nil
}

// signable asks of a coach what may asks of a certificate, and how many lines it
// would have.
func (s *Shop) signable(c *Coach) (lines int, yes bool) {
	q, err := s.question(c, may.Certify, nil)
	if err != nil {
		return 0, false
	}
	a, lines, err := s.mayCertify(c, q)
	return lines, err == nil && a.Yes
}

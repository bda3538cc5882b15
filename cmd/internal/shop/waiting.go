package shop

import (
	"errors"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"

	"lapmark/ledger/book"
	"lapmark/ledger/day"
	"lapmark/ledger/may"
	"lapmark/ledger/waiting"
)

// Waiting is what waits in the shop, and how many coach files were looked at.
type Waiting struct {
	Now    day.Moment
	Looked int
	Lines  []waiting.Line
}

// Waits looks at every coach file, at pencil and at the inbox.
func (s *Shop) Waits() (Waiting, error) {
	now, err := s.moment()
	if err != nil {
		return Waiting{}, err
	}
	stamp, err := day.ParseStamp(s.stamp())
	if err != nil {
		return Waiting{}, err
	}
	limits, err := limitsOf(s.Terms)
	if err != nil {
		return Waiting{}, err
	}
	loaded, broken, err := s.all()
	if err != nil {
		return Waiting{}, err
	}
	look := waiting.Shop{Now: now, Stamp: stamp, Limits: limits, Certify: s.signable(loaded)}
	for _, c := range loaded {
		look.Coaches = append(look.Coaches, waiting.Coach{Plate: c.Plate, Replay: c.Replay})
	}
	look.Coaches = append(look.Coaches, broken...)
	if look.Coaches, err = s.withPencil(look.Coaches); err != nil {
		return Waiting{}, err
	}
	for i, c := range look.Coaches {
		if j := slices.IndexFunc(loaded, func(l *Coach) bool { return l.Plate == c.Plate }); j >= 0 {
			if look.Coaches[i].Lent, err = lentOf(loaded[j]); err != nil {
				return Waiting{}, err
			}
		}
	}
	if look.Inbox, err = s.inboxNames(); err != nil {
		return Waiting{}, err
	}
	return Waiting{Now: now, Looked: len(loaded) + len(broken), Lines: waiting.Of(look)}, nil
}

func (s *Shop) moment() (day.Moment, error) {
	return day.ParseMoment(s.Now().In(s.location()).Format("2006-01-02T15:04-07:00"))
}

// all reads every coach file, on all processors, in the order of the book; what
// cannot be read is said by its name.
func (s *Shop) all() (loaded []*Coach, broken []waiting.Coach, err error) {
	rows, err := s.Book.Coaches()
	if err != nil {
		return nil, nil, err
	}
	coaches, failed := make([]*Coach, len(rows)), make([]error, len(rows))
	next := make(chan int)
	var hands sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		hands.Go(func() {
			for i := range next {
				coaches[i], failed[i] = s.load(rows[i].ID)
			}
		})
	}
	for i := range rows {
		next <- i
	}
	close(next)
	hands.Wait()
	for i, c := range coaches {
		if failed[i] != nil {
			broken = append(broken, waiting.Coach{Plate: rows[i].VIN + rows[i].Serial, Broken: sentenceOf(failed[i])})
			continue
		}
		loaded = append(loaded, c)
	}
	return loaded, broken, nil
}

func sentenceOf(err error) string {
	text := err.Error()
	var damaged *Damaged
	if errors.As(err, &damaged) {
		text = damaged.Error()
	}
	return strings.TrimSuffix(text, ".") + "."
}

// withPencil puts the notes in pencil beside their coaches; a coach that is in
// pencil only comes behind them.
func (s *Shop) withPencil(coaches []waiting.Coach) ([]waiting.Coach, error) {
	plates, err := s.Book.Pencilled()
	if err != nil {
		return nil, err
	}
	for _, plate := range plates {
		notes, err := s.waitingNotes(plate)
		if err != nil {
			return nil, err
		}
		i := slices.IndexFunc(coaches, func(c waiting.Coach) bool { return c.Plate == plate })
		if i < 0 {
			coaches, i = append(coaches, waiting.Coach{Plate: plate}), len(coaches)
		}
		coaches[i].Notes = notes
	}
	return coaches, nil
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

// signable asks of a coach that was read what may asks of a certificate, and how
// many lines it would have.
func (s *Shop) signable(loaded []*Coach) func(plate string) (lines int, may bool) {
	return func(plate string) (int, bool) {
		i := slices.IndexFunc(loaded, func(c *Coach) bool { return c.Plate == plate })
		q, err := s.question(loaded[i], may.Certify, nil)
		if err != nil {
			return 0, false
		}
		a, lines, err := s.mayCertify(loaded[i], q)
		return lines, err == nil && a.Yes
	}
}

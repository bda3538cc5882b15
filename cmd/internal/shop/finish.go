package shop

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/file"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
)

// Keys of the book's settings while something is under way.
const (
	meantBy = "inking "    // + ID of the coach + size: what follows a commit
	claimed = "taking in " // + plate: a window is making the coach's file
)

// intent is what an inking does after its commit. It is written before, so that
// a step that was interrupted is finished at the next start.
type intent struct {
	Coach  string
	Plate  string
	Size   int64
	Root   string
	Notes  map[int64]int
	Papers []book.Paper
}

func (in intent) key() string { return meantBy + in.Coach + " " + ledger.Decimal(in.Size) }

// intend says what will follow the commit.
func (s *Shop) intend(w *writing) intent {
	head := w.coach.Ledger.Newest()
	in := intent{
		Coach: w.coach.Ledger.ID(), Plate: w.plate, Size: head.Size, Root: format.EncodeBase64(head.Root[:]),
		Notes: map[int64]int{},
	}
	for _, r := range w.results {
		if r.Entry > 0 && r.Note > 0 {
			in.Notes[r.Note] = int(r.Entry)
		}
		for _, p := range r.Papers {
			in.Papers = append(in.Papers, s.paperRow(w.coach, r.Entry, p))
		}
	}
	return in
}

func (s *Shop) paperRow(c *Coach, entry int64, p Paper) book.Paper {
	p.Entry = entry
	return book.Paper{
		Coach: c.Ledger.ID(), Entry: int(entry), Kind: p.Kind, Certificate: certificateOf(c, entry), Face: p.Face,
		Copy: p.Copy, Name: s.paperName(c, entry, p), Day: c.Ledger.Entry(ledger.No{N: entry}).Day(),
		State: book.Made,
	}
}

// meant reads what inkings under a key meant to do after their commit.
func (s *Shop) meant(under string) ([]intent, error) {
	rows, err := s.Book.SettingsUnder(under)
	if err != nil {
		return nil, err
	}
	var out []intent
	for _, row := range rows {
		var in intent
		if err := json.Unmarshal([]byte(row.Value), &in); err != nil {
			return nil, fmt.Errorf("the book's note %q cannot be read: %w", row.Key, err)
		}
		out = append(out, in)
	}
	return out, nil
}

// came says whether the commit of an inking went through.
func (in intent) came(c *Coach) bool {
	head := c.Ledger.Head(in.Size)
	return c.size() >= in.Size && format.EncodeBase64(head.Root[:]) == in.Root
}

// tidy finishes, at the start, inkings whose commit went through. One that is
// not there may still be under way in another window: it is left alone.
func (s *Shop) tidy() error {
	list, err := s.meant(meantBy)
	if err != nil {
		return err
	}
	for _, in := range list {
		if !exists(s.coachPath(in.Coach)) {
			continue
		}
		c, err := s.load(in.Coach)
		if err != nil {
			continue // a damaged coach file is said where that coach is asked for
		}
		if in.came(c) {
			if err := s.finish(c, in); err != nil {
				return err
			}
		}
	}
	return nil
}

// headMissing refuses to write behind a head that this shop has seen and the
// file no longer has: it would part its own chain.
func (s *Shop) headMissing(c *Coach) error {
	heads, err := s.Book.Heads(ledgerKey(c.Ledger.Ledger))
	if err != nil {
		return err
	}
	for _, h := range heads {
		if int64(h.Size) > c.size() {
			return fmt.Errorf("%w: this shop wrote %d entries of this coach, its file ends at %d: entries %d to %d are missing. Put the newer file back",
				ErrRefused, h.Size, c.size(), c.size()+1, h.Size)
		}
		now := c.Ledger.Head(int64(h.Size))
		if format.EncodeBase64(now.Root[:]) != h.Root {
			return fmt.Errorf("%w: entries 1 to %d are not those this shop wrote. Put the right file back", ErrRefused, h.Size)
		}
	}
	return nil
}

// settle does the same for a coach that is locked for writing: there what has
// not come never will, and is forgotten.
func (s *Shop) settle(c *Coach) error {
	list, err := s.meant(meantBy + c.ID + " ")
	if err != nil {
		return err
	}
	for _, in := range list {
		if in.came(c) {
			err = s.finish(c, in)
		} else {
			err = s.Book.Unset(in.key())
		}
		if err != nil {
			return err
		}
	}
	return nil
}

const (
	claimWait  = 10 * time.Second
	claimStale = 10 * time.Minute // a window that died while it took a coach in
)

// claim waits until no other window makes the file of this coach.
func (s *Shop) claim(ctx context.Context, plate string) error {
	stale := func(old string) bool {
		at, err := time.Parse(time.RFC3339, old)
		return err != nil || s.Now().Sub(at).Abs() > claimStale
	}
	for waited := time.Duration(0); ; waited += 50 * time.Millisecond {
		taken, err := s.Book.Claim(claimed+plate, s.stamp(), stale)
		if err != nil || taken {
			return err
		}
		if waited > claimWait {
			return fmt.Errorf("%w: another window takes %s in", file.ErrBusy, plate)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(50 * time.Millisecond):
		}
	}
}

// finish enters papers, takes inked notes out of pencil, lets the notes of the
// coach follow a mended plate, and renews the index. What is to be erased is
// erased between: notes that have just left pencil can be of it, and the index
// must not find it any more.
func (s *Shop) finish(c *Coach, in intent) error {
	for _, p := range in.Papers {
		if err := s.Book.PutPaper(p); err != nil && !errors.Is(err, book.ErrNamed) {
			return err
		}
	}
	steps := []book.Step{book.TakeOut(in.Notes)}
	if plate := c.Replay.Plate(); plate != in.Plate {
		steps = append(steps, book.Rename(in.Plate, plate))
	}
	if gone, notes := erased(c); len(gone) > 0 {
		if err := s.Book.Together(steps...); err != nil {
			return err
		}
		if err := s.erase(c, gone, notes); err != nil {
			return err
		}
		steps = nil
	}
	return s.Book.Together(append(steps, indexed(c), lots(c), seen(c), book.Unset(in.key()))...)
}

// indexed renews what the book knows of a coach for looking up.
func indexed(c *Coach) book.Step {
	r := c.Replay
	intake := r.Intake()
	last := c.Ledger.Last()
	row := book.Coach{
		ID: c.ID, Ledger: ledgerKey(c.Ledger.Ledger), VIN: intake.Text("vin"), Serial: intake.Text("serial"),
		Builder: intake.Text("builder"), Model: intake.Text("model"), Year: int(ledger.Int(intake.Body, "year")),
		Entries: len(c.Ledger.Entries), Day: last.Day(), At: last.Line.At,
	}
	return book.PutIndex(row, finds(r))
}

// lots renews what the book knows of the lots of a coach.
func lots(c *Coach) book.Step {
	known := rules.LotsIn(c.Replay)
	var out []book.Lot
	for _, id := range slices.Sorted(maps.Keys(known)) {
		l := known[id]
		one := book.Lot{Lot: id, Unit: l.Unit, Received: l.Received, Used: l.Used}
		if l.Shape != nil {
			sheet, err := format.Encode(l.Shape)
			if err != nil {
				continue // it stands in an entry, and was written then
			}
			one.Sheet = string(sheet)
		}
		out = append(out, one)
	}
	return book.PutLots(c.ID, out)
}

// seen remembers the head of a coach.
func seen(c *Coach) book.Step {
	head := c.Ledger.Newest()
	return book.SawHead(book.Head{
		Ledger: ledgerKey(c.Ledger.Ledger), Size: int(head.Size), Root: format.EncodeBase64(head.Root[:]), At: c.Ledger.Last().Line.At,
	})
}

// plateAsSaid is the plate as it was said, found by its words; the plate itself
// is kept without spaces.
const plateAsSaid = book.Kind("plate as said")

// readBefore is a VIN or serial that was corrected: papers given out before the
// correction bear it.
const readBefore = book.Kind("read before")

// finds are the texts a coach is found by: certificate numbers, plates, holders
// and where they live.
func finds(r *ledger.Replay) []book.Find {
	var out []book.Find
	known := map[book.Find]bool{}
	add := func(kind book.Kind, text string) {
		if f := (book.Find{Kind: kind, Text: text}); text != "" && !known[f] {
			known[f] = true
			out = append(out, f)
		}
	}
	for _, a := range r.Acts {
		if a.Kind == "certificate" {
			add(book.KindCertificate, a.Text("tag"))
		}
		values := r.Opened[a.No]
		add(book.KindHolder, values["holder-name"])
		add(book.KindTown, values["holder-address"])
		add(book.KindPlate, strings.ToUpper(strings.Join(strings.Fields(values["plate"]), "")))
		add(plateAsSaid, values["plate"])
	}
	for _, c := range r.Intake().Corrected {
		if old, _ := c.Old.(string); c.At == "/vin" || c.At == "/serial" {
			add(readBefore, old)
		}
	}
	return out
}

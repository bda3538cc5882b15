package shop

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/format"
)

const settingIntent = "inking"

// intent is what an inking does after its commit. It is written before, so that
// a step that was interrupted is finished at the next start.
type intent struct {
	Coach  string
	Size   int64
	Root   string
	Notes  map[int64]int
	Papers []book.Paper
}

// intend writes down what will follow the commit.
func (s *Shop) intend(w *writing) error {
	head := w.coach.Ledger.Newest()
	in := intent{
		Coach: w.coach.Ledger.ID(), Size: head.Size, Root: format.EncodeBase64(head.Root[:]), Notes: map[int64]int{},
	}
	for _, r := range w.results {
		if r.Entry > 0 && r.Note > 0 {
			in.Notes[r.Note] = int(r.Entry)
		}
		for _, p := range r.Papers {
			in.Papers = append(in.Papers, s.paperRow(w.coach, r.Entry, p))
		}
	}
	text, err := json.Marshal(in)
	if err != nil {
		return err
	}
	return s.Book.SetSetting(settingIntent, string(text))
}

func (s *Shop) paperRow(c *Coach, entry int64, p Paper) book.Paper {
	p.Entry = entry
	return book.Paper{
		Coach: c.Ledger.ID(), Entry: int(entry), Kind: p.Kind, Certificate: certificateOf(c, entry), Face: p.Face,
		Copy: p.Copy, Name: s.paperName(c, entry, p), Day: c.Ledger.Entry(ledger.No{N: entry}).Day(),
		State: book.Made,
	}
}

// tidy finishes an inking whose commit went through, and forgets one whose
// commit did not.
func (s *Shop) tidy() error {
	text, err := s.Book.Setting(settingIntent)
	if err != nil || text == "" {
		return err
	}
	var in intent
	if err := json.Unmarshal([]byte(text), &in); err != nil {
		return fmt.Errorf("the book's note of the last inking cannot be read: %w", err)
	}
	if exists(s.coachPath(in.Coach)) {
		c, err := s.load(in.Coach)
		if err != nil {
			return nil // a damaged coach file is said where that coach is asked for
		}
		head := c.Ledger.Head(in.Size)
		if c.size() >= in.Size && format.EncodeBase64(head.Root[:]) == in.Root {
			return s.finish(c, in)
		}
	}
	return s.Book.SetSetting(settingIntent, "")
}

// finish takes inked notes out of pencil, enters papers, and renews the index.
func (s *Shop) finish(c *Coach, in intent) error {
	if len(in.Notes) > 0 {
		ids := slices.Sorted(maps.Keys(in.Notes))
		entries := make([]int, len(ids))
		for i, id := range ids {
			entries[i] = in.Notes[id]
		}
		if err := s.Book.TakeOut(ids, entries); err != nil {
			return err
		}
	}
	for _, p := range in.Papers {
		if err := s.Book.PutPaper(p); err != nil && !errors.Is(err, book.ErrNamed) {
			return err
		}
	}
	if err := s.index(c); err != nil {
		return err
	}
	return s.Book.SetSetting(settingIntent, "")
}

// index renews what the book knows of a coach for looking up, and the head it
// has seen.
func (s *Shop) index(c *Coach) error {
	r := c.Replay
	intake := r.Intake()
	last := c.Ledger.Last()
	row := book.Coach{
		ID: c.ID, Ledger: ledgerKey(c.Ledger.Ledger), VIN: intake.Text("vin"), Serial: intake.Text("serial"),
		Builder: intake.Text("builder"), Model: intake.Text("model"), Year: int(ledger.Int(intake.Body, "year")),
		Entries: len(c.Ledger.Entries), Day: last.Day(), At: last.Line.At,
	}
	if err := s.Book.PutIndex(row, finds(r)); err != nil {
		return err
	}
	head := c.Ledger.Newest()
	return s.Book.SawHead(book.Head{
		Ledger: row.Ledger, Size: int(head.Size), Root: format.EncodeBase64(head.Root[:]), At: last.Line.At,
	})
}

// plateAsSaid is the plate as it was said, found by its words; the plate itself
// is kept without spaces.
const plateAsSaid = book.Kind("plate as said")

// finds are the texts a coach is found by: certificate numbers, plates, holders
// and where they live.
func finds(r *ledger.Replay) []book.Find {
	var out []book.Find
	add := func(kind book.Kind, text string) {
		if f := (book.Find{Kind: kind, Text: text}); text != "" && !slices.Contains(out, f) {
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
	return out
}

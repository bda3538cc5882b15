package cli

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/book"
	"lapmark/ledger/loose"
	"lapmark/ledger/sheet"
	"lapmark/report/english"
)

type pencilOptions struct {
	drop, back, mend int64
	line             string
	reading          int
}

func newPencil(e *env) *cobra.Command {
	var o pencilOptions
	c := &cobra.Command{
		Use:   "pencil [COACH]",
		Short: "Show, mend, rub out or bring back notes that are not signed yet",
		Long: `pencil lists the notes that are not signed yet, by place from front to rear, each
with its number and state: clear (may be inked), short (something is missing),
unclear (not understood, or more than one reading), stopped or refused by a
rule. --mend writes a note anew, as --line says or as one of its readings.`,
		Example: `  lapmark pencil
  lapmark pencil --mend 8 --line 'check: pins at bay 3 left, moisture 14.0 %; by hand-1'
  lapmark pencil --mend 9 --reading 1
  lapmark pencil --rub-out 7`,
		Args: args(0, 1), ValidArgsFunction: e.completeCoach,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.pencil(s, strings.Join(args, ""), o) })
		},
	}
	f := c.Flags()
	f.Int64Var(&o.drop, "rub-out", 0, "rub out the note of this `NUMBER`")
	f.Int64Var(&o.back, "bring-back", 0, "bring back the note of this `NUMBER` that was rubbed out")
	f.Int64Var(&o.mend, "mend", 0, "write the note of this `NUMBER` anew, with --line or --reading")
	f.IntVar(&o.reading, "reading", 0, "take the reading of this `NUMBER`, from 1")
	f.StringVar(&o.line, "line", "", "the new `LINE`")
	return c
}

func (e *env) pencil(s *shop.Shop, coach string, o pencilOptions) error {
	switch {
	case o.drop > 0:
		return e.did(s.Book.DropNote(o.drop), "pencil", fmt.Sprintf("note %d is rubbed out; --bring-back %d undoes it", o.drop, o.drop))
	case o.back > 0:
		return e.did(s.Book.BringBack(o.back), "pencil", fmt.Sprintf("note %d is back", o.back))
	case o.mend > 0:
		read, err := mended(s, o)
		if err != nil {
			return err
		}
		return e.penciled([]shop.Read{read})
	}
	notes, err := e.notes(s, coach)
	if err != nil {
		return err
	}
	return e.showPencil(s, notes)
}

func mended(s *shop.Shop, o pencilOptions) (shop.Read, error) {
	switch {
	case o.line != "":
		return s.Mend(o.mend, o.line)
	case o.reading > 0:
		return s.Take(o.mend, o.reading)
	}
	return shop.Read{}, fmt.Errorf("%w: --mend goes with --line or --reading", shop.ErrUse)
}

func (e *env) notes(s *shop.Shop, coach string) ([]book.Note, error) {
	if coach == "" {
		return s.Book.AllNotes()
	}
	plate, err := s.PlateOf(coach)
	if err != nil {
		return nil, err
	}
	return s.Book.Notes(plate)
}

type pencilAnswer struct {
	Answer   string       `json:"answer"`
	V        int          `json:"v"`
	Notes    []pencilNote `json:"notes"`
	Unplaced []string     `json:"unplaced"`
}

type pencilNote struct {
	Note     int64    `json:"note"`
	Coach    string   `json:"coach"`
	Day      string   `json:"day"`
	Place    string   `json:"place,omitempty"`
	State    string   `json:"state"`
	Why      string   `json:"why,omitempty"`
	Readings []string `json:"readings,omitempty"`
	Line     string   `json:"line"`
	Words    string   `json:"words"`
}

// showPencil shows notes by coach and place.
func (e *env) showPencil(s *shop.Shop, notes []book.Note) error {
	unplaced, err := s.Unplaced()
	if err != nil {
		return err
	}
	a := pencilAnswer{Answer: "pencil", V: 1, Notes: []pencilNote{}, Unplaced: append([]string{}, unplaced...)}
	var lines []string
	var unread error // of a coach whose file does not hold
	for len(notes) > 0 {
		n := slices.IndexFunc(notes, func(one book.Note) bool { return one.Coach != notes[0].Coach })
		if n < 0 {
			n = len(notes)
		}
		groups, err := s.Grouped(notes[0].Coach, notes[:n])
		if err != nil {
			unread = err
			e.console.Say("%s: %s Its notes are kept.", notes[0].Coach, sentence(err))
		}
		for _, g := range groups {
			for _, one := range g.Notes {
				a.Notes = append(a.Notes, pencilNote{
					one.ID, one.Coach, one.Day, g.Place, string(one.State), one.Why, shop.ReadingsOf(one.Why), one.Line, one.Words,
				})
			}
		}
		lines = append(lines, groupLines(groups)...)
		notes = notes[n:]
	}
	if unread != nil {
		unread = &exit{code: exitCode(unread)}
	}
	if e.json {
		return errors.Join(e.answer(a), unread)
	}
	if len(lines) == 0 {
		lines = []string{"Nothing in pencil."}
	}
	if len(unplaced) > 0 {
		lines = append(lines, photosWithout(unplaced))
	}
	if err := cmp.Or(e.print("%s", strings.Join(lines, "\n")), unread); err != nil {
		return err
	}
	if slices.ContainsFunc(a.Notes, func(n pencilNote) bool { return n.State == string(book.Unclear) || n.State == string(book.Short) }) {
		e.console.Say("Say one anew: lapmark pencil --mend NUMBER --line '…'. Rub one out: lapmark pencil --rub-out NUMBER.")
	}
	return nil
}

// groupLines are the notes of one coach: its plate, then each place with what
// stands there. A day stands above the notes it is of.
func groupLines(groups []shop.Group) []string {
	var out []string
	before := sheet.Heading{}
	for _, g := range groups {
		for i, n := range g.Notes {
			h := sheet.Heading{Coach: n.Coach, Day: n.Day, Zone: n.Zone}
			heads := h.Lines(before)
			out = append(out, heads...)
			before = h
			if i == 0 || len(heads) > 0 {
				out = append(out, "  "+or(g.Place, "no place"))
			}
			out = append(out, noteLines(n)...)
		}
	}
	return out
}

func noteLines(n book.Note) []string {
	text := or(sheet.Fold(n.Line), n.Words)
	out := []string{fmt.Sprintf("%4d  %-8s %s", n.ID, n.State, strings.ReplaceAll(text, "\n", "\n               "))}
	if readings := shop.ReadingsOf(n.Why); readings != nil {
		for i, r := range readings {
			out = append(out, fmt.Sprintf("               %d: %s", i+1, r))
		}
		return append(out, fmt.Sprintf("               → which? lapmark pencil --mend %d --reading 1", n.ID))
	}
	if n.Why != "" {
		out = append(out, "               → "+n.Why)
	}
	if n.State == book.Unclear {
		for _, how := range loose.Instead(n.Why) {
			out = append(out, "                 "+how)
		}
	}
	return out
}

func photosWithout(names []string) string {
	return fmt.Sprintf("%s in the inbox without a note: %s. %s.",
		english.Numbered(len(names), "photo is", "photos are"), strings.Join(names, ", "),
		english.Plural(len(names), "It can wait; it is not inked", "They can wait; they are not inked"))
}

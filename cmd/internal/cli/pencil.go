package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/book"
	"lapmark/ledger/sheet"
)

type pencilOptions struct {
	drop, back, mend int64
	line             string
}

func newPencil(e *env) *cobra.Command {
	var o pencilOptions
	c := &cobra.Command{
		Use:   "pencil [COACH]",
		Short: "Show, mend, rub out or bring back notes that are not signed yet",
		Long: `pencil lists the notes that are not signed yet, each with its number and state:
clear (may be inked), short (something is missing), unclear (not understood, or
more than one reading), stopped or refused by a rule.`,
		Example: `  lapmark pencil
  lapmark pencil --mend 8 --line 'check: pins at bay 3 left, moisture 14.0 %; by hand-1'
  lapmark pencil --rub-out 7`,
		Args: args(0, 1), ValidArgsFunction: e.completeCoach,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.pencil(s, strings.Join(args, ""), o) })
		},
	}
	f := c.Flags()
	f.Int64Var(&o.drop, "rub-out", 0, "rub out the note of this `NUMBER`")
	f.Int64Var(&o.back, "bring-back", 0, "bring back the note of this `NUMBER` that was rubbed out")
	f.Int64Var(&o.mend, "mend", 0, "write the note of this `NUMBER` anew, with --line")
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
		if o.line == "" {
			return fmt.Errorf("%w: --mend goes with --line", shop.ErrUse)
		}
		read, err := s.Mend(o.mend, o.line)
		if err != nil {
			return err
		}
		return e.penciled([]shop.Read{read})
	}
	notes, err := e.notes(s, coach)
	if err != nil {
		return err
	}
	return e.showPencil(notes)
}

func (e *env) notes(s *shop.Shop, coach string) ([]book.Note, error) {
	if coach == "" {
		return s.Book.AllNotes()
	}
	c, err := s.Coach(coach)
	if err != nil {
		return nil, err
	}
	return s.Book.Notes(c.Plate)
}

type pencilAnswer struct {
	Answer string       `json:"answer"`
	V      int          `json:"v"`
	Notes  []pencilNote `json:"notes"`
}

type pencilNote struct {
	Note  int64  `json:"note"`
	Coach string `json:"coach"`
	Day   string `json:"day"`
	State string `json:"state"`
	Why   string `json:"why,omitempty"`
	Line  string `json:"line"`
	Words string `json:"words"`
}

func (e *env) showPencil(notes []book.Note) error {
	if e.json {
		a := pencilAnswer{Answer: "pencil", V: 1, Notes: []pencilNote{}}
		for _, n := range notes {
			a.Notes = append(a.Notes, pencilNote{n.ID, n.Coach, n.Day, string(n.State), n.Why, n.Line, n.Words})
		}
		return e.answer(a)
	}
	if len(notes) == 0 {
		return e.print("Nothing in pencil.")
	}
	before := sheet.Heading{}
	for _, n := range notes {
		h := sheet.Heading{Coach: n.Coach, Day: n.Day, Zone: n.Zone}
		for _, line := range h.Lines(before) {
			if err := e.print("%s", line); err != nil {
				return err
			}
		}
		before = h
		text := n.Line
		if text == "" {
			text = n.Words
		}
		if err := e.print("%4d  %-8s %s", n.ID, n.State, strings.ReplaceAll(sheet.Fold(text), "\n", "\n               ")); err != nil {
			return err
		}
		if n.Why != "" {
			if err := e.print("               → %s", n.Why); err != nil {
				return err
			}
		}
	}
	return nil
}

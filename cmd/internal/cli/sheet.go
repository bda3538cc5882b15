package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/console"
	"lapmark/cmd/internal/shop"
	"lapmark/ledger/book"
	"lapmark/ledger/loose"
	"lapmark/ledger/sheet"
	"lapmark/report/english"
)

func newSheet(e *env) *cobra.Command {
	var coach string
	var dry bool
	c := &cobra.Command{
		Use:   "sheet FILE...",
		Short: "Read day sheets into pencil (- reads standard input)",
		Long: `sheet reads day sheets and puts their notes into pencil. One line is one note,
in any order of its words, as it is typed or dictated; what is not sure stays in
pencil as unclear and says why. A line that is a day, a coach or by MARK stands
for the lines below it. Photos named in a note are looked for beside the sheet
and in the inbox; what was read from the inbox moves to inbox/read. With --dry
nothing is stored: one canonical line a note is printed, and "? line N: …" for
each unclear one.`,
		Example: `  lapmark sheet day1.txt
  lapmark sheet day1.txt --dry
  lapmark sheet - --coach 1133`,
		Args: args(1, many),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.sheets(s, args, coach, dry) })
		},
	}
	c.Flags().StringVar(&coach, "coach", "", "the `COACH` of lines that name none")
	c.Flags().BoolVar(&dry, "dry", false, "store nothing, print what was read")
	return c
}

func (e *env) sheets(s *shop.Shop, files []string, coach string, dry bool) error {
	if dry && coach == "" {
		coach = onlyCoach(s)
	}
	var texts [][]byte
	var folders []string
	for _, name := range files {
		text, err := e.read(name)
		if err != nil {
			return err
		}
		texts = append(texts, text)
		folders = append(folders, filepath.Dir(e.absolute(name)))
	}
	all, err := s.Readings(texts, coach)
	for errors.Is(err, shop.ErrWhose) && coach == "" && e.console.Terminal() && !e.json {
		if coach, err = e.console.Ask("Whose roof? These lines name no coach", ""); err != nil || coach == "" {
			return errors.Join(err, shop.ErrUse)
		}
		all, err = s.Readings(texts, coach)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", strings.Join(files, ", "), err)
	}
	if dry {
		return e.dry(all)
	}
	if len(all) == 0 {
		return fmt.Errorf("%w: no note in it", shop.ErrUse)
	}
	if all, err = e.settled(s, all, texts, coach); err != nil {
		return err
	}
	if err := s.Pencil(all, folders); err != nil {
		return err
	}
	for i, name := range files {
		if err := s.SheetRead(e.absolute(name), texts[i]); err != nil {
			return err
		}
	}
	if err := e.penciled(all); err != nil || e.json {
		return err
	}
	return e.warn(s, all)
}

// warn says early which of the notes that were just read a rule would stop.
func (e *env) warn(s *shop.Shop, all []shop.Read) error {
	said := map[string]bool{}
	for _, n := range all {
		if said[n.Plate] || n.Plate == "" {
			continue
		}
		said[n.Plate] = true
		why, err := s.Warned(n.Plate)
		if err != nil {
			e.console.Say("The rules could not be asked early: %v", err)
			continue
		}
		notes, err := s.Book.Notes(n.Plate)
		if err != nil {
			return err
		}
		for _, note := range notes {
			if why[note.ID] != nil {
				e.console.Say("Note %d would not go in as it stands: %s\n    %s", note.ID, note.Line, why[note.ID])
			}
		}
	}
	return nil
}

// onlyCoach is the shop's only coach, if it has just one.
func onlyCoach(s *shop.Shop) string {
	coaches, err := s.Book.Coaches()
	if err != nil || len(coaches) != 1 {
		return ""
	}
	return coaches[0].ID
}

// read reads a file, or standard input for "-".
func (e *env) read(name string) ([]byte, error) {
	if name == "-" {
		return io.ReadAll(io.LimitReader(e.console.In, shop.MaxSheet+1))
	}
	path := e.absolute(name)
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, fmt.Errorf("%w: %s is not there", shop.ErrUse, name)
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%w: %s is a folder", shop.ErrUse, name)
	case info.Size() > shop.MaxSheet:
		return nil, fmt.Errorf("%w: %s has %d bytes, a sheet has %d at most", shop.ErrUse, name, info.Size(), shop.MaxSheet)
	}
	return os.ReadFile(path)
}

func (e *env) dry(notes []shop.Read) error {
	if e.json {
		return e.answer(sheetJSON(notes))
	}
	for _, n := range notes {
		line := n.Line // to the byte: what is printed can be fed in again
		if n.State == book.Unclear {
			line = console.Plain(fmt.Sprintf("? line %d: %s", n.At, n.Why))
		}
		if _, err := fmt.Fprintln(e.console.Out, line); err != nil {
			return err
		}
	}
	return nil
}

// penciled says what went into pencil.
func (e *env) penciled(notes []shop.Read) error {
	if e.json {
		return e.answer(sheetJSON(notes))
	}
	waiting := 0
	before := sheet.Heading{}
	for _, n := range notes {
		for _, h := range n.Heading.Lines(before) {
			if err := e.print("%s", h); err != nil {
				return err
			}
		}
		before = n.Heading
		text := sheet.Fold(n.Line)
		if n.State == book.Unclear {
			text = fmt.Sprintf("? line %d: %s\n  as it came: %s", n.At, n.Why, n.Words)
			for _, how := range loose.Instead(n.Why) {
				text += "\n  " + how
			}
		} else {
			text += understood(n)
		}
		if n.State != book.Clear {
			waiting++
		}
		if err := e.print("%s", text); err != nil {
			return err
		}
	}
	e.console.Say("%s in pencil, nothing signed yet.", english.Numbered(len(notes), "note", "notes"))
	if waiting > 0 {
		e.console.Say("%s for you: lapmark pencil", english.Numbered(waiting, "note waits", "notes wait"))
	}
	return nil
}

// understood says what stands below the line of a note: the note in words where
// it came otherwise, the words that no part of it took, and what it lacks.
func understood(n shop.Read) string {
	out := ""
	if n.Says != "" {
		out += "\n  " + n.Says
	}
	if len(n.Spare) > 0 {
		out += fmt.Sprintf("\n  went to the note as it came: %s", strings.Join(n.Spare, " "))
	}
	if n.Why != "" {
		out += "\n  " + n.Why
	}
	return out
}

type readAnswer struct {
	Line  string `json:"line"`
	At    int    `json:"at"`
	Coach string `json:"coach"`
	State string `json:"state"`
	Why   string `json:"why,omitempty"`
	Words string `json:"words"`
	Says  string `json:"says,omitempty"`
	Spare string `json:"spare,omitempty"`
}

type sheetAnswer struct {
	Answer string       `json:"answer"`
	V      int          `json:"v"`
	Notes  []readAnswer `json:"notes"`
}

func sheetJSON(notes []shop.Read) sheetAnswer {
	a := sheetAnswer{Answer: "sheet", V: 1, Notes: []readAnswer{}}
	for _, n := range notes {
		a.Notes = append(a.Notes, readAnswer{n.Line, n.At, n.Plate, string(n.State), n.Why, n.Words, n.Says, strings.Join(n.Spare, " ")})
	}
	return a
}

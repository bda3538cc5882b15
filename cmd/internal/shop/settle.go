package shop

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/format"
	"lapmark/ledger/loose"
	"lapmark/ledger/sheet"
)

// readingsOpen begins why a note is unclear that has several readings.
const readingsOpen = "readings: "

// ReadingsOf are the readings of a note that has several, by why it is unclear:
// canonical lines, or headings. nil where it is unclear for another reason.
func ReadingsOf(why string) []string {
	rest, ok := strings.CutPrefix(why, readingsOpen)
	if !ok {
		return nil
	}
	var out []string
	quoted, from := false, 0
	for i := range len(rest) {
		switch {
		case rest[i] == '"':
			quoted = !quoted
		case !quoted && strings.HasPrefix(rest[i:], " | "):
			out = append(out, rest[from:i])
			from = i + len(" | ")
		}
	}
	if out == nil {
		return nil
	}
	return append(out, rest[from:])
}

// Take puts one of its readings, from 1, in the place of a pencil note.
func (s *Shop) Take(id int64, which int) (Read, error) {
	n, err := s.note(id)
	if err != nil {
		return Read{}, err
	}
	readings := ReadingsOf(n.Why)
	if which < 1 || which > len(readings) {
		return Read{}, fmt.Errorf("%w: note %d has %d readings to choose from", ErrUse, id, len(readings))
	}
	return s.Mend(id, readings[which-1])
}

// Settled reads sheets as [Shop.Readings] does, with some of their lines read as
// was chosen: by the number of the sheet, then of the line, a reading. The words
// of a note stay as they came.
func (s *Shop) Settled(texts [][]byte, coach string, chosen map[int]map[int]string) ([]Read, error) {
	settled := slices.Clone(texts)
	words := map[int]map[int]string{}
	plain, err := s.Readings(texts, coach)
	if err != nil || len(chosen) == 0 {
		return plain, err
	}
	for _, n := range plain {
		line, ok := chosen[n.Sheet][n.At]
		if !ok {
			continue
		}
		if words[n.Sheet] == nil {
			words[n.Sheet] = map[int]string{}
		}
		words[n.Sheet][n.At] = n.Words
		settled[n.Sheet], err = replaceLines(settled[n.Sheet], n.At, strings.Count(n.Words, "\n")+1, line)
		if err != nil {
			return nil, err
		}
	}
	out, err := s.Readings(settled, coach)
	for i, n := range out {
		if as, ok := words[n.Sheet][n.At]; ok {
			out[i].Words = as
		}
	}
	return out, err
}

// replaceLines puts one line, and empty ones, in the place of some lines of a
// text; the first is 1.
func replaceLines(raw []byte, first, count int, line string) ([]byte, error) {
	text, err := loose.Decode(raw)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUse, err)
	}
	lines := strings.Split(text, "\n")
	for i := first - 1; i < min(first-1+count, len(lines)); i++ {
		lines[i] = line
		line = ""
	}
	return []byte(strings.Join(lines, "\n")), nil
}

// Reason gives a pencil note the reason that a rule asks for, and the mark of
// who decided.
func (s *Shop) Reason(id int64, rule, reason, by string) (Read, error) {
	n, err := s.note(id)
	if err != nil {
		return Read{}, err
	}
	d, err := sheet.ReadLine(n.Line, headingOf(n))
	if err != nil {
		return Read{}, err
	}
	list, _ := d.Body["overrides"].(format.Array)
	d.Body["overrides"] = append(list, format.Object{"rule": rule, "reason": reason, "by": by})
	if lacks := d.Lacks(); len(lacks) > 0 {
		return Read{}, &Short{lacks}
	}
	if !ledger.IsMark(by) {
		return Read{}, fmt.Errorf("%w: %q is no mark, such as foreman or hand-1", ErrUse, by)
	}
	line, err := sheet.Line(d, headingOf(n))
	if err != nil {
		return Read{}, err
	}
	return s.Mend(id, line)
}

// Unplaced are the photos in the inbox that no note names yet.
func (s *Shop) Unplaced() ([]string, error) {
	files, err := os.ReadDir(s.path(inboxFolder))
	if err != nil {
		return nil, ignoreMissing(err)
	}
	named := map[string]bool{}
	notes, err := s.Book.AllNotes()
	if err != nil {
		return nil, err
	}
	for _, n := range notes {
		if n.State == book.Dropped {
			continue
		}
		if d, err := sheet.ReadLine(n.Line, headingOf(n)); err == nil {
			for _, name := range ledger.Texts(d.Body["photos"]) {
				named[name] = true
			}
		}
	}
	var out []string
	for _, f := range files {
		switch strings.ToLower(filepath.Ext(f.Name())) {
		case ".jpg", ".jpeg", ".png", ".heic":
			if !f.IsDir() && !named[f.Name()] {
				out = append(out, f.Name())
			}
		}
	}
	return out, nil
}

package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapmark/crypto/keyring"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/chain"
	"lapmark/ledger/file"
	"lapmark/report"
)

// HeadFound is the answer to a head code that was read out.
type HeadFound struct {
	Found string // newest, older, near, not-ours
	Coach string // ID
	Entry int64
	Later int64 // entries written since
	Says  string
}

// nearBy is how many characters may differ for a code to count as misread.
const nearBy = 2

// Head looks a head code up among all heads of all coaches here. Which
// character is wrong is never said.
func (s *Shop) Head(typed string) (HeadFound, error) {
	code, err := chain.ReadCode(typed)
	if err != nil {
		return HeadFound{}, err
	}
	coaches, err := s.Book.Coaches()
	if err != nil {
		return HeadFound{}, err
	}
	near, group, unread := HeadFound{}, 0, false
	for _, row := range coaches {
		c, err := s.load(row.ID)
		if err != nil {
			unread = true
			continue
		}
		for n := c.size(); n > 0; n-- {
			ours := c.Ledger.Code(n)
			if ours == code {
				return s.headOf(c, n), nil
			}
			if chain.Apart(ours, code) <= nearBy && group == 0 {
				group = firstGroup(ours, code)
				near = HeadFound{Found: "near"}
			}
		}
	}
	if group > 0 {
		near.Says = "Please read the " + []string{"", "first", "second", "third", "fourth", "fifth"}[group] + " group once more."
		return near, nil
	}
	if unread {
		return HeadFound{Found: "cannot-say", Says: "We cannot say now: a coach file here cannot be read. Please send us the paper."}, nil
	}
	return HeadFound{Found: "not-ours", Says: "That is not ours. Please send us the paper."}, nil
}

func firstGroup(a, b chain.Code) int {
	for i := range a {
		if a[i] != b[i] {
			return i/5 + 1
		}
	}
	return 1
}

func (s *Shop) headOf(c *Coach, n int64) HeadFound {
	later := c.size() - n
	for onlyGiven := later; onlyGiven > 0 && c.Replay.Act(ledger.No{N: n + onlyGiven}).Kind == "given-out"; onlyGiven-- {
		if onlyGiven == 1 {
			later = 0 // papers that were given out since change nothing that a paper shows
		}
	}
	h := HeadFound{Found: "newest", Coach: c.ID, Entry: n, Later: later}
	day, err := report.NewDay(c.Ledger.Entry(ledger.No{N: n}).Day())
	if err != nil {
		day = report.Day{}
	}
	h.Says = fmt.Sprintf("Yes. That is our newest state of this coach, entry %d of %s.", n, day.Long())
	if later > 0 {
		entries := "entries were"
		if later == 1 {
			entries = "entry was"
		}
		h.Found = "older"
		h.Says = fmt.Sprintf("Yes. That was our state on %s. %d %s written since. Ask for a newer paper.", day.Long(), later, entries)
	}
	return h
}

// Export returns the bare ledger of a coach as it stands in its file, checked
// or not: what is damaged can still be looked at.
func (s *Shop) Export(name string) (text []byte, err error) {
	c, err := s.named(name)
	if err != nil {
		return nil, err
	}
	f, err := file.OpenReadOnly(s.coachPath(c.ID))
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return f.Text()
}

// Vouch adds a key to the trust file. Demo keys are refused.
func (s *Shop) Vouch(k keyring.Named) error {
	if err := s.Trust.Add(k); err != nil {
		return err
	}
	return replace(s.path(trustFile), s.Trust.Text(), 0o644)
}

// Unvouch takes a key out of the trust file, or moves it to the retired ones.
func (s *Shop) Unvouch(name string, retire bool) error {
	var moved keyring.Named
	for _, k := range s.Trust.Keys() {
		if k.Name == name {
			moved = k
		}
	}
	if err := s.Trust.Remove(name); err != nil {
		return err
	}
	if retire {
		if err := s.Retired.Add(moved); err != nil {
			return err
		}
		if err := replace(s.path(retiredFile), s.Retired.Text(), 0o644); err != nil {
			return err
		}
	}
	return replace(s.path(trustFile), s.Trust.Text(), 0o644)
}

// Given is one paper that was given out, with the head code it shows.
type Given struct {
	Row   book.Paper
	Plate string
	Code  chain.Code
}

// Papers lists the papers given out, of one coach or of all.
// Coach files that are damaged are left out and named.
func (s *Shop) Papers(name string) (out []Given, damaged []error, err error) {
	ids := []string{}
	if name != "" {
		c, err := s.named(name)
		if err != nil {
			return nil, nil, err
		}
		ids = append(ids, c.ID)
	} else {
		coaches, err := s.Book.Coaches()
		if err != nil {
			return nil, nil, err
		}
		for _, c := range coaches {
			ids = append(ids, c.ID)
		}
	}
	for _, id := range ids {
		c, err := s.load(id)
		if err != nil {
			damaged = append(damaged, err)
			continue
		}
		rows, err := s.Book.Papers(id)
		if err != nil {
			return nil, nil, err
		}
		for _, row := range rows {
			out = append(out, Given{Row: row, Plate: c.Plate, Code: c.Ledger.Code(int64(row.Entry) - 1)})
		}
	}
	return out, damaged, nil
}

// Again writes a paper that was given out once more into a folder, never over
// a file that is there.
func (s *Shop) Again(g Given, folder string) (string, error) {
	c, err := s.load(g.Row.Coach)
	if err != nil {
		return "", err
	}
	p := Paper{Entry: int64(g.Row.Entry), Kind: g.Row.Kind, Copy: g.Row.Copy, Name: g.Row.Name, Face: g.Row.Face}
	papers, err := s.Deliver(c, []Paper{p}, folder)
	if err != nil {
		return "", err
	}
	return papers[0].Path, nil
}

// CanDeliver asks before anything is signed whether the papers of a gift can
// be written: the folder is there, and nothing of their name lies in it.
func (s *Shop) CanDeliver(c *Coach, g Gift, folder string) error {
	if c.Ledger == nil {
		return fmt.Errorf("%w: %s is in pencil only", ErrNoCoach, c.Plate)
	}
	if err := Folder(folder); err != nil {
		return err
	}
	today, _ := s.Today()
	copies := []book.Copy{copyOnce, copyPassOn}
	if g.Paper == "bundle" {
		copies = []book.Copy{copyBundle}
	}
	for _, which := range copies {
		path := filepath.Join(folder, c.fileName(g.Paper, g.Certificate, or(g.day, today), c.size()+1, which))
		for _, file := range []string{path, strings.TrimSuffix(path, ".pdf") + textSuffix} {
			if _, err := os.Lstat(file); err == nil {
				return &fs.PathError{Op: "write", Path: file, Err: fs.ErrExist}
			}
		}
	}
	return nil
}

// CanDeliverAll asks the same for the given-out notes among those to be inked.
func (s *Shop) CanDeliverAll(plate string, notes []Pending, folder string) error {
	c, err := s.byPlate(plate)
	if err != nil || c.Ledger == nil {
		return err
	}
	for _, n := range notes {
		if n.Draft.Kind != "given-out" {
			continue
		}
		g := Gift{Paper: n.Draft.Text("paper"), day: n.Heading.Day}
		if tags := ledger.Texts(n.Draft.Body["answers"]); len(tags) > 0 {
			g.Certificate = tags[0]
		}
		if err := s.CanDeliver(c, g, folder); err != nil {
			return err
		}
	}
	return nil
}

// Lent says to whom and since when a coach is lent: a bundle went out to work,
// and no guest's entry, take-in or remark on it stands after it.
func (s *Shop) Lent(plate string) (string, error) {
	c, err := s.byPlate(plate)
	if err != nil || c.Ledger == nil {
		return "", err
	}
	return lentOf(c)
}

func lentOf(c *Coach) (string, error) {
	lent := ""
	var given ledger.No
	for _, a := range c.Replay.Acts {
		back := a.Entry.Role == ledger.Guest || a.Kind == "take-in" ||
			a.Kind == "remark" && slices.Contains(a.Refs("answers"), given)
		switch {
		case a.Kind == "given-out" && a.Body["to-work"] == true:
			day, err := report.NewDay(a.Entry.Day())
			if err != nil {
				return "", err
			}
			given = a.No
			lent = report.Fill(report.FixedSays("lent"), "shop", a.Text("to"), "day", day.Long(), "n", ledger.Decimal(a.No.N-1))
		case back:
			lent = ""
		}
	}
	return lent, nil
}

// Own returns what a check needs of a coach of this shop: its text as it
// stands in its file, its branches and the slips of the book.
func (s *Shop) Own(name string) (text []byte, branches [][]byte, slips []string, err error) {
	c, err := s.named(name)
	if err != nil {
		return nil, nil, nil, err
	}
	f, err := file.OpenReadOnly(s.coachPath(c.ID))
	if err != nil {
		return nil, nil, nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if text, err = f.Text(); err != nil {
		return nil, nil, nil, err
	}
	if branches, err = f.Branches(); err != nil {
		return nil, nil, nil, err
	}
	rows, err := s.Book.Slips(c.ID)
	slips = make([]string, 0, len(rows)) // none is not no book
	for _, row := range rows {
		slips = append(slips, row.Slip)
	}
	return text, branches, slips, err
}

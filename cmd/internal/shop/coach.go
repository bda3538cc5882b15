package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/file"
	"lapmark/ledger/sheet"
)

// Coach is one coach of the shop, checked and worked through.
type Coach struct {
	Plate  string // VIN or serial: the key of its pencil notes
	ID     string // "" before it is inked
	Text   []byte // its ledger
	Ledger *ledger.Coach
	Replay *ledger.Replay
	Slips  []book.Slip
}

func (s *Shop) coachPath(id string) string { return s.path(coachFolder, id+coachSuffix) }

// Names finds the coaches a name fits: four or more characters in a row of a
// VIN, serial, ID, certificate number or plate. The error is ErrNoCoach or
// ErrManyCoach with a list.
func (s *Shop) named(name string) (book.Coach, error) {
	name = strings.ToUpper(strings.Join(strings.Fields(name), ""))
	if len([]rune(name)) < 4 {
		return book.Coach{}, fmt.Errorf("%w: %q: give four or more characters in a row", ErrNoCoach, name)
	}
	hits, err := s.Book.Find(name)
	if err != nil {
		return book.Coach{}, err
	}
	var found []book.Coach
	for _, h := range hits {
		c := h.Coach
		if c.VIN == name || c.Serial == name || c.ID == name {
			return c, nil
		}
		if !slices.ContainsFunc(found, func(o book.Coach) bool { return o.ID == c.ID }) {
			found = append(found, c)
		}
	}
	switch len(found) {
	case 0:
		return book.Coach{}, fmt.Errorf("%w: nothing here is called %s. Look for it with lapmark look-up", ErrNoCoach, name)
	case 1:
		return found[0], nil
	}
	var list []string
	for _, c := range found {
		list = append(list, c.VIN+c.Serial+" "+c.Builder+" "+c.Model)
	}
	return book.Coach{}, fmt.Errorf("%w is called %s: %s", ErrManyCoach, name, strings.Join(list, "; "))
}

// Coach reads, checks and works through the coach a name fits. A coach that is
// only in pencil yet comes without a ledger.
func (s *Shop) Coach(name string) (*Coach, error) {
	if plates, err := s.Book.Pencilled(); err != nil {
		return nil, err
	} else if slices.Contains(plates, strings.ToUpper(name)) {
		return s.byPlate(strings.ToUpper(name))
	}
	c, err := s.named(name)
	if errors.Is(err, ErrNoCoach) {
		if plate, ok := s.pencilled(name); ok {
			return &Coach{Plate: plate}, nil
		}
	}
	if err != nil {
		return nil, err
	}
	return s.load(c.ID)
}

// pencilled finds a coach that stands in pencil only.
func (s *Shop) pencilled(name string) (string, bool) {
	plates, err := s.Book.Pencilled()
	if err != nil {
		return "", false
	}
	name = strings.ToUpper(strings.Join(strings.Fields(name), ""))
	var found []string
	for _, p := range plates {
		if p == name || len(name) >= 4 && strings.Contains(p, name) {
			found = append(found, p)
		}
	}
	if len(found) != 1 {
		return "", false
	}
	return found[0], true
}

// byPlate reads the coach of a whole VIN or serial; one that is not inked yet
// comes without a ledger.
func (s *Shop) byPlate(plate string) (*Coach, error) {
	id, err := s.idOf(plate)
	if err != nil {
		return nil, err
	}
	if id == "" {
		return &Coach{Plate: plate}, nil
	}
	return s.load(id)
}

// idOf is the ID of the coach of a whole VIN or serial, "" of one that is not
// inked yet.
func (s *Shop) idOf(plate string) (string, error) { return s.Book.WithPlate(plate) }

func (s *Shop) load(id string) (*Coach, error) {
	return s.loadWith(id, func([]byte, [][]byte) ledger.Verify { return new(sshsig.Verifier).Verify })
}

// loadWith reads the coach of a file with what verifies its signatures, which
// may depend on what stands in the file.
func (s *Shop) loadWith(id string, verify func(text []byte, branches [][]byte) ledger.Verify) (c *Coach, err error) {
	f, err := file.OpenReadOnly(s.coachPath(id))
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	text, err := f.Text()
	if err != nil {
		return nil, err
	}
	branches, err := f.Branches()
	if err != nil {
		return nil, err
	}
	return s.readWith(id, text, branches, verify(text, branches))
}

// read checks a ledger of ours and opens its slips.
func (s *Shop) read(id string, text []byte, branches [][]byte) (*Coach, error) {
	return s.readWith(id, text, branches, new(sshsig.Verifier).Verify)
}

func (s *Shop) readWith(id string, text []byte, branches [][]byte, verify ledger.Verify) (*Coach, error) {
	checked, err := ledger.Check(text, verify, branches...)
	if err != nil {
		return nil, &Damaged{Coach: id, Holds: int64(len(checked.Entries)), Broken: err}
	}
	if checked.ID() != id {
		return nil, &Damaged{Coach: id, Broken: fmt.Errorf("it holds the ledger of another coach, %s", checked.ID())}
	}
	slips, err := s.Book.Slips(id)
	if err != nil {
		return nil, err
	}
	c := &Coach{ID: id, Text: text, Ledger: checked, Slips: fitting(checked, slips)}
	c.Replay = ledger.NewReplay(checked, opened(c.Slips))
	c.Plate = c.Replay.Plate()
	return c, nil
}

// Damaged is a ledger of ours that does not hold.
type Damaged struct {
	Coach  string
	Holds  int64
	Broken error
}

// Error is the sentence of record-broken.
func (d *Damaged) Error() string {
	var b *ledger.Broken
	if errors.As(d.Broken, &b) {
		return fmt.Sprintf("Entry %d is not what was signed. %s. Coach file %s: %v", b.Entry, d.holds(), d.Coach, b.Why)
	}
	return fmt.Sprintf("coach file %s: %v", d.Coach, d.Broken)
}

func (d *Damaged) holds() string {
	switch d.Holds {
	case 0:
		return "No entry holds; nothing is used"
	case 1:
		return "Entry 1 holds; nothing later is used"
	}
	return fmt.Sprintf("Entries 1–%d hold; nothing later is used", d.Holds)
}

// Unwrap gives the cause.
func (d *Damaged) Unwrap() error { return d.Broken }

// Names ties tags, numbers and pictures for this coach as it stands.
func (c *Coach) names(note int64, photos map[string]string) ledger.Names {
	n := ledger.Names{
		No:    func(string) (ledger.No, bool) { return ledger.No{}, false },
		Tag:   func(ledger.No) string { return "" },
		Photo: func(name string) (string, bool) { hex, ok := photos[photoKey(note, name)]; return hex, ok && hex != "" },
	}
	if c.Replay != nil {
		n.No, n.Tag, n.Last = c.Replay.Tagged, c.Replay.TagOf, int64(len(c.Ledger.Entries))
	}
	return n
}

// tagged says whether something in the ledger is called so.
func (c *Coach) tagged(tag string) bool {
	if c.Replay == nil {
		return false
	}
	_, taken := c.Replay.Tagged(tag)
	return taken
}

// DraftOf sets an act in a note's form again. The zone of the heading is that
// of its own moment, else +00:00.
func DraftOf(r *ledger.Replay, a *ledger.Act) (ledger.Draft, sheet.Heading, error) {
	n := ledger.Names{No: r.Tagged, Tag: r.TagOf, Last: int64(len(r.Coach.Entries))}
	d := ledger.Unresolve(a.Kind, a.Signed(), r.Opened[a.No], n)
	h := sheet.Heading{Coach: r.Plate(), Day: a.Entry.Day(), Zone: zoneOf(a.Entry)}
	if a.Kind != "correction" || d.Body["changes"] == nil {
		return d, h, nil
	}
	for _, old := range a.Refs("answers") {
		b := r.Act(old)
		if b == nil {
			continue
		}
		before := ledger.Unresolve(b.Kind, b.Signed(), r.Opened[old], n)
		changes, err := sheet.Changed(d.Body["changes"], before, h)
		if err != nil {
			return d, h, err
		}
		d.Body["changes"] = changes
	}
	return d, h, nil
}

// zoneOf is the offset that the moments of an entry carry.
func zoneOf(e *ledger.Entry) string {
	if s := e.Happened(); len(s) == len("2020-04-09T16:30+02:00") {
		return s[16:]
	}
	if m := momentIn(string(e.Line.Body)); m != "" {
		return m
	}
	return "+00:00"
}

// momentIn finds the offset of the first moment in a body.
func momentIn(body string) string {
	for at := 0; at+22 <= len(body); at++ {
		s := body[at : at+22]
		if s[10] == 'T' && s[13] == ':' && s[19] == ':' && (s[16] == '+' || s[16] == '-') && sheet.IsMoment(s) {
			return s[16:]
		}
	}
	return ""
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

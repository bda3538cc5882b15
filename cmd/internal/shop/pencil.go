package shop

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/format"
	"lapmark/ledger/loose"
	"lapmark/ledger/sheet"
	"lapmark/report/pdf"
)

// Read is one note of a sheet as the shop reads it.
type Read struct {
	Sheet   int // of several sheets read together, from 0
	At      int // its first line in the sheet
	Plate   string
	Heading sheet.Heading
	Words   string
	Line    string // the canonical line, "" where it is unclear
	State   book.State
	Why     string
	Kind    string
	Photos  []string
	Says    string   // the note in words, of one that was read loosely
	Spare   []string // words that no part of the note took, and that went to its text
}

// ErrNoText is a file that is no text in an encoding that phones send.
var ErrNoText = loose.ErrNoText

// ErrWhose is a sheet of which no line says whose roof it is.
var ErrWhose = errors.New("these lines name no coach")

// MaxSheet is the largest day sheet, in bytes.
const MaxSheet = 4 << 20

// Reading reads a day sheet against the coaches of the shop and changes
// nothing. coach names the coach of lines without a coach heading.
func (s *Shop) Reading(text []byte, coach string) ([]Read, error) {
	return s.Readings([][]byte{text}, coach)
}

// Readings reads several day sheets one after the other, as if they were one.
func (s *Shop) Readings(texts [][]byte, coach string) ([]Read, error) {
	r := reading{shop: s, coaches: map[string]*readingCoach{}}
	var out []Read
	for i, text := range texts {
		notes, err := r.sheet(text, coach)
		if err != nil {
			return nil, err
		}
		for j := range notes {
			notes[j].Sheet = i
		}
		out = append(out, notes...)
	}
	return r.taken(out), nil
}

func (r *reading) sheet(text []byte, coach string) ([]Read, error) {
	s := r.shop
	if len(text) > MaxSheet {
		return nil, fmt.Errorf("%w: the sheet has %d bytes, %d at most", ErrUse, len(text), MaxSheet)
	}
	lines, err := loose.Decode(text)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUse, err)
	}
	if err := r.tellOfShop(); err != nil {
		return nil, err
	}
	today, zone := s.Today()
	start := sheet.Heading{Day: today, Zone: zone}
	if coach != "" {
		plate, err := s.PlateOf(coach)
		if err != nil {
			return nil, err
		}
		start.Coach = plate
	}
	var out []Read
	for _, n := range loose.Split(lines, start, r.writers(), r.loose) {
		if n.Heads != loose.NoHeading && n.Err == nil {
			continue
		}
		one, err := r.note(n)
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

// PlateOf finds the whole plate of a coach by a name, without opening its file.
func (s *Shop) PlateOf(name string) (string, error) {
	c, err := s.named(name)
	if errors.Is(err, ErrNoCoach) {
		if plate, ok := s.pencilled(name); ok {
			return plate, nil
		}
	}
	return c.VIN + c.Serial, err
}

// reading is one sheet on its way: what each coach knows, and the tags of the
// notes before.
type reading struct {
	shop    *Shop
	coaches map[string]*readingCoach
	loose   loose.Shop
	told    bool
}

// tellOfShop asks the book once what the reader of lines is told.
func (r *reading) tellOfShop() (err error) {
	if !r.told {
		r.loose, err = r.shop.looseShop()
		r.told = err == nil
	}
	return err
}

// writers are those of lines that name none: the only one there is.
func (r *reading) writers() []string {
	if own := r.loose.Marks[len(usualMarks):]; len(own) == 1 {
		return own
	}
	return nil
}

type readingCoach struct {
	coach  *Coach
	tags   map[string]bool
	ahead  int64        // notes in pencil that will have the next numbers
	intake bool         // an intake of it is in pencil
	loose  *loose.Coach // nil until a line needs it
	learnt []drafted
	moved  bool // a measure, an opening or a seam is in pencil: places wait for ink
}

// learn notes what a pencil note will bring.
func (c *readingCoach) learn(d ledger.Draft, h sheet.Heading) {
	c.learnt = append(c.learnt, drafted{d, h})
	if c.loose != nil {
		c.loose.Learn("", d, h)
	}
	c.ahead++
	if tag := d.Text("tag"); tag != "" {
		c.tags[tag] = true
	}
	c.intake = c.intake || d.Kind == "intake"
	c.moved = c.moved || d.Kind == "intake" || d.Kind == "measure" || d.Kind == "work" || d.Kind == "correction"
}

func (r *reading) note(n loose.Note) (Read, error) {
	one := Read{At: n.At, Heading: n.Heading, Words: n.Words, State: book.Unclear}
	if n.Heading.Coach == "" {
		return one, fmt.Errorf("%w: line %d: %w. Put coach VIN above them, or say which with --coach", ErrUse, n.At, ErrWhose)
	}
	c, err := r.coach(n.Heading.Coach)
	if err != nil {
		return one, err
	}
	one.Plate = c.coach.Plate
	one.Heading.Coach = c.coach.Plate
	loosely := n.Err == nil && !n.Canonical()
	if loosely {
		n.Loosely(r.loose, c.looseCoach())
	}
	if n.Err != nil {
		one.Why = n.Err.Error()
		return one, nil
	}
	if err := cmp.Or(c.known(n.Draft), printable(n.Words), namesFiles(n.Draft), c.ownPlate(n.Draft)); err != nil {
		one.Why = err.Error()
		return one, nil
	}
	one.Line, one.Kind, one.State = n.Line, n.Draft.Kind, book.Clear
	one.Photos = ledger.Texts(n.Draft.Body["photos"])
	one.Spare = n.Spare
	if loosely {
		one.Says = c.sentence(n.Draft)
	}
	c.learn(n.Draft, n.Heading)
	if lacks := n.Draft.Lacks(); len(lacks) > 0 {
		one.State, one.Why = book.Short, (&Short{lacks}).Error()
	}
	return one, nil
}

// unseen are the line ends of a folded note.
var unseen = strings.NewReplacer("\n", " ")

// printable refuses, where it is typed, a character that no paper could print.
func printable(words string) error {
	if !strings.ContainsFunc(words, func(r rune) bool { return r > unicode.MaxASCII }) {
		return nil
	}
	var missing pdf.MissingGlyph
	if errors.As(pdf.Printable(unseen.Replace(words)), &missing) {
		return &sheet.Unclear{Reason: sheet.ReasonWord, What: fmt.Sprintf("%q cannot be printed on a paper: write it otherwise", missing.Rune)}
	}
	return nil
}

// taken says of notes on a coach nobody took in that they wait for its intake.
func (r *reading) taken(notes []Read) []Read {
	for i, n := range notes {
		if n.State != book.Clear || n.Kind == "intake" {
			continue
		}
		if c := r.coaches[n.Heading.Coach]; c == nil || c.coach.Ledger == nil && !c.intake {
			notes[i].State = book.Short
			notes[i].Why = fmt.Sprintf("no coach here is called %s, and no intake of it is in pencil: read the plate again, or take it in", n.Plate)
		}
	}
	return notes
}

// coach loads what a heading names: a whole VIN or serial, or the end of one
// that only one coach of the shop has.
func (r *reading) coach(name string) (*readingCoach, error) {
	if c, ok := r.coaches[name]; ok {
		return c, nil
	}
	c, err := r.shop.byPlate(name)
	if err == nil && c.Ledger == nil {
		plate, other := r.shop.PlateOf(name)
		switch {
		case other == nil && strings.HasSuffix(plate, name):
			c, err = r.shop.byPlate(plate)
		case errors.Is(other, ErrManyCoach):
			err = other
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	rc := &readingCoach{coach: c, tags: map[string]bool{}}
	pencil, err := r.shop.Notes(c.Plate)
	if err != nil {
		return nil, err
	}
	for _, p := range pencil {
		rc.learn(p.Draft, p.Heading)
	}
	r.coaches[name] = rc
	r.coaches[c.Plate] = rc
	return rc, nil
}

// namesFiles refuses a picture named with a folder.
func namesFiles(d ledger.Draft) error {
	for _, name := range ledger.Texts(d.Body["photos"]) {
		if name != filepath.Base(name) || name == "." || name == ".." {
			return &sheet.Unclear{Reason: sheet.ReasonWord, What: fmt.Sprintf("photo %s: name it without its folder", name)}
		}
	}
	return nil
}

// ownPlate refuses an intake that says another plate than its heading.
func (c *readingCoach) ownPlate(d ledger.Draft) error {
	plate := d.Text("vin") + d.Text("serial")
	if d.Kind != "intake" || plate == c.coach.Plate || plate == "" {
		return nil
	}
	return &sheet.Unclear{Reason: sheet.ReasonReference, What: fmt.Sprintf("the heading says coach %s, the intake %s", c.coach.Plate, plate)}
}

// known checks the references of a note: to entries, and by tag to notes that
// are still in pencil.
func (c *readingCoach) known(d ledger.Draft) error {
	names := c.pencilNames()
	d = d.Clone()
	if _, err := d.Resolve(names); err != nil {
		return &sheet.Unclear{Reason: sheet.ReasonReference, What: strings.TrimPrefix(err.Error(), ledger.ErrNoSuchEntry.Error()+": ")}
	}
	if c.coach.Replay != nil && !c.moved {
		act := &ledger.Act{No: ledger.No{N: c.coach.size() + 1}, Kind: d.Kind, Body: d.Body, House: true, Counts: true}
		if err := workable(c.coach.Replay, act); err != nil {
			return err
		}
	}
	if list, ok := d.Body["changes"].(format.Array); ok && len(list) > 0 && c.coach.Ledger != nil {
		w := writing{shop: nil, coach: c.coach}
		return w.changes(&d, names, sheet.Heading{Coach: c.coach.Plate, Day: d.Text("happened"), Zone: "+00:00"})
	}
	return nil
}

// pencilNames knows the entries of the coach, and the tags of its pencil.
func (c *readingCoach) pencilNames() ledger.Names {
	names := c.coach.names(0, nil)
	inked := names.No
	names.No = func(tag string) (ledger.No, bool) {
		if no, ok := inked(tag); ok {
			return no, true
		}
		return ledger.No{N: names.Last}, c.tags[tag]
	}
	names.Last += c.ahead
	names.Photo = func(string) (string, bool) { return strings.Repeat("0", 64), true }
	return names
}

// Pencil puts the notes of a sheet into pencil, all or none, with their
// pictures from the folders.
func (s *Shop) Pencil(notes []Read, folders []string) error {
	byPlate := map[string][]book.Note{}
	var plates []string
	for _, n := range notes {
		if _, seen := byPlate[n.Plate]; !seen {
			plates = append(plates, n.Plate)
		}
		byPlate[n.Plate] = append(byPlate[n.Plate], book.Note{
			Day: n.Heading.Day, Zone: n.Heading.Zone, Words: n.Words, Line: n.Line,
			State: n.State, Why: n.Why, Written: s.stamp(),
		})
	}
	for _, plate := range plates {
		if err := s.Book.AddNotes(plate, byPlate[plate]); err != nil {
			return err
		}
	}
	return s.takeAllPhotos(notes, plates, folders)
}

// takeAllPhotos keeps the pictures of notes that were just put into pencil: the
// newest ones of each coach, in their order.
func (s *Shop) takeAllPhotos(notes []Read, plates, folders []string) error {
	for _, plate := range plates {
		pencil, err := s.Book.Notes(plate)
		if err != nil {
			return err
		}
		slices.SortFunc(pencil, func(a, b book.Note) int { return int(a.ID - b.ID) })
		var mine []Read
		for _, n := range notes {
			if n.Plate == plate {
				mine = append(mine, n)
			}
		}
		pencil = pencil[max(0, len(pencil)-len(mine)):]
		for i, n := range mine[:len(pencil)] {
			if err := s.takePhotos(n, pencil[i].ID, folders); err != nil {
				return err
			}
		}
	}
	for _, plate := range plates { // two coaches may show one picture
		if err := s.clearInbox(plate); err != nil {
			return err
		}
	}
	return nil
}

// Waiting counts the notes of a coach in pencil, rubbed-out ones aside.
func (s *Shop) Waiting(plate string) (int, error) {
	notes, err := s.Book.Notes(plate)
	n := 0
	for _, note := range notes {
		if note.State != book.Dropped {
			n++
		}
	}
	return n, err
}

// Unread returns the numbers of the pencil notes of a coach that are not clear
// enough to be asked about.
func (s *Shop) Unread(plate string) ([]int64, error) {
	notes, err := s.Book.Notes(plate)
	var out []int64
	for _, n := range notes {
		if n.State != book.Dropped && !legible(n) {
			out = append(out, n.ID)
		}
	}
	return out, err
}

func (s *Shop) note(id int64) (book.Note, error) {
	all, err := s.Book.AllNotes()
	if err != nil {
		return book.Note{}, err
	}
	for _, n := range all {
		if n.ID == id {
			return n, nil
		}
	}
	return book.Note{}, fmt.Errorf("%w: %d", book.ErrNoNote, id)
}

// Mend puts another line in the place of a pencil note.
func (s *Shop) Mend(id int64, words string) (Read, error) {
	n, err := s.note(id)
	if err != nil {
		return Read{}, err
	}
	heading := sheet.Heading{Coach: n.Coach, Day: n.Day, Zone: n.Zone}
	read, err := s.Reading([]byte(strings.Join(heading.Lines(sheet.Heading{}), "\n")+"\n"+words), "")
	if err != nil {
		return Read{}, err
	}
	if len(read) != 1 {
		return Read{}, fmt.Errorf("%w: one note takes the place of one note, not %d", ErrUse, len(read))
	}
	one := read[0]
	if one.Plate != n.Coach {
		return one, fmt.Errorf("%w: this note is of coach %s; rub it out and read it again as a sheet of %s", ErrUse, n.Coach, one.Plate)
	}
	n.Line, n.State, n.Why = one.Line, one.State, one.Why
	return one, s.Book.ChangeNote(n)
}

// Warned are the notes of a coach in pencil that would not go in as they stand,
// by their number, each with what a rule or a reference says of it. It is asked
// early, while the person still stands on the roof; inking asks again.
func (s *Shop) Warned(plate string) (map[int64]error, error) {
	notes, err := s.Notes(plate)
	if err != nil || len(notes) == 0 {
		return nil, err
	}
	in, err := s.dry(plate, notes, true)
	if err != nil {
		return nil, err
	}
	out := map[int64]error{}
	for _, r := range in.Results {
		var short *Short
		if r.Why != nil && !errors.As(r.Why, &short) {
			out[r.Note] = r.Why
		}
	}
	return out, nil
}

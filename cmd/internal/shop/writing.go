package shop

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/day"
	"lapmark/ledger/file"
	"lapmark/ledger/format"
	"lapmark/ledger/picture"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
	"lapmark/report"
)

// writing is one inking in the making: the coach grows with each entry.
type writing struct {
	shop     *Shop
	coach    *Coach
	plate    string // under which its notes stand in pencil: a correction may give the coach another
	hand     Hand
	start    int64 // entries before this inking
	at       string
	dry      bool
	early    bool // photos that were named may still come
	photos   map[string]string
	text     []byte
	leaves   [][]byte
	slips    []book.Slip
	picture  map[string][]byte
	branches [][]byte // side branches taken in now
	results  []Result
	proof    proof
}

func (s *Shop) begin(c *Coach, hand Hand) (*writing, error) {
	w := &writing{shop: s, coach: c, plate: c.Plate, hand: hand, start: c.size(), at: s.stamp(), picture: map[string][]byte{}}
	photos, err := s.photosOf(c.Plate)
	if err != nil {
		return nil, err
	}
	w.photos = photos
	w.text = slices.Clone(c.Text)
	return w, nil
}

func (w *writing) inking() file.Inking {
	return file.Inking{Leaves: w.leaves, Pictures: w.picture, Branches: w.branches}
}

func (w *writing) answer() Inked {
	out := Inked{Plate: w.coach.Plate, ID: w.coach.ID, Results: w.results}
	if w.coach.Ledger != nil && len(w.coach.Ledger.Entries) > 0 {
		out.Size = w.coach.Ledger.Newest().Size
		out.Code = w.coach.Ledger.Code(out.Size)
	}
	return out
}

// one takes one note as far as it goes: into the ledger, or back to pencil with
// the reason.
func (w *writing) one(n Pending) {
	r := Result{Note: n.Note, Line: n.Line}
	entry, outcomes, err := w.draw(n, &r)
	r.Outcomes, r.Why = outcomes, err
	if err == nil {
		r.Entry = entry
	}
	w.results = append(w.results, r)
}

// draw resolves, fills, judges, seals and adds one note.
func (w *writing) draw(n Pending, r *Result) (int64, []rules.Outcome, error) {
	if lacks := n.Draft.Lacks(); len(lacks) > 0 {
		return 0, nil, &Short{Lacks: lacks}
	}
	act, err := w.act(n)
	if err == nil {
		err = w.admit(act)
	}
	if err != nil {
		return 0, nil, err
	}
	outcomes, err := w.judge(n, act)
	if err != nil {
		return 0, outcomes, err
	}
	values := n.Draft.Private
	if n.Draft.Kind == "given-out" {
		if values, err = w.give(n, act, r); err != nil {
			return 0, outcomes, err
		}
	}
	return w.coach.size() + 1, outcomes, w.add(act, values)
}

// dryKey signs nothing: what a dry run makes is thrown away.
type dryKey struct{ house sshsig.PublicKey }

func (k dryKey) Public() sshsig.PublicKey { return k.house }

func (k dryKey) Sign(namespace string, _ []byte) ([]byte, error) {
	return sshsig.Build(k.house, namespace, [64]byte{}), nil
}

// Short is a note that lacks something it must have.
type Short struct{ Lacks []string }

// Error says what is missing.
func (s *Short) Error() string { return "still missing: " + strings.Join(s.Lacks, "; ") }

// act resolves the names of a note into numbers.
func (w *writing) act(n Pending) (*ledger.Act, error) {
	d := n.Draft.Clone()
	names := w.coach.names(n.Note, w.photos)
	if w.early {
		names.Photo = func(string) (string, bool) { return strings.Repeat("0", 64), true }
	}
	if d.Kind == "correction" && d.Body["changes"] != nil {
		if err := w.changes(&d, names, n.Heading); err != nil {
			return nil, err
		}
	}
	if err := w.foreseen(n); err != nil {
		return nil, err
	}
	body, err := d.Resolve(names)
	if errors.Is(err, ledger.ErrNoPhoto) {
		return nil, w.waitingPhotos(n.Note, d, err)
	}
	if err != nil {
		return nil, err
	}
	a := &ledger.Act{
		No: ledger.No{N: w.coach.size() + 1}, Kind: d.Kind, Body: body, House: true, Counts: true, Signer: w.guest(d.Kind),
	}
	if d.Kind == "intake" {
		return a, w.intake(a)
	}
	return a, w.keys(a)
}

// waitingPhotos says which pictures a note waits for, and why.
func (w *writing) waitingPhotos(note int64, d ledger.Draft, missing error) error {
	rows, err := w.shop.Book.Photos(w.plate)
	if err != nil {
		return err
	}
	for _, name := range ledger.Texts(d.Body["photos"]) {
		for _, p := range rows {
			if p.Name == photoKey(note, name) && p.Travel == "" {
				return fmt.Errorf("%s waits, it is not its own travel copy (%s). Until photos are made smaller here, give an upright JPEG without metadata, long side at most %d px", name, p.Why, picture.LongSide)
			}
		}
	}
	return fmt.Errorf("%w. Put it into the folder inbox and ink again; what was read before lies in inbox/read", missing)
}

// changes finds the parts that a correction speaks of in the entry as it
// stands now.
func (w *writing) changes(d *ledger.Draft, names ledger.Names, h sheet.Heading) error {
	list, _ := d.Body["answers"].(format.Array)
	tag, _ := list[0].(string)
	no, ok := names.No(tag)
	if number, sharp := strings.CutPrefix(tag, "#"); sharp {
		no, ok = ledger.ParseNo(number)
	}
	if !ok || w.coach.Replay == nil || w.coach.Replay.Act(no) == nil {
		return fmt.Errorf("%w: %s", ledger.ErrNoSuchEntry, tag)
	}
	old := w.coach.Replay.Act(no)
	before := ledger.Unresolve(old.Kind, old.Body, nil, names)
	changes, err := sheet.Changes(d.Body["changes"], before, h)
	if err != nil {
		return err
	}
	for _, one := range changes {
		if err := ledger.ResolveChange(old.Kind, one, names); err != nil {
			return err
		}
	}
	d.Body["changes"] = changes
	return nil
}

// intake fills the nonce, the keys and the name of the shop.
func (w *writing) intake(a *ledger.Act) error {
	if w.coach.Ledger != nil {
		return fmt.Errorf("%w: this coach has its intake, entry 1", ErrRefused)
	}
	if err := w.elsewhere(a); err != nil {
		return err
	}
	fresh, err := nonce(w.shop.Random)
	if err != nil {
		return err
	}
	recovery, err := w.shop.Book.Setting(settingOther)
	if err != nil {
		return err
	}
	for name, v := range map[string]string{"nonce": fresh, "house": w.shop.House.Line(), "recovery": recovery} {
		if _, typed := a.Body[name]; typed {
			return fmt.Errorf("%w: leave %s out, the tool fills it", rules.ErrTyped, name)
		}
		a.Body[name] = v
	}
	if _, typed := a.Body["shop"]; !typed {
		a.Body["shop"] = format.Object{"name": w.shop.Terms.Shop, "place": w.shop.place()}
	}
	return nil
}

// judge fills what the tool fills and asks the rules.
func (w *writing) judge(n Pending, a *ledger.Act) ([]rules.Outcome, error) {
	c, err := w.caseOf(a, n.Heading.Zone)
	if err != nil {
		return nil, err
	}
	c.Private = n.Draft.Private
	if err := rules.Fill(c); err != nil {
		var early *rules.Early
		if errors.As(err, &early) {
			return []rules.Outcome{early.Outcome}, &Held{early.Outcome}
		}
		return nil, err
	}
	outcomes := rules.Ask(c)
	for _, o := range outcomes {
		if o.Degree != rules.Noted {
			return outcomes, &Held{o}
		}
	}
	if a.Kind == "certificate" && c.Replay != nil {
		return outcomes, w.sentences(a)
	}
	return outcomes, nil
}

// caseOf is what the rules look at for a note.
func (w *writing) caseOf(a *ledger.Act, zone string) (rules.Case, error) {
	limits, err := limitsOf(w.terms())
	if err != nil {
		return rules.Case{}, err
	}
	now, err := day.ParseStamp(w.at)
	return rules.Case{
		Replay: w.view(a), Act: a, Zone: zone, Now: now, Limits: limits, Taken: w.taken, Next: w.nextNumber,
		Shown: w.shown, Lot: w.lot,
	}, err
}

// taken asks the book whether a certificate number is used on another coach.
func (w *writing) taken(number string) (string, bool) {
	if w.coach.tagged(number) {
		return "this coach", true
	}
	hits, err := w.shop.Book.Find(number)
	if err != nil {
		return "", false
	}
	for _, h := range hits {
		if h.Coach.ID != w.coach.ID && slices.Contains(h.Found, book.Find{Kind: book.KindCertificate, Text: number}) {
			return h.Coach.VIN + h.Coach.Serial, true
		}
	}
	return "", false
}

// shown asks the book whether another coach of the shop has the same original.
func (w *writing) shown(travel string) (string, bool) {
	coach, found, err := w.shop.Book.PhotoElsewhere(w.plate, travel)
	return coach, err == nil && found
}

// lot is what the book has of a lot in the other coaches of the shop: its first
// delivery there, and what they received and used in the unit of that.
func (w *writing) lot(id string) rules.BookLot {
	var out rules.BookLot
	rows, err := w.shop.Book.LotElsewhere(w.coach.ID, id)
	if err != nil {
		return out
	}
	for _, row := range rows {
		sheet, err := format.Parse([]byte(row.Sheet))
		if shape, ok := sheet.(format.Object); err == nil && ok && out.Shape == nil {
			out.Shape, out.Unit = shape, row.Unit
		}
	}
	for _, row := range rows {
		out.Unit = cmp.Or(out.Unit, row.Unit)
		if row.Unit == out.Unit {
			out.Received, out.Used = out.Received+row.Received, out.Used+row.Used
		}
	}
	return out
}

// nextNumber is the shop's next free number, past those of this inking.
func (w *writing) nextNumber() (string, error) { return w.shop.nextNumber(w.coach.tagged) }

// add seals one entry and lets the coach grow by it.
func (w *writing) add(a *ledger.Act, values map[string]string) error {
	if w.coach.Ledger == nil {
		w.coach.Ledger = ledger.NewCoach()
	}
	sealedEntry, err := w.seal(a, values)
	if err != nil {
		return err
	}
	if err := w.grow(a, sealedEntry.leaf); err != nil {
		return err
	}
	if err := w.pictures(a); err != nil {
		return err
	}
	w.leaves = append(w.leaves, sealedEntry.leaf)
	w.text = append(w.text, sealedEntry.leaf...)
	w.slips = append(w.slips, sealedEntry.slips...)
	w.coach.Text = w.text
	w.coach.Slips = append(w.coach.Slips, sealedEntry.slips...)
	w.replay(opened(sealedEntry.slips)[a.No])
	return nil
}

// replay lets the coach as it counts now follow its ledger by one entry; one
// that was checked as a whole is worked through as a whole.
func (w *writing) replay(values map[string]string) {
	if w.coach.Replay != nil && w.coach.Replay.Coach == w.coach.Ledger {
		w.coach.Replay.Grow(values)
	} else {
		w.coach.Replay = ledger.NewReplay(w.coach.Ledger, opened(w.coach.Slips))
	}
	w.coach.Plate = w.coach.Replay.Plate()
}

// grow lets the ledger of the coach grow by a leaf. A side branch that is taken
// in is read with it.
func (w *writing) grow(a *ledger.Act, leaf []byte) error {
	if a.Kind != "take-in" {
		return w.coach.Ledger.Extend(leaf, w.verify)
	}
	var v sshsig.Verifier
	texts := slices.Clone(w.branches)
	for _, b := range w.coach.Ledger.Branches {
		texts = append(texts, b.Text)
	}
	grown, err := ledger.Check(slices.Concat(w.text, leaf), v.Verify, texts...)
	if err != nil {
		return err
	}
	w.coach.Ledger = grown
	return nil
}

// verify takes our own signature as it is: signer or proof verify it before
// anything is written.
func (w *writing) verify(namespace string, message, sig []byte) (string, error) {
	if namespace == ledger.EntryNamespace {
		return w.hand.Key.Public().Line(), nil
	}
	return sshsig.Verify(namespace, message, sig)
}

func mustPrint(keyLine string) string {
	print, err := format.Fingerprint(keyLine)
	if err != nil {
		return keyLine
	}
	return print
}

func (c *Coach) size() int64 {
	if c.Ledger == nil {
		return 0
	}
	return int64(len(c.Ledger.Entries))
}

// Held is a note that a rule stops or refuses.
type Held struct{ Outcome rules.Outcome }

// Error is the sentence of the rule and the way on.
func (h *Held) Error() string {
	text := h.Outcome.Sentence
	if h.Outcome.Mend != "" {
		text += " → " + h.Outcome.Mend + "."
	}
	if h.Outcome.Degree == rules.Stopped {
		text += ` Or say why: override ` + h.Outcome.Rule + `, reason "…", by MARK.`
	}
	return text
}

// limitsOf are a shop's terms as the rules read them.
func limitsOf(t report.Terms) (rules.Limits, error) {
	l := rules.UsualLimits()
	for _, own := range t.Limits {
		var err error
		if l, err = l.With(own.Rule, own.Says); err != nil {
			return l, fmt.Errorf("terms: %w", err)
		}
	}
	return l, nil
}

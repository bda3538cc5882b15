package shop

import (
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"slices"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/report"
)

// Hand is who signs an inking, with what some kinds of entry need besides.
type Hand struct {
	Key      sshsig.Signer
	other    bool             // InkAs: the key may be another than the house's; the ledger says what it may write
	Second   sshsig.Signer    // who accepts: the new house key of a key-change, the recovery key of a hand-over
	Recovery string           // fingerprint of the next recovery key, of a key-change and a take-on
	To       sshsig.PublicKey // the key of the house that a hand-over names
	Branch   []byte           // the text of the side branch that a take-in takes in
	Terms    *report.Terms    // the terms of the shop that signs, where it is not this one
}

// InkAs signs pencil notes as [Shop.Ink] does, with a key that need not be the
// house's: a guest's, the recovery key's, the next house's.
func (s *Shop) InkAs(ctx context.Context, plate string, h Hand, clockIsRight bool) (Inked, error) {
	h.other = true
	return s.inkNotes(ctx, plate, h, clockIsRight)
}

// mayWrite says whether the hand may sign in this ledger at all; the ledger
// itself judges each kind.
func (h Hand) mayWrite(s *Shop, c *Coach) error {
	key := h.Key.Public()
	if c.Ledger != nil {
		if says, old := rules.ReplacedKey(c.Ledger, key.Line()); old {
			return fmt.Errorf("%w: %s", ErrNotOurKey, says)
		}
	}
	switch {
	case c.Ledger == nil && key != s.House:
		return fmt.Errorf("%w: the house of this shop is %s", ErrNotOurKey, s.House.Fingerprint())
	case c.Ledger != nil && !h.other && key.Line() != c.Ledger.House:
		return otherHouse(c)
	}
	return nil
}

func otherHouse(c *Coach) error {
	return fmt.Errorf("%w: the house of this coach is %s", ErrNotOurKey, mustPrint(c.Ledger.House))
}

// OurHouse refuses a coach of which another key is the house, before a
// passphrase is asked for.
func (s *Shop) OurHouse(plate string) error {
	c, err := s.byPlate(plate)
	if err != nil || c.Ledger == nil || c.Ledger.House == s.House.Line() {
		return err
	}
	return otherHouse(c)
}

// guest is the public key line of a hand that is neither house nor recovery
// key, "" of those.
func (w *writing) guest(kind string) string {
	key, c := w.hand.Key.Public(), w.coach.Ledger
	if c == nil || key.Line() == c.House || key.Fingerprint() == c.Recovery || kind == "take-on" {
		return ""
	}
	return key.Line()
}

// view is the ledger as the hand reads it: a guest's own entries are facts to
// him.
func (w *writing) view(a *ledger.Act) *ledger.Replay {
	if a.Signer == "" || w.coach.Replay == nil {
		return w.coach.Replay
	}
	return ledger.NewReplay(w.coach.Ledger, opened(w.coach.Slips)).As(a.Signer)
}

func (w *writing) terms() report.Terms {
	if w.hand.Terms != nil {
		return *w.hand.Terms
	}
	return w.shop.Terms
}

// keys fills what an entry about keys, branches or ledgers rests on.
func (w *writing) keys(a *ledger.Act) error {
	switch a.Kind {
	case "key-change":
		if w.hand.Second == nil {
			return fmt.Errorf("%w: a key-change needs the new house key, which accepts it", ErrUse)
		}
		if err := w.rooted(a, "firm"); err != nil {
			return err
		}
		return filled(a, format.Object{"house": w.hand.Second.Public().Line(), "recovery": w.hand.Recovery})
	case "hand-over":
		if w.hand.Second == nil {
			return fmt.Errorf("%w: a hand-over needs the recovery key, which accepts it", ErrUse)
		}
		if a.Body["to"] != nil {
			return filled(a, format.Object{"key": w.hand.To.Fingerprint()})
		}
	case "take-on":
		return filled(a, format.Object{"house": w.hand.Key.Public().Line(), "recovery": w.hand.Recovery})
	case "take-in":
		return w.parting(a)
	case "same-coach":
		return w.otherLedger(a)
	}
	return nil
}

// filled sets what the tool fills; what was typed must be the same.
func filled(a *ledger.Act, values format.Object) error {
	for _, name := range format.Names(values) {
		v := values[name]
		if typed, there := a.Body[name]; there && !sameSaid(typed, v) {
			return fmt.Errorf("%w: %s is filled by the tool", rules.ErrTyped, name)
		}
		a.Body[name] = v
	}
	return nil
}

// sameSaid compares what was typed with what is: of a head its size is typed.
func sameSaid(typed, v format.Value) bool {
	head, isHead := v.(format.Object)
	if said, ok := typed.(format.Object); ok && isHead {
		return said["root"] == nil && said["size"] == head["size"]
	}
	return typed == v
}

// rooted adds the root to a head that was typed by its size.
func (w *writing) rooted(a *ledger.Act, member string) error {
	o, ok := a.Body[member].(format.Object)
	if !ok {
		return nil
	}
	size := ledger.Int(o, "size")
	if size > w.coach.size() {
		return fmt.Errorf("%w: #%d, the newest is #%d", ledger.ErrNoSuchEntry, size, w.coach.size())
	}
	a.Body[member] = headValue(w.coach.Ledger.Head(size))
	return nil
}

func headValue(h format.Head) format.Object {
	return format.Object{"root": format.EncodeBase64(h.Root[:]), "size": h.Size}
}

// parting fills a take-in from the text of its branch.
func (w *writing) parting(a *ledger.Act) error {
	var v sshsig.Verifier
	p, err := w.coach.Ledger.PartingOf(w.hand.Branch, v.Verify)
	if err != nil {
		return fmt.Errorf("%w: the side branch: %w", ErrRefused, err)
	}
	w.branches = append(w.branches, w.hand.Branch)
	return filled(a, format.Object{"from": headValue(p.From), "head": headValue(p.Head), "count": p.Count, "branch": p.Hex})
}

// otherLedger finds the other ledger of a same-coach among the coaches of this
// shop.
func (w *writing) otherLedger(a *ledger.Act) error {
	id := a.Text("ledger")
	if !exists(w.shop.coachPath(id)) {
		return fmt.Errorf("%w: this shop has no ledger %s", ErrNoCoach, id)
	}
	other, err := w.shop.load(id)
	if err != nil {
		return err
	}
	if w.coach.Ledger != nil && other.ID == w.coach.Ledger.ID() {
		return fmt.Errorf("%w: %s is this ledger itself", ErrRefused, id)
	}
	a.Body["ledger"] = base64.StdEncoding.EncodeToString(other.Ledger.Ledger[:])
	return filled(a, format.Object{"head": headValue(other.Ledger.Newest())})
}

// erased returns the commitments that entries of the kind erased name, and the
// entries whose notes held their values.
func erased(c *Coach) (gone []string, notes []int) {
	for _, a := range c.Replay.Acts {
		if a.Kind != "erased" || !a.Counts {
			continue
		}
		for _, no := range a.Refs("answers") {
			e := c.Ledger.Entry(no)
			if no.Branch == 0 {
				notes = append(notes, int(no.N))
			}
			for _, name := range ledger.Texts(a.Body["names"]) {
				if e != nil && e.Commitments()[name] != "" {
					gone = append(gone, e.Commitments()[name])
				}
			}
		}
	}
	return gone, notes
}

// erase drops slips, and the text of notes. It is done again at each inking, so
// that nothing interrupted stays undone.
func (s *Shop) erase(c *Coach, gone []string, notes []int) error {
	if err := errors.Join(s.Book.DropSlips(c.ID, gone), s.Book.DropInked(c.Replay.Plate(), notes)); err != nil {
		return err
	}
	left, err := s.Book.Slips(c.ID)
	if err != nil {
		return err
	}
	c.Slips = fitting(c.Ledger, left)
	c.Replay = ledger.NewReplay(c.Ledger, opened(c.Slips))
	return nil
}

// accepted adds the acceptance of the second key to the body of a line.
func (h Hand) accepted(kind string, body format.Object, line format.Line) error {
	if !slices.Contains([]string{"key-change", "hand-over"}, kind) {
		return nil
	}
	l1, err := line.Append(nil)
	if err != nil {
		return err
	}
	blob, err := h.Second.Sign(ledger.AcceptNamespace, append(l1, '\n'))
	if err != nil {
		return err
	}
	body["accept"] = format.EncodeBase64(blob)
	return nil
}

package shop

import (
	"context"
	"fmt"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// Copy words of the papers a given-out makes.
const (
	copyOwn    = book.Own
	copyPassOn = book.PassOn
	copyOnce   = book.Once
	copyBundle = book.Bundle
)

// Paper is one file that leaves the house by a given-out.
type Paper struct {
	Entry int64
	Kind  string
	Copy  book.Copy
	Name  string // file name
	Face  string // SHA-256 of the face in hex, "" of a bundle
	Path  string // where it was written, "" until then
}

// Gift is a paper to be given out.
type Gift struct {
	Paper       string // a word of the list paper
	Certificate string // the number, for a certificate
	AsOf        string
	Reader      string
	To          string // a mark; "" = holder of the day, next buyer
	ToName      string
	On          string
	ToWork      bool
	By          string
	Note        string
	day         string // on which it is given out, "" = today
}

// Give makes a paper for a reader and enters that it was given out.
func (s *Shop) Give(ctx context.Context, c *Coach, g Gift, key sshsig.Signer, clockIsRight bool) (Inked, error) {
	if c.Ledger == nil {
		return Inked{}, fmt.Errorf("%w: %s is not inked yet", ErrNoCoach, c.Plate)
	}
	today, zone := s.Today()
	body := format.Object{
		"paper": g.Paper, "as-of": or(g.AsOf, today), "reader": g.Reader, "on": g.On,
		"happened": today, "by": format.Array{g.By}, "to": or(g.To, s.reader(c, g.Reader)),
	}
	if g.Certificate != "" {
		body["answers"] = format.Array{g.Certificate}
	}
	if g.ToWork {
		body["to-work"] = true
	}
	d := ledger.Draft{Kind: "given-out", Body: body, Private: map[string]string{}}
	if g.Note != "" {
		d.Private["note"] = g.Note
	}
	if name := s.readerName(c, g); name != "" {
		d.Private["to-name"] = name
	}
	h := sheet.Heading{Coach: c.Plate, Day: today, Zone: zone}
	line, err := sheet.Line(d, h)
	if err != nil {
		return Inked{}, err
	}
	in, err := s.ink(ctx, c.Plate, just(Pending{Line: line, Heading: h, Draft: d}), Hand{Key: key}, clockIsRight)
	if err != nil {
		return in, err
	}
	if r := in.Results[0]; r.Entry == 0 {
		return in, r.Why
	}
	return in, nil
}

func or(s, other string) string {
	if s != "" {
		return s
	}
	return other
}

// reader is the mark of who gets a paper when none is said.
func (s *Shop) reader(c *Coach, reader string) string {
	switch reader {
	case "holder":
		return c.Replay.Holder()
	case "shop":
		return "desk"
	}
	word := map[string]string{"buyer": "buyer-", "later-shop": "later-shop-"}[reader]
	n := int64(1)
	for _, a := range c.Replay.Acts {
		if a.Kind == "given-out" && a.Text("reader") == reader {
			n++
		}
	}
	return word + ledger.Decimal(n)
}

// readerName is the holder's name, where the paper is his and the book has it.
func (s *Shop) readerName(c *Coach, g Gift) string {
	if g.ToName != "" || g.Reader != "holder" {
		return g.ToName
	}
	return holderName(c.Replay, c.Replay.Holder())
}

// holderName is the newest name of a holder that is at hand.
func holderName(r *ledger.Replay, holder string) string {
	name := ""
	for _, a := range r.Acts {
		if a.Holder == holder {
			if said, ok := r.Opened[a.No]["holder-name"]; ok {
				name = said
			}
		}
	}
	return name
}

// give prepares the papers of a given-out before it is sealed: the faces on the
// head as it is now, kept under their hash, and the commitments to them. It
// returns the private values of the entry.
func (w *writing) give(n Pending, a *ledger.Act, r *Result) (map[string]string, error) {
	a.Body["how-to-check"] = hexOf(HowToCheck())
	values := map[string]string{}
	for name, v := range n.Draft.Private {
		values[name] = v
	}
	kind, reader := a.Text("paper"), a.Text("reader")
	if kind == "bundle" {
		r.Papers = []Paper{{Kind: kind, Copy: copyBundle}}
		return values, nil
	}
	copies := []book.Copy{copyOnce}
	if reader == "holder" {
		copies = []book.Copy{copyOwn, copyPassOn}
	}
	for _, copied := range copies {
		face, plain, err := w.face(a, values["to-name"], copied)
		if err != nil {
			return nil, err
		}
		name := hexOf(face)
		if !w.dry {
			if err := w.shop.keepFace(name, face, plain); err != nil {
				return nil, err
			}
		}
		values[faceName(copied)] = name
		r.Papers = append(r.Papers, Paper{Kind: kind, Copy: copied, Face: name})
	}
	return values, nil
}

// AsOf reads a day a person gave.
func AsOf(s string) error {
	if _, err := day.Parse(s); s != "" && err != nil {
		return fmt.Errorf("%w: %q is no day: write 2020-04-24", ErrUse, s)
	}
	return nil
}

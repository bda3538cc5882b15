package shop

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapmark/crypto/private"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/file"
	"lapmark/ledger/format"
	"lapmark/report/carry"
)

// Deliver writes the papers of a given-out that is inked into a folder, under
// their names, never over a file that is there; beside each PDF the same pages
// as plain text.
func (s *Shop) Deliver(c *Coach, papers []Paper, folder string) ([]Paper, error) {
	out := slices.Clone(papers)
	for i := range out {
		data, err := s.Carry(c, out[i])
		if err != nil {
			return out[:i], err
		}
		path := filepath.Join(folder, out[i].Name)
		if err := writeNew(path, data, 0o644); err != nil {
			return out[:i], err
		}
		out[i].Path = path
		if err := s.plainBeside(out[i]); err != nil {
			return out[:i], err
		}
		if err := s.Book.PaperNamed(c.ID, int(out[i].Entry), out[i].Copy, out[i].Name); err != nil {
			return out, err
		}
	}
	return out, nil
}

func (s *Shop) plainBeside(p Paper) error {
	if p.Copy == copyBundle {
		return nil
	}
	plain, err := os.ReadFile(s.path(paperFolder, p.Face+textSuffix))
	if err != nil {
		return err
	}
	return writeNew(strings.TrimSuffix(p.Path, ".pdf")+textSuffix, plain, 0o644)
}

// Carry builds a paper or bundle again: the face kept under its hash, and the
// ledger up to its own given-out. What is kept is compared with what that entry
// says of it; the error is ErrNotGivenOut.
func (s *Shop) Carry(c *Coach, p Paper) (data []byte, err error) {
	f, err := file.OpenReadOnly(s.coachPath(c.ID))
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	files, err := s.files(c, p, f)
	if err != nil {
		return nil, err
	}
	given := c.Replay.Act(ledger.No{N: p.Entry})
	if given.Text("how-to-check") != hexOf(files.HowToCheck) {
		return nil, fmt.Errorf("%w: %s was given out by entry %d with another how-to-check.txt, by another version of this program",
			ErrNotGivenOut, p.Name, p.Entry)
	}
	if p.Copy == copyBundle {
		return carry.Bundle(files)
	}
	face, err := os.ReadFile(s.path(paperFolder, p.Face+faceSuffix))
	if err != nil {
		return nil, fmt.Errorf("the pages of %s, given out by entry %d, are not there: %w", p.Name, p.Entry, err)
	}
	if c.Replay.Opened[given.No][faceName(p.Copy)] != hexOf(face) {
		return nil, fmt.Errorf("%w: the pages kept of %s in %s were changed since entry %d gave them out",
			ErrNotGivenOut, p.Name, s.path(paperFolder, p.Face+faceSuffix), p.Entry)
	}
	return carry.Paper(face, files)
}

// hexOf is the SHA-256 of bytes in hex digits.
func hexOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// files gathers what a paper carries.
func (s *Shop) files(c *Coach, p Paper, f *file.Coach) (carry.Files, error) {
	files := carry.Files{Ledger: upTo(c, p.Entry), HowToCheck: HowToCheck()}
	for _, b := range c.Ledger.Branches {
		if b.TakeIn <= p.Entry && b.Text != nil {
			files.Branches = append(files.Branches, carry.Branch{Hex: b.Hex, Text: b.Text})
		}
	}
	words, own := s.slipsFor(c, p)
	files.Words, files.Private = private.Text(words), private.Text(own)
	if p.Copy != copyBundle {
		return files, nil
	}
	names, err := f.Pictures()
	if err != nil {
		return files, err
	}
	named := picturesUpTo(c, p.Entry)
	for _, name := range names {
		if !named[name] {
			continue
		}
		jpeg, err := f.Picture(name)
		if err != nil {
			return files, err
		}
		files.Pictures = append(files.Pictures, carry.Picture{Hex: name, JPEG: jpeg})
	}
	return files, nil
}

// picturesUpTo are the pictures that entries 1 to n name.
func picturesUpTo(c *Coach, n int64) map[string]bool {
	out := map[string]bool{}
	for _, a := range c.Replay.Acts {
		if a.No.N > n {
			continue
		}
		for _, name := range ledger.Texts(a.Entry.Body()["photos"]) {
			out[name] = true
		}
	}
	return out
}

// upTo returns the leaves 1 to n.
func upTo(c *Coach, n int64) []byte {
	at := 0
	for range n {
		_, _, leaf, err := format.ReadLeaf(c.Text[at:])
		if err != nil {
			break
		}
		at += len(leaf)
	}
	return c.Text[:at:at]
}

// slipsFor chooses the slips a paper may carry: every free text; the private
// values of the holder it is for, of entries that are his; and the slip of its
// own face.
func (s *Shop) slipsFor(c *Coach, p Paper) (words, own []string) {
	given := c.Replay.Act(ledger.No{N: p.Entry})
	for _, slip := range c.Slips {
		if int64(slip.Entry) > p.Entry {
			continue
		}
		a := c.Replay.Act(ledger.No{N: int64(slip.Entry)})
		kind, _ := ledger.KindNamed(a.Kind)
		field, private := kind.PrivateNamed(slip.Name)
		switch {
		case !private:
			words = append(words, slip.Slip)
		case field.Sight == ledger.SightPaper:
			if int64(slip.Entry) == p.Entry && p.Copy != copyBundle && slip.Name == faceName(p.Copy) {
				own = append(own, slip.Slip)
			}
		case given.Text("reader") == "shop", p.opensHolder(given) && field.Sight == ledger.SightHolder && a.Holder == given.Text("to"):
			own = append(own, slip.Slip)
		}
	}
	return words, own
}

// opensHolder says whether a paper opens what is the holder's: his own copy, or
// a bundle for him. The copy to pass on names nobody.
func (p Paper) opensHolder(given *ledger.Act) bool {
	return p.Copy == copyOwn || p.Copy == copyBundle && given.Text("reader") == "holder"
}

// paperName names the file of a paper of an inked given-out.
func (s *Shop) paperName(c *Coach, entry int64, p Paper) string {
	return c.fileName(p.Kind, certificateOf(c, entry), c.Ledger.Entry(ledger.No{N: entry}).Day(), entry, p.Copy)
}

// fileName names a paper: the certificate's number, or what it is, the end of
// the plate and the day; and its entry where one of that name left before.
func (c *Coach) fileName(kind, certificate, day string, entry int64, which book.Copy) string {
	name := kind + "-" + plateEnd(c.Plate) + "-" + day
	if kind == "certificate" && certificate != "" {
		name = certificate
	}
	if c.givenBefore(kind, certificate, day, entry) {
		name += "-" + ledger.Decimal(entry)
	}
	switch which {
	case copyPassOn:
		name += "-pass-on"
	case copyBundle:
		return name + ".zip"
	}
	return name + ".pdf"
}

// plateEnd is the end of a plate by which people know it.
func plateEnd(plate string) string { return strings.Trim(plate[max(0, len(plate)-6):], "-") }

func certificateOf(c *Coach, entry int64) string {
	for _, no := range c.Replay.Act(ledger.No{N: entry}).Refs("answers") {
		if tag := c.Replay.TagOf(no); tag != "" {
			return tag
		}
	}
	return ""
}

// givenBefore says whether a paper of the same name was given out before: the
// same certificate, or the same sort of paper on the same day.
func (c *Coach) givenBefore(kind, certificate, day string, entry int64) bool {
	for _, a := range c.Replay.Acts {
		if a.Kind != "given-out" || a.No.N >= entry || a.Text("paper") != kind {
			continue
		}
		tag := certificateOf(c, a.No.N)
		if tag == certificate && (kind == "certificate" || a.Entry.Day() == day) {
			return true
		}
	}
	return false
}

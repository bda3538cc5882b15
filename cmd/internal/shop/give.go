package shop

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"lapmark/crypto/private"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/day"
	"lapmark/ledger/file"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
	"lapmark/report"
	"lapmark/report/carry"
	"lapmark/report/facts"
	"lapmark/report/pdf"
	"lapmark/report/text"
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
	in, err := s.ink(ctx, c.Plate, []Pending{{Line: line, Heading: h, Draft: d}}, key, clockIsRight)
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
		if holderAt(r, a) == holder {
			if said, ok := r.Opened[a.No]["holder-name"]; ok {
				name = said
			}
		}
	}
	return name
}

// holderAt is the holder whose private values an entry holds: of a transfer
// the new one, else the one it names, else who held the coach then.
func holderAt(r *ledger.Replay, a *ledger.Act) string {
	if to := a.Text("to-holder"); to != "" {
		return to
	}
	if h := a.Text("holder"); h != "" {
		return h
	}
	holder := ""
	for _, b := range r.Acts {
		if b.No.N > a.No.N {
			break
		}
		switch {
		case b.Kind == "intake":
			holder = b.Text("holder")
		case b.Kind == "transfer" && b.Counts:
			holder = b.Text("to-holder")
		}
	}
	return holder
}

// give prepares the papers of a given-out before it is sealed: the faces on the
// head as it is now, kept under their hash, and the commitments to them. It
// returns the private values of the entry.
func (w *writing) give(n Pending, a *ledger.Act, r *Result) (map[string]string, error) {
	how := HowToCheck()
	sum := sha256.Sum256(how)
	a.Body["how-to-check"] = hex.EncodeToString(sum[:])
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
		sum := sha256.Sum256(face)
		name := hex.EncodeToString(sum[:])
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

func faceName(copied book.Copy) string {
	if copied == copyPassOn {
		return "face-pass-on"
	}
	return "face"
}

// keepFace writes a face under its hash, and the same pages as plain text for
// who cannot see them; they may be there already.
func (s *Shop) keepFace(name string, face []byte, plain string) error {
	for _, f := range []newFile{{name + faceSuffix, face, 0o644}, {name + textSuffix, []byte(plain), 0o644}} {
		if err := writeNew(s.path(paperFolder, f.name), f.data, f.mode); err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return nil
}

// face draws the pages of a paper on the head as it is now, as PDF and as text.
func (w *writing) face(a *ledger.Act, toName string, copied book.Copy) (face []byte, plain string, err error) {
	p, err := w.paper(a, toName, copied)
	if err != nil {
		return nil, "", err
	}
	last := w.coach.Ledger.Last()
	made, err := time.Parse(time.RFC3339, last.Line.At)
	if err != nil {
		return nil, "", err
	}
	face, err = pdf.Render(p, pdf.Options{Size: w.shop.Terms.Paper, Made: made})
	if err != nil {
		return nil, "", err
	}
	return face, text.Render(p), carry.CheckFace(face)
}

func (w *writing) paper(a *ledger.Act, toName string, copied book.Copy) (report.Paper, error) {
	r := w.coach.Replay
	head, err := w.paperHead()
	if err != nil {
		return report.Paper{}, err
	}
	given, err := report.NewDay(a.Text("as-of"))
	if err != nil {
		return report.Paper{}, err
	}
	o := facts.Options{Terms: w.shop.Terms, Head: head, Given: given, Copy: report.PassOnCopy}
	if copied == copyOwn {
		o.Copy, o.HolderName = report.OwnCopy, toName
	}
	switch kind := a.Text("paper"); kind {
	case "certificate":
		for _, no := range a.Refs("answers") {
			if cert := r.Act(no); cert != nil && cert.Kind == "certificate" {
				return certificatePaper(r, cert, o)
			}
		}
		return report.Paper{}, fmt.Errorf("%w: which certificate? answers NUMBER", ErrUse)
	case "findings":
		return report.Findings(facts.Findings(r, o)), nil
	default:
		return report.Paper{}, fmt.Errorf("%w: a %s cannot be given out with this version", ErrRefused, kind)
	}
}

func certificatePaper(r *ledger.Replay, cert *ledger.Act, o facts.Options) (report.Paper, error) {
	f, err := facts.Certificate(r, cert, o)
	if err != nil {
		return report.Paper{}, err
	}
	var says []report.Sentence
	for _, one := range ledger.Objects(cert.Body["sentences"]) {
		key, _ := one["key"].(string)
		text, _ := one["says"].(string)
		says = append(says, report.Sentence{Key: key, Says: text})
	}
	return report.Certificate(f, says)
}

func (w *writing) paperHead() (report.PaperHead, error) {
	c := w.coach.Ledger
	n := w.coach.size()
	upTo, err := report.NewDay(c.Last().Day())
	return report.PaperHead{GivenOut: int(n) + 1, UpTo: int(n), UpToDay: upTo, Code: string(c.Code(n))}, err
}

// sentences writes into a certificate every sentence it will print.
func (w *writing) sentences(a *ledger.Act) error {
	if _, there := a.Body["language"]; !there {
		a.Body["language"] = "en"
	}
	if _, there := a.Body["sentences"]; there {
		return nil
	}
	given, err := report.NewDay(a.Text("happened")[:10])
	if err != nil {
		return err
	}
	f, err := facts.Certificate(w.coach.Replay, a, facts.Options{Terms: w.shop.Terms, Given: given, Copy: report.PassOnCopy})
	if err != nil {
		return err
	}
	says := report.CertificateSentences(f, w.shop.Terms)
	if missing := report.Disclosures(f, says); len(missing) > 0 {
		var list []string
		for _, m := range missing {
			list = append(list, m.Item+" "+m.Name+" ("+m.Place+")")
		}
		return fmt.Errorf("%w: the law asks for what the paper does not say: %s", ErrRefused, strings.Join(list, "; "))
	}
	if err := report.SentencesFit(says); err != nil {
		return err
	}
	var list format.Array
	for _, one := range says {
		list = append(list, format.Object{"key": one.Key, "says": one.Says})
	}
	a.Body["sentences"] = list
	return nil
}

func certificateOf(c *Coach, entry int64) string {
	for _, no := range c.Replay.Act(ledger.No{N: entry}).Refs("answers") {
		if tag := c.Replay.TagOf(no); tag != "" {
			return tag
		}
	}
	return ""
}

// paperName names the file of a paper: the certificate's number, or what it is,
// the end of the plate and the day.
func (s *Shop) paperName(c *Coach, entry int64, p Paper) string {
	plate := c.Plate[max(0, len(c.Plate)-6):]
	name := p.Kind + "-" + plate + "-" + c.Ledger.Entry(ledger.No{N: entry}).Day()
	if tag := certificateOf(c, entry); tag != "" && p.Kind == "certificate" {
		name = tag
	}
	switch p.Copy {
	case copyPassOn:
		name += "-pass-on"
	case copyBundle:
		return name + ".zip"
	}
	return name + ".pdf"
}

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
// ledger up to its own given-out.
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
	if p.Copy == copyBundle {
		return carry.Bundle(files)
	}
	face, err := os.ReadFile(s.path(paperFolder, p.Face+faceSuffix))
	if err != nil {
		return nil, err
	}
	return carry.Paper(face, files)
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
	for _, name := range names {
		jpeg, err := f.Picture(name)
		if err != nil {
			return files, err
		}
		files.Pictures = append(files.Pictures, carry.Picture{Hex: name, JPEG: jpeg})
	}
	return files, nil
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
		case field.Sight == ledger.SightHolder && p.Copy == copyOwn && holderAt(c.Replay, a) == given.Text("to"):
			own = append(own, slip.Slip)
		}
	}
	return words, own
}

// AsOf reads a day a person gave.
func AsOf(s string) error {
	if _, err := day.Parse(s); s != "" && err != nil {
		return fmt.Errorf("%w: %q is no day: write 2020-04-24", ErrUse, s)
	}
	return nil
}

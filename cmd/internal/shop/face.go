package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"time"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/file"
	"lapmark/ledger/format"
	"lapmark/report"
	"lapmark/report/carry"
	"lapmark/report/facts"
	"lapmark/report/pdf"
	"lapmark/report/text"
)

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
	case "history":
		return report.History(facts.History(r, o, a.Text("reader")))
	case "findings":
		if o.Pictures, err = w.foundPictures(); err != nil {
			return report.Paper{}, err
		}
		return report.Findings(facts.Findings(r, o))
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
	f, err := facts.Certificate(w.view(a), a, facts.Options{Terms: w.terms(), Given: given, Copy: report.PassOnCopy})
	if err != nil {
		return err
	}
	says := report.CertificateSentences(f, w.terms())
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

func faceName(copied book.Copy) string {
	if copied == copyPassOn {
		return "face-pass-on"
	}
	return "face"
}

// foundPictures are the travel copies that findings name, as far as they are at
// hand: those just inked, and those in the coach file.
func (w *writing) foundPictures() (out map[string][]byte, err error) {
	out = map[string][]byte{}
	f, err := file.OpenReadOnly(w.shop.coachPath(w.coach.ID))
	if errors.Is(err, fs.ErrNotExist) {
		f, err = nil, nil
	}
	if err != nil {
		return nil, err
	}
	if f != nil {
		defer func() { err = errors.Join(err, f.Close()) }()
	}
	for _, a := range w.coach.Replay.Acts {
		if a.Kind != "finding" {
			continue
		}
		for _, hash := range ledger.Texts(a.Body["photos"]) {
			jpeg := w.picture[hash]
			if jpeg == nil && f != nil {
				if jpeg, err = f.Picture(hash); err != nil && !errors.Is(err, fs.ErrNotExist) {
					return nil, err
				}
			}
			out[hash] = jpeg
		}
	}
	return out, nil
}

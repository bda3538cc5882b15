package check

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"slices"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report/carry"
)

// file is one file taken apart and checked, before anybody asks whose it is.
type file struct {
	name    string
	form    Form
	pages   Pages
	packing Packing // of a bundle
	why     string  // why the pages or the bundle are not as they left
	nothing string  // why nothing could be checked

	files   carry.Files
	coach   *ledger.Coach  // the entries that hold; nil where no one ledger was found
	broken  *ledger.Broken // nil where the ledger is whole
	sealed  *sealed
	several [][]byte // the ledgers, where there is more than one
	words   bool     // free texts travel with this file
	mangled bool     // a program changed line ends or first bytes on the way
}

// How the files begin that are told apart.
const (
	ledgerStart = `{"at":"`
	intakeEnd   = `,"kind":"intake","prev":{"root":"`
	zipStart    = "PK"
	zipEnd      = "PK\x05\x06" // of the end record, which fills the last zipEndSize bytes
	zipEndSize  = 22
	sqliteStart = "SQLite format 3\x00"
	pdfStart    = "%PDF-"

	// pdfReach is how far into a file its "%PDF-" is looked for: readers of
	// PDF take it within the first 1024 bytes (ISO 32000-1:2008, annex H.3,
	// note 13, from memory).
	pdfReach = 1024
)

// open takes a file apart, as its content asks, and checks what is in it.
func open(p Paper, slips []string) *file {
	f := &file{name: p.Name, pages: NoPDF}
	most := carry.DefaultLimits().File
	switch {
	case len(p.File) == 0:
		f.nothing = saysEmptyFile
	case len(p.File) > most:
		f.nothing = fmt.Sprintf(saysTooLarge, len(p.File), most)
	case bytes.HasPrefix(p.File, []byte(sqliteStart)):
		f.nothing = saysSQLite
	case bytes.HasPrefix(p.File, []byte(zipStart)):
		f.bundle(p)
	case isLedger(p.File):
		f.ledger(p, slips)
	case endsLikeBundle(p.File) && !isPDF(p.File):
		f.bundle(p) // damaged at its first bytes
	default:
		f.pdf(p)
	}
	return f
}

func isPDF(file []byte) bool {
	return bytes.Contains(file[:min(len(file), pdfReach)], []byte(pdfStart))
}

func endsLikeBundle(file []byte) bool {
	return len(file) > zipEndSize && bytes.HasPrefix(file[len(file)-zipEndSize:], []byte(zipEnd))
}

// isLedger says whether a text begins like a ledger, or at least like one that
// was damaged at its first bytes.
func isLedger(text []byte) bool {
	first, _, _ := bytes.Cut(text[:min(len(text), format.MaxLeaf)], []byte("\n"))
	return bytes.HasPrefix(text, []byte(ledgerStart)) || bytes.Contains(first, []byte(intakeEnd))
}

// ledger reads the text of a ledger, and the slips of the shop's book where it
// is a coach of this shop.
func (f *file) ledger(p Paper, slips []string) {
	f.form = FormLedger
	f.mangled = bytes.IndexByte(p.File, '\r') >= 0 || p.File[0] != '{'
	f.check(p.File, p.Branches)
	f.words = slips != nil
	f.sealed.open(slips)
}

// bundle takes a bundle apart and compares it with what its last entry says.
func (f *file) bundle(p Paper) {
	f.form = FormBundle
	files, err := carry.TakeBundle(p.File)
	if err != nil {
		f.packing, f.why = BundleDiffers, sentence(err.Error())
		f.salvage(carry.Salvage(p.File), p.Branches)
		return
	}
	f.take(files, p.Branches)
	switch f.judge(f.noPages) {
	case LeftTheHouse:
		f.packing = BundleLeft
	case GuestPaper:
		f.packing = GuestBundle
	default:
		f.packing = BundleDiffers
	}
}

// salvage checks the ledger of a bundle that is not as it was written: what is
// true of the ledger does not hang on the frame around it.
func (f *file) salvage(files carry.Files, branches [][]byte) {
	if files.Ledger == nil {
		return
	}
	f.take(files, branches)
	f.sealed.open(lines(files.Words))
	f.sealed.open(lines(files.Private))
}

// pdf takes a paper apart by its tail; a PDF without one is walked through.
func (f *file) pdf(p Paper) {
	taken, err := carry.TakePaper(p.File)
	if err == nil {
		f.form = FormPaper
		f.take(taken.Files, p.Branches)
		f.pages = f.judge(func() string { return f.pagesDiffer(taken) })
		return
	}
	if !isPDF(p.File) {
		f.nothing = saysNoForm
		return
	}
	f.form = FormPDF
	walked, err := carry.Walk(p.File, carry.DefaultLimits())
	switch {
	case errors.Is(err, carry.ErrEncrypted):
		f.nothing = saysEncrypted
	case err != nil:
		f.nothing = sentence(err.Error())
	default:
		f.walk(walked, p)
	}
}

// walk reads what stands in the streams of a PDF that was saved again.
func (f *file) walk(walked carry.Walked, p Paper) {
	mains, sides := parted(walked.Ledgers)
	if len(mains) == 0 {
		f.pages, f.nothing = NoFacts, saysNoFacts
		if cutOff(p) {
			f.nothing += " " + saysCutOff
		}
		return
	}
	f.pages, f.words = SavedAgain, true
	if len(mains) > 1 {
		f.several = mains
		return
	}
	f.check(mains[0], append(sides, p.Branches...))
	for _, text := range walked.Others {
		f.sealed.open(lines(text))
	}
}

// cutOff says whether a PDF lacks the line it ends with, within as much of its
// end as of its beginning.
func cutOff(p Paper) bool {
	return !bytes.Contains(p.File[max(0, len(p.File)-pdfReach):], []byte("%%EOF"))
}

// parted parts texts that begin like a ledger into ledgers and side branches:
// a branch begins with a later entry.
func parted(texts [][]byte) (mains, sides [][]byte) {
	for _, text := range texts {
		l1, _, _, err := format.ReadLeaf(text)
		if err == nil {
			line, lineErr := format.ParseLine(l1)
			if lineErr == nil && line.Prev.Size > 0 {
				sides = append(sides, text)
				continue
			}
		}
		mains = append(mains, text)
	}
	if len(mains) == 0 && len(sides) > 0 {
		return sides[:1], sides[1:] // a ledger without its first entries
	}
	return mains, sides
}

// take keeps the files of a paper or bundle and checks the ledger among them.
func (f *file) take(files carry.Files, branches [][]byte) {
	f.files, f.words = files, true
	branches = slices.Clone(branches)
	for _, b := range files.Branches {
		branches = append(branches, b.Text)
	}
	f.check(files.Ledger, branches)
}

// check checks a ledger and keeps the entries that hold.
func (f *file) check(text []byte, branches [][]byte) {
	verify := new(sshsig.Verifier).Verify
	coach, err := ledger.Check(text, verify, branches...)
	if errors.As(err, &f.broken) && rests(coach) {
		// What is doubtful and what was taken in is worked out for a whole
		// ledger alone: the entries that hold are one.
		if held, heldErr := ledger.Check(text[:size(coach)], verify, branches...); heldErr == nil {
			coach = held
		}
	}
	f.coach, f.sealed = coach, seal(coach)
}

// rests says whether something in the entries rests on earlier ones.
func rests(c *ledger.Coach) bool {
	return slices.ContainsFunc(c.Entries, func(e *ledger.Entry) bool {
		return e.Kind() == "key-change" || e.Kind() == "take-in"
	})
}

// size is how many bytes the entries fill.
func size(c *ledger.Coach) int {
	n := 0
	for _, e := range c.Entries {
		n += len(e.L1) + 1 + base64.StdEncoding.EncodedLen(len(e.Sig)) + 1
	}
	return n
}

// entries says how many entries hold.
func (f *file) entries() int64 {
	if f.coach == nil {
		return 0
	}
	return int64(len(f.coach.Entries))
}

// whole says whether one ledger was found and all of it holds.
func (f *file) whole() bool { return f.entries() > 0 && f.broken == nil }

// endsGivenOut says whether the file is a paper or bundle whose last entry is
// its given-out.
func (f *file) endsGivenOut() bool {
	return f.form != FormLedger && f.whole() && f.coach.Last().Kind() == givenOut
}

// upTo is the number of the entry that the file is complete up to.
func (f *file) upTo() int64 {
	if f.endsGivenOut() {
		return f.entries() - 1
	}
	return f.entries()
}

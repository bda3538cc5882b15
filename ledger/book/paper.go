package book

import (
	"database/sql"
	"errors"
)

// Copy says which of the papers of one given-out entry this is.
type Copy string

// A holder gets two papers, his own and one to pass on; a bundle has no
// pages; a paper for anybody else is made once.
const (
	Own    Copy = "own"
	PassOn Copy = "pass-on"
	Bundle Copy = "bundle"
	Once   Copy = "once"
)

// PaperState says how far a paper has come.
type PaperState string

// A paper is made before its entry is inked and named after that.
const (
	Made  PaperState = "made"
	Named PaperState = "named"
)

// ErrNamed says that a paper has left the house: it is not made again.
var ErrNamed = errors.New("the paper has its name already")

// ErrNoPaper says that there is no such paper.
var ErrNoPaper = errors.New("no such paper")

// Paper is a paper given out, or about to be.
type Paper struct {
	Coach       string // ledger id
	Entry       int    // its given-out entry
	Kind        string // certificate, history …
	Certificate string // number, "" if it is about none
	Face        string // SHA-256 of the face, 64 hex digits, "" of a bundle
	Copy        Copy
	Name        string // file name given, or to be given
	Day         string // YYYY-MM-DD
	State       PaperState
}

const paperColumns = "coach, entry, kind, certificate, face, copy, name, day, state"

func scanPaper(row scanner) (Paper, error) {
	var p Paper
	err := row.Scan(&p.Coach, &p.Entry, &p.Kind, &p.Certificate, &p.Face, &p.Copy, &p.Name, &p.Day, &p.State)
	return p, err
}

// PutPaper writes down a paper in the state it says, in place of one that was
// made for the same entry and never named. Over a named one the error is
// ErrNamed.
func (b *Book) PutPaper(p Paper) error {
	return b.write(func(tx *sql.Tx) error {
		return changed(ErrNamed)(tx.Exec(`INSERT INTO paper (`+paperColumns+`) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
			ON CONFLICT DO UPDATE SET kind = excluded.kind, certificate = excluded.certificate, face = excluded.face,
			name = excluded.name, day = excluded.day, state = excluded.state WHERE state = 'made'`,
			p.Coach, p.Entry, p.Kind, p.Certificate, p.Face, p.Copy, p.Name, p.Day, p.State))
	})
}

// PaperNamed writes down that a paper got its name. If there is no such
// paper, the error is ErrNoPaper.
func (b *Book) PaperNamed(coach string, entry int, which Copy, name string) error {
	return b.write(func(tx *sql.Tx) error {
		return changed(ErrNoPaper)(tx.Exec("UPDATE paper SET state = 'named', name = ? WHERE coach = ? AND entry = ? AND copy = ?",
			name, coach, entry, which))
	})
}

// Papers returns the papers of the ledger coach, by entry, then by copy.
func (b *Book) Papers(coach string) ([]Paper, error) {
	return list(b, scanPaper, "SELECT "+paperColumns+" FROM paper WHERE coach = ? ORDER BY entry, copy", coach)
}

// AllPapers returns the papers of all ledgers, sorted by ledger, then as
// Papers.
func (b *Book) AllPapers() ([]Paper, error) {
	return list(b, scanPaper, "SELECT "+paperColumns+" FROM paper ORDER BY coach, entry, copy")
}

package book

import "database/sql"

// Sort says with what a slip travels.
type Sort string

// A Word slip opens free text, a Private slip a value of holder or shop.
const (
	Word    Sort = "word"
	Private Sort = "private"
)

// Slip opens one commitment of one entry of a ledger.
type Slip struct {
	Commitment string
	Entry      int
	Name, Slip string
	Sort       Sort
}

// PutSlips keeps slips of the ledger coach, all or none. One that is there
// already takes the new entry number: its inking was tried again.
func PutSlips(coach string, slips []Slip) Step {
	return Step{func(tx *sql.Tx) error {
		for _, s := range slips {
			_, err := tx.Exec(`INSERT INTO slip (coach, commitment, entry, name, slip, sort) VALUES (?, ?, ?, ?, ?, ?)
				ON CONFLICT DO UPDATE SET entry = excluded.entry, name = excluded.name, slip = excluded.slip, sort = excluded.sort`,
				coach, s.Commitment, s.Entry, s.Name, s.Slip, s.Sort)
			if err != nil {
				return err
			}
		}
		return nil
	}}
}

// Slips returns the slips of the ledger coach by entry, then by name. There
// may be some whose entry never came about: they open nothing.
func (b *Book) Slips(coach string) ([]Slip, error) {
	return list(b, func(row scanner) (Slip, error) {
		var s Slip
		err := row.Scan(&s.Commitment, &s.Entry, &s.Name, &s.Slip, &s.Sort)
		return s, err
	}, "SELECT commitment, entry, name, slip, sort FROM slip WHERE coach = ? ORDER BY entry, name, commitment", coach)
}

// DropSlips erases slips of the ledger coach: afterwards their text stands
// neither in the book nor in its WAL. Copies made before a migration and
// backups still have it.
func (b *Book) DropSlips(coach string, commitments []string) error {
	return b.erase(func(tx *sql.Tx) error {
		for _, c := range commitments {
			if _, err := tx.Exec("DELETE FROM slip WHERE coach = ? AND commitment = ?", coach, c); err != nil {
				return err
			}
		}
		return nil
	})
}

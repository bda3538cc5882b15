package book

import "database/sql"

// Head is a head of some ledger that was seen on a paper or in a file.
type Head struct {
	Ledger string // ledger id
	Size   int
	Root   string
	At     string // when it was first seen, UTC, 20 characters
}

// SawHead remembers a head. One that was seen before keeps its moment; one
// with another root of the same size is kept beside it.
func SawHead(h Head) Step {
	return Step{func(tx *sql.Tx) error {
		_, err := tx.Exec("INSERT INTO seen (ledger, size, root, at) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING",
			h.Ledger, h.Size, h.Root, h.At)
		return err
	}}
}

// Heads returns the heads of a ledger that were seen, by size, then by moment.
func (b *Book) Heads(ledger string) ([]Head, error) {
	return list(b, func(row scanner) (Head, error) {
		var h Head
		err := row.Scan(&h.Ledger, &h.Size, &h.Root, &h.At)
		return h, err
	}, "SELECT ledger, size, root, at FROM seen WHERE ledger = ? ORDER BY size, at, root", ledger)
}

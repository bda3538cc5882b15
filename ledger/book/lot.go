package book

import (
	"context"
	"database/sql"
	"slices"

	"lapmark/ledger/file/disk"
)

// Lot is what a coach has of a lot.
type Lot struct {
	Lot            string
	Unit           string // of its amounts
	Received, Used int64
	Sheet          string // what its delivery says, "" where it has none there
}

const lotColumns = "lot, unit, received, used, sheet"

func scanLot(row scanner) (Lot, error) {
	var l Lot
	err := row.Scan(&l.Lot, &l.Unit, &l.Received, &l.Used, &l.Sheet)
	return l, err
}

// PutLots puts the lots of a coach into the book, sorted, in place of those it
// had. Where they are the same nothing is written.
func PutLots(coach string, lots []Lot) Step {
	return Step{func(tx *sql.Tx) error {
		var had []Lot
		err := disk.Each(context.Background(), tx, func(row *sql.Rows) error {
			l, err := scanLot(row)
			had = append(had, l)
			return err
		}, "SELECT "+lotColumns+" FROM lot WHERE coach = ? ORDER BY lot", coach)
		if err != nil || slices.Equal(had, lots) {
			return err
		}
		if _, err := tx.Exec("DELETE FROM lot WHERE coach = ?", coach); err != nil {
			return err
		}
		for _, l := range lots {
			if _, err := tx.Exec("INSERT INTO lot (coach, "+lotColumns+") VALUES (?, ?, ?, ?, ?, ?)",
				coach, l.Lot, l.Unit, l.Received, l.Used, l.Sheet); err != nil {
				return err
			}
		}
		return nil
	}}
}

// LotElsewhere returns what each coach but one has of a lot, by coach.
func (b *Book) LotElsewhere(coach, lot string) ([]Lot, error) {
	return list(b, scanLot, "SELECT "+lotColumns+" FROM lot WHERE lot = ? AND coach <> ? ORDER BY coach", lot, coach)
}

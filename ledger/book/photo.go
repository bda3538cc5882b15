package book

import (
	"database/sql"
	"errors"

	"lapmark/ledger/file/disk"
)

// Photo is a photo of a coach under the name its note uses.
type Photo struct {
	Coach    string // VIN or serial, upper case
	Name     string // file name as it came
	Original string // SHA-256 of the original, 64 hex digits
	Travel   string // SHA-256 of the travel copy, "" if there is none
	Why      string // why there is none
	Note     int64  // the note that names it, 0 if none does
	Entry    int    // the entry it was inked with, 0 in pencil
}

const photoColumns = "coach, name, original, travel, why, note, entry"

func scanPhoto(row scanner) (Photo, error) {
	var p Photo
	err := row.Scan(&p.Coach, &p.Name, &p.Original, &p.Travel, &p.Why, &p.Note, &p.Entry)
	return p, err
}

// PutPhoto puts a photo into pencil, in place of one of that name there.
// Its Entry does not count.
func (b *Book) PutPhoto(p Photo) error {
	return b.write(func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT INTO photo (coach, name, original, travel, why, note, entry) VALUES (?, ?, ?, ?, ?, ?, 0)
			ON CONFLICT (coach, name) WHERE entry = 0 DO UPDATE SET
			original = excluded.original, travel = excluded.travel, why = excluded.why, note = excluded.note`,
			p.Coach, p.Name, p.Original, p.Travel, p.Why, p.Note)
		return err
	})
}

// DropPhoto takes a photo out of pencil. One that is not there is no error.
func (b *Book) DropPhoto(coach, name string) error {
	return b.write(func(tx *sql.Tx) error {
		_, err := tx.Exec("DELETE FROM photo WHERE coach = ? AND name = ? AND entry = 0", coach, name)
		return err
	})
}

// Photos returns the photos of a coach in pencil, by name.
func (b *Book) Photos(coach string) ([]Photo, error) {
	return list(b, scanPhoto, "SELECT "+photoColumns+" FROM photo WHERE coach = ? AND entry = 0 ORDER BY name", coach)
}

// InkedPhotos returns the photos of a coach that were inked, by entry and
// name: the ledger has their travel copies, this says which original is whose.
func (b *Book) InkedPhotos(coach string) ([]Photo, error) {
	return list(b, scanPhoto, "SELECT "+photoColumns+" FROM photo WHERE coach = ? AND entry > 0 ORDER BY entry, name, id", coach)
}

// PhotoElsewhere finds another coach with the original of a travel copy of this
// one, in ink or in pencil; found is false if there is none.
func (b *Book) PhotoElsewhere(coach, travel string) (other string, found bool, err error) {
	err = b.db.QueryRow(`SELECT coach FROM photo WHERE coach <> ?1 AND original IN
		(SELECT original FROM photo WHERE travel = ?2 AND coach = ?1) ORDER BY id LIMIT 1`, coach, travel).Scan(&other)
	if errors.Is(err, sql.ErrNoRows) {
		return "", false, nil
	}
	return other, err == nil, disk.Fault(b.path, err)
}

package book

import (
	"database/sql"
	"encoding/json"
)

// InkedNote is a note whose entry is in the ledger, as it stood in pencil.
type InkedNote struct {
	Note
	Entry int // 0: it was rubbed out when its sheet was inked
}

// TakeOut takes notes out of pencil after their entries were inked, all or
// none; entries has the entry of each note, 0 for a note that was rubbed out.
// Their text is kept, their photos go with them. A note that is no longer in
// pencil is left out: somebody else has done the same.
func TakeOut(entries map[int64]int) Step {
	return Step{func(tx *sql.Tx) error {
		list, err := json.Marshal(entries) // one statement for all of them, not one for each
		if err != nil {
			return err
		}
		for _, statement := range []string{
			`INSERT INTO inked_note (id, coach, entry, day, zone, position, words, line, written)
				SELECT note.id, coach, value, day, zone, position, words, line, written
				FROM json_each(?) JOIN note ON note.id = CAST(key AS INTEGER)`,
			`UPDATE photo SET entry = value FROM json_each(?) WHERE note = CAST(key AS INTEGER) AND entry = 0`,
			`DELETE FROM note WHERE id IN (SELECT CAST(key AS INTEGER) FROM json_each(?))`,
		} {
			if _, err := tx.Exec(statement, string(list)); err != nil {
				return err
			}
		}
		return nil
	}}
}

// Inked returns the notes of a coach that were inked, by entry. They have no
// version, state or why.
func (b *Book) Inked(coach string) ([]InkedNote, error) {
	return list(b, func(row scanner) (InkedNote, error) {
		var n InkedNote
		err := row.Scan(&n.ID, &n.Coach, &n.Entry, &n.Day, &n.Zone, &n.Position, &n.Words, &n.Line, &n.Written)
		return n, err
	}, `SELECT id, coach, entry, day, zone, position, words, line, written FROM inked_note
		WHERE coach = ? ORDER BY entry, day, position, id`, coach)
}

// DropInked erases the text of the notes that became these entries, as
// DropSlips erases slips: what the house withdraws must not stand here either.
func (b *Book) DropInked(coach string, entries []int) error {
	return b.erase(func(tx *sql.Tx) error {
		for _, entry := range entries {
			if _, err := tx.Exec("DELETE FROM inked_note WHERE coach = ? AND entry = ?", coach, entry); err != nil {
				return err
			}
		}
		return nil
	})
}

// DropInkedBefore erases the text of all inked notes written before this
// moment (UTC, 20 characters).
func (b *Book) DropInkedBefore(written string) error {
	return b.erase(func(tx *sql.Tx) error {
		_, err := tx.Exec("DELETE FROM inked_note WHERE written < ?", written)
		return err
	})
}

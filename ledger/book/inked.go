package book

import (
	"database/sql"
	"fmt"
)

// InkedNote is a note whose entry is in the ledger, as it stood in pencil.
type InkedNote struct {
	Note
	Entry int // 0: it was rubbed out when its sheet was inked
}

// TakeOut takes notes out of pencil after their entries were inked, all or
// none; entries[i] is the entry of note ids[i], 0 for a note that was rubbed
// out. Their text is kept, their photos go with them. A note that is no longer
// in pencil is left out: somebody else has done the same.
func (b *Book) TakeOut(ids []int64, entries []int) error {
	if len(ids) != len(entries) {
		return fmt.Errorf("%d notes and %d entries", len(ids), len(entries))
	}
	return b.write(func(tx *sql.Tx) error {
		for i, id := range ids {
			if err := takeOut(tx, id, entries[i]); err != nil {
				return err
			}
		}
		return nil
	})
}

func takeOut(tx *sql.Tx, id int64, entry int) error {
	_, err := tx.Exec(`INSERT INTO inked_note (id, coach, entry, day, zone, position, words, line, written)
		SELECT id, coach, ?, day, zone, position, words, line, written FROM note WHERE id = ?`, entry, id)
	if err != nil {
		return err
	}
	if _, err := tx.Exec("UPDATE photo SET entry = ? WHERE note = ? AND entry = 0", entry, id); err != nil {
		return err
	}
	_, err = tx.Exec("DELETE FROM note WHERE id = ?", id)
	return err
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

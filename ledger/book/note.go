package book

import (
	"database/sql"
	"errors"
	"fmt"
)

// State says what may become of a note.
type State string

// What a note in pencil can be. A dropped one is kept to be brought back.
const (
	Clear   State = "clear"
	Short   State = "short"
	Unclear State = "unclear"
	Stopped State = "stopped"
	Refused State = "refused"
	Dropped State = "dropped"
)

// What keeps a note from being changed; ask with errors.Is.
var (
	ErrNoNote = errors.New("no such note in pencil")
	ErrMoved  = errors.New("the note was changed meanwhile")
)

// Note is one note in pencil.
type Note struct {
	ID       int64  // given by the book, never twice
	Version  int    // given by the book, one more with every change
	Coach    string // VIN or serial, upper case
	Day      string // YYYY-MM-DD
	Zone     string // as the sheet names it
	Position int    // order within the coach's day
	Words    string // as it came
	Line     string // canonical, "" if unclear
	State    State
	Why      string // what keeps it from being clear
	Written  string // UTC, 20 characters
}

const noteColumns = "id, version, coach, day, zone, position, words, line, state, why, written"

func scanNote(row scanner) (Note, error) {
	var n Note
	err := row.Scan(&n.ID, &n.Version, &n.Coach, &n.Day, &n.Zone, &n.Position, &n.Words, &n.Line, &n.State, &n.Why, &n.Written)
	return n, err
}

// AddNotes adds notes of a coach, all or none. Their ID, Version and Coach
// are given by the book.
func (b *Book) AddNotes(coach string, notes []Note) error {
	return b.write(func(tx *sql.Tx) error {
		for _, n := range notes {
			if _, err := insertNote(tx, coach, n); err != nil {
				return err
			}
		}
		return nil
	})
}

// AddNote adds one note of a coach and returns its ID; its version is 1.
func (b *Book) AddNote(coach string, n Note) (id int64, err error) {
	err = b.write(func(tx *sql.Tx) error {
		done, err := insertNote(tx, coach, n)
		if err == nil {
			id, err = done.LastInsertId()
		}
		return err
	})
	return id, err
}

func insertNote(tx *sql.Tx, coach string, n Note) (sql.Result, error) {
	return tx.Exec(`INSERT INTO note (version, coach, day, zone, position, words, line, state, was, why, written)
		VALUES (1, ?, ?, ?, ?, ?, ?, ?, '', ?, ?)`,
		coach, n.Day, n.Zone, n.Position, n.Words, n.Line, n.State, n.Why, n.Written)
}

// Notes returns the pencil of a coach by day, then by position; the dropped
// notes too.
func (b *Book) Notes(coach string) ([]Note, error) {
	return list(b, scanNote, "SELECT "+noteColumns+" FROM note WHERE coach = ? ORDER BY day, position, id", coach)
}

// AllNotes returns the pencil of all coaches, sorted by coach, then as Notes.
func (b *Book) AllNotes() ([]Note, error) {
	return list(b, scanNote, "SELECT "+noteColumns+" FROM note ORDER BY coach, day, position, id")
}

// Pencilled returns the coaches that have notes or photos in pencil, sorted.
// Dropped notes do not count, nor do their photos.
func (b *Book) Pencilled() ([]string, error) {
	return list(b, scanText, `SELECT coach FROM note WHERE state <> 'dropped'
		UNION SELECT coach FROM photo WHERE entry = 0 AND note NOT IN (SELECT id FROM note WHERE state = 'dropped')
		ORDER BY coach`)
}

// ChangeNote writes a note anew; n.Version is the version that was read. If
// it was changed since, the error is ErrMoved; if it is gone, ErrNoNote. Its
// coach stays.
func (b *Book) ChangeNote(n Note) error {
	return b.write(func(tx *sql.Tx) error {
		if err := unmoved(tx, n.ID, n.Version); err != nil {
			return err
		}
		_, err := tx.Exec(`UPDATE note SET version = version + 1, day = ?, zone = ?, position = ?, words = ?, line = ?,
			state = ?, why = ?, written = ? WHERE id = ?`,
			n.Day, n.Zone, n.Position, n.Words, n.Line, n.State, n.Why, n.Written, n.ID)
		return err
	})
}

// Rename gives the notes and photos of a coach, in pencil and inked, to its new
// plate. Done again it changes nothing.
func Rename(old, plate string) Step {
	return Step{func(tx *sql.Tx) error {
		for _, table := range []string{"note", "inked_note", "photo"} {
			if _, err := tx.Exec("UPDATE "+table+" SET coach = ? WHERE coach = ?", plate, old); err != nil {
				return err
			}
		}
		return nil
	}}
}

// unmoved returns nil if the note stands at this version.
func unmoved(tx *sql.Tx, id int64, version int) error {
	var now int
	err := tx.QueryRow("SELECT version FROM note WHERE id = ?", id).Scan(&now)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return fmt.Errorf("%w: %d", ErrNoNote, id)
	case err == nil && now != version:
		return fmt.Errorf("%w: %d", ErrMoved, id)
	}
	return err
}

// DropNote rubs a note out; BringBack undoes it. If there is no such note, or
// it is rubbed out already, the error is ErrNoNote.
func (b *Book) DropNote(id int64) error {
	return b.turn(id, "UPDATE note SET version = version + 1, was = state, state = 'dropped' WHERE id = ? AND state <> 'dropped'")
}

// BringBack gives a dropped note the state it had. If there is none, the
// error is ErrNoNote.
func (b *Book) BringBack(id int64) error {
	return b.turn(id, "UPDATE note SET version = version + 1, state = was, was = '' WHERE id = ? AND state = 'dropped'")
}

func (b *Book) turn(id int64, update string) error {
	return b.write(func(tx *sql.Tx) error { return changed(ErrNoNote)(tx.Exec(update, id)) })
}

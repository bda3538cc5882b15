package book

import (
	"database/sql"
	"errors"
	"fmt"

	"lapmark/ledger/file/disk"
)

// Setting returns the value of a setting, "" if it was never set.
func (b *Book) Setting(key string) (string, error) {
	var value string
	err := b.db.QueryRow("SELECT value FROM setting WHERE key = ?", key).Scan(&value)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return value, disk.Fault(b.path, err)
}

// SetSetting sets a setting.
func (b *Book) SetSetting(key, value string) error { return b.Together(Set(key, value)) }

// Set sets a setting.
func Set(key, value string) Step {
	return Step{func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT INTO setting (key, value) VALUES (?, ?)
			ON CONFLICT DO UPDATE SET value = excluded.value`, key, value)
		return err
	}}
}

// ErrTaken says that a mark already stands for somebody else.
var ErrTaken = errors.New("the mark is taken")

// Mark says who stands behind a mark such as hand-1. Added is a day.
type Mark struct {
	Mark, Name, Added string
}

// Marks returns all marks, sorted.
func (b *Book) Marks() ([]Mark, error) {
	return list(b, func(row scanner) (Mark, error) {
		var m Mark
		err := row.Scan(&m.Mark, &m.Name, &m.Added)
		return m, err
	}, "SELECT mark, name, added FROM mark ORDER BY mark")
}

// AddMark writes down who stands behind a mark, for ever: if the mark is there
// with another name, the error is ErrTaken.
func (b *Book) AddMark(m Mark) error {
	return b.write(func(tx *sql.Tx) error {
		var name string
		err := tx.QueryRow("SELECT name FROM mark WHERE mark = ?", m.Mark).Scan(&name)
		switch {
		case errors.Is(err, sql.ErrNoRows):
			_, err = tx.Exec("INSERT INTO mark (mark, name, added) VALUES (?, ?, ?)", m.Mark, m.Name, m.Added)
		case err == nil && name != m.Name:
			err = fmt.Errorf("%w: %s is %s", ErrTaken, m.Mark, name)
		}
		return err
	})
}

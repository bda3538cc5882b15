package book

import (
	"database/sql"
	"errors"
)

// Claim sets a setting that must not be set yet, in one step that no other
// writer comes between; taken is false where it is set, unless stale says that
// the old value no longer counts.
func (b *Book) Claim(key, value string, stale func(old string) bool) (taken bool, err error) {
	err = b.write(func(tx *sql.Tx) error {
		var old string
		err := tx.QueryRow("SELECT value FROM setting WHERE key = ?", key).Scan(&old)
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		if err == nil && !stale(old) {
			return nil
		}
		taken = true
		_, err = tx.Exec(`INSERT INTO setting (key, value) VALUES (?, ?)
			ON CONFLICT DO UPDATE SET value = excluded.value`, key, value)
		return err
	})
	return taken, err
}

// Unset takes a setting away. One that is not there is no error.
func (b *Book) Unset(key string) error { return b.Together(Unset(key)) }

// Unset takes a setting away. One that is not there is no error.
func Unset(key string) Step {
	return Step{func(tx *sql.Tx) error {
		_, err := tx.Exec("DELETE FROM setting WHERE key = ?", key)
		return err
	}}
}

// KeyValue is a setting with its key.
type KeyValue struct{ Key, Value string }

// SettingsUnder returns the settings whose keys begin with prefix, by key.
func (b *Book) SettingsUnder(prefix string) ([]KeyValue, error) {
	return list(b, func(row scanner) (KeyValue, error) {
		var e KeyValue
		err := row.Scan(&e.Key, &e.Value)
		return e, err
	}, "SELECT key, value FROM setting WHERE substr(key, 1, ?) = ? ORDER BY key", len(prefix), prefix)
}

package book

import (
	"database/sql"
	"errors"
	"fmt"
)

// ErrNoOwnWord is a word of the shop's own that is not there.
var ErrNoOwnWord = errors.New("no word of the shop's own")

// OwnWord is a word of the shop's own and the word of the lists that it stands
// for. Added is a day.
type OwnWord struct {
	Typed, Word, Added string
}

// OwnWords returns the words of the shop's own, sorted.
func (b *Book) OwnWords() ([]OwnWord, error) {
	return list(b, func(row scanner) (OwnWord, error) {
		var w OwnWord
		err := row.Scan(&w.Typed, &w.Word, &w.Added)
		return w, err
	}, "SELECT typed, word, added FROM own_word ORDER BY typed")
}

// SetOwnWord lets a word stand for another, in place of what it stood for.
// Whether it may is said by loose.OwnWord.
func (b *Book) SetOwnWord(w OwnWord) error {
	return b.write(func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT INTO own_word (typed, word, added) VALUES (?, ?, ?)
			ON CONFLICT DO UPDATE SET word = excluded.word, added = excluded.added`, w.Typed, w.Word, w.Added)
		return err
	})
}

// DropOwnWord takes a word of the shop's own away. The error is ErrNoOwnWord
// where there is none.
func (b *Book) DropOwnWord(typed string) error {
	return b.write(func(tx *sql.Tx) error {
		return changed(fmt.Errorf("%w: %s", ErrNoOwnWord, typed))(tx.Exec("DELETE FROM own_word WHERE typed = ?", typed))
	})
}

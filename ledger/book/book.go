// Package book keeps what is the shop's own and never given away, in one
// SQLite file: settings, the people behind marks, slips, pencil, photos,
// papers given out, heads seen, and an index of all coaches that can be made
// again at any time. It stores texts and understands none of them.
//
// The book runs in WAL mode with synchronous=FULL: what a method has written
// is on the disk when it returns. secure_delete=ON overwrites what is
// deleted.
package book

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"

	"lapmark/ledger/file/disk"
)

// What can be wrong with a book; ask with errors.Is. They are the errors of
// package file, but for ErrNotBook.
var (
	ErrNotBook  = errors.New("not a shop's book")
	ErrBusy     = disk.ErrBusy
	ErrFull     = disk.ErrFull
	ErrReadOnly = disk.ErrReadOnly
	ErrDamaged  = disk.ErrDamaged
	ErrMissing  = disk.ErrMissing
)

// NewerError says that a newer program wrote the book.
type NewerError = disk.NewerError

// Book is an open book. It may be used by several goroutines at once.
type Book struct {
	path  string
	db    *sql.DB
	still bool // on a medium that nobody can write
}

// form is what every book is, whose last migration is number version.
func form(version int) disk.Form {
	return disk.Form{
		Strange: ErrNotBook,
		ID:      0x4c504d42, // "LPMB"
		Version: version,
		Pragmas: []disk.Pragma{
			{Name: "busy_timeout", Value: "10000", Says: "10000"},
			{Name: "trusted_schema", Value: "OFF", Says: "0"},
			{Name: "secure_delete", Value: "ON", Says: "1"},
			{Name: "journal_mode", Value: "WAL", Says: "wal"},
			{Name: "synchronous", Value: "FULL", Says: "2"},
		},
	}
}

// Create makes an empty book. A file that is already there is never written
// over; then the error is an fs.ErrExist.
func Create(path string) error {
	return create(path, migrations())
}

func create(path string, steps []string) error {
	return form(len(steps)).Create(path, func(db *sql.DB) error { return migrate(db, steps) })
}

// Open opens an existing book. An older one is brought up to date after a
// copy was made of it, PATH.before-N, N being the first new number.
func Open(path string) (*Book, error) {
	return open(path, migrations())
}

func open(path string, steps []string) (*Book, error) {
	db, version, err := form(len(steps)).Open(path, disk.Write)
	if err != nil {
		return nil, err
	}
	if version < len(steps) {
		err = keepCopy(db, path, version+1)
		if err == nil {
			err = migrate(db, steps)
		}
	}
	if err != nil {
		return nil, disk.Fault(path, errors.Join(err, db.Close()))
	}
	return &Book{path: path, db: db}, nil
}

// OpenStill opens a book on a medium that nobody can write, for reading only.
// One whose newest entries still stand in its WAL is ErrReadOnly, and so is an
// older one: both must be written first.
func OpenStill(path string) (*Book, error) {
	if wal, err := os.Stat(path + "-wal"); err == nil && wal.Size() > 0 {
		return nil, fmt.Errorf("%s: %w: what was written last stands beside it", path, ErrReadOnly)
	}
	db, version, err := form(len(migrations())).Open(path, disk.Still)
	if err == nil && version < len(migrations()) {
		err = errors.Join(fmt.Errorf("%s: %w: it is of an older version", path, ErrReadOnly), db.Close())
	}
	if err != nil {
		return nil, err
	}
	return &Book{path: path, db: db, still: true}, nil
}

// Close brings what it can of the WAL into the file and closes it. Nothing is
// lost if it is not called.
func (b *Book) Close() error {
	if b.still {
		return disk.Fault(b.path, b.db.Close())
	}
	_, err := disk.Checkpoint(b.db, "PASSIVE")
	return disk.Fault(b.path, errors.Join(err, b.db.Close()))
}

// write runs do in one write transaction, all of it or none.
func (b *Book) write(do func(tx *sql.Tx) error) error {
	return disk.Fault(b.path, disk.InTx(context.Background(), b.db, do))
}

// Step is one thing to be written into a book.
type Step struct{ do func(tx *sql.Tx) error }

// Together takes steps in their order in one transaction, all or none.
func (b *Book) Together(steps ...Step) error {
	return b.write(func(tx *sql.Tx) error {
		for _, step := range steps {
			if err := step.do(tx); err != nil {
				return err
			}
		}
		return nil
	})
}

// erase is write for what must be gone afterwards, from the WAL too: if others
// keep reading it for longer than 10 s, the error is ErrBusy, and the next
// erase or close ends it.
func (b *Book) erase(do func(tx *sql.Tx) error) error {
	if err := b.write(do); err != nil {
		return err
	}
	blocked, err := disk.Checkpoint(b.db, "TRUNCATE")
	if err == nil && blocked {
		err = fmt.Errorf("%w: it is deleted, its trace in %s-wal is not", ErrBusy, b.path)
	}
	return disk.Fault(b.path, err)
}

// changed returns otherwise for a statement that has changed nothing.
func changed(otherwise error) func(sql.Result, error) error {
	return func(done sql.Result, err error) error {
		if err != nil {
			return err
		}
		n, err := done.RowsAffected()
		if err == nil && n == 0 {
			err = otherwise
		}
		return err
	}
}

// scanner is a row that gives its columns.
type scanner interface {
	Scan(columns ...any) error
}

// list returns what scan makes of every row of the answer.
func list[T any](b *Book, scan func(row scanner) (T, error), query string, args ...any) ([]T, error) {
	var all []T
	err := disk.Each(context.Background(), b.db, func(row *sql.Rows) error {
		one, err := scan(row)
		all = append(all, one)
		return err
	}, query, args...)
	if err != nil {
		return nil, disk.Fault(b.path, err)
	}
	return all, nil
}

// scanText scans a row of one text.
func scanText(row scanner) (string, error) {
	var s string
	err := row.Scan(&s)
	return s, err
}

// Package file keeps the ledger of one coach in one SQLite file: its leaves
// in order, the travel copies of its pictures by hash, and the side branches
// the house has taken in. It stores bytes and understands none of them; what
// they are worth is found by checking the text that Text returns.
//
// A coach file has journal_mode=DELETE and synchronous=EXTRA: when an inking
// returns, all of it is in the one file and on the disk. Triggers stop
// UPDATE, DELETE and INSERT over what is there, against accidents only.
package file

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"lapmark/ledger/file/disk"
)

// What can be wrong with a coach file; ask with errors.Is. Every error of
// this package that is one of these, or a NewerError, begins with the path.
var (
	ErrNotCoach = errors.New("not a coach file")
	ErrBusy     = disk.ErrBusy
	ErrFull     = disk.ErrFull
	ErrReadOnly = disk.ErrReadOnly
	ErrDamaged  = disk.ErrDamaged
	ErrMissing  = disk.ErrMissing
)

// NewerError says that a newer program wrote the file.
type NewerError = disk.NewerError

// Coach is an open coach file. It may be used by several goroutines at once.
type Coach struct {
	path   string
	db     *sql.DB
	opened fs.FileInfo // of the file at path when it was opened
	access disk.Access
}

// CreateWith makes a coach file with its first inking in it: the whole file
// gets its name, or there is none. A file that is already there is never
// written over; then the error is an fs.ErrExist.
func CreateWith(path string, first Inking) error {
	if err := first.fits(0); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	ctx := context.Background()
	return form().Create(path, func(db *sql.DB) error {
		return disk.InTx(ctx, db, func(tx *sql.Tx) error {
			if err := createSchema(ctx, tx); err != nil {
				return err
			}
			return first.insert(ctx, tx, 0)
		})
	})
}

// Open opens an existing coach file for reading and inking. What is missing,
// of another sort, newer or damaged is refused with the error that says so.
func Open(path string) (*Coach, error) {
	return open(path, disk.Write)
}

// OpenReadOnly opens an existing coach file for reading; it works in a folder
// that cannot be written and leaves nothing beside the file. After an inking
// that was cut off, the error is ErrReadOnly: Open undoes it.
func OpenReadOnly(path string) (*Coach, error) {
	return open(path, disk.Read)
}

func open(path string, access disk.Access) (*Coach, error) {
	opened, err := os.Stat(path)
	if err != nil {
		return nil, disk.Fault(path, err)
	}
	db, _, err := form().Open(path, access)
	if err != nil {
		return nil, err
	}
	if err := compareSchema(db); err != nil {
		return nil, disk.Fault(path, errors.Join(err, db.Close()))
	}
	return &Coach{path: path, db: db, opened: opened, access: access}, nil
}

// Close closes the file. Nothing is lost if it is not called.
func (c *Coach) Close() error {
	return disk.Fault(c.path, c.db.Close())
}

// Text returns all leaves in order, one after the other. If their numbers do
// not run from 1 without a gap, the error is ErrDamaged.
func (c *Coach) Text() ([]byte, error) {
	text, _, err := leaves(context.Background(), c.db)
	if err != nil {
		return nil, disk.Fault(c.path, err)
	}
	return text, nil
}

// leaves returns the text of the ledger and the number of its last entry.
func leaves(ctx context.Context, q disk.Querier) (text []byte, last int, err error) {
	size, err := sizeOfText(ctx, q)
	if err != nil {
		return nil, 0, err
	}
	text = make([]byte, 0, size)
	err = disk.Each(ctx, q, func(row *sql.Rows) error {
		var number int
		var leaf sql.RawBytes
		if err := row.Scan(&number, &leaf); err != nil {
			return err
		}
		if number != last+1 {
			return fmt.Errorf("%w: entry %d stands where %d should", ErrDamaged, number, last+1)
		}
		last, text = number, append(text, leaf...)
		return nil
	}, "SELECT number, leaf FROM entry ORDER BY number")
	return text, last, err
}

// sizeOfText returns how many bytes to set aside for the text, so that it is
// not copied while it grows; a damaged file may say anything, but not beyond
// 64 MB.
func sizeOfText(ctx context.Context, q disk.Querier) (size int, err error) {
	err = disk.Each(ctx, q, func(row *sql.Rows) error { return row.Scan(&size) },
		"SELECT coalesce(sum(length(leaf)), 0) FROM entry")
	return min(size, 64<<20), err
}

// Picture returns the travel copy with this SHA-256 (64 hex digits, lower
// case). If there is none, the error is an fs.ErrNotExist; if its bytes have
// another hash, ErrDamaged.
func (c *Coach) Picture(hash string) ([]byte, error) {
	var jpeg []byte
	err := c.db.QueryRow("SELECT jpeg FROM picture WHERE hex = ?", hash).Scan(&jpeg)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, fmt.Errorf("%s: picture %s: %w", c.path, hash, fs.ErrNotExist)
	}
	if err == nil && hashOf(jpeg) != hash {
		err = fmt.Errorf("%w: picture %s has other bytes", ErrDamaged, hash)
	}
	if err != nil {
		return nil, disk.Fault(c.path, err)
	}
	return jpeg, nil
}

// Pictures returns the hashes of all travel copies in the file, sorted.
func (c *Coach) Pictures() ([]string, error) {
	var hashes []string
	err := disk.Each(context.Background(), c.db, func(row *sql.Rows) error {
		var hash string
		err := row.Scan(&hash)
		hashes = append(hashes, hash)
		return err
	}, "SELECT hex FROM picture ORDER BY hex")
	return hashes, disk.Fault(c.path, err)
}

// Branches returns the texts of the side branches taken in, in that order.
func (c *Coach) Branches() ([][]byte, error) {
	texts, err := branchesIn(context.Background(), c.db)
	return texts, disk.Fault(c.path, err)
}

func branchesIn(ctx context.Context, q disk.Querier) (texts [][]byte, err error) {
	err = disk.Each(ctx, q, func(row *sql.Rows) error {
		var text []byte
		err := row.Scan(&text)
		texts = append(texts, text)
		return err
	}, "SELECT text FROM branch ORDER BY number")
	return texts, err
}

// hashOf returns the SHA-256 of b as 64 hex digits.
func hashOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

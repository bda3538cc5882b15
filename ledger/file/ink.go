package file

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"

	"lapmark/ledger/file/disk"
)

// Limits of the entry format, version 1: bytes of a leaf, entries of a coach.
const (
	MaxLeaf    = 65535
	MaxEntries = 100000
)

// Inking is what goes into a coach file in one act, all of it or none.
type Inking struct {
	Leaves   [][]byte          // in order, after the last one in the file
	Pictures map[string][]byte // travel copies by their SHA-256, 64 hex digits; one that is there already is left alone
	Branches [][]byte          // texts of side branches taken in, in order
}

// Ink adds to the ledger. It takes the lock of the file, waiting up to 10 s
// for another writer (ErrBusy), reads the text and the side branches taken in,
// asks draw what to add to them, and adds that. When Ink returns nil, all of it is on the disk; otherwise
// nothing was added. An error of draw is returned as it is.
//
// Nothing slow belongs into draw: others wait meanwhile.
func (c *Coach) Ink(ctx context.Context, draw func(text []byte, branches [][]byte) (Inking, error)) error {
	if c.access == disk.Read {
		return fmt.Errorf("%s: %w: opened for reading", c.path, ErrReadOnly)
	}
	var refused error
	err := disk.InTx(ctx, c.db, func(tx *sql.Tx) error {
		if err := c.mayWrite(ctx, tx); err != nil {
			return err
		}
		text, last, err := leaves(ctx, tx)
		if err != nil {
			return err
		}
		branches, err := branchesIn(ctx, tx)
		if err != nil {
			return err
		}
		var in Inking
		if in, refused = draw(text, branches); refused != nil {
			return refused
		}
		if err := in.fits(last); err != nil {
			return err
		}
		return in.insert(ctx, tx, last)
	})
	if refused != nil {
		return refused
	}
	return disk.Fault(c.path, err)
}

// mayWrite finds out before anything is signed what would come out at the end:
// a file that can only be read (BEGIN IMMEDIATE passes on one), and one that
// was moved away or replaced since it was opened, whose entries nobody would
// ever see.
func (c *Coach) mayWrite(ctx context.Context, tx *sql.Tx) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM entry WHERE number = 0"); err != nil {
		return err
	}
	now, err := os.Stat(c.path)
	if err != nil {
		return err
	}
	if !os.SameFile(now, c.opened) {
		return fmt.Errorf("%w: another file has this name now", ErrMissing)
	}
	return nil
}

// fits returns an error if the inking breaks a limit after entry last, or if
// a picture stands under a hash that is not its own.
func (in Inking) fits(last int) error {
	if last+len(in.Leaves) > MaxEntries {
		return fmt.Errorf("a ledger holds at most %d entries", MaxEntries)
	}
	for i, leaf := range in.Leaves {
		if len(leaf) == 0 || len(leaf) > MaxLeaf {
			return fmt.Errorf("entry %d has %d bytes, 1 to %d are allowed", last+1+i, len(leaf), MaxLeaf)
		}
	}
	for hash, jpeg := range in.Pictures {
		if hashOf(jpeg) != hash {
			return fmt.Errorf("picture %q has the hash %s", hash, hashOf(jpeg))
		}
	}
	return nil
}

// insert adds the inking after entry last.
func (in Inking) insert(ctx context.Context, tx *sql.Tx, last int) error {
	if err := in.insertLeaves(ctx, tx, last); err != nil {
		return err
	}
	for _, hash := range slices.Sorted(maps.Keys(in.Pictures)) {
		_, err := tx.ExecContext(ctx,
			"INSERT INTO picture (hex, jpeg) VALUES (?, ?) ON CONFLICT DO NOTHING", hash, in.Pictures[hash])
		if err != nil {
			return err
		}
	}
	for _, text := range in.Branches {
		_, err := tx.ExecContext(ctx,
			"INSERT INTO branch (number, text) SELECT coalesce(max(number), 0) + 1, ? FROM branch", text)
		if err != nil {
			return err
		}
	}
	return nil
}

func (in Inking) insertLeaves(ctx context.Context, tx *sql.Tx, last int) (err error) {
	insert, err := tx.PrepareContext(ctx, "INSERT INTO entry (number, leaf) VALUES (?, ?)")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, insert.Close()) }()
	for i, leaf := range in.Leaves {
		if _, err := insert.ExecContext(ctx, last+1+i, leaf); err != nil {
			return err
		}
	}
	return nil
}

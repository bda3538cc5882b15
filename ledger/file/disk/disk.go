// Package disk opens the SQLite files of the shop, all in one way: PRAGMAs go
// in with the name of the file, so that every connection of the pool has
// them, and are read back; a file is asked what it is before anything could
// change it; what SQLite and the operating system report becomes one of five
// errors. A new file is built under a temporary name and then named.
package disk

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"modernc.org/sqlite"
)

// A POSIX lock falls when any descriptor of that file is closed anywhere in
// the process, a backup reading it for instance. Locks of the open file
// description do not (https://www.sqlite.org/howtocorrupt.html 2.2; fcntl(2)).
func init() {
	if _, err := sqlite.OFDLocking(true); err != nil && !errors.Is(err, sqlite.ErrOFDLockingUnavailable) {
		panic(err)
	}
}

// Access says what a file is opened for.
type Access string

// Read leaves no trace in the file's folder; Write never makes a new file.
// Still reads a file on a medium that nobody can write: no lock, no sidecar.
const (
	Read  Access = "ro"
	Write Access = "rw"
	Still Access = "still"
)

// Pragma is one setting of SQLite: its name, the value it is given, and what
// it answers when it is read back.
type Pragma struct {
	Name, Value, Says string
}

// Form is one sort of file of this shop.
type Form struct {
	Strange error    // what a file of another sort is refused with
	ID      int32    // application_id
	Version int      // highest user_version this program reads, lowest is 1
	Pragmas []Pragma // in the order they are set
}

// Open opens an existing file of this form and returns its user_version. The
// errors are f.Strange, NewerError, or as Fault says; they carry the path.
func (f Form) Open(path string, access Access) (*sql.DB, int, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, 0, Fault(path, err)
	}
	if !info.Mode().IsRegular() {
		return nil, 0, fmt.Errorf("%s: %w: not a file", path, f.Strange)
	}
	if info.Size() == 0 {
		return nil, 0, fmt.Errorf("%s: %w: it is empty", path, ErrDamaged)
	}
	if err := f.probe(path); err != nil {
		return nil, 0, Fault(path, err)
	}
	db, version, err := f.openOwn(path, access)
	switch code(err) {
	case codeError: // of no statement of ours: an unknown file format, for instance
		err = fmt.Errorf("%w: %v", ErrDamaged, err)
	case codeNotADB:
		err = fmt.Errorf("%w: %v", f.Strange, err)
	}
	return db, version, Fault(path, err)
}

// probe asks a file what it is without a lock, a sidecar or a write, so that
// a stranger's or a newer file stays as it is. What it reads may be old, or
// half of what another writer is putting there: only an answer that cannot
// change is taken from it, everything else is asked again under a lock.
func (f Form) probe(path string) (err error) {
	db, err := unopened(path, url.Values{"mode": {string(Read)}, "immutable": {"1"}})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	_, err = f.mark(db)
	if c := code(err); c == codeCorrupt || c == codeNotADB {
		return nil
	}
	return err
}

// openOwn opens a file that calls itself one of this form.
func (f Form) openOwn(path string, access Access) (*sql.DB, int, error) {
	db, err := f.connect(path, access)
	if err != nil {
		return nil, 0, err
	}
	version, err := f.mark(db)
	if err != nil {
		return nil, 0, errors.Join(err, db.Close())
	}
	return db, version, nil
}

// mark returns the user_version of a file after comparing its application_id.
func (f Form) mark(db *sql.DB) (version int, err error) {
	var id int32
	if err := db.QueryRow("PRAGMA application_id").Scan(&id); err != nil {
		return 0, err
	}
	if id != f.ID {
		return 0, fmt.Errorf("%w: application_id %d", f.Strange, id)
	}
	if err := db.QueryRow("PRAGMA user_version").Scan(&version); err != nil {
		return 0, err
	}
	switch {
	case version > f.Version:
		return 0, NewerError{Version: version, Known: f.Version}
	case version < 1:
		return 0, fmt.Errorf("%w: user_version %d", f.Strange, version)
	}
	return version, nil
}

// Create builds a new file of this form: fill makes its tables and sets its
// user_version. An existing file is never written over (fs.ErrExist).
func (f Form) Create(path string, fill func(db *sql.DB) error) error {
	return Fault(path, Build(path, func(temp string) (err error) {
		db, err := f.connect(temp, Write)
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, db.Close()) }()
		if _, err := db.Exec(fmt.Sprintf("PRAGMA application_id = %d", f.ID)); err != nil {
			return err
		}
		if err := fill(db); err != nil {
			return err
		}
		// Closing would do the same and say nothing when it cannot.
		_, err = Checkpoint(db, "TRUNCATE")
		return err
	}))
}

// Checkpoint brings the WAL of a file into the file itself and says whether
// others were in the way. Mode is one of SQLite's
// (https://www.sqlite.org/pragma.html#pragma_wal_checkpoint).
func Checkpoint(db *sql.DB, mode string) (blocked bool, err error) {
	var frames, done int
	err = db.QueryRow("PRAGMA wal_checkpoint("+mode+")").Scan(&blocked, &frames, &done)
	return blocked, err
}

// connect opens a file with the PRAGMAs of the form and reads them back.
func (f Form) connect(path string, access Access) (*sql.DB, error) {
	values := url.Values{
		"mode": {string(access)}, "_txlock": {"immediate"}, "_defensive": {"1"}, "_dqs": {"0"},
	}
	if access == Still {
		values.Set("mode", string(Read))
		values.Set("immutable", "1")
		f.Pragmas = slices.DeleteFunc(slices.Clone(f.Pragmas), func(p Pragma) bool { return p.Name == "journal_mode" })
	}
	for _, p := range f.Pragmas {
		if p.Name == "journal_mode" && access == Read {
			continue // setting it may write; reading it back is enough
		}
		values.Add("_pragma", p.Name+"("+p.Value+")")
	}
	db, err := unopened(path, values)
	if err != nil {
		return nil, err
	}
	if err := f.readBack(db); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

// readBack compares every PRAGMA of the form with what the file now says.
func (f Form) readBack(db *sql.DB) error {
	for _, p := range f.Pragmas {
		var says string
		if err := db.QueryRow("PRAGMA " + p.Name).Scan(&says); err != nil {
			return err
		}
		if says != p.Says {
			return fmt.Errorf("%w: %s is %s, not %s", f.Strange, p.Name, says, p.Says)
		}
	}
	return nil
}

// unopened names the file to the driver as a URI, in which no character of
// the path can be taken for a parameter. Nothing is opened yet.
func unopened(path string, values url.Values) (*sql.DB, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	slashed := "/" + strings.TrimPrefix(filepath.ToSlash(abs), "/")
	uri := url.URL{Scheme: "file", Path: slashed, RawQuery: values.Encode()}
	return sql.Open("sqlite", uri.String())
}

// InTx runs do in one write transaction: all of it is in the file when InTx
// returns nil, none of it otherwise.
func InTx(ctx context.Context, db *sql.DB, do func(tx *sql.Tx) error) (err error) {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() {
		if undone := tx.Rollback(); undone != nil && !errors.Is(undone, sql.ErrTxDone) {
			err = errors.Join(err, undone)
		}
	}()
	if err := do(tx); err != nil {
		return err
	}
	return tx.Commit()
}

// Querier is a file or a transaction on it.
type Querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// Each hands every row of the answer to do, which scans it.
func Each(ctx context.Context, q Querier, do func(row *sql.Rows) error, query string, args ...any) (err error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	for rows.Next() {
		if err := do(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

package book

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"

	"lapmark/ledger/file/disk"
)

//go:embed migration/*.sql
var scripts embed.FS

// migrations returns the scripts that make a book, the first being number 1.
// A script that was released is never changed; a new one is added.
func migrations() []string {
	var steps []string
	for {
		script, err := scripts.ReadFile(fmt.Sprintf("migration/%04d.sql", len(steps)+1))
		if err != nil {
			return steps // the numbers have no gap, a test holds that
		}
		steps = append(steps, string(script))
	}
}

// migrate brings a book from its number to the last of steps, each step in a
// transaction of its own. A step that another program has done meanwhile is
// left out.
func migrate(db *sql.DB, steps []string) error {
	ctx := context.Background()
	for i, script := range steps {
		err := disk.InTx(ctx, db, func(tx *sql.Tx) error { return step(ctx, tx, i+1, script) })
		if err != nil {
			return fmt.Errorf("migration %d: %w", i+1, err)
		}
	}
	return nil
}

func step(ctx context.Context, tx *sql.Tx, number int, script string) error {
	var version int
	if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return err
	}
	if version >= number {
		return nil
	}
	if _, err := tx.ExecContext(ctx, script); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", number))
	return err
}

// keepCopy copies the book to PATH.before-N, or to PATH.before-N.2 and so on
// where an earlier attempt has left one. What was erased before is not in it;
// what is erased later is.
func keepCopy(db *sql.DB, path string, number int) error {
	for try := 1; ; try++ {
		name := fmt.Sprintf("%s.before-%d", path, number)
		if try > 1 {
			name = fmt.Sprintf("%s.%d", name, try)
		}
		err := disk.Build(name, func(temp string) error {
			_, err := db.Exec("VACUUM INTO ?", temp)
			return err
		})
		if !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
}

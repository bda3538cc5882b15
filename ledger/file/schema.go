package file

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger/file/disk"
)

// form is what every coach file is: DELETE and EXTRA, so that after each
// commit the one file is whole and may be copied.
func form() disk.Form {
	return disk.Form{
		Strange: ErrNotCoach,
		ID:      0x4c504d43, // "LPMC"
		Version: 1,
		Pragmas: []disk.Pragma{
			{Name: "busy_timeout", Value: "10000", Says: "10000"},
			{Name: "trusted_schema", Value: "OFF", Says: "0"},
			{Name: "journal_mode", Value: "DELETE", Says: "delete"},
			{Name: "synchronous", Value: "EXTRA", Says: "3"},
		},
	}
}

// object is one row of SQLite's own list of what is in a file
// (https://www.sqlite.org/schematab.html).
type object struct {
	kind, name, table, sql string
}

// schema returns all that is in a coach file of version 1, sorted by name.
// Nothing else may be in it, and nothing may differ by a letter.
func schema() []object {
	all := []object{
		{"table", "entry", "entry", "CREATE TABLE entry (number INTEGER PRIMARY KEY, leaf BLOB NOT NULL) STRICT"},
		{"table", "picture", "picture", "CREATE TABLE picture (hex TEXT PRIMARY KEY, jpeg BLOB NOT NULL) STRICT"},
		{"table", "branch", "branch", "CREATE TABLE branch (number INTEGER PRIMARY KEY, text BLOB NOT NULL) STRICT"},
		{"index", "sqlite_autoindex_picture_1", "picture", ""},
		guard("entry", "INSERT", "NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM entry)",
			"an entry follows the last one and is never written over"),
		guard("picture", "INSERT", "EXISTS (SELECT 1 FROM picture WHERE hex = NEW.hex AND jpeg <> NEW.jpeg)",
			"a picture in the ledger is never written over"),
		guard("branch", "INSERT", "NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM branch)",
			"a branch follows the last one and is never written over"),
	}
	for _, table := range []string{"entry", "picture", "branch"} {
		all = append(all,
			guard(table, "UPDATE", "true", "what is in the ledger is never changed"),
			guard(table, "DELETE", "true", "what is in the ledger is never taken out"))
	}
	slices.SortFunc(all, func(a, b object) int { return strings.Compare(a.name, b.name) })
	return all
}

// guard is a trigger against accidents: it ends act on table with our words.
// An enemy takes it away first; against him stands the check of the text.
func guard(table, act, when, words string) object {
	name := table + "_" + strings.ToLower(act)
	sql := fmt.Sprintf("CREATE TRIGGER %s BEFORE %s ON %s WHEN %s BEGIN SELECT RAISE(ABORT, 'lapmark: %s'); END",
		name, act, table, when, words)
	return object{"trigger", name, table, sql}
}

// createSchema makes everything of schema in an empty file.
func createSchema(ctx context.Context, tx *sql.Tx) error {
	objects := schema()
	slices.SortStableFunc(objects, func(a, b object) int { return strings.Compare(a.kind, b.kind) })
	for _, o := range objects { // index, table, trigger: a trigger after its table
		if o.sql == "" {
			continue // SQLite makes it with its table
		}
		if _, err := tx.ExecContext(ctx, o.sql); err != nil {
			return err
		}
	}
	_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", form().Version))
	return err
}

// compareSchema returns ErrNotCoach if the file has more, less or other
// tables, views, triggers or indexes than a coach file.
func compareSchema(db *sql.DB) error {
	found, err := objectsIn(db)
	if err != nil {
		return err
	}
	want := schema()
	for i, o := range want {
		if i >= len(found) || found[i].name > o.name {
			return fmt.Errorf("%w: %s %s is missing", ErrNotCoach, o.kind, o.name)
		}
		if found[i] != o {
			return fmt.Errorf("%w: %s %s is not as we make it", ErrNotCoach, found[i].kind, found[i].name)
		}
	}
	if len(found) > len(want) {
		extra := found[len(want)]
		return fmt.Errorf("%w: %s %s is not ours", ErrNotCoach, extra.kind, extra.name)
	}
	return nil
}

// objectsIn lists what is in a file, sorted by name.
func objectsIn(db *sql.DB) (found []object, err error) {
	err = disk.Each(context.Background(), db, func(row *sql.Rows) error {
		var o object
		err := row.Scan(&o.kind, &o.name, &o.table, &o.sql)
		found = append(found, o)
		return err
	}, "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY name")
	return found, err
}

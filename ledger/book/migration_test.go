package book

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

func TestMigrationsHaveNoGap(t *testing.T) {
	files, err := scripts.ReadDir("migration")
	noError(t, err)
	if len(files) != len(migrations()) {
		t.Errorf("%d scripts, %d of them in a row", len(files), len(migrations()))
	}
}

// old makes a book of the first release of steps, with a setting in it.
func old(t *testing.T) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "book.db")
	noError(t, create(path, steps()[:1]))
	b, err := open(path, steps()[:1])
	noError(t, err)
	noError(t, b.SetSetting("zone", "Europe/Copenhagen"))
	noError(t, b.Close())
	return path
}

// steps is today's book and two releases after it.
func steps() []string {
	return append(migrations()[:1:1],
		"CREATE TABLE oven (name TEXT PRIMARY KEY) STRICT; INSERT INTO oven SELECT value FROM setting",
		"ALTER TABLE oven ADD COLUMN heat INTEGER NOT NULL DEFAULT 0",
	)
}

func names(t *testing.T, folder string) string {
	t.Helper()
	files, err := os.ReadDir(folder)
	noError(t, err)
	var all []string
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), "-wal") && !strings.HasSuffix(f.Name(), "-shm") {
			all = append(all, f.Name())
		}
	}
	return strings.Join(all, " ")
}

func TestMigrationKeepsACopy(t *testing.T) {
	path := old(t)
	b, err := open(path, steps())
	noError(t, err)
	var heat int
	noError(t, b.db.QueryRow("SELECT heat FROM oven WHERE name = 'Europe/Copenhagen'").Scan(&heat))
	noError(t, b.Close())
	if got := names(t, filepath.Dir(path)); got != "book.db book.db.before-2" {
		t.Errorf("in the folder: %s", got)
	}
	before, err := open(path+".before-2", steps()[:1])
	noError(t, err)
	if zone, err := before.Setting("zone"); err != nil || zone != "Europe/Copenhagen" {
		t.Errorf("the copy says %q, %v", zone, err)
	}
	noError(t, before.Close())
	var newer NewerError
	if _, err := open(path, steps()[:2]); !errors.As(err, &newer) || newer != (NewerError{Version: 3, Known: 2}) {
		t.Errorf("an older program: %v", err)
	}
	again, err := open(path, steps())
	noError(t, err)
	noError(t, again.Close())
	if got := names(t, filepath.Dir(path)); got != "book.db book.db.before-2" {
		t.Errorf("after opening once more: %s", got)
	}
}

func TestMigrationThatFailsChangesNothingOfItsStep(t *testing.T) {
	path := old(t)
	broken := append(steps()[:2:2], "CREATE TABLE shelf (a TEXT) STRICT; INSERT INTO cellar VALUES (1)")
	for range 2 {
		if _, err := open(path, broken); err == nil || !strings.Contains(err.Error(), "migration 3") {
			t.Errorf("error is %v", err)
		}
	}
	b, err := open(path, steps()[:2]) // the step before it stands
	noError(t, err)
	var n int
	noError(t, b.db.QueryRow("SELECT count(*) FROM sqlite_schema WHERE name = 'shelf'").Scan(&n))
	if n != 0 {
		t.Error("half of the broken step is in the book")
	}
	noError(t, b.Close())
	if got := names(t, filepath.Dir(path)); got != "book.db book.db.before-2 book.db.before-3" {
		t.Errorf("in the folder: %s", got)
	}
	change(t, path, "DROP TABLE oven", "PRAGMA user_version = 1") // as if back from the first copy
	b, err = open(path, steps())
	noError(t, err)
	noError(t, b.Close())
	if got := names(t, filepath.Dir(path)); got != "book.db book.db.before-2 book.db.before-2.2 book.db.before-3" {
		t.Errorf("a copy was written over: %s", got)
	}
}

func TestTwoProgramsMigrateAtOnce(t *testing.T) {
	path := old(t)
	var both sync.WaitGroup
	for range 2 {
		both.Go(func() {
			b, err := open(path, steps())
			if err != nil {
				t.Error(err)
				return
			}
			if err := b.Close(); err != nil {
				t.Error(err)
			}
		})
	}
	both.Wait()
}

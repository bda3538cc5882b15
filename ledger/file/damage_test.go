package file_test

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"lapmark/ledger/file"
)

// altered makes a coach file with two entries and changes it by SQL.
func altered(t *testing.T, statements ...string) string {
	t.Helper()
	path := newCoach(t, 2)
	change(t, path, statements...)
	return path
}

func change(t *testing.T, path string, statements ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	noError(t, err)
	for _, s := range statements {
		if _, err := db.Exec(s); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
	}
	noError(t, db.Close())
}

func TestFilesThatAreNotOurs(t *testing.T) {
	for name, statements := range map[string][]string{
		"other application":                   {"PRAGMA application_id = 42"},
		"no version":                          {"PRAGMA user_version = 0"},
		"version below zero":                  {"PRAGMA user_version = -3"},
		"a table more":                        {"CREATE TABLE z (a)"},
		"a table more, early in the alphabet": {"CREATE TABLE a (a)"},
		"a table less":                        {"DROP TABLE branch"},
		"a view":                              {"CREATE VIEW v AS SELECT * FROM entry"},
		"a trigger more":                      {"CREATE TRIGGER t AFTER INSERT ON entry BEGIN DELETE FROM branch; END"},
		"a trigger less":                      {"DROP TRIGGER entry_update"},
		"another trigger":                     {"DROP TRIGGER entry_update", "CREATE TRIGGER entry_update BEFORE UPDATE ON entry WHEN false BEGIN SELECT 1; END"},
		"an index":                            {"CREATE INDEX i ON entry (leaf)"},
		"a column more":                       {"ALTER TABLE entry ADD COLUMN more BLOB"},
		"not strict":                          {"DROP TABLE branch", "CREATE TABLE branch (number INTEGER PRIMARY KEY, text BLOB NOT NULL)"},
		"statistics":                          {"ANALYZE"},
	} {
		t.Run(name, func(t *testing.T) {
			path := altered(t, statements...)
			before, err := os.ReadFile(path)
			noError(t, err)
			refusedAs(t, path, file.ErrNotCoach)
			after, err := os.ReadFile(path)
			noError(t, err)
			if !bytes.Equal(before, after) {
				t.Error("the file was changed")
			}
		})
	}
}

// refusedAs fails unless both ways of opening refuse path with want alone and
// name the path.
func refusedAs(t *testing.T, path string, want error) {
	t.Helper()
	for _, opening := range []func(string) (*file.Coach, error){file.Open, file.OpenReadOnly} {
		c, err := opening(path)
		if err == nil {
			noError(t, c.Close())
			t.Errorf("opened, not refused with %v", want)
			continue
		}
		for _, sort := range sorts() {
			if errors.Is(err, sort) != (sort == want) {
				t.Errorf("error is %v, not %v alone", err, want)
			}
		}
		if !bytes.HasPrefix([]byte(err.Error()), []byte(path+": ")) {
			t.Errorf("the error does not begin with the path: %v", err)
		}
	}
}

func sorts() []error {
	return []error{file.ErrBusy, file.ErrFull, file.ErrReadOnly, file.ErrNotCoach, file.ErrDamaged, file.ErrMissing}
}

func TestNewerFile(t *testing.T) {
	path := altered(t, "PRAGMA user_version = 7", "CREATE TABLE seal (a)", "PRAGMA journal_mode = WAL")
	for _, opening := range []func(string) (*file.Coach, error){file.Open, file.OpenReadOnly} {
		_, err := opening(path)
		var newer file.NewerError
		if !errors.As(err, &newer) || newer != (file.NewerError{Version: 7, Known: 1}) {
			t.Errorf("error is %v", err)
		}
	}
	onlyFile(t, path)
}

func TestNoFile(t *testing.T) {
	folder := t.TempDir()
	refusedAs(t, filepath.Join(folder, "none.coach"), file.ErrMissing)
	refusedAs(t, filepath.Join(folder, "none", "none.coach"), file.ErrMissing)
	refusedAs(t, folder, file.ErrNotCoach)
	onlyFile(t, filepath.Join(folder, "none.coach"))
	for content, want := range map[string]error{
		"":             file.ErrDamaged,
		"a short text": file.ErrNotCoach,
		string(bytes.Repeat([]byte("%PDF-1.4 "), 1000)): file.ErrNotCoach,
	} {
		path := filepath.Join(folder, "7QX2M4.coach")
		noError(t, os.WriteFile(path, []byte(content), 0o600))
		refusedAs(t, path, want)
		onlyFile(t, path)
	}
}

// A coach file that another program left in WAL mode is brought back when it
// is opened for inking; read-only it cannot be read without leaving sidecars.
func TestFileInWALMode(t *testing.T) {
	path := altered(t, "PRAGMA journal_mode = WAL")
	if _, err := file.OpenReadOnly(path); !errors.Is(err, file.ErrNotCoach) {
		t.Errorf("read-only: %v", err)
	}
	c := open(t, path)
	noError(t, ink(t.Context(), c, 1))
	onlyFile(t, path)
	text, err := c.Text()
	noError(t, err)
	if string(text) != textOf(leavesFrom(1, 3)) {
		t.Errorf("text is %q", text)
	}
}

func TestNumbersWithAGap(t *testing.T) {
	guardOf := "CREATE TRIGGER entry_delete BEFORE DELETE ON entry WHEN true BEGIN SELECT RAISE(ABORT, 'lapmark: what is in the ledger is never taken out'); END"
	path := altered(t, "DROP TRIGGER entry_delete", "DELETE FROM entry WHERE number = 1", guardOf)
	c := open(t, path)
	if _, err := c.Text(); !errors.Is(err, file.ErrDamaged) {
		t.Errorf("text: %v", err)
	}
	if err := ink(t.Context(), c, 1); !errors.Is(err, file.ErrDamaged) {
		t.Errorf("inking: %v", err)
	}
}

func TestPictureWithOtherBytes(t *testing.T) {
	path := newCoach(t, 1)
	noError(t, open(t, path).Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) {
		return file.Inking{Pictures: map[string][]byte{abc: []byte("abc")}}, nil
	}))
	change(t, path, "DROP TRIGGER picture_update", "UPDATE picture SET jpeg = x'616264'",
		"CREATE TRIGGER picture_update BEFORE UPDATE ON picture WHEN true BEGIN SELECT RAISE(ABORT, 'lapmark: what is in the ledger is never changed'); END")
	if jpeg, err := open(t, path).Picture(abc); !errors.Is(err, file.ErrDamaged) {
		t.Errorf("picture is %q, %v", jpeg, err)
	}
}

// small is a coach file of every table, as bytes.
func small(t *testing.T) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "7QX2M4.coach")
	noError(t, file.CreateWith(path, file.Inking{
		Leaves:   append(leavesFrom(1, 20), bytes.Repeat([]byte("long "), 4000)),
		Pictures: map[string][]byte{abc: []byte("abc")},
		Branches: [][]byte{leaf(1)},
	}))
	b, err := os.ReadFile(path)
	noError(t, err)
	return b
}

// use opens path and asks it everything; the first error is returned.
func use(path string, opening func(string) (*file.Coach, error)) error {
	c, err := opening(path)
	if err != nil {
		return err
	}
	_, textErr := c.Text()
	_, pictureErr := c.Picture(abc)
	_, listErr := c.Pictures()
	_, branchErr := c.Branches()
	return errors.Join(textErr, pictureErr, listErr, branchErr, c.Close())
}

// typed says whether err is one a caller can tell apart.
func typed(err error) bool {
	var newer file.NewerError
	if errors.As(err, &newer) || errors.Is(err, fs.ErrNotExist) {
		return true
	}
	for _, sort := range sorts() {
		if errors.Is(err, sort) {
			return true
		}
	}
	return false
}

func TestTruncatedFile(t *testing.T) {
	whole := small(t)
	path := filepath.Join(t.TempDir(), "7QX2M4.coach")
	for size := 0; size < len(whole); size += 509 {
		noError(t, os.WriteFile(path, whole[:size], 0o600))
		err := use(path, file.Open)
		if err == nil || !typed(err) {
			t.Errorf("cut off at %d of %d: %v", size, len(whole), err)
		}
		if size >= 4096 && !errors.Is(err, file.ErrDamaged) {
			t.Errorf("cut off at %d of %d: %v, not damaged", size, len(whole), err)
		}
	}
}

// Bytes that belong to nothing, or to a leaf, may change unseen here: the
// check of the text sees the latter. What is seen has its name.
func TestFlippedBytes(t *testing.T) {
	whole := small(t)
	chance := rand.New(rand.NewPCG(7, 11))
	path := filepath.Join(t.TempDir(), "7QX2M4.coach")
	seen := 0
	for round := range 800 {
		b := bytes.Clone(whole)
		places := ""
		for range 1 + chance.IntN(3) {
			at := chance.IntN(len(b))
			if round%2 == 0 {
				at = chance.IntN(120) // the header and the root of the list of tables
			}
			b[at] ^= byte(1 + chance.IntN(255))
			places += fmt.Sprintf(" %d=%#x", at, b[at])
		}
		noError(t, os.WriteFile(path, b, 0o600))
		for _, opening := range []func(string) (*file.Coach, error){file.OpenReadOnly, file.Open} {
			if err := use(path, opening); err != nil {
				seen++
				if !typed(err) {
					t.Errorf("changed at%s: %v", places, err)
				}
			}
		}
	}
	if seen < 250 {
		t.Errorf("only %d changes were noticed", seen)
	}
}

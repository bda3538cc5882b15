package book

import (
	"bytes"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	_ "modernc.org/sqlite"

	"lapmark/testdata"
)

// sqlite3 asks the program of SQLite's own makers
// (https://www.sqlite.org/cli.html), another build of another release.
func sqlite3(t *testing.T, path, query string) string {
	t.Helper()
	out, err := exec.Command(testdata.Program(t, "sqlite3"), "-readonly", path, query).CombinedOutput()
	if err != nil {
		t.Fatalf("sqlite3 %q: %v\n%s", query, err, out)
	}
	return string(out)
}

func TestTheProgramReadsTheBook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.db")
	noError(t, Create(path))
	b, err := Open(path)
	noError(t, err)
	noError(t, b.Reindex(fleet(50)))
	noError(t, b.SetSetting("zone", "Europe/Copenhagen"))
	noError(t, b.Close())
	for query, want := range map[string]string{
		"pragma integrity_check":                       "ok\n",
		"pragma application_id":                        "1280331074\n", // "LPMB"
		"pragma user_version":                          "4\n",
		"pragma journal_mode":                          "wal\n",
		"select value from setting where key = 'zone'": "Europe/Copenhagen\n",
		"select count(*) from coach":                   "50\n",
		"select name from pragma_table_list where schema = 'main' and type = 'table' and not strict and name not like 'sqlite_%'": "",
	} {
		if got := sqlite3(t, path, query); got != want {
			t.Errorf("sqlite3 %q says %q", query, got)
		}
	}
}

func TestCreateNeverWritesOver(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.db")
	noError(t, os.WriteFile(path, []byte("mine"), 0o600))
	if err := Create(path); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over an existing file: %v", err)
	}
	if was, err := os.ReadFile(path); err != nil || string(was) != "mine" {
		t.Errorf("the file is now %q, %v", was, err)
	}
}

// change alters a closed book by SQL.
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

func TestBooksThatAreRefused(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "book.db")
	made := func(statements ...string) {
		noError(t, Create(path))
		change(t, path, statements...)
	}
	cases := map[string]struct {
		prepare func()
		want    error
	}{
		"none":              {func() {}, ErrMissing},
		"empty":             {func() { noError(t, os.WriteFile(path, nil, 0o600)) }, ErrDamaged},
		"a text":            {func() { noError(t, os.WriteFile(path, []byte("slips of 2020"), 0o600)) }, ErrNotBook},
		"other application": {func() { made("PRAGMA application_id = 1280331075") }, ErrNotBook},
		"no version":        {func() { made("PRAGMA user_version = 0") }, ErrNotBook},
		"newer":             {func() { made("PRAGMA user_version = 9") }, NewerError{Version: 9, Known: len(migrations())}},
		"cut off":           {func() { made(); noError(t, os.Truncate(path, 4096*5)) }, ErrDamaged},
	}
	for name, c := range cases {
		c.prepare()
		b, err := Open(path)
		if !errors.Is(err, c.want) || !strings.HasPrefix(err.Error(), path+": ") {
			t.Errorf("%s: %v", name, err)
		}
		if b != nil {
			noError(t, b.Close())
		}
		noError(t, os.RemoveAll(path))
	}
}

func TestSettings(t *testing.T) {
	b := newBook(t)
	for _, value := range []string{"", "Europe/Copenhagen", `'); DROP TABLE slip; --`} {
		if value != "" {
			noError(t, b.SetSetting("zone", value))
		}
		if got, err := b.Setting("zone"); err != nil || got != value {
			t.Errorf("setting is %q, %v, not %q", got, err, value)
		}
	}
}

func TestMarks(t *testing.T) {
	b := newBook(t)
	noError(t, b.AddMark(Mark{"hand-2", "Maud Thornbeck", "2020-03-01"}))
	noError(t, b.AddMark(Mark{"hand-1", "Osric Wendover", "2020-03-01"}))
	noError(t, b.AddMark(Mark{"hand-1", "Osric Wendover", "2021-01-01"}))
	if err := b.AddMark(Mark{"hand-1", "Somebody Else", "2021-01-01"}); !errors.Is(err, ErrTaken) {
		t.Errorf("a mark for a second person: %v", err)
	}
	marks, err := b.Marks()
	noError(t, err)
	equal(t, marks, []Mark{{"hand-1", "Osric Wendover", "2020-03-01"}, {"hand-2", "Maud Thornbeck", "2020-03-01"}})
}

func TestHeads(t *testing.T) {
	b := newBook(t)
	first := Head{"ledger", 17, "root", "2020-05-04T10:00:00Z"}
	noError(t, b.Together(SawHead(first)))
	noError(t, b.Together(SawHead(Head{"ledger", 17, "root", "2021-01-01T10:00:00Z"})))
	second := Head{"ledger", 17, "another root", "2020-06-01T10:00:00Z"}
	noError(t, b.Together(SawHead(second)))
	noError(t, b.Together(SawHead(Head{"another ledger", 3, "root", "2020-05-04T10:00:00Z"})))
	earlier := Head{"ledger", 2, "root", "2022-05-04T10:00:00Z"}
	noError(t, b.Together(SawHead(earlier)))
	heads, err := b.Heads("ledger")
	noError(t, err)
	equal(t, heads, []Head{earlier, first, second})
}

// traces counts in the files of the folder.
func traces(t *testing.T, folder, of string) (n int) {
	t.Helper()
	names, err := os.ReadDir(folder)
	noError(t, err)
	for _, name := range names {
		b, err := os.ReadFile(filepath.Join(folder, name.Name()))
		noError(t, err)
		n += bytes.Count(bytes.ToLower(b), []byte(strings.ToLower(of)))
	}
	return n
}

func TestTogetherIsAllOrNone(t *testing.T) {
	b := newBook(t)
	noError(t, b.Together(Set("one", "1"), Set("two", "2")))
	wrong := PutSlips("ledger", []Slip{{"c1", 1, "name", "slip", "open"}})
	if err := b.Together(Unset("one"), Set("two", "3"), wrong); err == nil {
		t.Fatal("a slip of no sort was kept")
	}
	for key, want := range map[string]string{"one": "1", "two": "2"} {
		if value, err := b.Setting(key); err != nil || value != want {
			t.Errorf("%s is %q, %v", key, value, err)
		}
	}
}

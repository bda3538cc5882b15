package file_test

import (
	"os/exec"
	"strings"
	"testing"

	"lapmark/ledger/file"
	"lapmark/testdata"
)

// The program sqlite3 (https://www.sqlite.org/cli.html) is the outside check
// of this file: another build of another release of SQLite.

// sqliteSays fails unless the program answers the query with want.
func sqliteSays(t *testing.T, path, want, query string) {
	t.Helper()
	out, err := exec.Command(testdata.Program(t, "sqlite3"), "-readonly", path, query).CombinedOutput()
	if err != nil || string(out) != want {
		t.Errorf("sqlite3 %q: %v\n%s", query, err, out)
	}
}

func TestTheProgramReadsTheFile(t *testing.T) {
	path := newCoach(t, 3)
	noError(t, ink(t.Context(), open(t, path), 2))
	for query, want := range map[string]string{
		"pragma integrity_check": "ok\n",
		"pragma application_id":  "1280331075\n", // "LPMC"
		"pragma user_version":    "1\n",
		"pragma journal_mode":    "delete\n",
		"select name from pragma_table_list where schema = 'main' and not strict and name not like 'sqlite_%'": "",
		"select name from pragma_table_list where schema = 'main' and strict order by name":                    "branch\nentry\npicture\n",
		"select count(*), min(number), max(number) from entry":                                                 "5|1|5\n",
		"select cast(leaf as text) from entry where number = 4":                                                string(leaf(4)) + "\n",
	} {
		sqliteSays(t, path, want, query)
	}
}

// refused fails unless the program is refused with this exit code and words.
func refused(t *testing.T, path string, code int, words, query string) {
	t.Helper()
	cmd := exec.Command(testdata.Program(t, "sqlite3"), "-batch", path, query)
	out, err := cmd.CombinedOutput()
	if err == nil || cmd.ProcessState.ExitCode() != code || !strings.Contains(string(out), words) {
		t.Errorf("sqlite3 %q: %v, not exit %d with %q\n%s", query, err, code, words, out)
	}
}

// The exit codes are SQLite's result codes: 19 constraint, 20 mismatch.
func TestAccidentsAreRefused(t *testing.T) {
	path := newCoach(t, 3)
	noError(t, open(t, path).Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) {
		return file.Inking{Pictures: map[string][]byte{abc: []byte("abc")}, Branches: [][]byte{leaf(9)}}, nil
	}))
	const never, out = "lapmark: what is in the ledger is never changed", "lapmark: what is in the ledger is never taken out"
	refused(t, path, 19, never, "update entry set leaf = x'00' where number = 2")
	refused(t, path, 19, never, "update entry set number = 9 where number = 3")
	refused(t, path, 19, out, "delete from entry where number = 3")
	refused(t, path, 19, never, "update picture set jpeg = x'00'")
	refused(t, path, 19, out, "delete from picture")
	refused(t, path, 19, never, "update branch set text = x'00'")
	refused(t, path, 19, out, "delete from branch")
	const over = "lapmark: an entry follows the last one and is never written over"
	refused(t, path, 19, over, "insert into entry values (2, x'00')")
	refused(t, path, 19, over, "insert or replace into entry values (2, x'00')")
	refused(t, path, 19, over, "replace into entry values (3, x'00')")
	refused(t, path, 19, over, "insert into entry values (2, x'00') on conflict do update set leaf = x'00'")
	refused(t, path, 19, over, "insert into entry values (5, x'00')")
	refused(t, path, 19, "lapmark: a picture in the ledger is never written over",
		"insert or replace into picture values ('"+abc+"', x'00')")
	refused(t, path, 19, "lapmark: a branch follows the last one and is never written over",
		"insert or replace into branch values (1, x'00')")
	refused(t, path, 19, "TEXT", "insert into entry values (4, 'a text')")
	refused(t, path, 20, "mismatch", "insert into entry values ('four', x'00')")
	text, err := open(t, path).Text()
	noError(t, err)
	if string(text) != textOf(leavesFrom(1, 3)) {
		t.Errorf("text is %q", text)
	}
}

package disk

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

func noError(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestNamingWhereTheFileSystemHasNoLinks(t *testing.T) {
	folder := t.TempDir()
	temp, path := filepath.Join(folder, "temp"), filepath.Join(folder, "path")
	noLinks := func(old, new string) error {
		return &os.LinkError{Op: "link", Old: old, New: new, Err: syscall.EPERM}
	}
	noError(t, os.WriteFile(temp, []byte("whole"), 0o600))
	noError(t, giveName(temp, path, noLinks))
	if b, err := os.ReadFile(path); err != nil || string(b) != "whole" {
		t.Errorf("named %q, %v", b, err)
	}
	noError(t, os.WriteFile(temp, []byte("other"), 0o600))
	for _, link := range []func(string, string) error{noLinks, os.Link} {
		if err := giveName(temp, path, link); !errors.Is(err, fs.ErrExist) {
			t.Errorf("over an existing file: %v", err)
		}
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != "whole" {
		t.Errorf("now it is %q, %v", b, err)
	}
	if err := giveName(filepath.Join(folder, "gone"), filepath.Join(folder, "new"), noLinks); err == nil {
		t.Error("a file that is not there was named")
	}
	if _, err := os.Stat(filepath.Join(folder, "new")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the name was kept: %v", err)
	}
}

func TestBuildTakesItsTracesAway(t *testing.T) {
	folder := t.TempDir()
	failed := errors.New("no flour left")
	err := Build(filepath.Join(folder, "path"), func(temp string) error {
		return errors.Join(failed, os.WriteFile(temp+"-journal", nil, 0o600))
	})
	if !errors.Is(err, failed) {
		t.Errorf("error is %v", err)
	}
	names, err := os.ReadDir(folder)
	noError(t, err)
	if len(names) != 0 {
		t.Errorf("left behind: %v", names)
	}
}

func TestBuildFindsItsNameTakenMeanwhile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "path")
	err := Build(path, func(temp string) error {
		return errors.Join(os.WriteFile(temp, []byte("ours"), 0o600), os.WriteFile(path, []byte("theirs"), 0o600))
	})
	if !errors.Is(err, fs.ErrExist) {
		t.Errorf("error is %v", err)
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != "theirs" {
		t.Errorf("now it is %q, %v", b, err)
	}
}

// busy returns the error SQLite gives at once when another connection writes.
func busy(t *testing.T) error {
	t.Helper()
	path := filepath.Join(t.TempDir(), "any.db")
	db, err := sql.Open("sqlite", "file:"+path+"?_txlock=immediate&_pragma=busy_timeout(0)")
	noError(t, err)
	t.Cleanup(func() { noError(t, db.Close()) })
	first, err := db.Begin()
	noError(t, err)
	_, err = db.Begin()
	noError(t, first.Rollback())
	return err
}

func TestInTxHoldsTheWriteLockFromTheStart(t *testing.T) {
	form := Form{
		Strange: errors.New("another file"), ID: 7, Version: 1,
		Pragmas: []Pragma{{"busy_timeout", "0", "0"}},
	}
	path := filepath.Join(t.TempDir(), "any.db")
	noError(t, form.Create(path, func(db *sql.DB) error {
		_, err := db.Exec("PRAGMA user_version = 1")
		return err
	}))
	db, _, err := form.Open(path, Write)
	noError(t, err)
	t.Cleanup(func() { noError(t, db.Close()) })
	nothing := func(*sql.Tx) error { return nil }
	noError(t, InTx(t.Context(), db, func(*sql.Tx) error {
		if err := InTx(t.Context(), db, nothing); !errors.Is(Fault(path, err), ErrBusy) {
			t.Errorf("a second writer: %v", err)
		}
		return nil
	}))
	noError(t, InTx(t.Context(), db, nothing))
}

func TestPragmasAreReadBack(t *testing.T) {
	strange := errors.New("another file")
	form := Form{Strange: strange, ID: 7, Version: 1, Pragmas: []Pragma{{"synchronous", "EXTRA", "2"}}}
	err := form.Create(filepath.Join(t.TempDir(), "any.db"), func(*sql.DB) error { return nil })
	if !errors.Is(err, strange) {
		t.Errorf("a setting that did not take: %v", err)
	}
}

// The codes of SQLite themselves are met in the tests of the packages that
// use this one; busy would take them ten seconds.
func TestFault(t *testing.T) {
	for name, c := range map[string]struct{ err, want error }{
		"busy":             {busy(t), ErrBusy},
		"no rights":        {&fs.PathError{Op: "open", Path: "p", Err: syscall.EACCES}, ErrReadOnly},
		"read-only medium": {&fs.PathError{Op: "open", Path: "p", Err: syscall.EROFS}, ErrReadOnly},
		"full":             {&fs.PathError{Op: "write", Path: "p", Err: syscall.ENOSPC}, ErrFull},
		"missing":          {fmt.Errorf("deeper: %w", fs.ErrNotExist), ErrMissing},
	} {
		err := Fault("/roofs/7QX2M4.coach", c.err)
		if !errors.Is(err, c.want) || !errors.Is(err, c.err) {
			t.Errorf("%s: %v", name, err)
		}
	}
	plain := errors.New("some fault")
	if err := Fault("p", plain); err.Error() != "p: some fault" || !errors.Is(err, plain) {
		t.Errorf("another error became %q", err)
	}
	if err := Fault("p", nil); err != nil {
		t.Errorf("nothing became %v", err)
	}
}

package book

import (
	"errors"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

func equal[T any](t *testing.T, got, want []T) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
}

func TestSlips(t *testing.T) {
	b := newBook(t)
	phone := Slip{"c2", 3, "phone", "slip 2", Private}
	name := Slip{"c1", 3, "name", "slip 1", Private}
	note := Slip{"c0", 12, "note", "slip 0", Word}
	noError(t, b.Together(PutSlips("ledger", []Slip{note, phone, name})))
	noError(t, b.Together(PutSlips("another", []Slip{{"c1", 1, "name", "of another ledger", Private}})))
	slips, err := b.Slips("ledger")
	noError(t, err)
	equal(t, slips, []Slip{name, phone, note})
	phone.Entry = 4 // inked again, after another writer
	noError(t, b.Together(PutSlips("ledger", []Slip{phone})))
	slips, err = b.Slips("ledger")
	noError(t, err)
	equal(t, slips, []Slip{name, phone, note})
	noError(t, b.DropSlips("ledger", []string{"c1", "c2", "not there"}))
	slips, err = b.Slips("ledger")
	noError(t, err)
	equal(t, slips, []Slip{note})
}

func TestPutSlipsIsAllOrNone(t *testing.T) {
	b := newBook(t)
	err := b.Together(PutSlips("ledger", []Slip{{"c1", 1, "name", "slip", Private}, {"c2", 1, "phone", "slip", "open"}}))
	if err == nil {
		t.Error("a slip of no sort went in")
	}
	slips, err := b.Slips("ledger")
	noError(t, err)
	equal(t, slips, nil)
}

func TestErasedSlipsLeaveNoTrace(t *testing.T) {
	b := newBook(t)
	folder := filepath.Dir(b.path)
	long := strings.Repeat("Adela-Brunskog-555-0147 ", 1000) // on pages of its own
	noError(t, b.Together(PutSlips("ledger", []Slip{
		{"c1", 3, "name", "QWRlbGEgQnJ1bnNrb2c", Private}, {"c2", 3, "note", long, Word}, {"c3", 4, "name", "UGllcnMgT2tvbnRh", Private},
	})))
	if traces(t, folder, "QWRlbGEgQnJ1bnNrb2c") == 0 || traces(t, folder, "Adela-Brunskog") < 900 {
		t.Fatal("the slips are not where this test looks for them")
	}
	noError(t, b.DropSlips("ledger", []string{"c1", "c2"}))
	if n := traces(t, folder, "QWRlbGEgQnJ1bnNrb2c") + traces(t, folder, "Adela-Brunskog"); n != 0 {
		t.Errorf("%d traces of erased slips", n)
	}
	if traces(t, folder, "UGllcnMgT2tvbnRh") == 0 {
		t.Error("the slip that stays is gone")
	}
}

// While somebody reads the WAL it cannot be emptied; that must be said. The
// 10 s of waiting are cut short here.
func TestEraseSaysWhenATraceIsLeft(t *testing.T) {
	b := newBook(t)
	b.db.SetMaxOpenConns(2)
	noError(t, b.Together(PutSlips("ledger", []Slip{{"c1", 3, "name", "QWRlbGEgQnJ1bnNrb2c", Private}})))
	rows, err := b.db.Query("SELECT slip FROM slip UNION ALL SELECT slip FROM slip")
	noError(t, err)
	if !rows.Next() {
		t.Fatal("nothing to read")
	}
	if _, err := b.db.Exec("PRAGMA busy_timeout = 50"); err != nil { // the other connection
		t.Fatal(err)
	}
	if err := b.DropSlips("ledger", []string{"c1"}); !errors.Is(err, ErrBusy) {
		t.Errorf("under a reader: %v", err)
	}
	noError(t, rows.Close())
	noError(t, rows.Err())
	noError(t, b.DropSlips("ledger", nil))
	if n := traces(t, filepath.Dir(b.path), "QWRlbGEgQnJ1bnNrb2c"); n != 0 {
		t.Errorf("%d traces after the next erasing", n)
	}
}

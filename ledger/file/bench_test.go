package file_test

import (
	"bytes"
	"database/sql"
	"errors"
	"path/filepath"
	"testing"

	"lapmark/ledger/file"
)

// thousand is 1,000 leaves of the size entries have.
func thousand() [][]byte {
	leaves := make([][]byte, 1000)
	for i := range leaves {
		leaves[i] = bytes.Repeat([]byte("0123456789abcdef"), 64)
	}
	return leaves
}

// BenchmarkOpenAndText opens a file of 1,000 entries and reads it.
func BenchmarkOpenAndText(b *testing.B) {
	path := filepath.Join(b.TempDir(), "7QX2M4.coach")
	if err := file.CreateWith(path, file.Inking{Leaves: thousand()}); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		c, err := file.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		if text, err := c.Text(); err != nil || len(text) != 1000*1024 {
			b.Fatal(len(text), err)
		}
		if err := c.Close(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkInk and BenchmarkBareDriver put 60 leaves into an empty file, in
// one transaction: the second is the measure for the first.
func BenchmarkInk(b *testing.B) {
	leaves := thousand()[:60]
	for range b.N {
		b.StopTimer()
		path := filepath.Join(b.TempDir(), "7QX2M4.coach")
		if err := file.Create(path); err != nil {
			b.Fatal(err)
		}
		c, err := file.Open(path)
		if err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		err = c.Ink(b.Context(), func([]byte, [][]byte) (file.Inking, error) { return file.Inking{Leaves: leaves}, nil })
		b.StopTimer()
		if err := errors.Join(err, c.Close()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBareDriver(b *testing.B) {
	leaves := thousand()[:60]
	for range b.N {
		b.StopTimer()
		path := filepath.Join(b.TempDir(), "bare.db")
		db, err := sql.Open("sqlite", path+"?_pragma=synchronous(EXTRA)&_txlock=immediate")
		if err != nil {
			b.Fatal(err)
		}
		if _, err := db.Exec("CREATE TABLE entry (number INTEGER PRIMARY KEY, leaf BLOB NOT NULL) STRICT"); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		err = bareInsert(db, leaves)
		b.StopTimer()
		if err := errors.Join(err, db.Close()); err != nil {
			b.Fatal(err)
		}
	}
}

func bareInsert(db *sql.DB, leaves [][]byte) error {
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	for _, leaf := range leaves {
		if _, err := tx.Exec("INSERT INTO entry (leaf) VALUES (?)", leaf); err != nil {
			return err
		}
	}
	return tx.Commit()
}

package book

import (
	"path/filepath"
	"testing"
)

func noError(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// newBook makes a book and opens it.
func newBook(t testing.TB) *Book {
	t.Helper()
	path := filepath.Join(t.TempDir(), "book.db")
	noError(t, Create(path))
	return reopened(t, path)
}

func reopened(t testing.TB, path string) *Book {
	t.Helper()
	b, err := Open(path)
	noError(t, err)
	t.Cleanup(func() { noError(t, b.Close()) })
	return b
}

package book

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"lapmark/testdata"
)

func TestFullDisk(t *testing.T) {
	folder := testdata.Mount(t, "size=1m")
	path := filepath.Join(folder, "book.db")
	noError(t, Create(path))
	ballast := filepath.Join(folder, "ballast")
	noError(t, os.WriteFile(ballast, make([]byte, 500_000), 0o600))
	b, err := Open(path)
	noError(t, err)
	kept := 0
	for ; err == nil; kept++ {
		err = b.SetSetting(fmt.Sprint(kept), strings.Repeat("x", 30_000))
	}
	kept--
	if kept < 5 || !errors.Is(err, ErrFull) {
		t.Errorf("after %d settings: %v", kept, err)
	}
	if err := Create(filepath.Join(folder, "another.db")); !errors.Is(err, ErrFull) {
		t.Errorf("a new book on a full disk: %v", err)
	}
	if err := b.Close(); !errors.Is(err, ErrFull) {
		t.Errorf("closing with a WAL that finds no room in the file: %v", err)
	}
	noError(t, os.Remove(ballast))
	b = reopened(t, path)
	for i := range kept {
		if value, err := b.Setting(fmt.Sprint(i)); err != nil || len(value) != 30_000 {
			t.Errorf("acknowledged setting %d: %d bytes, %v", i, len(value), err)
		}
	}
}

func TestReadOnlyMedium(t *testing.T) {
	folder := testdata.Mount(t, "size=1m")
	path := filepath.Join(folder, "book.db")
	noError(t, Create(path))
	noError(t, syscall.Mount("tmpfs", folder, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	if b, err := Open(path); !errors.Is(err, ErrReadOnly) {
		t.Errorf("a book on a medium that cannot be written: %v", err)
		if b != nil {
			noError(t, b.Close())
		}
	}
	if err := Create(filepath.Join(folder, "another.db")); !errors.Is(err, ErrReadOnly) {
		t.Errorf("a new book there: %v", err)
	}
}

// However much room there is, a new book is whole or not there.
func TestCreateOnANearlyFullDisk(t *testing.T) {
	folder := testdata.Mount(t, "size=1m")
	path, ballast := filepath.Join(folder, "book.db"), filepath.Join(folder, "ballast")
	made := 0
	for room := 0; room < 700<<10; room += 8 << 10 {
		noError(t, os.WriteFile(ballast, make([]byte, 1<<20-room), 0o600))
		err := Create(path)
		if err != nil && !errors.Is(err, ErrFull) {
			t.Errorf("%d bytes of room: %v", room, err)
		}
		noError(t, os.Remove(ballast))
		if err == nil {
			made++
			b, err := Open(path)
			noError(t, err)
			if _, err := b.Setting("zone"); err != nil {
				t.Errorf("%d bytes of room: %v", room, err)
			}
			noError(t, b.Close())
			noError(t, os.Remove(path))
		}
		if left := names(t, folder); left != "" {
			t.Errorf("%d bytes of room: %s is left", room, left)
		}
	}
	if made == 0 {
		t.Error("it never had room")
	}
}

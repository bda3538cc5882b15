package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"

	"modernc.org/sqlite"
)

// What can be wrong with a file on the disk. Fault wraps one of these; a
// caller asks with errors.Is.
var (
	ErrBusy     = errors.New("in use by another program")
	ErrFull     = errors.New("no room left on the disk")
	ErrReadOnly = errors.New("no right to open or write it here")
	ErrDamaged  = errors.New("the file is damaged")
	ErrMissing  = errors.New("no such file")
)

// NewerError says that a file was written by a newer program: its number is
// Version, this program reads up to Known.
type NewerError struct {
	Version, Known int
}

func (e NewerError) Error() string {
	return fmt.Sprintf("written by a newer program: version %d, this one reads up to %d", e.Version, e.Known)
}

// Result codes of SQLite (https://www.sqlite.org/rescode.html). The low byte
// is the class, the rest says more about it.
const (
	codeError    = 1
	codeBusy     = 5
	codeReadOnly = 8
	codeCorrupt  = 11
	codeFull     = 13
	codeCantOpen = 14
	codeTooBig   = 18
	codeNotADB   = 26

	// The index of a WAL could not be made longer; its low byte says "I/O".
	codeShmSize = 10 | 19<<8
)

// Fault returns err with the path before it and, where SQLite or the
// operating system says which it is, one of the errors of this package. Nil
// stays nil.
func Fault(path string, err error) error {
	if err == nil {
		return nil
	}
	if sort := sortOf(path, err); sort != nil && !errors.Is(err, sort) {
		return fmt.Errorf("%s: %w: %w", path, sort, err)
	}
	return fmt.Errorf("%s: %w", path, err)
}

// sortOf returns the error of this package that err is a case of, or nil.
func sortOf(path string, err error) error {
	var lite *sqlite.Error
	if errors.As(err, &lite) && lite.Code() == codeShmSize {
		return ErrFull
	}
	switch code(err) {
	case codeBusy:
		return ErrBusy
	case codeFull:
		return ErrFull
	case codeReadOnly:
		return ErrReadOnly
	case codeCorrupt, codeNotADB, codeTooBig:
		return ErrDamaged
	case codeCantOpen:
		if _, statErr := os.Stat(path); errors.Is(statErr, fs.ErrNotExist) {
			return ErrMissing
		}
		return ErrReadOnly
	}
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return ErrFull
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return ErrReadOnly
	case errors.Is(err, fs.ErrNotExist):
		return ErrMissing
	}
	return nil
}

// code returns the class of SQLite's result code in err, 0 if there is none.
func code(err error) int {
	var lite *sqlite.Error
	if !errors.As(err, &lite) {
		return 0
	}
	return lite.Code() & 0xff
}

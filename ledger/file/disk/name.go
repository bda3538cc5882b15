package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// sidecars are the names SQLite puts beside a file, by their endings
// (https://www.sqlite.org/tempfiles.html).
func sidecars() []string { return []string{"-journal", "-wal", "-shm"} }

// Build makes the file path all or not at all: fill writes it under a
// temporary name in the same folder, then it is brought to the disk and
// named. A file that is already there is never written over; then the error
// is an fs.ErrExist. Only its owner may read the new file.
func Build(path string, fill func(temp string) error) (err error) {
	if err := unused(path); err != nil {
		return err
	}
	temp, err := emptyFile(path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, remove(temp)) }()
	if err := fill(temp); err != nil {
		return err
	}
	if err := syncPath(temp); err != nil {
		return err
	}
	if err := giveName(temp, path, os.Link); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// unused returns an fs.ErrExist if path is taken, or if a sidecar of an
// earlier file of that name lies there: SQLite would play it into the new one.
func unused(path string) error {
	for _, end := range append([]string{""}, sidecars()...) {
		_, err := os.Lstat(path + end)
		if err == nil {
			return fmt.Errorf("%w: %s", fs.ErrExist, filepath.Base(path)+end)
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// emptyFile makes an empty file beside path and returns its name.
func emptyFile(path string) (string, error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.new")
	if err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// giveName gives the file temp the name path unless that name is taken. link
// is os.Link, which cannot write over a file; where the file system knows no
// links, the name is first taken with an empty file and then moved onto.
func giveName(temp, path string, link func(old, new string) error) error {
	err := link(temp, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	place, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	if err := place.Close(); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	if err := os.Rename(temp, path); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return nil
}

// remove takes away a temporary file and what SQLite left beside it.
func remove(temp string) error {
	var all error
	for _, end := range append([]string{""}, sidecars()...) {
		if err := os.Remove(temp + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			all = errors.Join(all, err)
		}
	}
	return all
}

// syncFolder brings the names in a folder to the disk. Windows knows no such
// thing; there it does nothing.
func syncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	return syncPath(folder)
}

// syncPath brings a file or the names in a folder to the disk.
func syncPath(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"lapmark/ledger/file"
)

// writeNew writes a whole file under a temporary name, syncs it and gives it
// its name, never over one that is there (fs.ErrExist). After an error no half
// file is left.
func writeNew(path string, data []byte, mode fs.FileMode) (err error) {
	temp, err := writeTemp(filepath.Dir(path), data, mode)
	if err != nil {
		return plainly(path, err)
	}
	defer func() { err = errors.Join(err, remove(temp)) }()
	if err := os.Link(temp, path); err != nil {
		return onlyNew(temp, path, err)
	}
	return syncFolder(filepath.Dir(path))
}

// Writable says whether files can be made in a folder, or in the one it would
// be made in, and leaves nothing there.
func Writable(folder string) error {
	for {
		info, err := os.Stat(folder)
		if err == nil && !info.IsDir() {
			return fmt.Errorf("%w: %s is no folder", ErrUse, folder)
		}
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrNotExist) || filepath.Dir(folder) == folder {
			return err
		}
		folder = filepath.Dir(folder)
	}
	temp, err := writeTemp(folder, nil, 0o600)
	if err != nil {
		return plainly(folder, err)
	}
	return remove(temp)
}

// plainly names the file that was to be written, and not the temporary one,
// where the disk is full or may not be written.
func plainly(path string, err error) error {
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("%s: %w", path, file.ErrFull)
	case errors.Is(err, syscall.EROFS), errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: %w", path, file.ErrReadOnly)
	}
	return err
}

// Folder says whether a folder is there and files can be made in it.
func Folder(folder string) error {
	switch info, err := os.Stat(folder); {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%w: the folder %s is not there", ErrUse, folder)
	case err != nil:
		return err
	case !info.IsDir():
		return fmt.Errorf("%w: %s is no folder", ErrUse, folder)
	}
	return Writable(folder)
}

// WriteNew writes a file that an answer goes into, never over one that is there.
func WriteNew(path string, data []byte) error { return writeNew(path, data, 0o644) }

// onlyNew names a file where the disk has no hard links.
func onlyNew(temp, path string, linked error) error {
	if errors.Is(linked, fs.ErrExist) {
		return &fs.PathError{Op: "write", Path: path, Err: fs.ErrExist}
	}
	if _, err := os.Lstat(path); err == nil {
		return &fs.PathError{Op: "write", Path: path, Err: fs.ErrExist}
	}
	if err := os.Rename(temp, path); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// replace writes a whole file in one step over an older one of ours.
func replace(path string, data []byte, mode fs.FileMode) error {
	temp, err := writeTemp(filepath.Dir(path), data, mode)
	if err != nil {
		return plainly(path, err)
	}
	if err := os.Rename(temp, path); err != nil {
		return errors.Join(err, remove(temp))
	}
	return syncFolder(filepath.Dir(path))
}

func writeTemp(folder string, data []byte, mode fs.FileMode) (name string, err error) {
	f, err := os.CreateTemp(folder, ".writing-*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
	if err != nil {
		return "", errors.Join(err, remove(f.Name()))
	}
	return f.Name(), nil
}

func remove(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

func syncFolder(folder string) error {
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, errors.ErrUnsupported) || isInvalid(err) {
		err = nil
	}
	return errors.Join(err, f.Close())
}

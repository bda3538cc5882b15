package keyring

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// create writes a new file whole: under a temporary name first, then linked to
// its own, which fails with fs.ErrExist when that name is taken.
func create(path string, content []byte, mode os.FileMode) error {
	return place(path, content, mode, func(temporary string) error {
		return errors.Join(os.Link(temporary, path), os.Remove(temporary))
	})
}

// replace writes a file whole over the one of that name.
func replace(path string, content []byte, mode os.FileMode) error {
	return place(path, content, mode, func(temporary string) error {
		if err := os.Rename(temporary, path); err != nil {
			return errors.Join(err, os.Remove(temporary))
		}
		return nil
	})
}

// place writes the content beside path, makes it last, lets name give it its
// name and makes that last too. After an error nothing of it is left.
func place(path string, content []byte, mode os.FileMode, name func(temporary string) error) error {
	folder := filepath.Dir(path)
	file, err := os.CreateTemp(folder, ".new-*")
	if err != nil {
		return err
	}
	_, err = file.Write(content)
	err = errors.Join(err, file.Chmod(mode), file.Sync(), file.Close())
	if err != nil {
		return errors.Join(err, os.Remove(file.Name()))
	}
	if err := name(file.Name()); err != nil {
		return err
	}
	return syncFolder(folder)
}

// syncFolder makes the names in a folder last. Windows has no such call and
// needs none.
func syncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	opened, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(opened.Sync(), opened.Close())
}

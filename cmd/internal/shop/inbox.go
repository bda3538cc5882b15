package shop

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"lapmark/ledger/picture"
)

// What was read from the inbox moves to inbox/read: photos once pencil keeps
// them byte for byte, a day sheet once its notes are in pencil.

// clearInbox moves the photos that pencil keeps of a coach. It comes after they
// were kept, and again before they are inked: a step that was cut off leaves
// them in the inbox, and is finished then.
func (s *Shop) clearInbox(plate string) error {
	rows, err := s.Book.Photos(plate)
	if err != nil {
		return err
	}
	for _, row := range rows {
		_, name, _ := strings.Cut(row.Name, "/")
		if err := s.setAside(name, row.Original); err != nil {
			return err
		}
	}
	return nil
}

// SheetRead moves a day sheet that is in pencil now, if it lies in the inbox and
// still says what was read.
func (s *Shop) SheetRead(path string, text []byte) error {
	folder, err := os.Stat(filepath.Dir(path))
	inbox, err2 := os.Stat(s.path(inboxFolder))
	if err != nil || err2 != nil || !os.SameFile(folder, inbox) {
		return nil
	}
	return s.setAside(filepath.Base(path), picture.Hex(text))
}

// setAside moves a file of the inbox, if it is the one of this hash: a phone
// gives the same names again, and another file of the name is for a note to
// come. For the same reason one that was read before is never written over: the
// new one has the first digits of its hash before its name.
func (s *Shop) setAside(name, hex string) error {
	path := s.path(inboxFolder, name)
	info, err := os.Stat(path)
	if err != nil || info.IsDir() || info.Size() > MaxPhoto {
		return ignoreMissing(err)
	}
	data, err := os.ReadFile(path)
	if err != nil || picture.Hex(data) != hex {
		return ignoreMissing(err)
	}
	read := s.path(inboxFolder, readFolder, name)
	if exists(read) {
		read = s.path(inboxFolder, readFolder, hex[:12]+"-"+name)
	}
	if err := os.Rename(path, read); err != nil {
		return ignoreMissing(err)
	}
	return errors.Join(syncFolder(filepath.Dir(read)), syncFolder(filepath.Dir(path)))
}

// ignoreMissing: a file that is not there was moved by another window.
func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

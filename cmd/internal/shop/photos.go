package shop

import (
	"fmt"
	"os"
	"path/filepath"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/picture"
)

// takePhotos keeps the pictures a note names, tied to the note.
func (s *Shop) takePhotos(n Read, note int64, folders []string) error {
	for _, name := range n.Photos {
		if err := s.takePhoto(n.Plate, name, note, folders); err != nil {
			return err
		}
	}
	return nil
}

// missingPhotos looks once more into the inbox for pictures that a note waits
// for.
func (s *Shop) missingPhotos(plate string, n Pending) error {
	names := ledger.Texts(n.Draft.Body["photos"])
	if len(names) == 0 {
		return nil
	}
	have, err := s.photosOf(plate)
	if err != nil {
		return err
	}
	for _, name := range names {
		if have[photoKey(n.Note, name)] != "" {
			continue
		}
		if err := s.takePhoto(plate, name, n.Note, nil); err != nil {
			return err
		}
	}
	return nil
}

// photoKey is the name of a picture in pencil: two notes may name different
// pictures alike.
func photoKey(note int64, name string) string { return ledger.Decimal(note) + "/" + name }

// MaxPhoto is the largest photo that is read, in bytes.
const MaxPhoto = 64 << 20

// takePhoto keeps a picture under its hash, if it lies in one of the folders.
// One that is not its own travel copy waits, and says why.
func (s *Shop) takePhoto(plate, name string, note int64, folders []string) error {
	for _, folder := range append(folders, s.path(inboxFolder)) {
		path := filepath.Join(folder, name)
		info, err := os.Stat(path)
		if err != nil || info.IsDir() {
			continue
		}
		if info.Size() > MaxPhoto {
			return fmt.Errorf("%w: %s has %d bytes, %d at most", ErrUse, path, info.Size(), MaxPhoto)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return s.keepPhoto(plate, name, note, data)
	}
	return nil
}

func (s *Shop) keepPhoto(plate, name string, note int64, data []byte) error {
	original := picture.Hex(data)
	row := book.Photo{Coach: plate, Name: photoKey(note, name), Original: original, Note: note}
	if travel, err := picture.Travel(data); err != nil {
		row.Why = err.Error()
	} else {
		row.Travel = travel
	}
	if path := s.path(photoFolder, original); !exists(path) {
		if err := writeNew(path, data, 0o644); err != nil {
			return err
		}
	}
	return s.Book.PutPhoto(row)
}

// photosOf are the travel copies at hand for a coach, by note and file name; a
// name whose photo waits is there without a hash.
func (s *Shop) photosOf(plate string) (map[string]string, error) {
	rows, err := s.Book.Photos(plate)
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	for _, p := range rows {
		out[p.Name] = p.Travel
	}
	return out, nil
}

// pictures gathers the travel copies that an entry names.
func (w *writing) pictures(a *ledger.Act) error {
	for _, hex := range ledger.Texts(a.Body["photos"]) {
		if w.dry || w.picture[hex] != nil {
			continue
		}
		data, err := os.ReadFile(w.shop.path(photoFolder, hex))
		if err != nil {
			return err
		}
		w.picture[hex] = data
	}
	return nil
}

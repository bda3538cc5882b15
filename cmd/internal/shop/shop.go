// Package shop is what a shop does: take in, note, ink, certify, give out. It
// joins the rooms of the house; the command line and the desk call it and hold
// no logic of their own.
package shop

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/ledger/book"
	"lapmark/ledger/day"
	"lapmark/report"
)

// Names of what lies in a shop folder.
const (
	bookFile     = "book.db"
	coachFolder  = "coaches"
	photoFolder  = "photos"
	paperFolder  = "papers"
	inboxFolder  = "inbox"
	readFolder   = "read" // in the inbox
	houseFile    = "house"
	trustFile    = "trust"
	retiredFile  = "trust-retired"
	termsFile    = "terms"
	coachSuffix  = ".coach"
	faceSuffix   = ".face"
	textSuffix   = ".txt"
	settingDemo  = "demo"
	settingZone  = "zone"
	settingOther = "recovery"
)

// Errors that callers branch on.
var (
	ErrNoShop     = errors.New("no shop in this folder")
	ErrShopThere  = errors.New("there is a shop in this folder already")
	ErrNoCoach    = errors.New("no such coach")
	ErrManyCoach  = errors.New("more than one coach")
	ErrUse        = errors.New("wrong use")
	ErrRefused    = errors.New("refused")
	ErrClock      = errors.New("the clock of this machine needs a look")
	ErrNotOurKey  = errors.New("this key is not the house of the ledger")
	ErrNothing    = errors.New("nothing to do")
	ErrUnreadable = errors.New("cannot be read")

	// ErrNotGivenOut says that what is kept of a paper is not what left.
	ErrNotGivenOut = errors.New("not the one given out")

	// ErrCannotSay says that the ledger holds what this program does not know
	// and what can change cover: nothing is judged over it.
	ErrCannotSay = errors.New("cannot say")
)

// Shop is an open shop folder.
type Shop struct {
	Folder  string
	Book    *book.Book
	Terms   report.Terms
	Trust   keyring.Trust
	Retired keyring.Trust
	House   sshsig.PublicKey
	Demo    bool // everything in it is invented, its keys are known to everybody
	Still   bool // the folder can only be read here
	Now     func() time.Time
	Random  io.Reader
}

// Options are what a shop is opened with; the zero value is for daily use.
type Options struct {
	Now    func() time.Time
	Random io.Reader
}

func (o Options) filled() Options {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Random == nil {
		o.Random = rand.Reader
	}
	return o
}

// Find returns the shop folder: the one named, else that of LAPMARK_SHOP given
// as env, else the first one upwards from here. The error is ErrNoShop.
func Find(named, env, here string) (string, error) {
	for _, folder := range []string{named, env} {
		if folder == "" {
			continue
		}
		if !isShop(folder) {
			return "", fmt.Errorf("%w: %s", ErrNoShop, folder)
		}
		return folder, nil
	}
	for folder := here; ; folder = filepath.Dir(folder) {
		if isShop(folder) {
			return folder, nil
		}
		if filepath.Dir(folder) == folder {
			return "", fmt.Errorf("%w or above it: %s", ErrNoShop, here)
		}
	}
}

func isShop(folder string) bool {
	_, err := os.Stat(filepath.Join(folder, bookFile))
	return err == nil
}

// Open opens a shop folder. The error names the file that is at fault.
func Open(folder string, o Options) (*Shop, error) {
	o = o.filled()
	if !isShop(folder) {
		return nil, fmt.Errorf("%w: %s", ErrNoShop, folder)
	}
	s := &Shop{Folder: folder, Now: o.Now, Random: o.Random}
	for _, read := range []func() error{s.readTerms, s.readTrust, s.readHouse, s.openBook} {
		if err := read(); err != nil {
			return nil, err
		}
	}
	if s.Still {
		return s, nil
	}
	if err := s.tidy(); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// Close closes the book.
func (s *Shop) Close() error { return s.Book.Close() }

func (s *Shop) path(names ...string) string {
	return filepath.Join(append([]string{s.Folder}, names...)...)
}

func (s *Shop) openBook() error {
	b, err := book.Open(s.path(bookFile))
	if errors.Is(err, book.ErrReadOnly) || errors.Is(err, fs.ErrPermission) {
		s.Still = true
		b, err = book.OpenStill(s.path(bookFile))
	}
	if err != nil {
		return err
	}
	s.Book = b
	demo, err := b.Setting(settingDemo)
	s.Demo = demo != ""
	return err
}

func (s *Shop) readTerms() error {
	text, err := os.ReadFile(s.path(termsFile))
	if err != nil {
		return err
	}
	if s.Terms, err = report.ParseTerms(text); err != nil {
		return fmt.Errorf("%s: %w", s.path(termsFile), err)
	}
	return nil
}

func (s *Shop) readTrust() error {
	for _, f := range []struct {
		name string
		list *keyring.Trust
	}{{trustFile, &s.Trust}, {retiredFile, &s.Retired}} {
		list, err := ReadTrust(s.path(f.name))
		if err != nil {
			return err
		}
		*f.list = list
	}
	return nil
}

// ReadTrust reads a trust file; one that is not there is the empty list.
func ReadTrust(path string) (keyring.Trust, error) {
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return keyring.Trust{}, nil
	}
	if err != nil {
		return keyring.Trust{}, err
	}
	list, err := keyring.ParseTrust(text)
	if err != nil {
		return keyring.Trust{}, fmt.Errorf("%s: %w", path, err)
	}
	return list, nil
}

func (s *Shop) readHouse() (err error) {
	s.House, err = keyring.ReadPublic(s.path(houseFile + ".pub"))
	return err
}

// stamp is now as an entry writes it.
func (s *Shop) stamp() string { return s.Now().UTC().Format("2006-01-02T15:04:05Z") }

// Today is the calendar day at the shop now, and the offset of its clock.
func (s *Shop) Today() (day, zone string) {
	now := s.Now().In(s.location())
	return now.Format("2006-01-02"), now.Format("-07:00")
}

// zoneOf is the offset of the shop's clock from UTC at noon of a day: +02:00.
func (s *Shop) zoneOf(d day.Day) string {
	year, month, n := d.Date()
	return time.Date(year, time.Month(month), n, 12, 0, 0, 0, s.location()).Format("-07:00")
}

// location is the time zone of the shop: the setting zone, else that of the
// machine.
func (s *Shop) location() *time.Location {
	if name, err := s.Book.Setting(settingZone); err == nil && name != "" {
		if loc, err := time.LoadLocation(name); err == nil {
			return loc
		}
	}
	return time.Local
}

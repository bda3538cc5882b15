package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/ledger/book"
	"lapmark/report"
)

// Beginning is all a new shop needs.
type Beginning struct {
	Terms      report.Terms
	Name       string // the name of the house in its own trust file
	Seed       [32]byte
	Passphrase []byte
	Recovery   sshsig.PublicKey
	Zone       string // IANA name of the time zone, "" = that of the machine
	Demo       bool
	KeyFile    []byte // a ready key file, for a demo
	Trusted    []keyring.Named
}

// Begin makes a shop in a folder. Files that are there are never touched, and
// a beginning that breaks off leaves no shop: the book is made last.
func Begin(folder string, b Beginning) (err error) {
	if isShop(folder) {
		return fmt.Errorf("%w: %s", ErrShopThere, folder)
	}
	if missing := b.Terms.Needed(); len(missing) > 0 {
		return fmt.Errorf("%w: %s is needed", ErrUse, strings.Join(missing, ", "))
	}
	var made []string
	defer func() {
		if err != nil {
			for _, path := range made {
				err = errors.Join(err, remove(path))
			}
		}
	}()
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, sub := range []string{coachFolder, photoFolder, paperFolder, inboxFolder, filepath.Join(inboxFolder, readFolder)} {
		if err := os.MkdirAll(filepath.Join(folder, sub), 0o755); err != nil {
			return err
		}
	}
	files, err := b.files()
	if err != nil {
		return err
	}
	for _, f := range files {
		path := filepath.Join(folder, f.name)
		if err := writeNew(path, f.data, f.mode); err != nil {
			return err
		}
		made = append(made, path)
	}
	if err := b.key(filepath.Join(folder, houseFile), &made); err != nil {
		return err
	}
	return b.book(filepath.Join(folder, bookFile), &made)
}

type newFile struct {
	name string
	data []byte
	mode fs.FileMode
}

func (b Beginning) files() ([]newFile, error) {
	trust := keyring.Trust{}
	add := trust.Add
	if b.Demo {
		add = trust.AddDemo
	}
	house := keyring.FromSeed(b.Seed).Public()
	for _, k := range append([]keyring.Named{{Name: b.Name, Key: house, Comment: b.Terms.Shop}}, b.Trusted...) {
		if err := add(k); err != nil {
			return nil, err
		}
	}
	return []newFile{
		{termsFile, report.TermsText(b.Terms), 0o644},
		{trustFile, trust.Text(), 0o644},
		{retiredFile, nil, 0o644},
	}, nil
}

func (b Beginning) key(path string, made *[]string) error {
	if b.KeyFile == nil {
		err := keyring.WriteKey(path, b.Seed, b.Passphrase)
		if err == nil {
			*made = append(*made, path, path+".pub")
		}
		return err
	}
	public := keyring.FromSeed(b.Seed).Public().Line() + "\n"
	for _, f := range []newFile{{path, b.KeyFile, 0o600}, {path + ".pub", []byte(public), 0o644}} {
		if err := writeNew(f.name, f.data, f.mode); err != nil {
			return err
		}
		*made = append(*made, f.name)
	}
	return nil
}

func (b Beginning) book(path string, made *[]string) (err error) {
	*made = append(*made, path, path+"-wal", path+"-shm")
	if err := book.Create(path); err != nil {
		return err
	}
	db, err := book.Open(path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	settings := map[string]string{settingOther: b.Recovery.Fingerprint(), settingZone: b.Zone}
	if b.Demo {
		settings[settingDemo] = "yes"
	}
	for _, name := range []string{settingDemo, settingOther, settingZone} {
		if settings[name] == "" {
			continue
		}
		if err := db.SetSetting(name, settings[name]); err != nil {
			return err
		}
	}
	return nil
}

// TrustName makes a name for a trust file out of the name of a shop.
func TrustName(shop string) string {
	var out strings.Builder
	for _, word := range strings.Fields(strings.ToLower(shop)) {
		plain := strings.Map(func(r rune) rune {
			if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, word)
		if plain != "" && out.Len() == 0 {
			out.WriteString(plain)
		}
	}
	if out.Len() == 0 {
		return "house"
	}
	return out.String()
}

// Place is where the shop is, for its signature: what follows the last comma
// of its address.
func (s *Shop) place() string {
	parts := strings.Split(s.Terms.Address, ",")
	return strings.TrimSpace(parts[len(parts)-1])
}

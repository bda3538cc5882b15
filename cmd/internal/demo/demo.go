// Package demo makes an invented shop with its coaches from their day sheets, by
// the same road a user takes: begin, sheet, ink, give. Everything in it is
// invented, its keys are known to everybody, and two runs give the same bytes.
package demo

import (
	"context"
	"crypto/sha256"
	"embed"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/sheet"
	"lapmark/report"
)

// Passphrase opens the house key of the demo.
const Passphrase = "demo demo"

//go:embed sheets house house-2024
var files embed.FS

// inked are the days of the demo: the sheet, the key that signs it, and the
// moment at which it is inked. The sheets of the main coach have numbers, those
// of the shop's other coaches lie in others.
var inked = []struct{ sheet, key, at string }{
	{"01", "K1", "2020-03-16T16:40:00Z"},
	{"02", "K1", "2020-03-17T17:05:00Z"},
	{"03", "K1", "2020-03-18T17:10:00Z"},
	{"04", "K1", "2020-03-19T16:30:00Z"},
	{"05", "K1", "2020-03-20T15:00:00Z"},
	{"06", "K1", "2020-03-23T16:20:00Z"},
	{"07", "K1", "2020-03-27T16:00:00Z"},
	{"08", "K1", "2020-03-30T15:10:00Z"},
	{"09", "K1", "2020-03-31T15:30:00Z"},
	{"10", "K1", "2020-04-07T15:45:00Z"},
	{"11", "K1", "2020-04-08T15:50:00Z"},
	{"12", "K1", "2020-04-09T15:10:00Z"},
	{"13", "K1", "2020-04-10T07:40:00Z"},
	{"14", "K1", "2020-04-13T12:15:00Z"},
	{"15", "K1", "2020-04-14T14:00:00Z"},
	{"16", "K1", "2020-04-15T15:20:00Z"},
	{"17", "K1", "2020-04-16T15:30:00Z"},
	{"18", "K1", "2020-04-17T14:40:00Z"},
	{"19", "K1", "2020-04-23T15:30:00Z"},
	{"20", "K1", "2020-04-24T09:30:00Z"},
	{"others/000387-1", "K1", "2020-05-11T15:10:00Z"},
	{"others/000387-2", "K1", "2020-05-13T14:20:00Z"},
	{"others/000387-3", "K1", "2020-05-18T08:30:00Z"},
	{"others/000387-4", "K1", "2020-05-19T07:40:00Z"},
	{"21", "K1", "2021-04-19T14:30:00Z"},
	{"others/000387-5", "K1", "2021-05-11T13:00:00Z"},
	{"others/000387-6", "K1", "2022-05-17T13:20:00Z"},
	{"22", "K1", "2022-10-03T14:50:00Z"},
	{"23", "K1", "2023-05-02T13:10:00Z"},
	{"others/000387-7", "K1", "2023-05-10T12:40:00Z"},
	{"24", "LF1", "2023-09-18T15:00:00Z"},
	{"25", "LF1", "2023-09-20T16:00:00Z"},
	{"26", "R", "2024-03-11T09:00:00Z"},
	{"others/000387-8", "R", "2024-03-11T09:05:00Z"},
	{"27", "K2", "2024-05-14T14:00:00Z"},
	{"others/000387-9", "K2", "2024-05-15T13:10:00Z"},
	{"28", "K2", "2025-04-30T14:00:00Z"},
	{"others/000387-10", "K2", "2025-05-13T13:30:00Z"},
	{"29", "K2", "2025-06-02T10:00:00Z"},
	{"30", "IN1", "2025-06-05T12:30:00Z"},
	{"31", "K2", "2025-06-20T09:40:00Z"},
	{"others/001902-1", "K2", "2025-09-09T15:00:00Z"},
	{"others/tb78-1", "K2", "2025-10-02T14:40:00Z"},
	{"others/000387-11", "K2", "2026-05-12T13:00:00Z"},
	{"32", "K2", "2026-05-13T10:20:00Z"},
	{"33", "K2", "2026-05-19T15:40:00Z"},
	{"34", "K2", "2026-05-20T09:30:00Z"},
	{"35", "K2", "2026-06-03T13:00:00Z"},
	{"36", "K2", "2026-06-08T14:30:00Z"},
	{"37", "K2", "2026-06-14T14:00:00Z"},
	{"38", "K2", "2026-06-15T09:00:00Z"},
	{"39", "K2", "2026-07-02T08:30:00Z"},
	{"40", "K2", "2026-07-03T13:20:00Z"},
	{"41", "K2", "2026-08-11T09:10:00Z"},
	{"others/000387-12", "K2", "2026-08-11T09:15:00Z"},
	{"42", "K2", "2026-09-04T08:00:00Z"},
	{"43", "K2", "2026-10-01T10:00:00Z"},
	{"44", "PD1", "2026-10-02T08:20:00Z"},
}

// Made is what a demo holds: its main coach, and the papers it gave out.
type Made struct {
	Coach   string
	Entries int64
	Papers  []string
}

// ToCertificate is how many sheets of the demo lead to its first certificate and
// the paper of it.
const ToCertificate = 20

// Make makes the demo shop in a folder that is not there yet, or is empty.
func Make(ctx context.Context, folder string) (Made, error) { return MakeTo(ctx, folder, len(inked)) }

// MakeTo makes it as it stood after so many sheets.
func MakeTo(ctx context.Context, folder string, sheets int) (made Made, err error) {
	if err := isFree(folder); err != nil {
		return made, err
	}
	if err := begin(folder); err != nil {
		return made, err
	}
	y := &yard{folder: folder, random: newStream()}
	defer func() { err = errors.Join(err, y.close()) }()
	for _, evening := range inked[:sheets] {
		if y.clock, err = time.Parse(time.RFC3339, evening.at); err != nil {
			return made, err
		}
		if err := y.evening(ctx, evening.sheet, evening.key, &made); err != nil {
			return made, fmt.Errorf("sheet %s: %w", evening.sheet, err)
		}
	}
	return made, nil
}

// yard is the shop of the demo while it is made.
type yard struct {
	folder string
	random *stream
	clock  time.Time
	shop   *shop.Shop
}

func (y *yard) close() error {
	if y.shop == nil {
		return nil
	}
	s := y.shop
	y.shop = nil
	return s.Close()
}

func (y *yard) open() (err error) {
	if y.shop == nil {
		y.shop, err = shop.Open(y.folder, shop.Options{Now: func() time.Time { return y.clock }, Random: y.random})
	}
	return err
}

// evening inks one sheet. Behind a key-change the shop signs with its new key.
func (y *yard) evening(ctx context.Context, sheet, key string, made *Made) error {
	if err := y.open(); err != nil {
		return err
	}
	if err := day(ctx, y.shop, sheet, key, made); err != nil || key != "R" {
		return err
	}
	data, err := files.ReadFile("house-2024")
	if err != nil {
		return err
	}
	public := keyring.DemoSigner("K2").Public().Line() + "\n"
	return errors.Join(
		y.close(),
		os.WriteFile(filepath.Join(y.folder, "house"), data, 0o600),
		os.WriteFile(filepath.Join(y.folder, "house.pub"), []byte(public), 0o644),
	)
}

func isFree(folder string) error {
	entries, err := os.ReadDir(folder)
	if err == nil && len(entries) > 0 {
		return fmt.Errorf("%w: %s is not empty; the demo wants a folder of its own", shop.ErrUse, folder)
	}
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("%w: %w", shop.ErrUse, err)
	}
	return nil
}

// termsOf are the usual terms of a shop.
func termsOf(name, address, telephone string) (report.Terms, error) {
	return report.ParseTerms([]byte(strings.Join([]string{
		"shop " + name, "address " + address, "desk warranty desk", "telephone " + telephone,
		"law us", "paper a4", "units mm", "",
	}, "\n")))
}

func begin(folder string) error {
	terms, err := termsOf("Quillstead Roof Works", "4 Tannery Rise, Cold Elm", "555 0147")
	if err != nil {
		return err
	}
	key, err := files.ReadFile("house")
	if err != nil {
		return err
	}
	vouched := []keyring.Named{}
	for _, k := range []struct{ key, name, comment string }{
		{"K2", "quillstead-2024", "Quillstead Roof Works, later key"},
		{"LF1", "low-ferry", "Low Ferry Coachworks"},
		{"PD1", "penny-drift", "Penny Drift Bodyworks"},
	} {
		vouched = append(vouched, keyring.Named{Name: k.name, Key: keyring.DemoSigner(k.key).Public(), Comment: k.comment})
	}
	return shop.Begin(folder, shop.Beginning{
		Terms: terms, Name: "quillstead", Seed: keyring.DemoSeed("K1"), KeyFile: key,
		Recovery: keyring.DemoSigner("R").Public(), Zone: "Europe/Oslo", Demo: true, Trusted: vouched,
	})
}

// hand is who signs with a demo key, and what its entries need besides: the next
// house key and recovery key of the key-change, the recovery key that accepts
// the hand-over, the house that takes over, the terms of another shop.
func hand(key string) (h shop.Hand, err error) {
	h = shop.Hand{Key: keyring.DemoSigner(key)}
	switch key {
	case "R":
		h.Second, h.Recovery = keyring.DemoSigner("K2"), keyring.DemoSigner("R").Public().Fingerprint()
	case "K2":
		h.Second, h.To = keyring.DemoSigner("R"), keyring.DemoSigner("PD1").Public()
	case "PD1":
		h.Recovery = keyring.DemoSigner("R2").Public().Fingerprint()
	case "LF1":
		terms, err := termsOf("Low Ferry Coachworks", "2 Slip Lane, Low Ferry", "555 0163")
		h.Terms = &terms
		return h, err
	}
	return h, nil
}

// day reads one sheet, makes its pictures, inks it and delivers its papers.
func day(ctx context.Context, s *shop.Shop, name, key string, made *Made) error {
	text, err := files.ReadFile("sheets/" + name + ".txt")
	if err != nil {
		return err
	}
	notes, err := s.Reading(text, "")
	if err != nil {
		return err
	}
	if err := pictures(s.Folder, notes); err != nil {
		return err
	}
	for _, note := range notes {
		if note.State != book.Clear {
			return fmt.Errorf("line %d: %s", note.At, note.Why)
		}
	}
	by, err := hand(key)
	if err != nil {
		return err
	}
	for len(notes) > 0 {
		n := slices.IndexFunc(notes, func(r shop.Read) bool { return r.Kind == "verdict" })
		if n == 0 {
			if err := verdict(ctx, s, notes[0], by); err != nil {
				return err
			}
			notes = notes[1:]
			continue
		}
		if n < 0 {
			n = len(notes)
		}
		if err := written(ctx, s, notes[:n], by, made); err != nil {
			return err
		}
		notes = notes[n:]
	}
	return nil
}

// verdict asks for the verdict that a sheet holds, compares, and inks what was
// asked.
func verdict(ctx context.Context, s *shop.Shop, want shop.Read, by shop.Hand) error {
	c, err := s.Coach(want.Plate)
	if err != nil {
		return err
	}
	d, err := sheet.ReadLine(want.Line, want.Heading)
	if err != nil {
		return err
	}
	p, err := s.VerdictNote(c, ledger.Texts(d.Body["answers"])[0], ledger.Texts(d.Body["by"])[0])
	if err != nil {
		return err
	}
	if p.Line != want.Line {
		return fmt.Errorf("the verdict is %s, the sheet says %s", p.Line, want.Line)
	}
	in, err := s.InkVerdict(ctx, c, p, by, true)
	if err == nil && in.Results[0].Why != nil {
		err = in.Results[0].Why
	}
	return err
}

// written inks notes as they stand in a sheet.
func written(ctx context.Context, s *shop.Shop, notes []shop.Read, by shop.Hand, made *Made) error {
	if err := s.Pencil(notes, nil); err != nil {
		return err
	}
	in, err := s.InkAs(ctx, notes[0].Plate, by, true)
	if err != nil {
		return err
	}
	if made.Coach == "" || made.Coach == in.Plate { // the main coach comes first
		made.Coach, made.Entries = in.Plate, in.Size
	}
	for _, r := range in.Results {
		if r.Entry == 0 {
			return fmt.Errorf("%s: %w", r.Line, r.Why)
		}
	}
	return deliver(s, in, made)
}

func deliver(s *shop.Shop, in shop.Inked, made *Made) error {
	for _, r := range in.Results {
		if len(r.Papers) == 0 {
			continue
		}
		c, err := s.Coach(in.ID)
		if err != nil {
			return err
		}
		papers, err := s.Deliver(c, r.Papers, s.Folder)
		if err != nil {
			return err
		}
		for _, p := range papers {
			made.Papers = append(made.Papers, p.Path)
		}
	}
	return nil
}

// pictures puts the drawn pictures of a sheet into the inbox, where a phone
// would leave them.
func pictures(folder string, notes []shop.Read) error {
	for _, n := range notes {
		for _, name := range n.Photos {
			data, err := draw(name)
			if err != nil {
				return err
			}
			if err := os.WriteFile(filepath.Join(folder, "inbox", name), data, 0o644); err != nil {
				return err
			}
		}
	}
	return nil
}

// stream is a source of bytes that is the same in every run: SHA-256 of a
// counter. Nothing secret may come from it.
type stream struct {
	n    uint64
	left []byte
}

func newStream() *stream { return &stream{} }

// Read never fails.
func (s *stream) Read(p []byte) (int, error) {
	for i := range p {
		if len(s.left) == 0 {
			block := binary.BigEndian.AppendUint64([]byte("lapmark demo stream, known to everybody "), s.n)
			sum := sha256.Sum256(block)
			s.left = sum[:]
			s.n++
		}
		p[i] = s.left[0]
		s.left = s.left[1:]
	}
	return len(p), nil
}

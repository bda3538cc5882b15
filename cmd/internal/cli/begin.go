package cli

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/report"
	"lapmark/report/english"
)

type beginOptions struct {
	folder                              string
	name, address, desk, telephone, law string
	mail, paper, zone                   string
}

type beginAnswer struct {
	Answer string `json:"answer"`
	V      int    `json:"v"`
	Shop   string `json:"shop"`
	House  string `json:"house"`
}

func newBegin(e *env) *cobra.Command {
	var o beginOptions
	c := &cobra.Command{
		Use:   "begin [FOLDER]",
		Short: "Make a shop: its name, its key, its recovery sheet, its terms",
		Long: `begin makes a shop in FOLDER (the folder you are in, if none is named). It asks
for what stands on every paper, makes the key that signs everything, and prints
the recovery sheet: four rows that name a new key when this one is lost or
stolen. It ends only when the four rows have been typed back; until then
nothing is written.

Without a terminal the answers come by flags, the passphrase by
--passphrase-fd, and the four rows, as they are printed, on standard input.`,
		Example: `  lapmark begin thornwick
  lapmark begin thornwick --name "Thornwick Roofs" --address "9 Weir Row, Eel Pie" --telephone "555 0163" --law us`,
		Args: args(0, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			o.folder = e.here
			if len(args) == 1 {
				o.folder = e.absolute(args[0])
			}
			return e.begin(o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.name, "name", "", "`NAME` of the shop")
	f.StringVar(&o.address, "address", "", "`WHERE` post reaches it: street, place")
	f.StringVar(&o.desk, "desk", "", "`WHO` answers for the warranty (else the warranty desk)")
	f.StringVar(&o.telephone, "telephone", "", "telephone `NUMBER` of that desk")
	f.StringVar(&o.mail, "mail", "", "mail `ADDRESS` of that desk")
	f.StringVar(&o.law, "law", "", "`FORM` of the warranty: us, eu or other")
	f.StringVar(&o.paper, "paper", "", "`SIZE` of the pages: a4 or letter")
	f.StringVar(&o.zone, "zone", "", "time `ZONE`, such as Europe/Oslo (else that of this machine)")
	return c
}

func (e *env) begin(o beginOptions) error {
	if found, err := shop.Find(o.folder, "", o.folder); err == nil && found == o.folder {
		return fmt.Errorf("%w: %s", shop.ErrShopThere, o.folder)
	}
	if o.zone != "" {
		if _, err := time.LoadLocation(o.zone); err != nil {
			return fmt.Errorf("%w: there is no time zone %s; write one such as Europe/Oslo", shop.ErrUse, o.zone)
		}
	}
	if err := shop.Writable(o.folder); err != nil {
		return err
	}
	e.warnOfDrive(nearest(o.folder))
	terms, err := e.beginTerms(o)
	if err != nil {
		return err
	}
	pass, err := e.newPassphrase()
	if err != nil {
		return err
	}
	defer clear(pass)
	random := e.random
	if random == nil {
		random = rand.Reader
	}
	house, err := keyring.NewSeed(random)
	if err != nil {
		return err
	}
	recovery, err := e.recoverySheet(random, terms.Shop)
	if err != nil {
		return err
	}
	err = shop.Begin(o.folder, shop.Beginning{
		Terms: terms, Name: shop.TrustName(terms.Shop), Seed: house, Passphrase: pass,
		Recovery: keyring.FromSeed(recovery).Public(), Zone: o.zone,
	})
	if err != nil {
		return err
	}
	return e.begun(o.folder, keyring.FromSeed(house).Public().Fingerprint())
}

// nearest is a folder, or the first one above it that is there.
func nearest(folder string) string {
	for {
		if _, err := os.Stat(folder); err == nil || filepath.Dir(folder) == folder {
			return folder
		}
		folder = filepath.Dir(folder)
	}
}

func (e *env) begun(folder, fingerprint string) error {
	e.console.Say("Right. Close the envelope and take the sheet to another building.")
	e.console.Say("Usual promises and limits stand in %s/terms, with their source; change them there.", folder)
	if e.json {
		return e.answer(beginAnswer{"begin", 1, folder, fingerprint})
	}
	_, err := fmt.Fprintf(e.console.Out, "The shop is in %s. Its key is %s.\nNow take the first coach in: lapmark intake\n", folder, fingerprint)
	return err
}

// beginTerms asks for what stands on every paper.
func (e *env) beginTerms(o beginOptions) (report.Terms, error) {
	t := report.DefaultTerms()
	for _, q := range []struct {
		question, said string
		into           *string
		needed         bool
	}{
		{"Name of the shop", o.name, &t.Shop, true},
		{"Address (street, place)", o.address, &t.Address, true},
		{"Who answers for the warranty", or(o.desk, "warranty desk"), &t.Desk, true},
		{"Telephone of the warranty desk", o.telephone, &t.Telephone, true},
		{"Mail of the warranty desk (may stay empty)", o.mail, &t.Mail, false},
	} {
		*q.into = q.said
		if q.said != "" || !e.console.Terminal() {
			continue
		}
		for {
			answer, err := e.console.Ask(q.question, "")
			if err != nil {
				return t, err
			}
			if *q.into = answer; answer != "" || !q.needed {
				break
			}
			e.console.Say("This stands on every paper; it cannot stay empty.")
		}
	}
	for key, value := range map[string]string{"law": o.law, "paper": o.paper} {
		if value == "" {
			continue
		}
		text := string(report.TermsText(t)) + "\n" + key + " " + value + "\n"
		changed, err := report.ParseTerms([]byte(text))
		if err != nil {
			return t, fmt.Errorf("%w: %s %s: %w", shop.ErrUse, key, value, err)
		}
		t = changed
	}
	if missing := t.Needed(); len(missing) > 0 {
		return t, fmt.Errorf("%w: still missing: %s", shop.ErrUse, strings.Join(missing, ", "))
	}
	return t, nil
}

func or(s, other string) string {
	if s != "" {
		return s
	}
	return other
}

const shortestPassphrase = 8

// newPassphrase asks twice at a terminal.
func (e *env) newPassphrase() ([]byte, error) {
	if e.console.Terminal() {
		e.console.Say("The passphrase signs everything you put your name to. Nobody can look it up for you.")
	}
	for {
		pass, wrong, err := e.passphraseTwice()
		if err != nil {
			return nil, err
		}
		if wrong == "" {
			return pass, nil
		}
		if e.passFD >= 0 || !e.console.Terminal() {
			return nil, fmt.Errorf("%w: %s", shop.ErrUse, wrong)
		}
		e.console.Say("%s. Type it again.", english.Capital(wrong))
	}
}

// passphraseTwice reads a new passphrase; wrong says why it cannot be taken.
func (e *env) passphraseTwice() (pass []byte, wrong string, err error) {
	pass, err = e.passphrase("New passphrase")
	if err != nil {
		return nil, "", err
	}
	if len(pass) < shortestPassphrase {
		return nil, fmt.Sprintf("the passphrase has %d characters; take %d or more", len(pass), shortestPassphrase), nil
	}
	if e.passFD >= 0 || !e.console.Terminal() {
		return pass, "", nil
	}
	again, err := e.console.Secret("Once more")
	if err == nil && string(again) != string(pass) {
		wrong = "the two passphrases are not the same"
	}
	return pass, wrong, err
}

// recoverySheet prints the sheet and has it typed back, row by row.
func (e *env) recoverySheet(random io.Reader, name string) ([32]byte, error) {
	seed, err := keyring.NewSeed(random)
	if err != nil {
		return seed, err
	}
	rows := keyring.SheetRows(seed)
	e.console.Say("\nRECOVERY SHEET of %s", name)
	e.console.Say("With this sheet you can name a new key when yours is lost or stolen. Whoever holds it can do so too.")
	e.console.Say("Write it down or print it. It is shown once. Key %s\n", keyring.FromSeed(seed).Public().Fingerprint())
	screen := e.console.Out
	if e.json {
		screen = e.console.Err // the answer alone goes to standard output
	}
	for i, row := range rows {
		if _, err := fmt.Fprintf(screen, "row %d: %s\n", i+1, row); err != nil {
			return seed, err
		}
	}
	e.console.Say("\nNow type it back from the paper.")
	for i := range rows {
		if err := e.typeRow(i+1, seed[i*8:i*8+8]); err != nil {
			return seed, fmt.Errorf("the recovery sheet was not typed back; this sheet belongs to no shop, burn it: %w", err)
		}
	}
	return seed, nil
}

const triesARow = 5

func (e *env) typeRow(n int, want []byte) error {
	for range triesARow {
		typed, err := e.console.Ask(fmt.Sprintf("row %d", n), "")
		if err != nil {
			return err
		}
		typed = strings.TrimPrefix(typed, fmt.Sprintf("row %d: ", n))
		got, err := keyring.ReadRow(n, typed)
		if err == nil && string(got[:]) == string(want) {
			return nil
		}
		var bad *keyring.RowError
		switch {
		case errors.As(err, &bad) && bad.Group > 0:
			e.console.Say("Row %d is not as printed. Read the %s group again.", n, english.Ordinal(bad.Group))
		default:
			e.console.Say("Row %d is not as printed. Read it again.", n)
		}
	}
	return fmt.Errorf("%w: row %d was not typed as printed, %d times", shop.ErrUse, n, triesARow)
}

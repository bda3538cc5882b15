package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"regexp"
	"sync"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/check"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/ledger/day"
	"lapmark/report/carry"
)

type verifyOptions struct {
	with     []string
	branches []string
	expect   string
	trust    string
	retired  string
	asOf     string
	out      string
}

func newVerify(e *env) *cobra.Command {
	var o verifyOptions
	c := &cobra.Command{
		Use:   "verify PAPER | BUNDLE | LEDGER | COACH",
		Short: "Check a paper, a bundle, a ledger.txt, or a coach of this shop",
		Long: `verify recomputes everything from the ledger inside a paper and trusts no printed
page. It needs no shop: then every key is one you do not know (exit 7), unless
you give a file of keys you vouch for with --trust.`,
		Example: `  lapmark verify Q-0007.pdf
  lapmark verify Q-0007.pdf --with findings-004137-2020-03-20.pdf
  lapmark verify Q-0007.pdf --trust my-trust --json
  lapmark verify 4137`,
		Args: args(1, 1),
		RunE: func(_ *cobra.Command, args []string) error { return e.verify(args[0], o) },
	}
	f := c.Flags()
	f.StringSliceVar(&o.with, "with", nil, "older papers of the same coach, `FILES`: all must lie on one chain")
	f.StringSliceVar(&o.branches, "branch", nil, "texts of side branches, `FILES` that lie beside a ledger.txt")
	f.StringVar(&o.expect, "expect", "", "`FINGERPRINT` of the house that you have from another source")
	f.StringVar(&o.trust, "trust", "", "`FILE` of keys you vouch for (else the trust file of the shop)")
	f.StringVar(&o.asOf, "as-of", "", "judge what runs and what is over as of this `DAY` (else today)")
	f.StringVar(&o.out, "out", "", "write the answer into this `FILE` instead")
	f.StringVar(&o.retired, "trust-retired", "", "`FILE` of keys you vouch for no longer")
	return c
}

var fingerprint = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(SHA256:[A-Za-z0-9+/]{43})?$`) })

func (e *env) verify(name string, o verifyOptions) (err error) {
	now := e.now()
	if err := shop.AsOf(o.asOf); err != nil {
		return err
	}
	if !fingerprint().MatchString(o.expect) {
		return fmt.Errorf("%w: %q is no fingerprint: SHA256: and 43 letters and digits", shop.ErrUse, o.expect)
	}
	today, err := day.Parse(or(o.asOf, now.Format("2006-01-02")))
	if err != nil {
		return err
	}
	in := check.Input{Name: name, Expect: o.expect, Now: now.Unix(), Today: today}
	s, err := e.maybeShop()
	if err != nil {
		return err
	}
	if s != nil {
		defer func() { err = errors.Join(err, s.Close()) }()
		in.Trust, in.Retired, in.DemoFolder = s.Trust, s.Retired, s.Demo
	}
	if err := trustFiles(e, o, &in); err != nil {
		return err
	}
	if err := e.subject(s, name, &in); err != nil {
		return err
	}
	for _, other := range o.with {
		data, err := e.paperFile(other)
		if err != nil {
			return err
		}
		in.With = append(in.With, check.Paper{Name: other, File: data})
	}
	for _, other := range o.branches {
		data, err := e.paperFile(other)
		if err != nil {
			return err
		}
		in.Branches = append(in.Branches, data)
	}
	return e.verified(check.Verify(in), o.out)
}

// maybeShop opens the shop, if there is one; a stranger has none.
func (e *env) maybeShop() (*shop.Shop, error) {
	s, err := e.open()
	if errors.Is(err, shop.ErrNoShop) && e.shopFolder == "" {
		return nil, nil
	}
	return s, err
}

func trustFiles(e *env, o verifyOptions, in *check.Input) error {
	for _, f := range []struct {
		path string
		list *keyring.Trust
	}{{o.trust, &in.Trust}, {o.retired, &in.Retired}} {
		if f.path == "" {
			continue
		}
		path := e.absolute(f.path)
		if _, err := os.Stat(path); err != nil {
			return fmt.Errorf("%w: %w", shop.ErrUse, err)
		}
		list, err := shop.ReadTrust(path)
		if err != nil {
			return err
		}
		*f.list, in.DemoFolder = list, false
	}
	return nil
}

// subject reads what is checked: a file of that name first, else a coach of
// this shop.
func (e *env) subject(s *shop.Shop, name string, in *check.Input) error {
	if info, err := os.Stat(e.absolute(name)); err == nil && !info.IsDir() {
		data, err := e.paperFile(name)
		in.File = data
		return err
	}
	if s == nil {
		return fmt.Errorf("%w: there is no file %s, and no shop here to know a coach of that name", shop.ErrNoCoach, name)
	}
	text, branches, slips, err := s.Own(name)
	if err != nil {
		return fmt.Errorf("%w (and there is no file of that name)", err)
	}
	in.File, in.Branches, in.Slips = text, branches, slips
	return nil
}

// paperFile reads a file of at most the size a paper may have.
func (e *env) paperFile(name string) (data []byte, err error) {
	f, err := os.Open(e.absolute(name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%w: %s is not there", shop.ErrUse, name)
	}
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return io.ReadAll(io.LimitReader(f, int64(carry.DefaultLimits().File)+1))
}

func (e *env) verified(a check.Answer, out string) error {
	var err error
	if out != "" {
		err = shop.WriteNew(e.absolute(out), []byte(a.Text()+"\n"))
	} else if e.json {
		err = e.answer(a)
	} else {
		err = e.print("%s", a.Text())
	}
	if code := a.Exit(); err == nil && code != exitDone {
		return &exit{code: code}
	}
	return err
}

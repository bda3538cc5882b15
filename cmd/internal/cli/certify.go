package cli

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

type certifyOptions struct {
	wish shop.Wish
	file string
	dry  bool
}

func newCertify(e *env) *cobra.Command {
	var o certifyOptions
	c := &cobra.Command{
		Use:   "certify COACH",
		Short: "Propose a certificate from what was closed and tested, and sign it",
		Long: `certify proposes cover lines from the work that was closed and tested and from
the shop's promises. It refuses what nobody rebuilt, what has not cured and what
is open, each with its sentence. With --dry the proposal is printed as a sheet
and nothing is signed: strike out or narrow its lines in an editor, and sign it
with --sheet FILE.`,
		Example: `  lapmark certify 1133 --dry --number Q-0001
  lapmark certify 1133 --number Q-0001
  lapmark certify 1133 --sheet narrowed.txt --dry`,
		Args: args(1, 1), ValidArgsFunction: e.completeCoach,
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.certify(cmd.Context(), s, args[0], o) })
		},
	}
	f := c.Flags()
	f.StringVar(&o.wish.Number, "number", "", "`NUMBER` of the certificate (else the next free one)")
	f.StringVar(&o.wish.First, "from", "", "first `DAY` of all lines, YYYY-MM-DD (else the first possible one)")
	f.Int64SliceVar(&o.wish.Strike, "strike", nil, "`NUMBERS` of proposed lines to strike out: 2,3")
	f.StringSliceVar(&o.wish.Beside, "beside", nil, "`CERTIFICATES` that run on untouched: Q-0007,Q-0011")
	f.StringVar(&o.wish.Price, "price", "", "`PRICE`, private, such as \"3940.00 EUR\"")
	f.StringVar(&o.wish.By, "by", "foreman", "`MARK` of who signs it")
	f.StringVar(&o.file, "sheet", "", "a sheet, `FILE`, that holds the certificate, instead of the proposal")
	f.BoolVar(&o.dry, "dry", false, "sign nothing, print the certificate as a sheet")
	return c
}

func (e *env) certify(ctx context.Context, s *shop.Shop, name string, o certifyOptions) error {
	if err := shop.AsOf(o.wish.First); err != nil {
		return err
	}
	if !ledger.IsMark(o.wish.By) {
		return fmt.Errorf("%w: %q is no mark", shop.ErrUse, o.wish.By)
	}
	c, err := s.Coach(name)
	if err != nil {
		return err
	}
	p, err := e.wished(s, c, o)
	if err != nil {
		return err
	}
	in, err := s.Dry(c.Plate, []shop.Pending{p})
	if err != nil {
		return err
	}
	r := in.Results[0]
	if o.dry {
		return e.printProposal(p, r)
	}
	e.sayOutcomes(r)
	if r.Why != nil {
		return said(r)
	}
	if err := e.clock(s, c.Plate); err != nil {
		return err
	}
	if e.console.Terminal() {
		e.console.Say("%s", sheet.Fold(p.Line))
		yes, err := e.console.Yes("Sign it? From here on it is not corrected")
		if err != nil || !yes {
			return orStopped(err)
		}
	}
	key, err := e.signer(s)
	if err != nil {
		return err
	}
	in, err = s.Certify(ctx, c, p, key, e.clockRight)
	if err != nil {
		return err
	}
	if err := e.inked(s, "certify", in, ""); err != nil {
		return err
	}
	if c, err = s.Coach(in.ID); err != nil {
		return err
	}
	number := c.Replay.TagOf(ledger.No{N: in.Results[0].Entry})
	e.console.Say("This is certificate %s. Nobody has it yet: lapmark give certificate %s", number, number)
	return nil
}

func orStopped(err error) error {
	if err != nil {
		return err
	}
	return fmt.Errorf("%w: nothing was signed", shop.ErrNothing)
}

// wished is the proposal, or the certificate of a sheet.
func (e *env) wished(s *shop.Shop, c *shop.Coach, o certifyOptions) (shop.Pending, error) {
	if o.file == "" {
		return s.Propose(c, o.wish)
	}
	text, err := e.read(o.file)
	if err != nil {
		return shop.Pending{}, err
	}
	notes, err := s.Reading(text, c.Plate)
	if err != nil {
		return shop.Pending{}, err
	}
	if len(notes) != 1 || notes[0].Kind != "certificate" {
		why := ""
		if len(notes) > 0 {
			why = ": " + notes[0].Why
		}
		return shop.Pending{}, fmt.Errorf("%w: %s holds not exactly one certificate%s", shop.ErrUse, o.file, why)
	}
	n := notes[0]
	d, err := sheet.ReadLine(n.Line, n.Heading)
	return shop.Pending{Line: n.Line, Heading: n.Heading, Draft: d}, err
}

func (e *env) sayOutcomes(r shop.Result) {
	for _, o := range r.Outcomes {
		text := o.Sentence
		if o.Mend != "" {
			text += " → " + o.Mend + "."
		}
		word := map[rules.Degree]string{rules.Noted: "Printed with it", rules.Stopped: "Stopped", rules.Refused: "Refused"}[o.Degree]
		e.console.Say("%s: %s", word, text)
	}
}

// printProposal prints the certificate as a sheet, and what rules say of it.
func (e *env) printProposal(p shop.Pending, r shop.Result) error {
	if e.json {
		if err := e.answer(inkJSON("certify", shop.Inked{Plate: p.Heading.Coach, Results: []shop.Result{r}}, nil)); err != nil {
			return err
		}
	} else {
		for _, h := range p.Heading.Lines(sheet.Heading{}) {
			if err := e.print("%s", h); err != nil {
				return err
			}
		}
		if err := e.print("%s", sheet.Fold(p.Line)); err != nil {
			return err
		}
		e.sayOutcomes(r)
	}
	if r.Why != nil {
		return said(r)
	}
	return nil
}

// said is the error of a certificate that was held up: what a rule says was
// said already.
func said(r shop.Result) error {
	var held *shop.Held
	if errors.As(r.Why, &held) {
		return &exit{code: exitBad}
	}
	return &exit{code: exitBad, err: r.Why}
}

package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/check"
	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/cover"
	"lapmark/ledger/day"
	"lapmark/ledger/place"
	"lapmark/ledger/sheet"
)

type askOptions struct {
	claim, trouble, noticed, reported, asked string
	at                                       []string
	shows, cause                             string
	shown, ink, elsewhere, shelter           bool
	coach                                    string
	certificates                             []string
	plan, by                                 string
	trust                                    verifyOptions
}

func newAsk(e *env) *cobra.Command {
	var o askOptions
	c := &cobra.Command{
		Use:   "ask COACH | PAPER | BUNDLE | LEDGER",
		Short: "Is this place, on this day, with this trouble, in the warranty?",
		Long: `ask answers from the ledger what its certificates say of a trouble: the verdict in
one sentence, then why, then what it rests on. It asks about a claim of the
ledger (--claim), or about a trouble with the day it was noticed. --at is where
the water comes in; without it that is open. Other troubles are judged where
they show (--shows). A file needs no shop.

Troubles: ` + strings.Join(cover.Kinds(), ", ") + `. This is what the certificate says.
Rights the law gives the holder stand beside it.`,
		Example: `  lapmark ask 4137 --trouble leak --noticed 2026-05-11 --at 'spot 6900 aft 500 L' --cause bad-weld --shown
  lapmark ask 4137 --trouble leak --noticed 2021-09-02 --shows 'spot 5600 aft 300 R'
  lapmark ask 4137 --claim C1 --plan c1.svg
  lapmark ask 0387 --claim C1 --ink
  lapmark ask ledger.txt --trouble bond --noticed 2026-11-20 --shows 'bay 9 left' --json`,
		Args: args(1, 1), ValidArgsFunction: e.completeCoach,
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.ink {
				return e.inkVerdict(cmd.Context(), args[0], o)
			}
			return e.ask(args[0], o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.claim, "claim", "", "the claim of this `TAG` or number: its trouble, days and places, and what checks have shown")
	f.StringVar(&o.trouble, "trouble", "", "the trouble, a `WORD`")
	f.StringVar(&o.noticed, "noticed", "", "the first `DAY` any holder noticed it, YYYY-MM-DD")
	f.StringVar(&o.reported, "reported", "", "the `DAY` the shop was told (else the day it was noticed)")
	f.StringVar(&o.asked, "asked", "", "who answers on this `DAY` (else the day the shop was told)")
	f.StringArrayVar(&o.at, "at", nil, "the `PLACE` where it comes in, as in a sheet; again for one more")
	f.StringVar(&o.shows, "shows", "", "the `PLACE` where it shows")
	f.StringVar(&o.cause, "cause", "", "the cause there, a `WORD`")
	f.BoolVar(&o.shown, "shown", false, "a check there has shown the cause")
	f.BoolVar(&o.elsewhere, "elsewhere", false, "it may also come from elsewhere than the roof, though a hose narrowed it")
	f.BoolVar(&o.shelter, "refused-shelter", false, "the holder refused shelter, and it got worse")
	f.StringVar(&o.coach, "plate", "", "the `PLATE` of the coach in front of you (else that of the ledger)")
	f.StringSliceVar(&o.certificates, "certificate", nil, "ask only these `CERTIFICATES`: Q-0007,Q-0031")
	f.StringVar(&o.plan, "plan", "", "draw the roof, what runs there and the places asked, into this `FILE`, as SVG")
	f.BoolVar(&o.ink, "ink", false, "sign the verdict on a claim into the ledger, with the rules and facts it rests on")
	f.StringVar(&o.by, "by", "desk", "`MARK` of who asks, for --ink")
	f.StringVar(&o.trust.trust, "trust", "", "`FILE` of keys you vouch for (else the trust file of the shop)")
	f.StringVar(&o.trust.retired, "trust-retired", "", "`FILE` of keys you vouch for no longer")
	return c
}

func (e *env) ask(name string, o askOptions) (err error) {
	w, err := o.wish()
	if err != nil {
		return err
	}
	s, err := e.maybeShop()
	if err != nil {
		return err
	}
	if s != nil {
		defer func() { err = errors.Join(err, s.Close()) }()
	}
	in, err := e.askInput(s, name, o)
	if err != nil {
		return err
	}
	a, err := check.Ask(in, w)
	if err != nil {
		return fmt.Errorf("%w: %w", shop.ErrUse, err)
	}
	if o.plan != "" {
		if err := shop.WriteNew(e.absolute(o.plan), a.Plan()); err != nil {
			return err
		}
	}
	if e.json {
		err = e.answer(a)
	} else {
		err = e.print("%s", a.Text())
	}
	if code := a.Exit(); err == nil && code != exitDone {
		return &exit{code: code}
	}
	return err
}

// inkVerdict shows the verdict on a claim as the ledger gives it, and signs it.
func (e *env) inkVerdict(ctx context.Context, name string, o askOptions) error {
	switch {
	case o.claim == "":
		return fmt.Errorf("%w: --ink goes with --claim: a verdict answers a claim. Take it in first: lapmark add claim %s", shop.ErrUse, name)
	case o.trouble+o.noticed+o.reported+o.asked+o.shows+o.cause+o.coach != "" || len(o.at)+len(o.certificates) > 0 || o.shown || o.elsewhere || o.shelter:
		return fmt.Errorf("%w: --ink signs what the ledger gives: write what was found into a check that answers the claim, and ask again with --claim alone", shop.ErrUse)
	case !ledger.IsMark(o.by):
		return fmt.Errorf("%w: %q is no mark", shop.ErrUse, o.by)
	}
	return e.withShop(func(s *shop.Shop) error {
		c, err := s.Coach(name)
		if err != nil {
			return err
		}
		p, err := s.VerdictNote(c, strings.ToUpper(o.claim), o.by)
		if err != nil {
			return err
		}
		if err := s.OurHouse(c.Plate); err != nil {
			return err
		}
		if err := e.clock(s, c.Plate); err != nil {
			return err
		}
		if err := e.showVerdict(s, name, o, p); err != nil {
			return err
		}
		key, err := e.signer(s)
		if err != nil {
			return err
		}
		in, err := s.InkVerdict(ctx, c, p, shop.Signing(key), e.clockRight)
		if err != nil {
			return err
		}
		if err := e.inked(s, "ask", in, ""); err != nil {
			return err
		}
		if r := in.Results[0]; r.Why != nil {
			return r.Why
		}
		e.console.Say("A person rules after it: lapmark ruling %s", name)
		return nil
	})
}

// showVerdict shows at a terminal what will be signed, and asks.
func (e *env) showVerdict(s *shop.Shop, name string, o askOptions, p shop.Pending) error {
	if !e.console.Terminal() {
		return nil
	}
	in, err := e.askInput(s, name, o)
	if err != nil {
		return err
	}
	a, err := check.Ask(in, check.Wish{Claim: o.claim})
	if err != nil {
		return fmt.Errorf("%w: %w", shop.ErrUse, err)
	}
	e.console.Say("%s\n\n%s", a.Text(), sheet.Fold(p.Line))
	yes, err := e.console.Yes("From here on only a later verdict stands beside it. Ink?")
	if err == nil && !yes {
		err = fmt.Errorf("%w: nothing was signed", shop.ErrNothing)
	}
	return err
}

// askInput reads what is asked, and whose keys are trusted.
func (e *env) askInput(s *shop.Shop, name string, o askOptions) (check.Input, error) {
	now := e.now()
	today, err := day.Parse(now.Format("2006-01-02"))
	if err != nil {
		return check.Input{}, err
	}
	in := check.Input{Name: name, Now: now.Unix(), Today: today}
	if s != nil {
		in.Trust, in.Retired, in.DemoFolder = s.Trust, s.Retired, s.Demo
	}
	if err := trustFiles(e, o.trust, &in); err != nil {
		return in, err
	}
	return in, e.subject(s, name, &in)
}

// wish reads what was asked.
func (o askOptions) wish() (check.Wish, error) {
	w := check.Wish{
		Claim: o.claim, Trouble: o.trouble, Cause: o.cause, Shown: o.shown, Coach: strings.ToUpper(o.coach),
		Certificates: o.certificates, RefusedShelter: o.shelter, Elsewhere: o.elsewhere,
	}
	for _, d := range []struct {
		flag, said string
		to         *day.Day
	}{{"noticed", o.noticed, &w.Noticed}, {"reported", o.reported, &w.Reported}, {"asked", o.asked, &w.Asked}} {
		if d.said == "" {
			continue
		}
		var err error
		if *d.to, err = day.Parse(d.said); err != nil {
			return w, fmt.Errorf("%w: --%s: %w", shop.ErrUse, d.flag, err)
		}
	}
	if o.claim == "" && (o.trouble == "" || o.noticed == "") {
		return w, fmt.Errorf("%w: ask needs --trouble and --noticed, or --claim", shop.ErrUse)
	}
	if o.cause != "" {
		if _, ok := ledger.WordIn("causes", o.cause); !ok {
			return w, fmt.Errorf("%w: --cause: %q is no cause; lapmark words causes lists them", shop.ErrUse, o.cause)
		}
	}
	for _, text := range o.at {
		p, err := askedPlace("at", text)
		if err != nil {
			return w, err
		}
		w.At = append(w.At, p)
	}
	if o.shows != "" {
		p, err := askedPlace("shows", o.shows)
		if err != nil {
			return w, err
		}
		w.Shows = &p
	}
	return w, nil
}

func askedPlace(flag, text string) (place.Place, error) {
	o, err := sheet.ReadPlace(text)
	if err != nil {
		return place.Place{}, fmt.Errorf("%w: --%s: %w", shop.ErrUse, flag, err)
	}
	p, err := ledger.PlaceOf(o)
	if err != nil {
		return p, fmt.Errorf("%w: --%s %q: %w", shop.ErrUse, flag, text, err)
	}
	return p, nil
}

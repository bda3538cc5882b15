package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/text/unicode/norm"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
)

func newGive(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "give",
		Short: "Give out a paper or a bundle",
		Long: `give writes the entry that a paper was given out, signs it, and makes the paper.
For a holder every paper is made twice: his own, and one to pass on without his
private values. It never writes over a paper that is there.`,
		Example: `  lapmark give certificate Q-0001
  lapmark give findings 1133 --for buyer --out for-the-buyer
  lapmark give bundle 1133 --to-work`,
		Args: args(0, 0),
		RunE: func(c *cobra.Command, _ []string) error {
			return fmt.Errorf("%w: give what? give certificate NUMBER, give findings COACH, give bundle COACH", shop.ErrUse)
		},
	}
	for _, p := range []struct{ word, use, short string }{
		{"certificate", "certificate NUMBER", "Give out a certificate: the holder's own copy, and one to pass on"},
		{"findings", "findings COACH", "Give out what was found, entry by entry"},
		{"bundle", "bundle COACH", "Give out the whole ledger with its pictures, for another shop"},
	} {
		c.AddCommand(e.giveVerb(p.word, p.use, p.short))
	}
	return c
}

func (e *env) giveVerb(word, use, short string) *cobra.Command {
	g := shop.Gift{Paper: word}
	var out string
	c := &cobra.Command{
		Use: use, Short: short, Args: args(1, 1), ValidArgsFunction: e.completeCoach,
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.give(cmd.Context(), s, args[0], g, out) })
		},
	}
	usual := "holder"
	if word == "bundle" {
		usual = "later-shop"
	}
	f := c.Flags()
	f.StringVar(&g.Reader, "for", usual, "the `READER`: shop, holder, buyer or later-shop")
	f.StringVar(&g.AsOf, "as-of", "", "what runs and what is over as of this `DAY`, YYYY-MM-DD (else today)")
	f.StringVar(&g.To, "to", "", "`MARK` of who gets it (else the holder, or the next buyer)")
	f.StringVar(&g.ToName, "to-name", "", "`NAME` of who gets it, private")
	f.StringVar(&g.On, "on", "print", "`HOW` it is given: print, mail or stick")
	f.StringVar(&g.By, "by", "desk", "`MARK` of who gives it out")
	f.StringVar(&g.Note, "note", "", "a note, `TEXT`")
	f.StringVar(&out, "out", "", "`FOLDER` for the papers (else the folder you are in)")
	complete(c, "for", wordsOf("reader"))
	complete(c, "on", wordsOf("carried-on"))
	if word == "bundle" {
		f.BoolVar(&g.ToWork, "to-work", false, "the coach is lent: another shop works on it now")
	}
	return c
}

func (e *env) give(ctx context.Context, s *shop.Shop, name string, g shop.Gift, out string) error {
	if err := shop.AsOf(g.AsOf); err != nil {
		return err
	}
	g.ToName, g.Note = norm.NFC.String(g.ToName), norm.NFC.String(g.Note)
	for _, w := range []struct{ list, word string }{{"reader", g.Reader}, {"carried-on", g.On}} {
		if _, ok := ledger.WordIn(w.list, w.word); !ok {
			return fmt.Errorf("%w: %q is no word of %s", shop.ErrUse, w.word, w.list)
		}
	}
	if !ledger.IsMark(g.By) || g.To != "" && !ledger.IsMark(g.To) {
		return fmt.Errorf("%w: a mark is small letters and hyphens, with a number at the end: hand-1", shop.ErrUse)
	}
	c, err := s.Coach(name)
	if err != nil {
		return err
	}
	if g.Paper == "certificate" {
		g.Certificate = strings.ToUpper(name)
		if _, ok := c.Replay.Tagged(g.Certificate); !ok {
			return fmt.Errorf("%w: no certificate is called %s", shop.ErrNoCoach, name)
		}
	}
	if err := s.CanDeliver(c, g, e.absolute(or(out, "."))); err != nil {
		return err
	}
	if err := e.clock(s, c.Plate); err != nil {
		return err
	}
	key, err := e.signer(s)
	if err != nil {
		return err
	}
	in, err := s.Give(ctx, c, g, key, e.clockRight)
	if err != nil {
		return err
	}
	return e.inked(s, "give", in, out)
}

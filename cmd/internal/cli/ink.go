package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/sshsig"
	"lapmark/ledger/rules"
	"lapmark/report/english"
)

func newInk(e *env) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "ink [COACH]",
		Short: "Sign pencil notes into the ledger",
		Long: `ink shows what goes in, what a rule stops and what it refuses, asks for the
passphrase, and signs what can go in: all of it or none of it. The rest stays in
pencil. From then on only a later entry corrects an entry.
Exit code 3 if a note stayed; the rest is in.`,
		Example: `  lapmark ink
  lapmark ink 1133 --clock-is-right --out papers`,
		Args: args(0, 1), ValidArgsFunction: e.completeCoach,
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.ink(cmd.Context(), s, strings.Join(args, ""), out) })
		},
	}
	c.Flags().StringVar(&out, "out", "", "`FOLDER` for the papers that a given-out makes (else the folder you are in)")
	return c
}

func (e *env) ink(ctx context.Context, s *shop.Shop, coach, out string) error {
	plates, err := toInk(s, coach)
	if err != nil {
		return err
	}
	some := &several{e: e, most: len(plates)}
	plates, err = some.each(plates, func(plate string) error { return e.ready(s, plate, e.absolute(or(out, "."))) })
	if err != nil {
		return err
	}
	if len(plates) == 0 {
		return some.err()
	}
	key, err := e.signer(s)
	if err != nil {
		return err
	}
	stayed := false
	_, err = some.each(plates, func(plate string) error {
		left, err := e.inkOne(ctx, s, plate, key, out)
		stayed = stayed || left > 0
		return err
	})
	if err != nil {
		return err
	}
	if stayed && some.last == nil {
		return &exit{code: exitBad}
	}
	return some.err()
}

// inkOne inks the pencil of one coach and returns how many notes of it stay.
func (e *env) inkOne(ctx context.Context, s *shop.Shop, plate string, key sshsig.Signer, out string) (int, error) {
	in, err := s.Ink(ctx, plate, key, e.clockRight)
	if err != nil {
		return 0, err
	}
	if err := e.inked(s, "ink", in, out); err != nil {
		return 0, err
	}
	left, err := s.Waiting(in.Plate)
	if left > 0 {
		e.console.Say("%s in pencil: lapmark pencil", english.Numbered(left, "note stays", "notes stay"))
	}
	return left, err
}

// several is work on one coach after the other: what cannot be done for one does
// not keep the others from it.
type several struct {
	e    *env
	most int
	last error // of a coach that was passed over
}

// each does one thing for each coach and returns those for which it was done. The
// error is that of the only coach, or of a person who stops.
func (v *several) each(plates []string, do func(plate string) error) (done []string, err error) {
	for _, plate := range plates {
		switch err := do(plate); {
		case err == nil:
			done = append(done, plate)
		case v.most == 1 || errors.Is(err, context.Canceled):
			return nil, err
		default:
			v.e.console.Say("%s: %s", plate, sentence(err))
			v.last = err
		}
	}
	return done, nil
}

// err is nil if no coach was passed over; else something stayed in pencil, and
// each coach has had its sentence. What was no matter of a rule keeps its code.
func (v *several) err() error {
	if v.last == nil {
		return nil
	}
	code := exitCode(v.last)
	if errors.Is(v.last, shop.ErrNothing) {
		code = exitBad
	}
	return &exit{code: code}
}

func toInk(s *shop.Shop, coach string) ([]string, error) {
	if coach == "" {
		plates, err := s.Book.Pencilled()
		if err == nil && len(plates) == 0 {
			err = fmt.Errorf("%w: nothing is in pencil", shop.ErrNothing)
		}
		return plates, err
	}
	c, err := s.Coach(coach)
	if err != nil {
		return nil, err
	}
	return []string{c.Plate}, nil
}

// ready asks before the passphrase what could stop the inking, and shows it.
func (e *env) ready(s *shop.Shop, plate, folder string) error {
	notes, err := s.Notes(plate)
	if err != nil {
		return err
	}
	if err := s.OurHouse(plate); err != nil {
		return err
	}
	if err := e.clock(s, plate); err != nil {
		return err
	}
	if err := s.CanDeliverAll(plate, notes, folder); err != nil {
		return err
	}
	lent, err := s.Lent(plate)
	if err != nil {
		return err
	}
	if lent != "" {
		e.console.Say("%s Inking now makes a side branch.", lent)
	}
	return e.preview(s, plate)
}

// preview shows at a terminal what will be signed, asks for what is still open:
// which reading, what reason; then whether to ink.
func (e *env) preview(s *shop.Shop, plate string) error {
	if !e.console.Terminal() {
		return nil
	}
	if err := e.settlePencil(s, plate); err != nil {
		return err
	}
	somethingGoesIn := false
	left := map[int64]bool{}
	for {
		notes, err := s.Notes(plate)
		if err != nil {
			return err
		}
		in, err := s.Dry(plate, notes)
		if err != nil {
			return err
		}
		unread, err := s.Unread(plate)
		if err != nil {
			return err
		}
		e.console.Say("%s", strings.Join(append(lists(in), notRead(unread)...), "\n"))
		given, err := e.reasons(s, in, left)
		if err != nil {
			return err
		}
		if !given {
			somethingGoesIn = slices.ContainsFunc(in.Results, func(r shop.Result) bool { return r.Why == nil })
			break
		}
	}
	if !somethingGoesIn {
		return &exit{code: exitBad, err: fmt.Errorf("%w: nothing of it can go in yet, nothing was signed", shop.ErrNothing)}
	}
	yes, err := e.console.Yes("From here on only a later entry corrects them. Ink?")
	if err == nil && !yes {
		err = fmt.Errorf("%w: back to pencil, nothing was signed", shop.ErrNothing)
	}
	return err
}

// lists says what goes in and what is noted with it, what a reason would let in,
// what is refused.
func lists(in shop.Inked) []string {
	var goes, stopped, refused []string
	for _, r := range in.Results {
		var held *shop.Held
		switch {
		case r.Why == nil:
			goes = append(goes, fmt.Sprintf("  %d  %s", r.Entry, r.Line))
			for _, o := range r.Outcomes {
				goes = append(goes, "      noted: "+o.Sentence)
			}
		case errors.As(r.Why, &held) && held.Outcome.Degree == rules.Stopped:
			stopped = append(stopped, "  "+r.Line+"\n      "+r.Why.Error())
		default:
			refused = append(refused, "  "+r.Line+"\n      "+r.Why.Error())
		}
	}
	var out []string
	for _, l := range []struct {
		head  string
		lines []string
	}{{"Goes in:", goes}, {"Stopped, a reason would let it in:", stopped}, {"Stays in pencil:", refused}} {
		if len(l.lines) > 0 {
			out = append(append(out, l.head), l.lines...)
		}
	}
	return out
}

// notRead names the notes that are unclear and stay.
func notRead(notes []int64) []string {
	if len(notes) == 0 {
		return nil
	}
	said := make([]string, len(notes))
	for i, n := range notes {
		said[i] = fmt.Sprint(n)
	}
	return []string{fmt.Sprintf("Unclear, stays in pencil: %s. Mend it: lapmark pencil.", english.List(said))}
}

// clock asks, before a passphrase is asked for, whether a clock that looks wrong
// is right. A yes holds for the whole command.
func (e *env) clock(s *shop.Shop, plate string) error {
	if e.clockRight {
		return nil
	}
	err := s.Clock(plate)
	if !errors.Is(err, shop.ErrClock) || !e.console.Terminal() {
		return err
	}
	e.console.Say("%v.", err)
	yes, askErr := e.console.Yes("Is that right?")
	if askErr != nil || !yes {
		return errors.Join(err, askErr)
	}
	e.clockRight = true
	return nil
}

// inked delivers papers and says what went in and what stays.
func (e *env) inked(s *shop.Shop, verb string, in shop.Inked, out string) error {
	paths, err := e.deliver(s, in, out)
	if err != nil {
		return err
	}
	if e.json {
		return e.answer(inkJSON(verb, in, paths))
	}
	says := fmt.Sprintf("Inked into %s: %s. New head code: %s.", in.Plate, numbers(in), in.Code)
	if numbers(in) == nothingInked {
		says = fmt.Sprintf("Nothing was inked into %s.", in.Plate)
	}
	if err := e.print("%s", says); err != nil {
		return err
	}
	for _, r := range in.Results {
		for _, o := range r.Outcomes {
			if r.Entry > 0 {
				e.console.Say("noted, entry %d: %s", r.Entry, o.Sentence)
			}
		}
		if r.Entry == 0 {
			e.console.Say("stays in pencil: %s\n    %s", r.Line, r.Why)
		}
	}
	for _, path := range paths {
		if err := e.print("%s", path); err != nil {
			return err
		}
	}
	return nil
}

// deliver writes the papers of an inking.
func (e *env) deliver(s *shop.Shop, in shop.Inked, out string) ([]string, error) {
	var paths []string
	for _, r := range in.Results {
		if r.Entry == 0 || len(r.Papers) == 0 {
			continue
		}
		c, err := s.Coach(in.ID)
		if err != nil {
			return paths, err
		}
		papers, err := s.Deliver(c, r.Papers, e.absolute(or(out, ".")))
		for _, p := range papers {
			paths = append(paths, p.Path)
		}
		if err != nil {
			return paths, fmt.Errorf("entry %d stands, its papers can be written again with lapmark papers: %w", r.Entry, err)
		}
	}
	return paths, nil
}

package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/console"
	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/questions"
	"lapmark/ledger/sheet"
)

type addOptions struct {
	on   string
	goOn int64
}

func newAdd(e *env) *cobra.Command {
	var o addOptions
	c := &cobra.Command{
		Use:   "add KIND [COACH]",
		Short: "Ask for a note of any kind, one thing after the other, into pencil",
		Long: `add asks for a note of a kind, one question after the other. An empty answer
leaves out what may be left out; back takes the last answer back, ? lists the
words that may answer, stop leaves the note in pencil as it is. Each answer is
kept as it is given, so that a note that was broken off can be taken up again
with --go-on and its number in pencil. Where nobody sits at the terminal the
answers come from standard input, a line each, or as a JSON object of the body
(private values under "private").

Any kind may be asked for that no other verb makes: lapmark words kinds lists
them. A certificate is made by certify, a paper by give, a verdict by ask.`,
		Example: `  lapmark add finding 1133
  lapmark add check 1133 --on 2026-11-24
  lapmark add --go-on 3`,
		Args: args(0, 2), ValidArgsFunction: e.completeAdd,
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.add(cmd.Context(), s, args, o) })
		},
	}
	f := c.Flags()
	f.StringVar(&o.on, "on", "", "the `DAY` it happened, YYYY-MM-DD (else today)")
	f.Int64Var(&o.goOn, "go-on", 0, "take up the note of this `NUMBER` again")
	return c
}

func newRuling(e *env) *cobra.Command {
	var o addOptions
	c := &cobra.Command{
		Use:   "ruling [COACH]",
		Short: "Ask what the shop decides after a verdict, into pencil",
		Long: `ruling asks for what a person of the shop decides after a verdict: as the verdict,
beyond it as goodwill, or to the holder's loss, which needs a second mark. The
verdict stays on record beside it.`,
		Example: `  lapmark ruling 0387`,
		Args:    args(0, 1), ValidArgsFunction: e.completeCoach,
		RunE: func(cmd *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.add(cmd.Context(), s, append([]string{"ruling"}, args...), o) })
		},
	}
	c.Flags().StringVar(&o.on, "on", "", "the `DAY` it happened, YYYY-MM-DD (else today)")
	return c
}

func (e *env) completeAdd(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return questions.Kinds(), cobra.ShellCompDirectiveNoFileComp
	}
	return e.completeCoach(c, args[1:], start)
}

func (e *env) add(ctx context.Context, s *shop.Shop, args []string, o addOptions) error {
	if o.goOn > 0 {
		a, err := s.GoOn(o.goOn)
		if err != nil {
			return err
		}
		return e.askAll(ctx, s, a)
	}
	if len(args) == 0 {
		return fmt.Errorf("%w: add which kind? One of %s", shop.ErrUse, strings.Join(questions.Kinds(), ", "))
	}
	coach := onlyCoach(s)
	if len(args) == 2 {
		coach = args[1]
	}
	if coach == "" {
		return fmt.Errorf("%w: add %s to which coach? Name it behind the kind", shop.ErrUse, args[0])
	}
	a, err := s.Ask(args[0], coach, o.on)
	if err != nil {
		return err
	}
	if e.console.Terminal() {
		return e.askAll(ctx, s, a)
	}
	return e.addTyped(s, a)
}

// addTyped reads the body as JSON, or the answers a line each, from standard
// input.
func (e *env) addTyped(s *shop.Shop, a *shop.Asked) error {
	first, err := e.console.Line()
	for err == nil && strings.TrimSpace(first) == "" {
		first, err = e.console.Line()
	}
	if err != nil {
		return fmt.Errorf("%w: add reads answers or a JSON object from standard input: %w", shop.ErrUse, err)
	}
	if !strings.HasPrefix(strings.TrimSpace(first), "{") {
		return e.askFrom(s, a, first)
	}
	text := []string{first}
	for {
		line, err := e.console.Line()
		if errors.Is(err, console.ErrNobody) {
			break
		}
		if err != nil {
			return err
		}
		text = append(text, line)
	}
	d, err := draftFromJSON(a.Kind(), []byte(strings.Join(text, "\n")))
	if err != nil {
		return err
	}
	if _, said := d.Body["happened"]; !said {
		d.Body["happened"] = a.Heading.Day
	}
	return e.pencilDraft(s, d, a.Heading)
}

// askFrom answers from standard input, whose first line was read already. An
// answer that does not fit ends it; what was answered stays in pencil.
func (e *env) askFrom(s *shop.Shop, a *shop.Asked, answer string) error {
	for {
		if err := s.Answer(a, answer); err != nil {
			return e.broken(s, a, err)
		}
		if _, more := a.Next(); !more {
			return e.asked(s, a)
		}
		var err error
		if answer, err = e.console.Line(); errors.Is(err, console.ErrNobody) {
			return e.asked(s, a)
		}
		if err != nil {
			return err
		}
	}
}

// broken says what was wrong with an answer, and what is kept.
func (e *env) broken(s *shop.Shop, a *shop.Asked, why error) error {
	q, _ := a.Next()
	why = fmt.Errorf("%w: %s: %w", shop.ErrUse, q.Asks, why)
	if !a.Begun() {
		return why
	}
	return errors.Join(why, e.asked(s, a))
}

// Words that are no answers.
const (
	wordBack = "back"
	wordStop = "stop"
	wordHelp = "?"
)

// askAll asks until nothing is left, or the person stops.
func (e *env) askAll(ctx context.Context, s *shop.Shop, a *shop.Asked) error {
	e.console.Say("%s, %s, on %s. Words: back, ? and stop.", a.Kind(), a.Plate, a.Heading.Day)
	for {
		q, more := a.Next()
		if !more {
			return errors.Join(e.asked(s, a), e.inkAsked(ctx, s, a))
		}
		answer, err := e.console.Ask(asking(q), q.Usual)
		if errors.Is(err, console.ErrNobody) {
			return e.asked(s, a)
		}
		if err != nil {
			return err
		}
		switch answer {
		case wordStop:
			return e.asked(s, a)
		case wordHelp:
			e.sayWords(q)
			continue
		case wordBack:
			err = e.back(s, a)
		default:
			err = s.Answer(a, answer)
		}
		if errors.Is(err, book.ErrMoved) {
			e.console.Say("%v.", err)
		} else if err != nil {
			e.console.Say("  %s", sentence(err))
		}
	}
}

// inkAsked offers to ink a note that is whole.
func (e *env) inkAsked(ctx context.Context, s *shop.Shop, a *shop.Asked) error {
	if a.Read.State != book.Clear {
		return nil
	}
	yes, err := e.console.Yes("Ink it now, with what else is in pencil for this coach?")
	if err != nil || !yes {
		return err
	}
	return e.ink(ctx, s, a.Plate, "")
}

func (e *env) back(s *shop.Shop, a *shop.Asked) error {
	ok, err := s.TakeBack(a)
	if err == nil && !ok {
		e.console.Say("  This is the first question.")
	}
	return err
}

// asking is a question as it is put: with what needs an answer, and how one
// looks.
func asking(q questions.Question) string {
	out := strings.ToUpper(q.Asks[:1]) + q.Asks[1:]
	if len(q.Words) > 0 && len(q.Words) <= fewWords {
		q.Write = names(q.Words)
	}
	if q.Write != "" {
		out += " (" + q.Write + ")"
	}
	if len(q.Words) > fewWords {
		out += " (? lists the words)"
	}
	return out
}

// fewWords are shown with the question.
const fewWords = 10

func names(words []ledger.Word) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = w.Name
	}
	return strings.Join(out, ", ")
}

// sayWords lists the words that may answer, with what they mean.
func (e *env) sayWords(q questions.Question) {
	switch {
	case len(q.Words) == 0 && q.Write != "":
		e.console.Say("  No list of words answers this. Written so: %s", q.Write)
	case len(q.Words) == 0:
		e.console.Say("  No list of words answers this. Write it in your own.")
	}
	for _, w := range q.Words {
		e.console.Say("  %-20s %s", w.Name, w.Means)
	}
}

// asked says how the note stands now.
func (e *env) asked(s *shop.Shop, a *shop.Asked) error {
	if a.Note == 0 {
		return fmt.Errorf("%w: nothing was answered, nothing is in pencil", shop.ErrNothing)
	}
	stands, err := s.Stands(a)
	if err != nil {
		return err
	}
	if !stands {
		e.console.Say("Note %d was changed, inked or rubbed out elsewhere meanwhile; it stands as that left it: lapmark pencil.", a.Note)
		return nil
	}
	if err := s.AskedPhotos(a, []string{e.here}); err != nil {
		return err
	}
	if e.json {
		return e.answer(sheetJSON([]shop.Read{a.Read}))
	}
	if err := e.print("%s\n%s", strings.Join(a.Heading.Lines(sheet.Heading{}), "\n"), or(sheet.Fold(a.Read.Line), a.Kind()+":")); err != nil {
		return err
	}
	if a.Read.Why != "" {
		if err := e.print("  %s", a.Read.Why); err != nil {
			return err
		}
	}
	e.console.Say("Note %d in pencil, nothing signed yet.", a.Note)
	if a.Read.State != book.Clear {
		e.console.Say("Go on with it: lapmark add --go-on %d", a.Note)
	}
	return nil
}

package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/day"
	"lapmark/ledger/may"
	"lapmark/ledger/rules"
	"lapmark/report/english"
)

func newMay(e *env) *cobra.Command {
	var at []string
	c := &cobra.Command{
		Use:   "may COACH " + strings.Join(may.All(), "|"),
		Short: "Ask whether a place may be closed, a press come off, a load or water go on, a certificate be signed",
		Long: `may asks the rules that inking would ask, of the ledger as it stands, now:

  close      a place and what is under it may be hidden
  press-off  the press may come off; load: it bears; water: the sealant is cured
             through
  certify    the certificate that certify would propose may be signed

It answers yes or no, why, and from when if a time can be told. Nothing is
written. Notes in pencil do not count: ink them first. Exit code 0 for
no as well as yes: it was asked and answered.`,
		Example: `  lapmark may 4137 press-off
  lapmark may 4137 close --at "bay 9 left"
  lapmark may 4137 water --at A1 --json`,
		Args: args(2, 2),
		ValidArgsFunction: func(c *cobra.Command, given []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(given) == 1 {
				return completions(typed, may.All())
			}
			return e.completeCoach(c, given, typed)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.may(s, args[0], args[1], at) })
		},
	}
	c.Flags().StringArrayVar(&at, "at", nil, "at this `PLACE`, as a sheet writes it; more than once: at all of them")
	return c
}

type mayAnswer struct {
	Answer   string          `json:"answer"`
	V        int             `json:"v"`
	Coach    string          `json:"coach"`
	Asked    string          `json:"asked"`
	At       []string        `json:"at"`
	May      bool            `json:"may"`
	Why      []outcomeAnswer `json:"why"`
	Earliest string          `json:"earliest"`
	Says     []string        `json:"says"`
	Pencil   []string        `json:"pencil"`
}

func (e *env) may(s *shop.Shop, name, what string, at []string) error {
	c, err := s.Coach(name)
	if err != nil {
		return err
	}
	p, err := s.May(c, what, at)
	if err != nil {
		return err
	}
	if e.json {
		return e.answer(mayJSON(c.Plate, what, at, p))
	}
	return e.printMay(p)
}

func mayJSON(plate, what string, at []string, p shop.Permission) mayAnswer {
	a := mayAnswer{
		Answer: "may", V: 1, Coach: plate, Asked: what, At: append([]string{}, at...), May: p.Yes, Why: []outcomeAnswer{},
		Earliest: p.Earliest.String(), Says: append([]string{}, p.Says...), Pencil: append([]string{}, p.Pencil...),
	}
	for _, list := range [][]rules.Outcome{p.Why, p.Noted} {
		for _, o := range list {
			a.Why = append(a.Why, outcomeAnswer{o.Rule, o.Degree.String(), o.Sentence})
		}
	}
	return a
}

func (e *env) printMay(p shop.Permission) error {
	lines := []string{"No."}
	if p.Yes {
		lines[0] = "Yes."
	}
	for _, o := range p.Why {
		text := o.Sentence
		if o.Mend != "" {
			text += " → " + o.Mend + "."
		}
		lines = append(lines, text)
	}
	if !p.Earliest.IsZero() {
		lines = append(lines, "Earliest "+sayMoment(p.Earliest)+".")
	}
	for _, o := range p.Noted {
		lines = append(lines, "It would be printed: "+o.Sentence)
	}
	lines = append(lines, p.Says...)
	if n := len(p.Pencil); n > 0 {
		lines = append(lines, fmt.Sprintf("Not counted, in pencil: %s. Ink first: lapmark ink.", tally(p.Pencil)))
	}
	for _, line := range lines {
		if err := e.print("%s", line); err != nil {
			return err
		}
	}
	return nil
}

func sayMoment(m day.Moment) string { return m.Day().Long() + " " + m.Clock() }

// tally says words with their number: 2 check, 1 cure.
func tally(words []string) string {
	var order []string
	number := map[string]int{}
	for _, w := range words {
		if number[w] == 0 {
			order = append(order, w)
		}
		number[w]++
	}
	for i, w := range order {
		order[i] = english.Numbered(number[w], w+" note", w+" notes")
	}
	return strings.Join(order, ", ")
}

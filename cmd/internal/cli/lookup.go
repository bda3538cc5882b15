package cli

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/book"
)

func newLookUp(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "look-up WORDS...",
		Short: "Find a coach by its plate, VIN, serial, certificate, town or holder",
		Long: `look-up finds coaches by words or parts of words, all of which must fit: VIN,
serial, number of a certificate, builder, model, plate, name and address of the
holder. Exit code 4 if none fits.`,
		Example: `  lapmark look-up 4137
  lapmark look-up tarnholt fellside`,
		Args: args(1, many),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.lookUp(s, strings.Join(args, " ")) })
		},
	}
}

type lookUpAnswer struct {
	Answer  string        `json:"answer"`
	V       int           `json:"v"`
	Coaches []lookUpCoach `json:"coaches"`
}

type lookUpCoach struct {
	ID      string   `json:"id"`
	VIN     string   `json:"vin,omitempty"`
	Serial  string   `json:"serial,omitempty"`
	Builder string   `json:"builder"`
	Model   string   `json:"model"`
	Year    int      `json:"year"`
	Entries int      `json:"entries"`
	Day     string   `json:"day"`
	FoundBy []string `json:"found_by"`
}

func (e *env) lookUp(s *shop.Shop, words string) error {
	hits, err := s.Book.Search(words)
	if err != nil {
		return err
	}
	if e.json {
		a := lookUpAnswer{Answer: "look-up", V: 1, Coaches: []lookUpCoach{}}
		for _, h := range hits {
			a.Coaches = append(a.Coaches, lookUpCoach{
				h.Coach.ID, h.Coach.VIN, h.Coach.Serial, h.Coach.Builder, h.Coach.Model, h.Coach.Year, h.Coach.Entries,
				h.Coach.Day, foundBy(h),
			})
		}
		if err := e.answer(a); err != nil {
			return err
		}
	} else if err := e.printHits(hits); err != nil {
		return err
	}
	if len(hits) == 0 {
		return fmt.Errorf("%w: nothing here has %q. %s", shop.ErrNoCoach, words, lookAgain(words))
	}
	return nil
}

// lookAgain says what to try where nothing was found.
func lookAgain(words string) string {
	short := func(word string) bool { return utf8.RuneCountInString(word) < book.MinFragment }
	if slices.ContainsFunc(strings.Fields(words), short) {
		return fmt.Sprintf("A shorter word is looked for at the beginning of words: of a number write any %d characters in a row", book.MinFragment)
	}
	return "Try another part of it, or take it in: lapmark intake"
}

func foundBy(h book.Hit) []string {
	out := []string{}
	for _, f := range h.Found {
		out = append(out, string(f.Kind)+" "+f.Text)
	}
	return out
}

func (e *env) printHits(hits []book.Hit) error {
	for _, h := range hits {
		c := h.Coach
		err := e.print("%s%s  %s %s, %d  entry %d of %s  found by %s", c.VIN, c.Serial, c.Builder, c.Model, c.Year,
			c.Entries, c.Day, strings.Join(foundBy(h), ", "))
		if err != nil {
			return err
		}
	}
	return nil
}

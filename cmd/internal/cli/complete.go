package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/book"
)

// completions are words that fit what was typed so far, no file among them.
func completions(typed string, words []string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, w := range words {
		if strings.HasPrefix(w, typed) {
			out = append(out, w)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// complete lets a shell finish the words of a flag; of a list, the last one.
func complete(c *cobra.Command, flag string, words func() []string) {
	err := c.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		before, last := "", typed
		if at := strings.LastIndexByte(typed, ','); at >= 0 {
			before, last = typed[:at+1], typed[at+1:]
		}
		out, how := completions(last, words())
		for i := range out {
			out[i] = before + out[i]
		}
		return out, how
	})
	if err != nil {
		panic(err) // a flag that this command does not have
	}
}

// wordsOf are the words of a list of the trade.
func wordsOf(list string) func() []string {
	return func() []string {
		var out []string
		for _, w := range ledger.WordsOf(list) {
			out = append(out, w.Name)
		}
		return out
	}
}

// completeCoach lets a shell finish the name of a coach of this shop: its VIN or
// serial, from any character on. Where there is no shop it finishes nothing.
func (e *env) completeCoach(_ *cobra.Command, given []string, typed string) (out []string, how cobra.ShellCompDirective) {
	how = cobra.ShellCompDirectiveNoFileComp
	if len(given) > 0 {
		return nil, how
	}
	err := e.withShop(func(s *shop.Shop) error {
		coaches, err := s.Book.Coaches()
		if err != nil {
			return err
		}
		for _, c := range coaches {
			plate := c.VIN + c.Serial
			if at := strings.Index(plate, typed); at >= 0 && len(plate)-at >= book.MinFragment {
				out = append(out, plate[at:]) // a shell wants what begins as it was typed
			}
		}
		return nil
	})
	if err != nil {
		return nil, how
	}
	return out, how
}

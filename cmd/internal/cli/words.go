package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/book"
)

type wordsOptions struct{ own, forget, mark string }

func newWords(e *env) *cobra.Command {
	var o wordsOptions
	c := &cobra.Command{
		Use:   "words [LIST | TEXT...]",
		Short: "Show and search the vocabulary; keep words of the shop's own",
		Long: `words lists the words of the trade that a note may use. With a list or a text
it shows the words that fit, what they mean, what may be typed for them, and
what they carry: what they must, and in brackets what they may. --own lets a
word of the shop's own stand for one of them in every sheet read from then on.
--mark writes down who stands behind a mark, so that a sheet may say it; the name
stays in the book. Every shop has foreman, desk, hand-1 and hand-2.`,
		Example: `  lapmark words
  lapmark words defects
  lapmark words soft deck
  lapmark words --own 'mushy = soft-deck'
  lapmark words --forget mushy
  lapmark words --mark 'hand-3 = Osric Wendover'`,
		Args: args(0, many), ValidArgsFunction: completeLists,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.words(s, strings.Join(args, " "), o) })
		},
	}
	f := c.Flags()
	f.StringVar(&o.own, "own", "", "keep a word of the shop's own and what it stands for, `WORDS` with = between")
	f.StringVar(&o.mark, "mark", "", "write down who stands behind a mark, `WORDS` with = between")
	f.StringVar(&o.forget, "forget", "", "take a `WORD` of the shop's own away")
	return c
}

func completeLists(_ *cobra.Command, given []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(given) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return ledger.Lists(), cobra.ShellCompDirectiveNoFileComp
}

func (e *env) words(s *shop.Shop, text string, o wordsOptions) error {
	if o.own != "" && o.forget != "" {
		return fmt.Errorf("%w: --own or --forget, one at a time", shop.ErrUse)
	}
	if o.own != "" {
		w, err := s.OwnWord(o.own)
		if err != nil {
			return err
		}
		return e.did(nil, "words", fmt.Sprintf("%s is read as %s from now on; --forget %q undoes it", w.Typed, w.Word, w.Typed))
	}
	if o.forget != "" {
		return e.did(s.ForgetWord(o.forget), "words", o.forget+" is no word of the shop's own any more")
	}
	if o.mark != "" {
		m, err := s.OwnMark(o.mark)
		return e.did(err, "words", m.Mark+" may stand in a sheet now; the name stays in the book")
	}
	all, err := s.Vocabulary()
	if err != nil {
		return err
	}
	if text == "" && !e.json {
		return e.wordLists(s, all)
	}
	found := all
	if text != "" {
		found = shop.Search(all, text)
	}
	return e.showWords(found, text)
}

// wordLists shows the lists with their words, and the shop's own.
func (e *env) wordLists(s *shop.Shop, all []shop.Known) error {
	var order []string
	byList := map[string][]string{}
	for _, k := range all {
		if byList[k.List] == nil {
			order = append(order, k.List)
		}
		byList[k.List] = append(byList[k.List], k.Word)
	}
	for _, list := range order {
		words := byList[list]
		says := strings.Join(words, ", ")
		if len([]rune(says)) > wideList {
			says = cutAtComma(says, wideList) + " …"
		}
		if err := e.print("%-14s %3d  %s", list, len(words), says); err != nil {
			return err
		}
	}
	own, err := s.Book.OwnWords()
	if err != nil || len(own) == 0 {
		return err
	}
	return e.print("%s", "\n"+strings.Join(ownLines(own), "\n"))
}

// wideList is how many characters of a list stand on its line.
const wideList = 70

func cutAtComma(s string, most int) string {
	s = string([]rune(s)[:most])
	return s[:strings.LastIndex(s, ",")+1]
}

func ownLines(own []book.OwnWord) []string {
	out := []string{"The shop's own:"}
	for _, w := range own {
		out = append(out, fmt.Sprintf("  %s = %s, since %s", w.Typed, w.Word, w.Added))
	}
	return out
}

type wordsAnswer struct {
	Answer string      `json:"answer"`
	V      int         `json:"v"`
	Words  []wordsWord `json:"words"`
}

type wordsWord struct {
	Word   string   `json:"word"`
	List   string   `json:"list"`
	Means  string   `json:"means"`
	Typed  []string `json:"typed,omitempty"`
	Own    []string `json:"own,omitempty"`
	Must   []string `json:"must,omitempty"`
	May    []string `json:"may,omitempty"`
	Source string   `json:"source,omitempty"`
}

var errNoWord = errors.New("no word, and no meaning of one, has that in it")

func (e *env) showWords(found []shop.Known, text string) error {
	a := wordsAnswer{Answer: "words", V: 1, Words: []wordsWord{}}
	for _, k := range found {
		a.Words = append(a.Words, wordsWord{
			k.Word, k.List, k.Means, k.Typed, k.Own, k.Carries[:k.Must], k.Carries[k.Must:], k.Source,
		})
	}
	if e.json {
		return e.answer(a)
	}
	if len(found) == 0 {
		return fmt.Errorf("%w: %q: %w", shop.ErrNothing, text, errNoWord)
	}
	for _, w := range a.Words {
		if err := e.print("%s", strings.Join(w.lines(), "\n")); err != nil {
			return err
		}
	}
	return nil
}

func (w wordsWord) lines() []string {
	out := []string{fmt.Sprintf("%-20s %-12s %s", w.Word, w.List, w.Means)}
	add := func(label string, words []string) {
		if len(words) > 0 {
			out = append(out, fmt.Sprintf("%-33s %s", "", label+strings.Join(words, ", ")))
		}
	}
	add("also: ", w.Typed)
	add("here: ", w.Own)
	carries := w.Must
	if len(w.May) > 0 {
		carries = append(append([]string{}, w.Must...), "("+strings.Join(w.May, ", ")+")")
	}
	add("carries: ", carries)
	return out
}

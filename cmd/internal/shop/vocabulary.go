package shop

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/book"
	"lapmark/ledger/loose"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

// Known is one word of the vocabulary: where it stands, what it means, what is
// typed for it.
type Known struct {
	Word    string
	List    string
	Means   string
	Typed   []string // short words for it
	Own     []string // words of the shop's own for it
	Carries []string // quantities it carries; those it must, first
	Must    int      // how many of them it must carry
	Source  string
}

// Names of the lists that are no lists of words.
const (
	listKinds      = "kinds"
	listQuantities = "quantities"
	listRules      = "rules"
)

// Vocabulary returns every word that means something in a note: the lists, the
// kinds, the quantities, the rules, in the order of their tables, each once.
func (s *Shop) Vocabulary() ([]Known, error) {
	own, err := s.Book.OwnWords()
	if err != nil {
		return nil, err
	}
	typed, mine := map[string][]string{}, map[string][]string{}
	for _, short := range loose.Shorts() {
		for _, is := range short.Is {
			typed[is] = append(typed[is], short.Typed)
		}
	}
	for _, w := range own {
		mine[w.Word] = append(mine[w.Word], w.Typed)
	}
	all := tables()
	for i, k := range all {
		all[i].Typed, all[i].Own = typed[k.Word], mine[k.Word]
	}
	return all, nil
}

func tables() []Known {
	var out []Known
	for _, k := range ledger.Kinds() {
		out = append(out, Known{Word: k.Name, List: listKinds, Means: k.Says})
	}
	for _, list := range ledger.Lists() {
		for _, w := range ledger.WordsOf(list) {
			if w.List == list { // a borrowed word stands in its own list
				out = append(out, ofList(w))
			}
		}
	}
	for _, q := range ledger.Quantities() {
		out = append(out, Known{Word: q.Name, List: listQuantities, Means: strings.TrimSuffix(q.Means+", "+sheet.UnitWord(q.Unit), ", ")})
	}
	for _, r := range rules.Rules() {
		out = append(out, Known{Word: r.Key, List: listRules, Means: r.Degree.String() + ": " + strings.Join(r.Sentences, " / ")})
	}
	return out
}

func ofList(w ledger.Word) Known {
	k := Known{Word: w.Name, List: w.List, Means: w.Means, Source: w.Source}
	carries := slices.Clone(w.Carries)
	slices.SortStableFunc(carries, func(a, b ledger.Carry) int { return cmp.Compare(truth(b.Must), truth(a.Must)) })
	for _, c := range carries {
		k.Carries = append(k.Carries, c.Quantity)
		k.Must += truth(c.Must)
	}
	return k
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Search returns the words of a list, or else those that a text stands in: a
// word itself first, then what is typed for it, then parts of words and of what
// they mean.
func Search(all []Known, text string) []Known {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	var ranked [4][]Known
	for _, k := range all {
		if at := k.match(text); at >= 0 {
			ranked[at] = append(ranked[at], k)
		}
	}
	return slices.Concat(ranked[:]...)
}

// match says how well a word answers a search, 0 best, -1 not at all.
func (k Known) match(text string) int {
	spaced := strings.NewReplacer("-", " ").Replace
	typed := slices.Concat(k.Typed, k.Own)
	has := func(s string) bool { return strings.Contains(spaced(s), spaced(text)) }
	switch {
	case k.List == text, spaced(k.Word) == spaced(text):
		return 0
	case slices.Contains(typed, text):
		return 1
	case has(k.Word), slices.ContainsFunc(typed, has):
		return 2
	case has(k.Means):
		return 3
	}
	return -1
}

// OwnWord lets a word of the shop's own stand for a word of the lists: "spongy =
// soft-deck". It returns the two as they are kept.
func (s *Shop) OwnWord(said string) (book.OwnWord, error) {
	typed, is, ok := strings.Cut(said, "=")
	is = strings.Join(strings.Fields(strings.ToLower(is)), "-")
	if !ok || is == "" {
		return book.OwnWord{}, fmt.Errorf("%w: write the shop's word, = and the word it stands for: spongy = soft-deck", ErrUse)
	}
	typed, err := loose.OwnWord(typed, is)
	if err != nil {
		return book.OwnWord{}, fmt.Errorf("%w: %w", ErrUse, err)
	}
	today, _ := s.Today()
	w := book.OwnWord{Typed: typed, Word: is, Added: today}
	return w, s.Book.SetOwnWord(w)
}

// OwnMark writes down who stands behind a mark: "hand-3 = Osric Wendover". The
// name stays in the book; sheets may say the mark from then on.
func (s *Shop) OwnMark(said string) (book.Mark, error) {
	mark, name, ok := strings.Cut(said, "=")
	today, _ := s.Today()
	m := book.Mark{Mark: strings.Join(strings.Fields(strings.ToLower(mark)), "-"), Name: strings.Join(strings.Fields(name), " "), Added: today}
	if !ok || m.Name == "" || !ledger.IsMark(m.Mark) {
		return m, fmt.Errorf("%w: write the mark, = and who it is: hand-3 = NAME", ErrUse)
	}
	err := s.Book.AddMark(m)
	if errors.Is(err, book.ErrTaken) {
		err = fmt.Errorf("%w: %w. A mark is one person for ever: take another", ErrUse, err)
	}
	return m, err
}

// ForgetWord takes a word of the shop's own away.
func (s *Shop) ForgetWord(typed string) error {
	typed = strings.Join(strings.Fields(strings.ToLower(typed)), " ")
	err := s.Book.DropOwnWord(typed)
	if errors.Is(err, book.ErrNoOwnWord) {
		return fmt.Errorf("%w: %q is no word of the shop's own", ErrUse, typed)
	}
	return err
}

package report

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapmark/ledger"
)

// termKey is one key of the terms file: what it means, how its lines are read
// into the terms and how they are written. The first line stands behind the
// key, the others indented below.
type termKey struct {
	word, says string
	needed     bool
	read       func(t *Terms, lines []string) error
	write      func(t Terms) []string
}

// termKeys is the table of the terms: every key once, in the order of the file.
func termKeys() []termKey {
	keys := []termKey{
		textTerm("shop", "the name of the shop, as on its sign", func(t *Terms) *string { return &t.Shop }).need(),
		textTerm("address", "where post reaches it", func(t *Terms) *string { return &t.Address }).need(),
		textTerm("desk", "who answers for the warranty: a person or a department", func(t *Terms) *string { return &t.Desk }).need(),
		textTerm("telephone", "of that desk", func(t *Terms) *string { return &t.Telephone }).need(),
		textTerm("mail", "of that desk; may stay empty", func(t *Terms) *string { return &t.Mail }),
		wordTerm("law", "us, eu or other: which law's form the warranty follows", lawWords, func(t *Terms) *int { return (*int)(&t.Law) }),
		titleTerm(),
		wordTerm("paper", "a4 or letter", sizeWords, func(t *Terms) *int { return (*int)(&t.Paper) }),
		wordTerm("units", "mm, or both: inches behind in brackets", unitWords, func(t *Terms) *int { return (*int)(&t.Units) }),
		linesTerm("claim-steps", "the steps when something happens, one a line", func(t *Terms) *[]string { return &t.ClaimSteps }),
		linesTerm("pays", "what you do and pay", func(t *Terms) *[]string { return &t.Pays }),
		linesTerm("pays-not", "what you do not pay", func(t *Terms) *[]string { return &t.PaysNot }),
		causesTerm(),
		impliedTerm(),
		textTerm("dispute", "an office to be asked first: its name, address, free telephone", func(t *Terms) *string { return &t.Dispute }),
		textTerm("upkeep-who", "who may do the upkeep", func(t *Terms) *string { return &t.UpkeepWho }),
		linesTerm("rights", "rights to be named besides, under a law of neither form", func(t *Terms) *[]string { return &t.Rights }),
		thanksTerm(),
		textTerm("none-found", "said where nothing was found", func(t *Terms) *string { return &t.NoneFound }),
		textTerm("goodwill", "said of what is paid beyond the warranty", func(t *Terms) *string { return &t.Goodwill }),
		textTerm("terms-shown", "said where the full wording is offered; {p} is its page", func(t *Terms) *string { return &t.TermsShown }),
	}
	for i, p := range usualPromises() {
		keys = append(keys, promiseTerm(i, p.Promise))
	}
	for _, w := range numberWords {
		keys = append(keys, numberTerm(w))
	}
	for _, t := range ledger.Terms() {
		keys = append(keys, limitTerm(t))
	}
	return keys
}

func (k termKey) need() termKey {
	k.needed = true
	return k
}

// oneLine is the value of a key that takes a single line, wherever it stands.
func oneLine(lines []string) string { return strings.TrimSpace(strings.Join(lines, " ")) }

func textTerm(word, says string, in func(*Terms) *string) termKey {
	return termKey{
		word: word, says: says,
		read: func(t *Terms, lines []string) error {
			*in(t) = oneLine(lines)
			return RefusedText(*in(t))
		},
		write: func(t Terms) []string { return []string{*in(&t)} },
	}
}

func wordTerm(word, says string, words []string, in func(*Terms) *int) termKey {
	return termKey{
		word: word, says: says,
		read: func(t *Terms, lines []string) error {
			at := slices.Index(words, oneLine(lines))
			if at < 0 {
				return fmt.Errorf("%s is one of %s", word, strings.Join(words, ", "))
			}
			*in(t) = at
			return nil
		},
		write: func(t Terms) []string { return []string{words[*in(&t)]} },
	}
}

func linesTerm(word, says string, in func(*Terms) *[]string) termKey {
	return termKey{
		word: word, says: says,
		read: func(t *Terms, lines []string) error {
			*in(t) = nil
			for _, l := range lines {
				if l == "" {
					continue
				}
				if err := RefusedText(l); err != nil {
					return err
				}
				*in(t) = append(*in(t), l)
			}
			return nil
		},
		write: func(t Terms) []string { return append([]string{""}, *in(&t)...) },
	}
}

func titleTerm() termKey {
	return termKey{
		word: "title", says: "what the warranty is called; us: Limited warranty, eu: Commercial guarantee",
		read: func(t *Terms, lines []string) error {
			t.Title = oneLine(lines)
			if strings.Contains(strings.ToLower(t.Title), "full") {
				return errors.New("a warranty with shares that fall and sales that end it is not full (15 USC 2303)")
			}
			return RefusedText(t.Title)
		},
		write: func(t Terms) []string { return []string{t.Title} },
	}
}

func impliedTerm() termKey {
	const none = "not limited"
	return termKey{
		word: "implied", says: "not limited, or one sentence that says how long implied warranties last",
		read: func(t *Terms, lines []string) error {
			t.Implied = oneLine(lines)
			if t.Implied == none {
				t.Implied = ""
			}
			return RefusedText(t.Implied)
		},
		write: func(t Terms) []string {
			if t.Implied == "" {
				return []string{none}
			}
			return []string{t.Implied}
		},
	}
}

func thanksTerm() termKey {
	k := textTerm("thanks", "a line of thanks on the upkeep slip, at most 120 characters", func(t *Terms) *string { return &t.Thanks })
	read := k.read
	k.read = func(t *Terms, lines []string) error {
		if n := len([]rune(oneLine(lines))); n > 120 {
			return fmt.Errorf("%d characters; at most 120", n)
		}
		return read(t, lines)
	}
	return k
}

func causesTerm() termKey {
	return termKey{
		word: "causes", says: "how each exclusion reads in a list: its word, then the text",
		read: func(t *Terms, lines []string) error {
			for _, l := range lines {
				if l == "" {
					continue
				}
				word, says, _ := strings.Cut(l, " ")
				at := slices.IndexFunc(t.Causes, func(p Phrase) bool { return p.Word == word })
				if at < 0 {
					return fmt.Errorf("no exclusion %q", word)
				}
				if says == "" {
					return fmt.Errorf("%s says nothing", word)
				}
				if err := RefusedText(says); err != nil {
					return err
				}
				t.Causes[at].Says = says
			}
			return nil
		},
		write: func(t Terms) []string {
			lines := []string{""}
			for _, p := range t.Causes {
				lines = append(lines, p.Word+" "+p.Says)
			}
			return lines
		},
	}
}

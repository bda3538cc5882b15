package report

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
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
	for _, l := range usualLimits {
		keys = append(keys, limitTerm(l))
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
	return termKey{word: word, says: says,
		read: func(t *Terms, lines []string) error {
			*in(t) = oneLine(lines)
			return RefusedText(*in(t))
		},
		write: func(t Terms) []string { return []string{*in(&t)} },
	}
}

func wordTerm(word, says string, words []string, in func(*Terms) *int) termKey {
	return termKey{word: word, says: says,
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
	return termKey{word: word, says: says,
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
	return termKey{word: "title", says: "what the warranty is called; us: Limited warranty, eu: Commercial guarantee",
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
	return termKey{word: "implied", says: "not limited, or one sentence that says how long implied warranties last",
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
	return termKey{word: "causes", says: "how each exclusion reads in a list: its word, then the text",
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

func promiseTerm(at int, promise string) termKey {
	return termKey{word: "promise " + promise, says: "",
		read: func(t *Terms, lines []string) error {
			p, err := readPromise(promise, oneLine(lines))
			t.Promises[at] = p
			return err
		},
		write: func(t Terms) []string { return []string{t.Promises[at].says()} },
	}
}

// says is the promise as the terms file writes it.
func (p PromiseTerm) says() string {
	if p.Months == 0 {
		return "none"
	}
	floor, upkeep := "-", "no"
	if p.Floor < 100 {
		floor = strconv.Itoa(p.Floor)
	}
	if p.Upkeep {
		upkeep = "yes"
	}
	return fmt.Sprintf("%d %d %s %s", p.Months, p.Full, floor, upkeep)
}

// readPromise reads "months full floor upkeep", or "none".
func readPromise(promise, value string) (PromiseTerm, error) {
	p := PromiseTerm{Promise: promise, Floor: 100}
	if value == "none" {
		return PromiseTerm{Promise: promise}, nil
	}
	f := strings.Fields(value)
	if len(f) != 4 {
		return p, errors.New("months, full months, floor in percent (- for none), upkeep yes or no; or none")
	}
	var err error
	if p.Months, err = readNumber(f[0], 1, 240); err != nil {
		return p, fmt.Errorf("months: %w", err)
	}
	if p.Full, err = readNumber(f[1], 0, p.Months); err != nil {
		return p, fmt.Errorf("full months: %w", err)
	}
	if f[2] != "-" {
		if p.Floor, err = readNumber(f[2], 0, 100); err != nil {
			return p, fmt.Errorf("floor: %w", err)
		}
	}
	if f[3] != "yes" && f[3] != "no" {
		return p, errors.New("upkeep is yes or no")
	}
	p.Upkeep = f[3] == "yes"
	return p, nil
}

func readNumber(text string, least, most int) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < least || n > most {
		return 0, fmt.Errorf("%q is not a whole number from %d to %d", text, least, most)
	}
	return n, nil
}

func numberTerm(w numberWord) termKey {
	return termKey{word: w.Word, says: w.Says,
		read: func(t *Terms, lines []string) error {
			value := oneLine(lines)
			n, err := readNumber(strings.TrimSuffix(value, unitBehind(w.Unit)), w.Least, w.Most)
			*w.In(&t.Numbers) = n
			return err
		},
		write: func(t Terms) []string {
			return []string{strconv.Itoa(*w.In(&t.Numbers)) + unitBehind(w.Unit)}
		},
	}
}

func unitBehind(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// limitTerm reads the values of a rule or check: as many as usual, in the same
// units.
func limitTerm(usual Limit) termKey {
	return termKey{word: usual.Rule,
		read: func(t *Terms, lines []string) error {
			value := oneLine(lines)
			if limitShape(value) != limitShape(usual.Says) {
				return fmt.Errorf("%q: written like %q", value, usual.Says)
			}
			if value != usual.Says {
				t.Limits = append(t.Limits, Limit{usual.Rule, value})
			}
			return nil
		},
		write: func(t Terms) []string {
			says, _ := t.LimitSays(usual.Rule)
			return []string{says}
		},
	}
}

// limitShape is a value with each number made 0: "12 h 24 h" is "0 h 0 h".
func limitShape(value string) string {
	fields := strings.Fields(value)
	for i, f := range fields {
		if n, err := strconv.ParseFloat(strings.TrimPrefix(f, "1:"), 64); err == nil && n >= 0 && n < 1e6 && !strings.ContainsAny(f, "eExXpP+_nN") {
			fields[i] = strings.Repeat("1:", strings.Count(f, ":")) + "0"
		}
	}
	return strings.Join(fields, " ")
}

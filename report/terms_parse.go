package report

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"lapmark/ledger"
)

// TermsError says in which line of a terms file something cannot be read.
type TermsError struct {
	Line int
	Why  string
}

func (e TermsError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Why) }

// ParseTerms reads a terms file: "key value", long values indented below, each
// line of them a sentence of its own and a line indented further going on from
// the one above; "#" begins a comment line. What is not said keeps its
// default. Errors are of type TermsError.
func ParseTerms(text []byte) (Terms, error) {
	if !utf8.Valid(text) {
		return Terms{}, TermsError{1, "this is not UTF-8 text"}
	}
	t := DefaultTerms()
	entries, err := termEntries(string(text))
	if err != nil {
		return Terms{}, err
	}
	keys := termKeys()
	said := map[string]int{}
	for _, e := range entries {
		at := slices.IndexFunc(keys, func(k termKey) bool { return k.word == e.word })
		if at < 0 {
			return Terms{}, TermsError{e.line, unknownTerm(e.word)}
		}
		if before := said[e.word]; before > 0 {
			return Terms{}, TermsError{e.line, fmt.Sprintf("%s is said in line %d already", e.word, before)}
		}
		said[e.word] = e.line
		if err := keys[at].read(&t, e.lines); err != nil {
			return Terms{}, TermsError{e.line, e.word + ": " + err.Error()}
		}
	}
	if n := t.Numbers; n.UpkeepEarlyDays+n.UpkeepGraceDays >= 28*n.UpkeepEveryMonths {
		line := max(said["upkeep-every"], said["upkeep-early"], said["upkeep-grace"])
		return Terms{}, TermsError{line, "upkeep-early and upkeep-grace together must stay under 28 days for each month of upkeep-every"}
	}
	table := ledger.Terms()
	inTable := func(l Limit) int {
		return slices.IndexFunc(table, func(t ledger.Term) bool { return t.Rule == l.Rule })
	}
	slices.SortFunc(t.Limits, func(a, b Limit) int { return inTable(a) - inTable(b) })
	return t, nil
}

// termEntry is one key with its lines as they stand in the file.
type termEntry struct {
	line  int
	word  string
	lines []string
}

// termEntries cuts a terms file into keys and their lines.
func termEntries(text string) ([]termEntry, error) {
	var entries []termEntry
	indent := 0
	for i, raw := range strings.Split(text, "\n") {
		says := strings.Join(strings.Fields(raw), " ")
		deep := len(raw) - len(strings.TrimLeft(raw, " \t"))
		switch {
		case says == "" || says[0] == '#':
		case deep == 0:
			word, value, _ := strings.Cut(says, " ")
			if word == "promise" {
				name, rest, _ := strings.Cut(value, " ")
				word, value = word+" "+name, rest
			}
			entries = append(entries, termEntry{i + 1, word, []string{value}})
			indent = 0
		case len(entries) == 0:
			return nil, TermsError{i + 1, "an indented line goes on from a key; there is none above"}
		default:
			e := &entries[len(entries)-1]
			if indent == 0 {
				indent = deep
			}
			if deep > indent {
				e.lines[len(e.lines)-1] += " " + says
			} else {
				e.lines = append(e.lines, says)
			}
		}
	}
	return entries, nil
}

// unknownTerm says why a key is not taken: a fixed sentence cannot be changed,
// anything else is not known.
func unknownTerm(word string) string {
	for _, s := range fixedSentences {
		if s.Key == word && !s.Changeable {
			return fmt.Sprintf("%s is printed as it stands and cannot be changed", word)
		}
	}
	return fmt.Sprintf("no term %q", word)
}

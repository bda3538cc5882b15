package loose

import (
	"slices"
	"strings"
)

// tag finds the words and phrases of the lexicon, the longest first, from left
// to right. A word that none fits is tried as a slip of spelling.
func tag(in []token, own map[string]string) []token {
	lex := lexiconOf()
	var out []token
	for i := 0; i < len(in); {
		t, next := in[i], i+1
		if t.kind == aWord || t.kind == aNumber {
			t, next = tagAt(lex, in, i, own)
		}
		out = append(out, t)
		i = next
	}
	return out
}

func tagAt(lex *lexicon, in []token, i int, own map[string]string) (token, int) {
	best, next, senses := in[i], i+1, []sense(nil)
	var slip []string // the longest phrase that was not exact
	slipTo := 0
	key := ""
	var words []string
	for j := i; j < len(in) && len(words) < longestPhrase; j++ {
		t := in[j]
		if t.kind == aSign && t.glued && (t.s == "-" || t.s == "/") && j > i && j+1 < len(in) && in[j+1].glued {
			continue
		}
		if t.kind != aWord && (t.kind != aNumber || !t.whole || j > i+1) || t.kind == aNumber && t.glued {
			break
		}
		word := t.s
		if t.kind == aNumber {
			word = t.raw
		}
		words = append(words, word)
		key += joined(word)
		if found := lex.exact(key, own); found != nil && (j > i || t.kind == aWord) && lex.apart(key, words) {
			best, next, senses = merged(in[i:j+1]), j+1, found
			slip = nil
		} else if len(words) > 1 && len(words) <= 4 && in[i].kind == aWord {
			if k, err := lex.slip(words); err == nil && k != "" && slip == nil {
				slip, slipTo = []string{k}, j+1
			}
		}
	}
	switch {
	case slip != nil && slipTo > next:
		best, next = merged(in[i:slipTo]), slipTo
		senses = lex.senses[slip[0]]
	case senses == nil && in[i].kind == aWord && !isNumberWord(best.s) && !isUnit(best.s) && !slices.Contains(fillerWords, best.s) && !slices.Contains(doubtWords, best.s):
		k, err := lex.slip([]string{joined(best.s)})
		if senses = lex.senses[k]; err == nil && k == "" {
			err = lex.nearTurn(best.s)
		}
		best.slip = err
	}
	best.senses = senses
	best.filler = best.kind == aWord && slices.Contains(fillerWords, best.s)
	return best, next
}

// apart says whether a word may be typed in these pieces: none so short that it
// may be another word.
func (l *lexicon) apart(key string, pieces []string) bool {
	if len(pieces) == 1 || l.several[key] {
		return true
	}
	return !slices.ContainsFunc(pieces, func(p string) bool { return len(p) < 3 })
}

func isNumberWord(s string) bool {
	_, ok := numberWords[s]
	return ok || s == "point" || namedIn(monthNames, s) > 0 || namedIn(weekdayNames, s) > 0
}

func isUnit(s string) bool {
	_, ok := unitTable[s]
	return ok
}

func merged(in []token) token {
	t := in[0]
	if len(in) == 1 {
		return t
	}
	words := make([]string, 0, len(in))
	for _, one := range in {
		if one.kind != aSign {
			words = append(words, one.s)
		}
	}
	t.kind, t.s, t.raw = aWord, strings.Join(words, " "), rawOf(in)
	return t
}

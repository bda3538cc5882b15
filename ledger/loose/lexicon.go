package loose

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"lapmark/ledger"
)

// sense is one meaning of a word or phrase: a word of a list of package ledger,
// a quantity, a kind, the label of a part, or a word of the grammar here.
type sense struct {
	list, name string
	with       With
	bent       bool // a plural or another form of the word
}

// Lists of senses that are not in package ledger.
const (
	quantities = "quantity"
	kindWords  = "kind"
	labels     = "label"
	grammar    = "grammar"
)

// lexicon are all words and phrases, by their letters.
type lexicon struct {
	senses  map[string][]sense
	phrases map[string][]phrase // of several words, by first letter
	parts   map[string]bool     // single words of the keys
	several map[string]bool     // keys of several words
	right   map[string]bool     // words that are no slips of others
	near    map[byte][]string   // keys that a slip may stand for, by first letter
}

type phrase struct {
	words []string
	key   string
}

const longestPhrase = 7

var lexiconOf = sync.OnceValue(func() *lexicon {
	l := &lexicon{senses: map[string][]sense{}, phrases: map[string][]phrase{}, near: map[byte][]string{}, parts: map[string]bool{}, several: map[string]bool{}, right: map[string]bool{}}
	l.vocabulary()
	l.private()
	l.bend()
	for _, s := range shortTable() {
		for _, is := range s.Is {
			for _, sense := range sensesOf(is) {
				sense.with = s.With
				l.add(s.Typed, sense)
			}
		}
	}
	for _, list := range [][]string{notSlips, fillerWords, doubtWords, numberNames(), monthNames, weekdayNames} {
		for _, w := range list {
			l.right[w] = true
		}
	}
	for name := range unitTable {
		l.right[name] = true
	}
	for key := range l.senses {
		if len(key) > 4 && l.longEnough(key) && !slices.Contains(neverSlips, key) && !slices.Contains(numberNames(), key) {
			l.near[key[0]] = append(l.near[key[0]], key)
		}
	}
	return l
})

// longEnough says whether a slip may stand for a word: one form of a word of up to
// four letters is as short as the word.
func (l *lexicon) longEnough(key string) bool {
	return slices.ContainsFunc(l.senses[key], func(s sense) bool { return !s.bent || len(joined(s.name)) > 4 })
}

func (l *lexicon) add(typed string, s sense) {
	key := joined(typed)
	if key == "" || slices.Contains(l.senses[key], s) {
		return
	}
	l.senses[key] = append(l.senses[key], s)
	words := strings.FieldsFunc(typed, func(r rune) bool { return r == ' ' || r == '-' || r == '/' })
	for _, w := range words {
		l.parts[w] = true
	}
	if len(words) > 1 {
		l.several[key] = true
		l.phrases[words[0][:1]] = append(l.phrases[words[0][:1]], phrase{words, key})
	}
}

func (l *lexicon) vocabulary() {
	for _, list := range ledger.Lists() {
		for _, w := range ledger.WordsOf(list) {
			l.add(w.Name, sense{list: list, name: w.Name})
		}
	}
	for _, q := range ledger.Quantities() {
		l.add(q.Name, sense{list: quantities, name: q.Name})
	}
	for _, k := range ledger.Kinds() {
		l.add(k.Name, sense{list: kindWords, name: k.Name})
		for _, f := range k.AllFields() {
			l.label(f)
		}
	}
	for _, name := range []string{"result", "operation", "lot", "cover line", "opening", "looked", "release", "known", "said"} {
		s, _ := ledger.ShapeNamed(name)
		for _, f := range s.Fields {
			l.label(f)
		}
	}
	for _, w := range grammarWords {
		l.add(w, sense{list: grammar, name: w})
	}
	for is, typed := range phraseTable {
		for _, t := range typed {
			l.add(t, sense{list: grammar, name: is})
		}
	}
}

func (l *lexicon) label(f ledger.Field) {
	if f.Label != "" && f.Label != "at" && f.Label != "in" && f.Label != "on" && f.Label != "with" {
		l.add(f.Label, sense{list: labels, name: f.Label})
	}
}

// sensesOf are the meanings of a word of the tables.
func sensesOf(name string) []sense {
	var out []sense
	for _, list := range ledger.Lists() {
		if _, ok := ledger.WordIn(list, name); ok {
			out = append(out, sense{list: list, name: name})
		}
	}
	if _, ok := ledger.QuantityNamed(name); ok {
		out = append(out, sense{list: quantities, name: name})
	}
	if _, ok := ledger.KindNamed(name); ok {
		out = append(out, sense{list: kindWords, name: name})
	}
	if len(out) == 0 {
		out = append(out, sense{list: labels, name: name})
	}
	return out
}

// bend adds plurals and forms in -ed and -ing of the words of the lists, where
// they are no words themselves.
func (l *lexicon) bend() {
	for _, list := range ledger.Lists() {
		if slices.Contains(neverBent, list) {
			continue
		}
		for _, w := range ledger.WordsOf(list) {
			parts := strings.Split(w.Name, "-")
			for _, at := range slices.Compact([]int{0, len(parts) - 1}) {
				for _, form := range bentForms(parts[at]) {
					bent := slices.Clone(parts)
					bent[at] = form
					l.bent(strings.Join(bent, " "), sense{list: list, name: w.Name, bent: true})
				}
			}
		}
	}
}

// neverBent are lists whose words have no other forms.
var neverBent = []string{"side", "wall", "did", "state", "how", "verdict", "standing", "reader", "paper", "carried-on", "shop-side"}

func (l *lexicon) bent(typed string, s sense) {
	for _, there := range l.senses[joined(typed)] {
		if !there.bent && there.list != quantities && there.list != labels {
			return
		}
	}
	l.add(typed, s)
}

func bentForms(w string) []string {
	if len(w) < 3 {
		return nil
	}
	last, before := w[len(w)-1], w[len(w)-2]
	cut := w[:len(w)-1]
	vowel := strings.IndexByte("aeiou", before) >= 0
	out := []string{w + "s", w + "es", w + "ed", w + "ing"}
	switch {
	case last == 'e':
		out = []string{w + "s", w + "d", cut + "ing"}
	case last == 'y' && !vowel:
		out = []string{cut + "ies", cut + "ied", w + "ing"}
	case vowel && strings.IndexByte("bdgklmnprt", last) >= 0:
		out = append(out, w+string(last)+"ed", w+string(last)+"ing")
	}
	return out
}

// exact are the meanings of the words in tokens i to j as one phrase.
func (l *lexicon) exact(key string, own map[string]string) []sense {
	if is, ok := own[key]; ok {
		return sensesOf(is)
	}
	return l.senses[key]
}

// slip finds what a misspelt phrase of words stands for. It is unclear where two
// words are as near.
func (l *lexicon) slip(words []string) (string, error) {
	key := strings.Join(words, "")
	most := allowed(len(key))
	if most == 0 || len(words) == 1 && slices.Contains(notSlips, key) {
		return "", nil
	}
	if len(words) > 1 {
		return l.slipOfPhrase(words, most)
	}
	var best []string
	least := most + 1
	for _, k := range l.near[key[0]] {
		if len(k)-len(key) > most || len(key)-len(k) > most || allowed(len(k)) == 0 {
			continue
		}
		d := distance(key, k, least)
		if d > allowed(len(k)) {
			continue
		}
		switch {
		case d < least:
			best, least = []string{k}, d
		case d == least && d <= most:
			best = append(best, k)
		}
	}
	return l.only(key, best)
}

func (l *lexicon) slipOfPhrase(words []string, most int) (string, error) {
	if !slices.ContainsFunc(words, func(w string) bool { return !l.plain(w) }) {
		return "", nil
	}
	var best []string
	least := most + 1
	for _, p := range l.phrases[words[0][:1]] {
		if d, ok := l.distanceOfWords(words, p.words, least); ok {
			if d < least {
				best, least = nil, d
			}
			best = append(best, p.key)
		}
	}
	return l.only(strings.Join(words, " "), best)
}

// neverSlips are words that turn a note round: they are typed right, or asked for.
var neverSlips = []string{"left", "right", "pass", "fail"}

// nearTurn says which of them a word that means nothing is near to.
func (l *lexicon) nearTurn(word string) error {
	if len(word) < 3 || l.plain(word) {
		return nil
	}
	for _, w := range neverSlips {
		if word[0] == w[0] && distance(word, w, 1) == 1 {
			return unclear(Word, "%s: %s?", word, w)
		}
	}
	return nil
}

// only is the one word that is near: several forms of one word are one.
func (l *lexicon) only(typed string, best []string) (string, error) {
	slices.Sort(best)
	best = slices.Compact(best)
	if len(best) == 0 {
		return "", nil
	}
	meant := map[string]bool{}
	for _, k := range best {
		for _, s := range l.senses[k] {
			meant[s.name] = true
		}
	}
	if len(best) > 1 && len(meant) > 1 {
		names := slices.Sorted(maps.Keys(meant))
		return "", unclear(Word, "%s: %s?", typed, strings.Join(names[:min(3, len(names))], ", "))
	}
	return best[0], nil
}

// distanceOfWords sums the distances of words that stand for one another: the
// same number of words, the first letters right.
func (l *lexicon) distanceOfWords(a, b []string, least int) (int, bool) {
	if len(a) != len(b) {
		return 0, false
	}
	sum := 0
	for i := range a {
		if a[i] == "" || a[i][0] != b[i][0] {
			return 0, false
		}
		d := 0
		if a[i] != b[i] {
			if l.plain(a[i]) {
				return 0, false
			}
			d = distance(a[i], b[i], least)
		}
		sum += d
		if d > 0 && (len(b[i]) < 4 || d > max(1, allowed(len(b[i]))) || sum > least) {
			return 0, false
		}
	}
	return sum, sum > 0 && sum <= least
}

// plain says whether a word is right as it stands.
func (l *lexicon) plain(w string) bool { return l.parts[w] || l.right[w] || l.senses[w] != nil }

// allowed is how many slips a word of so many letters may have.
func allowed(letters int) int {
	switch {
	case letters <= 4:
		return 0
	case letters <= 7:
		return 1
	}
	return 2
}

// distance is the least number of letters put in, left out, changed, or swapped
// with their neighbour (optimal string alignment). It may stop above most.
func distance(a, b string, most int) int {
	if len(a) > 40 || len(b) > 40 {
		return most + 1
	}
	var rows [3][41]int
	for j := 0; j <= len(b); j++ {
		rows[0][j] = j
	}
	two, one := &rows[2], &rows[0]
	for i := 1; i <= len(a); i++ {
		row := &rows[i%3]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(one[j]+1, row[j-1]+1, one[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], two[j-2]+1)
			}
		}
		two, one = one, row
	}
	return one[len(b)]
}

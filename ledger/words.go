package ledger

import (
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Sources that many words share.
const (
	commonPractice = "common practice, no source"
	ownWord        = "this ledger's own word"
)

// Lists returns the names of all lists of words, the four long ones first.
func Lists() []string {
	names := make([]string, len(wordLists))
	for i, l := range wordLists {
		names[i] = l.name
	}
	return names
}

// WordsOf returns the words of a list in the order of its table, nil where
// there is no such list. A list may borrow words: a borrowed word keeps its
// meaning, and its List is the list that it was borrowed from.
func WordsOf(list string) []Word {
	for _, l := range wordLists {
		if l.name != list {
			continue
		}
		made := l.words()
		words := make([]Word, len(made))
		for i, w := range made {
			words[i] = w.clone()
		}
		return words
	}
	return nil
}

// WordIn returns a word of a list, its own or borrowed; ok is false where the
// list, or the word in it, is not known.
func WordIn(list, name string) (w Word, ok bool) {
	at, ok := wordIndex()[wordKey{list, name}]
	if !ok {
		return Word{}, false
	}
	return at.clone(), true
}

// wordList is one list of words under the name by which fields ask for it.
// Its words are made when they are first asked for: most starts of the program
// ask for none.
type wordList struct {
	name  string
	words func() []Word
}

var wordLists = []wordList{
	{"defects", defectWords},
	{"causes", causeWords},
	{"operations", operationWords},
	{"checks", checkWords},
	{"elements", elementWords},
	{"layers", layerWords},
	{"deep", deepWords},
	{"soon", soonWords},
	{"sure", sureWords},
	{"whose", whoseWords},
	{"known", knownWords},
	{"choice", choiceWords},
	{"promise", promiseWords},
	{"exclusion", exclusionWords},
	{"condition", conditionWords},
	{"trouble", troubleWords},
	{"verdict", verdictWords},
	{"ruling", rulingWords},
	{"ended", endedWords},
	{"stages", stageWords},
	{"how", howWords},
	{"paper", paperWords},
	{"material", materialWords},
	{"between", betweenWords},
	{"state-of", stateOfWords},
	{"fastener", fastenerWords},
	{"fail", failWords},
	{"madesafe", madeSafeWords},
	{"scale", scaleWords},
	{"state", stateWords},
	{"cure-source", cureSourceWords},
	{"title", titleWords},
	{"reader", readerWords},
	{"carried-on", carriedOnWords},
	{"done-by", doneByWords},
	{"did", didWords},
	{"reason", reasonWords},
	{"nose", noseWords},
	{"wall", wallWords},
	{"side", sideWords},
	{"holder-says", holderSaysWords},
	{"goes-on", goesOnWords},
	{"own-look", ownLookWords},
	{"ground", groundWords},
	{"standing", standingWords},
	{"odometer-unit", odometerUnitWords},
	{"lot-unit", lotUnitWords},
	{"later-work", laterWorkWords},
	{"shop-side", shopSideWords},
}

// wordKey is a word in a list, its own or borrowed.
type wordKey struct{ list, name string }

var wordIndex = sync.OnceValue(func() map[wordKey]*Word { return indexWords(wordLists) })

func indexWords(lists []wordList) map[wordKey]*Word {
	index := map[wordKey]*Word{}
	for _, l := range lists {
		words := l.words()
		for i := range words {
			index[wordKey{l.name, words[i].Name}] = &words[i]
		}
	}
	return index
}

// listed puts words into their list. Words that are borrowed, or that name a
// source of their own, keep what they have.
func listed(list, source string, words ...[]Word) []Word {
	all := words[0]
	if len(words) > 1 {
		all = slices.Concat(words...)
	}
	for i := range all {
		if all[i].List == "" {
			all[i].List = list
		}
		if all[i].Source == "" {
			all[i].Source = source
		}
	}
	return all
}

// borrowed returns the named words of another list. A name that is not in it is
// a fault of these tables.
func borrowed(from []Word, names ...string) []Word {
	words := make([]Word, len(names))
	for i, name := range names {
		at := slices.IndexFunc(from, func(w Word) bool { return w.Name == name })
		if at < 0 {
			panic(fmt.Sprintf("ledger: no word %q to borrow", name))
		}
		words[i] = from[at]
	}
	return words
}

// carries reads the quantities that a word must and may carry, in the order of
// asking.
func carries(must, may string) []Carry {
	var list []Carry
	for _, name := range strings.Fields(must) {
		list = append(list, Carry{Quantity: name, Must: true})
	}
	for _, name := range strings.Fields(may) {
		list = append(list, Carry{Quantity: name})
	}
	return list
}

func (w Word) clone() Word {
	w.Layers = slices.Clone(w.Layers)
	w.Carries = slices.Clone(w.Carries)
	if w.Passes != nil {
		p := w.Passes.clone()
		w.Passes = &p
	}
	return w
}

func (p Passes) clone() Passes {
	if p.AtMost != nil {
		p.AtMost = limitOf(*p.AtMost)
	}
	if p.AtLeast != nil {
		p.AtLeast = limitOf(*p.AtLeast)
	}
	p.Also = slices.Clone(p.Also)
	for i := range p.Also {
		p.Also[i] = p.Also[i].clone()
	}
	return p
}

func limitOf(n int64) *int64 { return &n }

package book

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MinFragment is how many characters in a row name a coach; MaxWords how many
// words a search may have.
const (
	MinFragment = 4
	MaxWords    = 16
)

// ErrShort says that a fragment has too few characters, or a search no words.
var ErrShort = errors.New("too short to look for")

// Hit is a coach that was found, and by what.
type Hit struct {
	Coach Coach
	Found []Find
}

// Find returns the coaches that have the fragment, four or more characters in
// a row, in their VIN, serial, ID, certificate numbers or plates, in capitals
// or not; the one with the newest day first. The error may be ErrShort.
func (b *Book) Find(fragment string) ([]Hit, error) {
	fragment = strings.TrimSpace(fragment)
	if utf8.RuneCountInString(fragment) < MinFragment {
		return nil, ErrShort
	}
	if strings.ContainsFunc(fragment, unicode.IsControl) {
		return nil, nil // no text in the index has any
	}
	return b.hits([]term{fragmentTerm(fragment)})
}

// Search returns the coaches in whose texts every word is found: at the
// beginning of a word there, accents and capitals left aside, or, from four
// characters on, as a fragment. The one with the newest day is first. The
// error may be ErrShort.
func (b *Book) Search(words string) ([]Hit, error) {
	var terms []term
	for word := range strings.FieldsFuncSeq(words, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }) {
		if strings.ContainsFunc(word, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) }) {
			terms = append(terms, wordTerm(word))
		}
	}
	switch {
	case len(terms) == 0:
		return nil, ErrShort
	case len(terms) > MaxWords:
		return nil, fmt.Errorf("more than %d words to look for", MaxWords)
	}
	return b.hits(terms)
}

// term is one thing that has to be found: a query that gives the numbers of
// texts, and what it asks the full-text tables for.
type term struct {
	query string
	args  []any
}

const (
	inFragments = "SELECT rowid FROM fragment WHERE fragment MATCH ?"
	inWords     = "SELECT rowid FROM word WHERE word MATCH ?"
)

func fragmentTerm(s string) term {
	return term{inFragments, []any{quoted(s)}}
}

func wordTerm(s string) term {
	if utf8.RuneCountInString(s) < MinFragment {
		return term{inWords, []any{quoted(s) + " *"}}
	}
	return term{inWords + " UNION ALL " + inFragments, []any{quoted(s) + " *", quoted(s)}}
}

// quoted returns s as one string of the query language of FTS5, in which
// nothing has a meaning (https://www.sqlite.org/fts5.html 3.1).
func quoted(s string) string {
	return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
}

// hits returns the coaches for which every term is found. Only the number of
// terms decides the text of the query. It goes from the coaches to their texts
// (the + keeps SQLite from the other way): one common word has thousands.
func (b *Book) hits(terms []term) ([]Hit, error) {
	var coaches, texts []string
	var args []any
	for _, t := range terms {
		coaches = append(coaches, "SELECT coach FROM find WHERE number IN ("+t.query+")")
		texts = append(texts, t.query)
		args = append(args, t.args...)
	}
	query := "SELECT " + coachColumns + ", find.kind, find.text FROM find JOIN coach ON coach.number = find.coach" +
		" WHERE find.coach IN (" + strings.Join(coaches, " INTERSECT ") + ")" +
		" AND +find.number IN (" + strings.Join(texts, " UNION ALL ") + ")" +
		" ORDER BY coach.day DESC, coach.id, find.number"
	rows, err := list(b, scanHit, query, append(args, args...)...)
	if err != nil {
		return nil, err
	}
	return gathered(rows), nil
}

func scanHit(row scanner) (Hit, error) {
	h := Hit{Found: make([]Find, 1)}
	err := row.Scan(append(h.Coach.fields(), &h.Found[0].Kind, &h.Found[0].Text)...)
	return h, err
}

// gathered makes one hit of all hits of a coach, which follow one another.
func gathered(rows []Hit) []Hit {
	var hits []Hit
	for _, row := range rows {
		if n := len(hits); n > 0 && hits[n-1].Coach.ID == row.Coach.ID {
			hits[n-1].Found = append(hits[n-1].Found, row.Found...)
			continue
		}
		hits = append(hits, row)
	}
	return hits
}

// Package questions asks for a note of any kind, one thing after the other, in
// the words of a sheet. What is asked, in which order and with what words to
// choose from is taken from the tables of package ledger.
//
// An [Asking] is its answers: the questions follow from them, so going back is
// leaving the last answer out, and what was answered can be taken up again from
// its lines.
package questions

import (
	"errors"
	"fmt"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// Question is one thing asked.
type Question struct {
	Asks  string        // in words: "at which place"
	Must  bool          // an empty answer is not taken
	Usual string        // what an empty answer stands for, "" = nothing
	Words []ledger.Word // the words that may answer, nil = it is no word
	Write string        // an example of an answer, "" = none
	Whole bool          // the answer is one text; else commas part several
	tidy  func(string) (string, error)
}

// Asking is one note on its way from question to question.
type Asking struct {
	kind    ledger.Kind
	heading sheet.Heading
	known   []string // parts that need no asking: "holder holder-1"
	answers []string
}

// ErrKind is a kind that is not asked for: one the tool makes itself, or none.
var ErrKind = errors.New("no kind of note that can be asked for")

// made are the kinds that only verbs of their own make.
var made = []string{"verdict", "given-out", "key-change", "hand-over", "take-on", "take-in", "certificate"}

// Kinds returns the names of the kinds that can be asked for, in the order of
// their table.
func Kinds() []string {
	var out []string
	for _, k := range ledger.Kinds() {
		if !contains(made, k.Name) {
			out = append(out, k.Name)
		}
	}
	return out
}

// New begins a note of a kind under its heading. known are parts that are not
// asked: "vin GZ9TF785XEW004137". The error is [ErrKind], or that of a part.
func New(kind string, h sheet.Heading, known ...string) (*Asking, error) {
	k, ok := ledger.KindNamed(kind)
	if !ok || contains(made, kind) {
		return nil, fmt.Errorf("%w: %q; one of %s", ErrKind, kind, strings.Join(Kinds(), ", "))
	}
	a := &Asking{kind: k, heading: h, known: known}
	return a, a.walk().err
}

// Resume takes up a note again from the lines that [Asking.Lines] gave. An
// answer that no longer fits is asked again, and all that follow it.
func Resume(lines string, h sheet.Heading) (*Asking, error) {
	all := strings.Split(lines, "\n")
	kind, asked := strings.CutPrefix(all[0], begins)
	if !asked {
		return nil, fmt.Errorf("%w: this note was not made by questions", ErrKind)
	}
	n := 1
	for n < len(all) && strings.HasPrefix(all[n], given) {
		n++
	}
	known := make([]string, n-1)
	for i := range known {
		known[i] = strings.TrimPrefix(all[1+i], given)
	}
	a, err := New(kind, h, known...)
	if err != nil {
		return nil, err
	}
	for _, answer := range all[n:] {
		if a.Answer(answer) != nil {
			break
		}
	}
	return a, nil
}

const (
	begins = "asked for: " // + kind, the first line of what was answered
	given  = "= "          // + a part that was not asked
)

// Lines are the answers as they were given, a line each, below the kind.
func (a *Asking) Lines() string {
	lines := []string{begins + a.kind.Name}
	for _, part := range a.known {
		lines = append(lines, given+part)
	}
	return strings.Join(append(lines, a.answers...), "\n")
}

// Next returns the question that is open; more is false where nothing is left
// to ask.
func (a *Asking) Next() (q Question, more bool) {
	w := a.walk()
	return w.open, w.pending
}

// Answer answers the open question. An answer that does not fit is not taken;
// the error says what is wrong with it.
func (a *Asking) Answer(text string) error {
	q, more := a.Next()
	if !more {
		return nil
	}
	text = strings.TrimSpace(strings.ReplaceAll(text, "\n", " "))
	if text == "" {
		text = q.Usual
	}
	if text == "" && q.Must {
		return fmt.Errorf("%s: this one is needed; stop leaves the note as it is", q.Asks)
	}
	if text != "" {
		if _, err := q.tidy(text); err != nil {
			return err
		}
	}
	a.answers = append(a.answers, text)
	err := a.walk().err
	if err != nil {
		a.Back()
	}
	return err
}

// Back takes the last answer back; ok is false where there is none.
func (a *Asking) Back() (ok bool) {
	if len(a.answers) == 0 {
		return false
	}
	a.answers = a.answers[:len(a.answers)-1]
	return true
}

// Begun says whether anything was answered.
func (a *Asking) Begun() bool { return len(a.answers) > 0 }

// Draft is the note as far as it is answered.
func (a *Asking) Draft() ledger.Draft { return a.walk().draft }

// Kind is the kind of the note.
func (a *Asking) Kind() string { return a.kind.Name }

func (a *Asking) walk() *walker {
	w := &walker{
		kind: a.kind, heading: a.heading, answers: a.answers,
		draft: ledger.Draft{Kind: a.kind.Name, Body: format.Object{}, Private: map[string]string{}},
	}
	w.begin(a.known)
	w.all()
	return w
}

func contains(list []string, s string) bool {
	for _, one := range list {
		if one == s {
			return true
		}
	}
	return false
}

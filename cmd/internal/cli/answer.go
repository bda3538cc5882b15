package cli

import (
	"encoding/json"
	"fmt"
	"strings"

	"lapmark/cmd/internal/console"
	"lapmark/cmd/internal/shop"
)

// answer prints a JSON answer on one line. It begins with answer and v; members
// are added, never changed.
func (e *env) answer(v any) error {
	text, err := json.Marshal(v)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(e.console.Out, "%s\n", text)
	return err
}

// doneAnswer is the answer of a verb that did what it was asked.
type doneAnswer struct {
	Answer string   `json:"answer"`
	V      int      `json:"v"`
	Done   []string `json:"done"`
}

// done says what was done, a line each.
func (e *env) done(verb string, what []string) error {
	if e.json {
		return e.answer(doneAnswer{verb, 1, append([]string{}, what...)})
	}
	for _, line := range what {
		if err := e.print("%s", line); err != nil {
			return err
		}
	}
	return nil
}

func (e *env) did(err error, verb, what string) error {
	if err != nil {
		return err
	}
	return e.done(verb, []string{what})
}

func (e *env) print(format string, args ...any) error {
	_, err := fmt.Fprintln(e.console.Out, console.Plain(fmt.Sprintf(format, args...)))
	return err
}

// noteAnswer is one note of an inking in JSON.
type noteAnswer struct {
	Entry    int64           `json:"entry"`
	Note     int64           `json:"note"`
	Line     string          `json:"line"`
	Outcomes []outcomeAnswer `json:"outcomes"`
	Stays    string          `json:"stays,omitempty"`
}

type outcomeAnswer struct {
	Rule   string `json:"rule"`
	Degree string `json:"degree"`
	Says   string `json:"says"`
}

type inkAnswer struct {
	Answer   string       `json:"answer"`
	V        int          `json:"v"`
	Coach    string       `json:"coach"`
	ID       string       `json:"id"`
	Entries  int64        `json:"entries"`
	HeadCode string       `json:"head_code"`
	Notes    []noteAnswer `json:"notes"`
	Papers   []string     `json:"papers"`
}

func inkJSON(verb string, in shop.Inked, papers []string) inkAnswer {
	a := inkAnswer{
		Answer: verb, V: 1, Coach: in.Plate, ID: in.ID, Entries: in.Size, HeadCode: string(in.Code), Notes: []noteAnswer{},
		Papers: append([]string{}, papers...),
	}
	for _, r := range in.Results {
		n := noteAnswer{Entry: r.Entry, Note: r.Note, Line: r.Line, Outcomes: []outcomeAnswer{}}
		for _, o := range r.Outcomes {
			n.Outcomes = append(n.Outcomes, outcomeAnswer{o.Rule, o.Degree.String(), o.Sentence})
		}
		if r.Why != nil {
			n.Stays = r.Why.Error()
		}
		a.Notes = append(a.Notes, n)
	}
	return a
}

const nothingInked = "nothing"

// numbers says a span of entry numbers.
func numbers(in shop.Inked) string {
	var list []int64
	for _, r := range in.Results {
		if r.Entry > 0 {
			list = append(list, r.Entry)
		}
	}
	switch len(list) {
	case 0:
		return nothingInked
	case 1:
		return fmt.Sprintf("entry %d", list[0])
	}
	return fmt.Sprintf("entries %d to %d", list[0], list[len(list)-1])
}

func indent(text, by string) string { return by + strings.ReplaceAll(text, "\n", "\n"+by) }

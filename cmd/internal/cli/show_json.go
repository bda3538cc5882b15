package cli

import (
	"encoding/json"
	"maps"
	"slices"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report/say"
)

type showAnswer struct {
	Answer      string        `json:"answer"`
	V           int           `json:"v"`
	Coach       string        `json:"coach"`
	ID          string        `json:"id"`
	Entries     []showEntry   `json:"entries"`
	Asked       showAsked     `json:"asked"`
	NotCompared []notCompared `json:"not_compared"`
}

type showAsked struct {
	Entries []string    `json:"entries"`
	Kinds   []string    `json:"kinds"`
	From    string      `json:"from"`
	To      string      `json:"to"`
	Places  []showPlace `json:"places"`
}

type showPlace struct {
	Place string `json:"place"`
	Why   string `json:"not_worked_out,omitempty"`
}

type notCompared struct {
	Entry any    `json:"entry"`
	Why   string `json:"why"`
}

type showEntry struct {
	Entry    any               `json:"entry"`
	At       string            `json:"at"`
	Kind     string            `json:"kind"`
	Key      string            `json:"key"`
	Role     string            `json:"role"`
	Body     json.RawMessage   `json:"body"`
	Private  map[string]string `json:"private"`
	Line     string            `json:"line"`
	Sentence string            `json:"sentence"`

	Day         string          `json:"day"`
	Counts      bool            `json:"counts"`
	Corrected   json.RawMessage `json:"corrected,omitempty"`
	CorrectedBy []any           `json:"corrected_by"`
	StruckBy    any             `json:"struck_by,omitempty"`
	AdoptedBy   any             `json:"adopted_by,omitempty"`
	Doubtful    *showDoubt      `json:"doubtful,omitempty"`
	Newer       []string        `json:"newer"`
	NotShown    []string        `json:"not_shown"`
	Closed      []string        `json:"closed"`
	Erased      []showErased    `json:"erased"`
	Noted       []string        `json:"noted"`
	Answers     any             `json:"at_by_answer,omitempty"`
}

type showDoubt struct {
	Firm   int64 `json:"firm"`
	Change int64 `json:"change"`
}

type showErased struct {
	Name string `json:"name"`
	By   any    `json:"by"`
}

func showJSON(c *shop.Coach, w shop.Wanted, p shop.Picked, list []shown) showAnswer {
	out := showAnswer{
		Answer: "show", V: 1, Coach: c.Plate, ID: c.ID, Entries: []showEntry{}, NotCompared: []notCompared{},
		Asked: showAsked{
			Entries: append([]string{}, w.Entries...), Kinds: append([]string{}, w.Kinds...), From: w.From, To: w.To,
			Places: []showPlace{},
		},
	}
	for _, asked := range p.Places {
		out.Asked.Places = append(out.Asked.Places, showPlace{asked.Place, asked.Why})
	}
	for _, u := range p.Unknown {
		out.NotCompared = append(out.NotCompared, notCompared{u.No.Value(), u.Why})
	}
	for _, s := range list {
		out.Entries = append(out.Entries, s.json(c))
	}
	return out
}

func (s shown) json(c *shop.Coach) showEntry {
	private := c.Replay.Opened[s.No]
	if private == nil {
		private = map[string]string{}
	}
	out := showEntry{
		Entry: s.No.Value(), At: s.Entry.Line.At, Kind: s.Kind, Key: s.Entry.Line.Key, Role: s.Entry.Role.String(),
		Body: json.RawMessage(s.Entry.Line.Body), Private: private, Line: s.line, Sentence: say.Entry(c.Replay, s.Act),
		Day: s.Entry.Day(), Counts: s.Counts, CorrectedBy: []any{}, StruckBy: numberOf(s.StruckBy), AdoptedBy: numberOf(s.Adopted),
		Newer: []string{}, NotShown: append([]string{}, s.missing...), Closed: append([]string{}, s.closed...),
		Erased: []showErased{}, Noted: append([]string{}, s.noted...), Answers: numberOf(s.Answers),
	}
	for _, by := range s.correctedBy() {
		out.CorrectedBy = append(out.CorrectedBy, by.Value())
	}
	if body, err := format.Encode(s.Body); err == nil && len(s.Corrected) > 0 {
		out.Corrected = body
	}
	if s.doubt != (ledger.Doubt{}) {
		out.Doubtful = &showDoubt{s.doubt.Firm, s.doubt.Change}
	}
	for _, odd := range s.Entry.Odd() {
		out.Newer = append(out.Newer, odd.What)
	}
	for _, name := range sortedKeys(s.erased) {
		out.Erased = append(out.Erased, showErased{name, s.erased[name].Value()})
	}
	return out
}

// numberOf is the number of an entry in JSON, nothing where there is none.
func numberOf(no ledger.No) any {
	if no == (ledger.No{}) {
		return nil
	}
	return no.Value()
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

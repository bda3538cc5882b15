package cli

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/sheet"
	"lapmark/report/say"
)

func newShow(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "show COACH [ENTRY]",
		Short: "Show the entries of a coach, or one of them, as they stand",
		Args:  args(1, 2),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.show(s, args) })
		},
	}
}

func (e *env) show(s *shop.Shop, args []string) error {
	c, err := s.Coach(args[0])
	if err != nil {
		return err
	}
	if c.Ledger == nil {
		return fmt.Errorf("%w: %s is in pencil only: lapmark pencil", shop.ErrNoCoach, c.Plate)
	}
	acts := c.Replay.Acts
	if len(args) == 2 {
		no, ok := ledger.ParseNo(strings.TrimPrefix(args[1], "#"))
		if tagged, is := c.Replay.Tagged(args[1]); is {
			no, ok = tagged, true
		}
		a := c.Replay.Act(no)
		if !ok || a == nil {
			return fmt.Errorf("%w: there is no entry %s; the newest is %d", shop.ErrUse, args[1], len(c.Ledger.Entries))
		}
		acts = []*ledger.Act{a}
	}
	if e.json {
		return e.showJSON(c, acts)
	}
	for _, a := range acts {
		if err := e.showOne(c, a); err != nil {
			return err
		}
	}
	return nil
}

func (e *env) showOne(c *shop.Coach, a *ledger.Act) error {
	head := fmt.Sprintf("%s  %s  %s", a.No, a.Entry.Day(), a.Entry.Role)
	if a.StruckBy != (ledger.No{}) {
		head += fmt.Sprintf("  not about this coach, says entry %s", a.StruckBy)
	}
	text, missing := shown(c, a)
	if len(missing) > 0 {
		text += "\nnot shown to you: " + strings.Join(missing, ", ")
	}
	return e.print("%s\n%s\n%s\n", head, indent(text, "    "), indent(say.Entry(c.Replay, a), "    "))
}

// shown is the canonical text of an entry, and the private values that are not
// at hand.
func shown(c *shop.Coach, a *ledger.Act) (text string, missing []string) {
	d, h, err := shop.DraftOf(c.Replay, a)
	if err == nil {
		text, err = sheet.Line(d, h)
	}
	if err != nil {
		text = fmt.Sprintf("%s, newer than this tool, as it stands: %s", a.Kind, a.Entry.Line.Body)
	}
	return sheet.Fold(text), notShown(c.Replay, a)
}

// notShown names the free texts and private values of an entry that the kind
// has a word for, that were said, and whose slip is not at hand. Whether a
// private field was filled cannot be told without its slip.
func notShown(r *ledger.Replay, a *ledger.Act) []string {
	kind, _ := ledger.KindNamed(a.Kind)
	var out []string
	for name := range a.Entry.Commitments() {
		_, opened := r.Opened[a.No][name]
		_, field := kind.PrivateNamed(name)
		if !opened && !field {
			out = append(out, name)
		}
	}
	return out
}

type showAnswer struct {
	Answer  string      `json:"answer"`
	V       int         `json:"v"`
	Coach   string      `json:"coach"`
	ID      string      `json:"id"`
	Entries []showEntry `json:"entries"`
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
}

func (e *env) showJSON(c *shop.Coach, acts []*ledger.Act) error {
	out := showAnswer{Answer: "show", V: 1, Coach: c.Plate, ID: c.ID, Entries: []showEntry{}}
	for _, a := range acts {
		line := ""
		if d, h, err := shop.DraftOf(c.Replay, a); err == nil {
			if written, err := sheet.Line(d, h); err == nil {
				line = written
			}
		}
		private := c.Replay.Opened[a.No]
		if private == nil {
			private = map[string]string{}
		}
		out.Entries = append(out.Entries, showEntry{
			a.No.Value(), a.Entry.Line.At, a.Kind, a.Entry.Line.Key, a.Entry.Role.String(),
			json.RawMessage(a.Entry.Line.Body), private, line, say.Entry(c.Replay, a),
		})
	}
	return e.answer(out)
}

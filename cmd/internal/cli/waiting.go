package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/waiting"
)

func newWaiting(e *env) *cobra.Command {
	var all bool
	c := &cobra.Command{
		Use:   "waiting",
		Short: "Say what waits in the whole shop, most pressing first",
		Long: `waiting looks at every coach file, at pencil and at the inbox, and says what the
clock, the roof or a person wants now: cures and from when they are reached, wet
places of an open job, notes that wait for an answer, findings without a
decision, decisions without work, certificates that can be signed. A coach file
that cannot be read stands above all.

Of a group the most pressing five are printed; --all prints every line.`,
		Example: `  lapmark waiting
  lapmark waiting --all
  lapmark waiting --json`,
		Args: args(0, 0),
		RunE: func(*cobra.Command, []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.waiting(s, all) })
		},
	}
	c.Flags().BoolVar(&all, "all", false, "every line, not the most pressing of each group")
	return c
}

type waitingAnswer struct {
	Answer string        `json:"answer"`
	V      int           `json:"v"`
	At     string        `json:"at"`
	Looked int           `json:"looked"`
	Lines  []waitingLine `json:"lines"`
}

type waitingLine struct {
	Group string `json:"group"`
	Coach string `json:"coach,omitempty"`
	What  string `json:"what"`
	Needs string `json:"needs"`
	When  string `json:"when,omitempty"`
	Late  bool   `json:"late"`
	Entry string `json:"entry,omitempty"`
	Note  int64  `json:"note,omitempty"`
	Do    string `json:"do,omitempty"`
}

// mostOfGroup lines of a group fit a screen with those of the others.
const mostOfGroup = 5

func (e *env) waiting(s *shop.Shop, all bool) error {
	w, err := s.Waits()
	if err != nil {
		return err
	}
	if e.json {
		return e.answer(waitingJSON(w))
	}
	files := "coach files"
	if w.Looked == 1 {
		files = "coach file"
	}
	head := fmt.Sprintf("%s. Looked at %d %s.", sayMoment(w.Now), w.Looked, files)
	if len(w.Lines) == 0 {
		if w.Looked == 0 {
			head += " No coach yet: lapmark intake."
		}
		return e.print("Nothing waits. %s", head)
	}
	if err := e.print("%s", head); err != nil {
		return err
	}
	for _, g := range waiting.Groups() {
		if err := e.printGroup(g, w.Lines, all); err != nil {
			return err
		}
	}
	return nil
}

func (e *env) printGroup(g waiting.Group, lines []waiting.Line, all bool) error {
	n := 0
	for _, l := range lines {
		if l.Group != g {
			continue
		}
		if n++; n > mostOfGroup && !all {
			continue
		}
		if n == 1 {
			if err := e.print("\n%s", g.Heading()); err != nil {
				return err
			}
		}
		if err := e.print("  %s", strings.TrimSpace(tail(l.Coach)+" "+l.What)); err != nil {
			return err
		}
		if err := e.print("    %s", l.Needs); err != nil {
			return err
		}
	}
	if more := n - mostOfGroup; more > 0 && !all {
		return e.print("  and %d more: lapmark waiting --all", more)
	}
	return nil
}

// tail is the end of a VIN, by which a coach is called in the yard.
func tail(plate string) string {
	if len(plate) != 17 {
		return plate
	}
	return "…" + plate[11:]
}

func waitingJSON(w shop.Waiting) waitingAnswer {
	a := waitingAnswer{Answer: "waiting", V: 1, At: w.Now.String(), Looked: w.Looked, Lines: []waitingLine{}}
	for _, l := range w.Lines {
		one := waitingLine{
			Group: l.Group.String(), Coach: l.Coach, What: l.What, Needs: l.Needs, When: l.When, Late: l.Late, Note: l.Note, Do: l.Do,
		}
		if l.Entry.N > 0 {
			one.Entry = l.Entry.String()
		}
		a.Lines = append(a.Lines, one)
	}
	return a
}

package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/ledger/sheet"
	"lapmark/report/english"
	"lapmark/report/say"
)

func newShow(e *env) *cobra.Command {
	var w shop.Wanted
	var on string
	var lines bool
	c := &cobra.Command{
		Use:   "show COACH [ENTRY...]",
		Short: "Show the entries of a coach: all, or by number, kind, day or place",
		Long: `show prints entries as they stand, each with the sentences that say it as it
counts now. Beside each stands what has become of it: corrected, not about this
coach, doubtful, written by a guest, taken over, erased, not shown to you; and
what the rules noted of it when it was inked.

ENTRY is a number (34, or 60/1 of a side branch) or a tag (F1, Q-0007). An entry
is shown when it fits everything that was asked.

--at takes a place as a sheet writes it, and shows the entries with a place that
shares area with it on this coach, as measured when each was written; and those
without a place of their own that answer such an entry. How deep a place goes is
not compared. What could not be compared is listed behind them.`,
		Example: `  lapmark show 4137
  lapmark show 4137 F1 "#6"
  lapmark show 4137 --at "bay 9 left"
  lapmark show 4137 --at A1 --kind work,check --from 2020-04-01
  lapmark show 4137 --on 2020-03-17 --lines
  lapmark show 4137 12 --json`,
		Args:              args(1, many),
		ValidArgsFunction: e.completeCoach,
		RunE: func(_ *cobra.Command, args []string) error {
			w.Entries = args[1:]
			if on != "" {
				if w.From != "" || w.To != "" {
					return fmt.Errorf("%w: give --on, or --from and --to", shop.ErrUse)
				}
				w.From, w.To = on, on
			}
			return e.withShop(func(s *shop.Shop) error { return e.show(s, args[0], w, lines) })
		},
	}
	f := c.Flags()
	f.StringArrayVar(&w.Places, "at", nil, "entries at this `PLACE`, as a sheet writes it; more than once: at any of them")
	f.StringSliceVar(&w.Kinds, "kind", nil, "entries of this `KIND`; several: work,check")
	f.StringVar(&on, "on", "", "entries of this `DAY`, YYYY-MM-DD")
	f.StringVar(&w.From, "from", "", "entries of this `DAY` and later")
	f.StringVar(&w.To, "to", "", "entries of this `DAY` and earlier")
	f.BoolVar(&lines, "lines", false, "print the notes alone, as lines of a sheet under their headings")
	complete(c, "kind", shop.KindNames)
	return c
}

func (e *env) show(s *shop.Shop, name string, w shop.Wanted, lines bool) error {
	c, err := s.Coach(name)
	if err != nil {
		return err
	}
	if c.Ledger == nil {
		return fmt.Errorf("%w: %s is in pencil only: lapmark pencil", shop.ErrNoCoach, c.Plate)
	}
	picked, err := c.Pick(w)
	if err != nil {
		return err
	}
	return e.showPicked(c, w, picked, lines)
}

func (e *env) showPicked(c *shop.Coach, w shop.Wanted, picked shop.Picked, lines bool) (err error) {
	gone, noted := c.Replay.Erasures(), c.Noted(picked.Acts)
	var list []shown
	for _, a := range picked.Acts {
		one := showOf(c, a, gone[a.No])
		one.noted = noted[a.No]
		list = append(list, one)
	}
	switch {
	case e.json:
		return e.answer(showJSON(c, w, picked, list))
	case lines:
		err = e.showLines(list)
	default:
		err = e.showText(c, list)
	}
	if err == nil {
		e.showOpen(picked)
	}
	return err
}

// shown is an entry and what a reader is told of it.
type shown struct {
	shop.PickedAct
	heading sheet.Heading
	line    string   // canonical; "" of a kind or word this tool does not know
	missing []string // said, and no value at hand
	closed  []string // private, and no value at hand: whether one was given cannot be told
	erased  map[string]ledger.No
	doubt   ledger.Doubt
	noted   []string // by rules when it was inked
}

func showOf(c *shop.Coach, a shop.PickedAct, erased map[string]ledger.No) shown {
	out := shown{PickedAct: a, erased: map[string]ledger.No{}}
	out.doubt, _ = c.Ledger.Doubtful(a.No)
	if d, h, err := shop.DraftOf(c.Replay, a.Act); err == nil {
		out.heading = h
		if line, err := sheet.Line(d, h); err == nil {
			out.line = line
		}
	}
	kind, _ := ledger.KindNamed(a.Kind)
	for name := range a.Entry.Commitments() {
		_, opened := c.Replay.Opened[a.No][name]
		by, gone := erased[name]
		_, private := kind.PrivateNamed(name)
		switch {
		case opened:
		case gone:
			out.erased[name] = by
		case private:
			out.closed = append(out.closed, name)
		default:
			out.missing = append(out.missing, name)
		}
	}
	slices.Sort(out.missing)
	slices.Sort(out.closed)
	return out
}

func (e *env) showText(c *shop.Coach, list []shown) error {
	if len(list) == 0 {
		return e.print("No entry of this coach fits.")
	}
	for _, s := range list {
		head := fmt.Sprintf("%s  %s  %s", s.No, s.Entry.Day(), s.Entry.Role)
		text := sheet.Fold(s.line)
		if s.line == "" {
			text = fmt.Sprintf("%s, newer than this tool, as it stands: %s", s.Kind, s.Entry.Line.Body)
		}
		out := []string{head, indent(text, "    ")}
		for _, fate := range s.fate() {
			out = append(out, indent(fate, "    "))
		}
		out = append(out, indent(say.Entry(c.Replay, s.Act), "    "), "")
		if err := e.print("%s", strings.Join(out, "\n")); err != nil {
			return err
		}
	}
	return nil
}

// fate is what has become of an entry, a line each.
func (s shown) fate() []string {
	var out []string
	say := func(when bool, format string, args ...any) {
		if when {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	say(s.No.Branch != 0, "written beside the chain, behind entry %d", s.No.N)
	say(s.Entry.Role == ledger.Guest, "signed by a guest, %s", s.Entry.Line.Key)
	say(s.Adopted != ledger.No{}, "taken over by the house with entry %s", s.Adopted)
	say(s.doubt != ledger.Doubt{}, "doubtful: by the key that entry %d calls stolen, behind entry %d", s.doubt.Change, s.doubt.Firm)
	say(s.StruckBy != ledger.No{}, "not about this coach, says entry %s", s.StruckBy)
	for _, by := range s.correctedBy() {
		say(true, "corrected by entry %s", by)
	}
	say(len(s.missing) > 0, "not shown to you: %s", strings.Join(s.missing, ", "))
	say(len(s.closed) > 0 && s.Entry.Role == ledger.Guest, "not shown to you, if it was given: %s", strings.Join(s.closed, ", "))
	for _, name := range sortedKeys(s.erased) {
		say(true, "erased by entry %s: %s", s.erased[name], name)
	}
	for _, sentence := range s.noted {
		say(true, "noted: %s", sentence)
	}
	say(s.Answers != ledger.No{}, "without a place of its own: it answers entry %s", s.Answers)
	return out
}

func (s shown) correctedBy() []ledger.No {
	var out []ledger.No
	for _, c := range s.Corrected {
		if !slices.Contains(out, c.By) {
			out = append(out, c.By)
		}
	}
	return out
}

// showLines prints what can be read as a sheet; the rest is talk.
func (e *env) showLines(list []shown) error {
	before := sheet.Heading{}
	for _, s := range list {
		if s.line == "" {
			e.console.Say("Entry %s is newer than this tool and has no line: %s", s.No, s.Entry.Line.Body)
			continue
		}
		for _, line := range append(s.heading.Lines(before), s.line) {
			if _, err := fmt.Fprintln(e.console.Out, line); err != nil {
				return err
			}
		}
		before = s.heading
		for _, fate := range s.fate() {
			e.console.Say("Entry %s: %s", s.No, fate)
		}
	}
	return nil
}

// showOpen says what could not be worked out.
func (e *env) showOpen(p shop.Picked) {
	for _, asked := range p.Places {
		if asked.Why != "" {
			e.console.Say("%s was not worked out: %s. Shown are the entries that say the same place.", asked.Place, asked.Why)
		}
	}
	for i, u := range p.Unknown {
		same := func(o shop.NotCompared) bool { return o.Why == u.Why }
		if slices.IndexFunc(p.Unknown, same) < i {
			continue // said with the first of them
		}
		var list []ledger.No
		for _, o := range p.Unknown[i:] {
			if same(o) {
				list = append(list, o.No)
			}
		}
		e.console.Say("Not compared, %s %s: %s.", english.Plural(len(list), "entry", "entries"), english.List(english.Runs(list, follows)), u.Why)
	}
}

// follows says whether an entry comes right behind another in the chain.
func follows(a, b ledger.No) bool { return a.Branch == 0 && b == ledger.No{N: a.N + 1} }

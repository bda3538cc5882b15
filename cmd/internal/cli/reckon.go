package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/ledger/reckon"
)

func newReckon(e *env) *cobra.Command {
	var about bool
	c := &cobra.Command{
		Use:   "reckon [NAME] [KEY=VALUE]...",
		Short: "Work out a figure of the trade: dew point, bite, spread, cure, uplift",
		Long: `reckon works out one figure and says by which formula and from which source.
Without a name it lists what it reckons; with --about it says what each value
means and its range. A value has its unit behind it, as in a sheet: 16mm, 5/8in,
1-5/8in, 68F. A bare number is in the unit that the list names.

A temperature log is one value: points with commas between them, each
TIME/TEMPERATURE, and /LOWEST where the lowest since the last point was read:
16:30/19,20:30/17,0:30/14/12. A time that is not later than the one before is of
the next day. For longer gaps write moments, 2020-04-09T16:30/19, or hours after
the start, 0h/19,30h/17.

Outside its range a formula gives no number. Figures are aids: the maker's
sheet, local codes and the law come first.`,
		Example: `  lapmark reckon
  lapmark reckon dew-point air=17C rh=62
  lapmark reckon bite leg=5/8in over=1/4in
  lapmark reckon cure log=16:30/19,20:30/17,0:30/14,4:30/12,8:30/15 need=12h ref=20C least=10C cap=30C
  lapmark reckon pair put=glue-solvent-contact on=foam-xps
  lapmark reckon uplift --about`,
		Args: args(0, many),
		RunE: func(_ *cobra.Command, given []string) error {
			if len(given) == 0 {
				return e.reckonList(reckon.Calcs(), about)
			}
			calc, pairs, ok := reckon.Named(given[0])
			if !ok {
				return fmt.Errorf("%w: there is no %q; lapmark reckon lists what there is", reckon.ErrAsked, given[0])
			}
			if about {
				return e.reckonList([]reckon.Calc{calc}, true)
			}
			a, err := calc.Reckon(append(pairs, given[1:]...))
			if err != nil {
				return err
			}
			return e.reckoned(calc, a)
		},
		ValidArgsFunction: func(_ *cobra.Command, given []string, typed string) ([]string, cobra.ShellCompDirective) {
			return completions(typed, reckonWords(given))
		},
	}
	c.Flags().BoolVar(&about, "about", false, "say what it takes, in which range, by which formula")
	return c
}

// reckonWords are the names, and behind a name its keys.
func reckonWords(given []string) (words []string) {
	if len(given) == 0 {
		for _, c := range reckon.Calcs() {
			words = append(words, c.Name)
		}
		return words
	}
	calc, _, _ := reckon.Named(given[0])
	for _, k := range calc.Keys {
		words = append(words, k.Name+"=")
	}
	return words
}

type reckonAnswer struct {
	Answer  string   `json:"answer"`
	V       int      `json:"v"`
	Name    string   `json:"name"`
	Value   any      `json:"value"` // a number, or a text
	Unit    string   `json:"unit"`
	Printed string   `json:"printed"`
	Says    []string `json:"says"`
	Formula string   `json:"formula"`
	Source  string   `json:"source"`
}

func (e *env) reckoned(c reckon.Calc, a reckon.Answer) error {
	if !e.json {
		for _, line := range append([]string{a.String()}, a.Says...) {
			if err := e.print("%s", line); err != nil {
				return err
			}
		}
		return e.print("  %s\n  %s", c.Formula, c.Source)
	}
	out := reckonAnswer{"reckon", 1, c.Name, a.Value, a.Unit, a.String(), append([]string{}, a.Says...), c.Formula, c.Source}
	if a.Text != "" {
		out.Value = a.Text
	}
	return e.answer(out)
}

type reckonListAnswer struct {
	Answer string       `json:"answer"`
	V      int          `json:"v"`
	Calcs  []calcAnswer `json:"calculations"`
}

type calcAnswer struct {
	Name    string      `json:"name"`
	Means   string      `json:"means"`
	Keys    []keyAnswer `json:"keys"`
	Formula string      `json:"formula"`
	Source  string      `json:"source"`
	Example string      `json:"example"`
}

type keyAnswer struct {
	Name     string   `json:"name"`
	Means    string   `json:"means"`
	Unit     string   `json:"unit,omitempty"`
	Least    *float64 `json:"least,omitempty"`
	Most     *float64 `json:"most,omitempty"`
	Words    []string `json:"words,omitempty"`
	Form     string   `json:"form,omitempty"`
	Default  string   `json:"default,omitempty"`
	Optional bool     `json:"optional,omitempty"`
}

func (e *env) reckonList(calcs []reckon.Calc, about bool) error {
	if e.json {
		out := reckonListAnswer{"reckon", 1, []calcAnswer{}}
		for _, c := range calcs {
			out.Calcs = append(out.Calcs, calcJSON(c))
		}
		return e.answer(out)
	}
	for _, c := range calcs {
		if err := e.print("%s: %s\n  %s", c.Name, c.Means, strings.Join(takes(c), " ")); err != nil {
			return err
		}
		if !about {
			continue
		}
		for _, k := range c.Keys {
			if err := e.print("    %s: %s; %s", k.Name, k.Means, k.Range()); err != nil {
				return err
			}
		}
		if err := e.print("  %s\n  %s\n  lapmark reckon %s %s", c.Formula, c.Source, c.Name, c.Example); err != nil {
			return err
		}
	}
	return nil
}

// takes are the keys with their units: those that may be left out in brackets.
func takes(c reckon.Calc) (out []string) {
	for _, k := range c.Keys {
		text := k.Name + "=" + or(k.Unit, "NUMBER")
		if k.Words != nil || k.Form != "" {
			text = k.Name + "=" + strings.ToUpper(k.Name)
		}
		switch {
		case k.Optional:
			text = "[" + text + "]"
		case k.Default != "":
			text = "[" + k.Name + "=" + k.Default + "]"
		}
		out = append(out, text)
	}
	return out
}

func calcJSON(c reckon.Calc) calcAnswer {
	out := calcAnswer{c.Name, c.Means, []keyAnswer{}, c.Formula, c.Source, c.Example}
	for _, k := range c.Keys {
		one := keyAnswer{Name: k.Name, Means: k.Means, Unit: k.Unit, Words: k.Words, Form: k.Form, Default: k.Default, Optional: k.Optional}
		if k.Words == nil && k.Form == "" {
			one.Least, one.Most = &k.Least, &k.Most
		}
		out.Keys = append(out.Keys, one)
	}
	return out
}

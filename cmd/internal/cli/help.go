package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
)

func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:     "help [VERB]",
		Short:   "Say what a verb does, like VERB --help",
		Example: "  lapmark help give certificate",
		RunE: func(c *cobra.Command, given []string) error {
			verb, rest, err := c.Root().Find(given)
			if err != nil || len(rest) > 0 {
				return noVerb(given)
			}
			verb.InitDefaultHelpFlag()
			return verb.Help()
		},
	}
}

func noVerb(given []string) error {
	return fmt.Errorf("%w: there is no verb %q; lapmark --help lists them", shop.ErrUse, strings.Join(given, " "))
}

// addCompletion adds the verb that writes completion scripts, made by the
// library of the command line, with our wrong use.
func addCompletion(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	c, _, err := root.Find([]string{"completion"})
	if err != nil {
		panic(err) // the line above adds it
	}
	c.Example = `  lapmark completion bash > lapmark.bash
  lapmark completion zsh
  lapmark completion fish
  lapmark completion powershell`
	c.Short = "Write what lets a shell complete verbs, flags, coaches and words"
	c.Long = `completion writes a script for bash, zsh, fish or powershell. With it the shell
completes verbs and flags, the coaches of the shop, kinds of entries and words.`
	c.Args = args(0, many)
	c.RunE = func(c *cobra.Command, given []string) error {
		if len(given) > 0 {
			return fmt.Errorf("%w: no completion for %q: bash, zsh, fish or powershell", shop.ErrUse, given[0])
		}
		return c.Help()
	}
	for _, shell := range c.Commands() {
		shell.Args = args(0, 0)
	}
}

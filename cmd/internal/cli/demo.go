package cli

import (
	"github.com/spf13/cobra"

	"lapmark/cmd/internal/demo"
)

type demoAnswer struct {
	Answer  string   `json:"answer"`
	V       int      `json:"v"`
	Shop    string   `json:"shop"`
	Coach   string   `json:"coach"`
	Entries int64    `json:"entries"`
	Papers  []string `json:"papers"`
}

func newDemo(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "demo DIR",
		Short: "Make an invented shop with one coach, by the road a user takes",
		Long: `demo makes a shop in DIR: everything in it is invented, and its keys are known
to everybody. Its papers lie in DIR. Two runs give the same bytes.`,
		Example: `  lapmark demo demo-shop`,
		Args:    args(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			made, err := demo.Make(cmd.Context(), e.absolute(args[0]))
			if err != nil {
				return err
			}
			if e.json {
				return e.answer(demoAnswer{"demo", 1, e.absolute(args[0]), made.Coach, made.Entries, made.Papers})
			}
			for _, path := range made.Papers {
				if err := e.print("%s", path); err != nil {
					return err
				}
			}
			e.console.Say("Invented shop in %s: coach %s, %d entries. Its passphrase is %q; nothing in it is yours.", args[0],
				made.Coach, made.Entries, demo.Passphrase)
			e.console.Say("Try: lapmark --shop %s show 4137 · lapmark --shop %s verify %s", args[0], args[0], made.Papers[len(made.Papers)-1])
			return nil
		},
	}
}

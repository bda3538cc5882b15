package cli

import (
	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
)

func newExport(e *env) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "export COACH",
		Short: "Write the ledger of a coach, its bare text, to standard output",
		Long: `export writes the bare ledger, two lines an entry, as it stands in the coach
file: what anybody can check with ssh-keygen and sha256sum. Private values and
free texts are not in it.`,
		Example: `  lapmark export 4137
  lapmark export 4137 --out ledger.txt`,
		Args: args(1, 1), ValidArgsFunction: e.completeCoach,
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error {
				text, err := s.Export(args[0])
				if err != nil {
					return err
				}
				if out != "" {
					return e.did(shop.WriteNew(e.absolute(out), text), "export", out)
				}
				_, err = e.console.Out.Write(text)
				return err
			})
		},
	}
	c.Flags().StringVar(&out, "out", "", "write it into this `FILE` instead")
	return c
}

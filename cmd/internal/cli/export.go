package cli

import (
	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
)

func newExport(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "export COACH",
		Short: "Write the ledger of a coach, its bare text, to standard output",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error {
				text, err := s.Export(args[0])
				if err != nil {
					return err
				}
				_, err = e.console.Out.Write(text)
				return err
			})
		},
	}
}

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
		Args:  args(1, 1),
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
	c.Flags().StringVar(&out, "out", "", "write it into this file instead")
	return c
}

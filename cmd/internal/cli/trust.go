package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
)

func newTrust(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "trust",
		Short: "List, add or take out keys you vouch for",
		Long: `trust lists the keys you vouch for, and those you vouch for no longer. A key in
it settles who signed a paper; a fingerprint read from the same paper proves
nothing, so compare it with one from another source first.`,
		Example: `  lapmark trust
  lapmark trust retire thornwick`,
		Args: args(0, 0),
		RunE: func(*cobra.Command, []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.trustList(s) })
		},
	}
	var comment string
	add := &cobra.Command{
		Use:   "add NAME KEYLINE",
		Short: `Vouch for a key: "ssh-ed25519 AAAA…", compared with one from another source`,
		Args:  args(2, 3),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error {
				key, err := sshsig.ParseLine(strings.Join(args[1:], " "))
				if err != nil {
					return fmt.Errorf("%w: no ssh-ed25519 key line: %w", shop.ErrUse, err)
				}
				return e.did(s.Vouch(keyring.Named{Name: args[0], Key: key, Comment: or(comment, args[0])}), "trust", args[0]+" is in your trust: "+key.Fingerprint())
			})
		},
	}
	add.Flags().StringVar(&comment, "comment", "", "`TEXT` for people: whose key it is")
	remove := &cobra.Command{
		Use: "take-out NAME", Short: "No longer vouch for a key", Args: args(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error {
				return e.did(s.Unvouch(args[0], false), "trust", args[0]+" is taken out of your trust")
			})
		},
	}
	retire := &cobra.Command{
		Use: "retire NAME", Short: "Move a key to the retired ones", Args: args(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.did(s.Unvouch(args[0], true), "trust", args[0]+" is retired") })
		},
	}
	c.AddCommand(add, remove, retire)
	return c
}

type trustAnswer struct {
	Answer string     `json:"answer"`
	V      int        `json:"v"`
	Keys   []trustKey `json:"keys"`
}

type trustKey struct {
	Name        string `json:"name"`
	Fingerprint string `json:"fingerprint"`
	Comment     string `json:"comment"`
	Retired     bool   `json:"retired"`
}

func (e *env) trustList(s *shop.Shop) error {
	a := trustAnswer{Answer: "trust", V: 1, Keys: []trustKey{}}
	for _, l := range []struct {
		list    keyring.Trust
		retired bool
	}{{s.Trust, false}, {s.Retired, true}} {
		for _, k := range l.list.Keys() {
			a.Keys = append(a.Keys, trustKey{k.Name, k.Key.Fingerprint(), k.Comment, l.retired})
		}
	}
	if e.json {
		return e.answer(a)
	}
	for _, k := range a.Keys {
		line := k.Name + "  " + k.Fingerprint + "  " + k.Comment
		if k.Retired {
			line += "  (retired)"
		}
		if err := e.print("%s", line); err != nil {
			return err
		}
	}
	return nil
}

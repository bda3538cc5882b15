package cli

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/demo"
	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
)

func newHead(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "head CODE",
		Short: "Say whether a head code read out is ours: newest, older, or not ours",
		Args:  cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.head(s, strings.Join(args, " ")) })
		},
	}
}

type headAnswer struct {
	Answer string `json:"answer"`
	V      int    `json:"v"`
	Found  string `json:"found"` // newest, older, near, not-ours
	Coach  string `json:"coach,omitempty"`
	Entry  int64  `json:"entry,omitempty"`
	Later  int64  `json:"later"`
	Says   string `json:"says"`
}

func (e *env) head(s *shop.Shop, typed string) error {
	h, err := s.Head(typed)
	if err != nil {
		return err
	}
	if e.json {
		return e.answer(headAnswer{"head", 1, h.Found, h.Coach, h.Entry, h.Later, h.Says})
	}
	return e.print("%s", h.Says)
}

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

func newDemo(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "demo DIR",
		Short: "Make an invented shop with one coach, by the road a user takes",
		Long: `demo makes a shop in DIR: everything in it is invented, and its keys are known
to everybody. Its papers lie in DIR. Two runs give the same bytes.`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			made, err := demo.Make(cmd.Context(), e.absolute(args[0]))
			if err != nil {
				return err
			}
			if e.json {
				return e.answer(struct {
					Answer  string   `json:"answer"`
					V       int      `json:"v"`
					Shop    string   `json:"shop"`
					Coach   string   `json:"coach"`
					Entries int64    `json:"entries"`
					Papers  []string `json:"papers"`
				}{"demo", 1, e.absolute(args[0]), made.Coach, made.Entries, made.Papers})
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

func newVersion(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Say which build this is and which formats it reads",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			build := "unknown build"
			if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
				build = info.Main.Version
			}
			if e.json {
				return e.answer(struct {
					Answer string `json:"answer"`
					V      int    `json:"v"`
					Build  string `json:"build"`
					Format int    `json:"format"`
					Rules  int    `json:"rules"`
				}{"version", 1, build, 1, 1})
			}
			return e.print("lapmark %s, ledger format 1, rules 1", build)
		},
	}
}

func newTrust(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "trust",
		Short: "List, add or take out keys you vouch for",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.trustList(s) })
		},
	}
	var comment string
	add := &cobra.Command{
		Use:   "add NAME KEYLINE",
		Short: `Vouch for a key: "ssh-ed25519 AAAA…", compared with one from another source`,
		Args:  cobra.RangeArgs(2, 3),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error {
				key, err := sshsig.ParseLine(strings.Join(args[1:], " "))
				if err != nil {
					return fmt.Errorf("%w: no ssh-ed25519 key line: %w", shop.ErrUse, err)
				}
				return s.Vouch(keyring.Named{Name: args[0], Key: key, Comment: or(comment, args[0])})
			})
		},
	}
	add.Flags().StringVar(&comment, "comment", "", "for people: whose key it is")
	remove := &cobra.Command{
		Use: "take-out NAME", Short: "No longer vouch for a key", Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return s.Unvouch(args[0], false) })
		},
	}
	retire := &cobra.Command{
		Use: "retire NAME", Short: "Move a key to the retired ones", Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return s.Unvouch(args[0], true) })
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

func newPapers(e *env) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "papers [COACH]",
		Short: "List the papers given out; with --out write them again",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.papers(s, strings.Join(args, ""), out) })
		},
	}
	c.Flags().StringVar(&out, "out", "", "write the papers of the coach again into this folder")
	return c
}

type papersAnswer struct {
	Answer string       `json:"answer"`
	V      int          `json:"v"`
	Papers []paperEntry `json:"papers"`
}

type paperEntry struct {
	Coach       string `json:"coach"`
	Entry       int    `json:"entry"`
	Paper       string `json:"paper"`
	Certificate string `json:"certificate,omitempty"`
	Copy        string `json:"copy"`
	Day         string `json:"day"`
	HeadCode    string `json:"head_code"`
	Name        string `json:"name"`
	State       string `json:"state"`
}

func (e *env) papers(s *shop.Shop, coach, out string) error {
	list, err := s.Papers(coach)
	if err != nil {
		return err
	}
	if out != "" {
		return e.papersAgain(s, list, e.absolute(out))
	}
	a := papersAnswer{Answer: "papers", V: 1, Papers: []paperEntry{}}
	for _, p := range list {
		a.Papers = append(a.Papers, paperEntry{
			p.Row.Coach, p.Row.Entry, p.Row.Kind, p.Row.Certificate, string(p.Row.Copy), p.Row.Day, string(p.Code),
			p.Row.Name, string(p.Row.State),
		})
	}
	if e.json {
		return e.answer(a)
	}
	for _, p := range a.Papers {
		err := e.print("%s  entry %d  %s  %s %s  %s  %s", p.Day, p.Entry, p.HeadCode, p.Paper, p.Certificate, p.Copy, p.Name)
		if err != nil {
			return err
		}
	}
	return nil
}

func (e *env) papersAgain(s *shop.Shop, list []shop.Given, folder string) error {
	for _, g := range list {
		path, err := s.Again(g, folder)
		if err != nil {
			return err
		}
		if err := e.print("%s", path); err != nil {
			return err
		}
	}
	return nil
}

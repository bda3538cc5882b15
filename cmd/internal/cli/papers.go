package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
)

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

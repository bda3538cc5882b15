package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
)

func newPapers(e *env) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "papers [COACH [ENTRY]]",
		Short: "List the papers given out; with --out write them again",
		Long: `papers lists what was given out, with the head code each paper shows. With
--out it writes them again, as they left: the pages that are kept are compared
with the hash their entry holds, and one that was changed is named and not
written.`,
		Example: `  lapmark papers
  lapmark papers 4137 54 --out again`,
		Args: args(0, 2), ValidArgsFunction: e.completeCoach,
		RunE: func(_ *cobra.Command, given []string) error {
			return e.withShop(func(s *shop.Shop) error { return e.papers(s, given, out) })
		},
	}
	c.Flags().StringVar(&out, "out", "", "write the papers again into this `FOLDER`")
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

func (e *env) papers(s *shop.Shop, given []string, out string) error {
	list, damaged, err := s.Papers(strings.Join(given[:min(1, len(given))], ""))
	if err != nil {
		return err
	}
	for _, d := range damaged {
		e.console.Say("%v", d)
	}
	if len(given) == 2 {
		list = slices.DeleteFunc(list, func(g shop.Given) bool { return ledger.Decimal(int64(g.Row.Entry)) != given[1] })
		if len(list) == 0 {
			return fmt.Errorf("%w: entry %s gave out no paper", shop.ErrUse, given[1])
		}
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
	if err := shop.Folder(folder); err != nil {
		return err
	}
	var paths []string
	var wrong error
	for _, g := range list {
		path, err := s.Again(g, folder)
		switch {
		case err == nil:
			paths = append(paths, path)
		case errors.Is(err, shop.ErrNotGivenOut), errors.Is(err, fs.ErrNotExist):
			wrong = errors.Join(wrong, err)
		default:
			return err
		}
	}
	return errors.Join(e.done("papers", paths), wrong)
}

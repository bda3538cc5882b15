package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
)

func newHead(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "head CODE",
		Short: "Say whether a head code read out is ours: newest, older, or not ours",
		Long: `head takes the head code that stands at the foot of a paper, as somebody reads it
out: spaces, small letters and the letters that look like figures do not matter.
It says newest, older by so many entries, or not ours.`,
		Example: `  lapmark head 8xes 4b3v ted4 ww84 h7ej`,
		Args:    args(1, many),
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

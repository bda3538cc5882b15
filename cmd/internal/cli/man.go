package cli

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"lapmark/cmd/internal/shop"
)

func newManPages(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "man-pages FOLDER",
		Short: "Write the manual pages, one a verb, into a folder",
		Long: `man-pages writes a page of section 1 for lapmark and for each of its verbs, made
from the same words as --help. Read one with man -l FOLDER/lapmark-show.1, or put
them where man looks for them.`,
		Example: `  lapmark man-pages man1`,
		Args:    args(1, 1),
		RunE: func(c *cobra.Command, args []string) error {
			folder := e.absolute(args[0])
			if err := shop.Folder(folder); err != nil {
				return err
			}
			var written []string
			for _, p := range manPages(c.Root()) {
				path := filepath.Join(folder, p.name+".1")
				if err := shop.WriteNew(path, []byte(p.text)); err != nil {
					return err
				}
				written = append(written, path)
			}
			return e.done("man-pages", written)
		},
	}
}

// manPage is one page in the man macros of roff, named as a verb is typed, with
// hyphens.
type manPage struct{ name, text string }

// manWidth is how wide a list of flags is: a screen of 80 less the indent.
const manWidth = 72

// manPages are the pages of a verb and of all verbs under it.
func manPages(c *cobra.Command) []manPage {
	out := []manPage{{manName(c), manText(c)}}
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			out = append(out, manPages(sub)...)
		}
	}
	return out
}

func manName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

func manText(c *cobra.Command) string {
	var r roff
	r.add(`.TH "%s" 1 "" lapmark "lapmark manual"`, strings.ToUpper(manName(c)))
	r.heading("NAME")
	r.add(`%s \- %s`, escaped(manName(c)), escaped(c.Short))
	r.heading("SYNOPSIS")
	r.add(`.B %s`, escaped(c.UseLine()))
	r.heading("DESCRIPTION")
	prose, _, _ := strings.Cut(or(c.Long, c.Short+"."), "\n\nExit codes:")
	r.paragraphs(prose)
	r.verbs(c)
	r.listed("OPTIONS", c.NonInheritedFlags().FlagUsagesWrapped(manWidth))
	r.listed("OPTIONS OF EVERY VERB", c.InheritedFlags().FlagUsagesWrapped(manWidth))
	r.listed("EXAMPLES", c.Example)
	r.heading("EXIT STATUS")
	for _, m := range exitMeaning {
		r.add(".TP\n%d\n%s", m.Code, escaped(m.Means))
	}
	if c.HasParent() {
		r.heading("SEE ALSO")
		r.add(`.BR %s (1)`, escaped(manName(c.Parent())))
	}
	return r.String()
}

// roff writes the man macros.
type roff struct{ strings.Builder }

func (r *roff) add(format string, args ...any) { r.WriteString(fmt.Sprintf(format, args...) + "\n") }

func (r *roff) heading(text string) { r.add(".SH %s", text) }

func (r *roff) paragraphs(text string) {
	for p := range strings.SplitSeq(text, "\n\n") {
		r.add(".PP\n%s", escaped(p))
	}
}

func (r *roff) verbatim(text string) { r.add(".PP\n.nf\n%s\n.fi", escaped(text)) }

func (r *roff) verbs(c *cobra.Command) {
	if !c.HasAvailableSubCommands() {
		return
	}
	r.heading("VERBS")
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			r.add(".TP\n.BR %s (1)\n%s", escaped(manName(sub)), escaped(sub.Short))
		}
	}
}

// listed sets a block that stands as it is, if there is one.
func (r *roff) listed(heading, text string) {
	if text == "" {
		return
	}
	r.heading(heading)
	r.verbatim(strings.TrimRight(text, "\n"))
}

// escaped sets a text as it stands: roff reads backslashes, hyphens, and a dot
// or an apostrophe at the beginning of a line as its own.
func escaped(text string) string {
	lines := strings.Split(strings.NewReplacer(`\`, `\e`, `-`, `\-`).Replace(text), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
			lines[i] = `\&` + line
		}
	}
	return strings.Join(lines, "\n")
}

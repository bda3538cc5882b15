// Package text prints papers as plain text, 78 characters wide, everything in
// reading order: for a terminal, and for a reader who hears the paper. A plan
// is said in its two sentences and as a list.
package text

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"lapmark/report"
)

// width is the width of a line in characters.
const width = 78

// Render prints a paper.
func Render(p report.Paper) string {
	w := &writer{}
	f := p.Furniture
	w.lines(wrapped([]report.Span{{Text: f.Shop}}, width)...)
	w.lines(wrapped([]report.Span{{Text: f.Desk}}, width)...)
	for _, s := range p.Sections {
		if s.Head != "" {
			w.gap()
			w.lines(strings.Repeat("=", width))
			w.lines(wrapped([]report.Span{{Text: s.Head}}, width)...)
		}
		for _, b := range s.Blocks {
			w.block(b)
		}
	}
	w.foot(f)
	return strings.ReplaceAll(strings.Join(w.out, "\n"), "\u00a0", " ") + "\n"
}

// writer gathers lines.
type writer struct{ out []string }

func (w *writer) lines(lines ...string) {
	for _, l := range lines {
		w.out = append(w.out, strings.TrimRight(l, " "))
	}
}

// gap is an empty line, never two.
func (w *writer) gap() {
	if n := len(w.out); n > 0 && w.out[n-1] != "" {
		w.out = append(w.out, "")
	}
}

// foot says what the foot box says on every page, once.
func (w *writer) foot(f report.Furniture) {
	w.gap()
	w.lines(strings.Repeat("=", width))
	for _, cell := range f.Foot {
		spans := append([]report.Span{{Text: cell.Label + ": "}}, cell.Says...)
		w.lines(hanging(spans, "", 2)...)
	}
	if f.Mark != "" {
		w.lines(f.Name + ", " + f.Mark)
	}
}

// block prints one block.
func (w *writer) block(b report.Block) {
	switch b := b.(type) {
	case report.Heading:
		w.heading(b)
	case report.Paragraph:
		w.gap()
		w.lines(wrapped(b.Spans, width)...)
	case report.List:
		w.list(b)
	case report.Table:
		w.table(b)
	case report.Plan:
		w.gap()
		w.lines(wrapped([]report.Span{{Text: "[Plan] " + b.Drawing.Title + ". " + b.Drawing.Says}}, width)...)
		for _, item := range b.Listed {
			w.lines(hanging([]report.Span{{Text: item}}, "- ", 2)...)
		}
	case report.Picture:
		w.gap()
		w.lines(wrapped([]report.Span{{Text: "[Picture] " + b.Says}}, width)...)
		w.lines(wrapped(b.Caption, width)...)
	case report.Note:
		w.gap()
		w.lines(strings.Repeat("-", width))
		w.lines(wrapped(b.Spans, width)...)
	}
}

// heading is a heading with a line of signs under it.
func (w *writer) heading(b report.Heading) {
	w.gap()
	n := 0
	for n < len(b.Spans) && !b.Spans[n].Right {
		n++
	}
	lines := wrapped(b.Spans[:n], width)
	longest := 0
	for _, l := range lines {
		longest = max(longest, utf8.RuneCountInString(l))
	}
	sign := "-"
	if b.Title {
		sign = "="
	}
	w.lines(lines...)
	w.lines(strings.Repeat(sign, longest))
	if n < len(b.Spans) {
		w.lines(strings.TrimSpace(flat(b.Spans[n:])))
	}
}

func (w *writer) list(b report.List) {
	w.gap()
	for i, item := range b.Items {
		mark := "- "
		if b.Numbered {
			mark = strconv.Itoa(i+1) + ". "
		}
		w.lines(hanging(item, mark, len(mark))...)
	}
}

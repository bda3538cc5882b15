package check

import (
	"strings"
	"unicode/utf8"
)

// columns is the width of the text for people.
const columns = 78

// Text is the answer for people: the parts in their order, wrapped at 78
// columns. Every line ends with a line end.
func (a Answer) Text() string {
	var out strings.Builder
	for i, p := range a.Parts() {
		if i > 0 {
			out.WriteByte('\n')
		}
		wrap(&out, p.Head, "")
		for _, says := range p.Says {
			text, under := strings.CutPrefix(says, indent)
			before := indent
			if under {
				before += indent
			}
			wrap(&out, text, before)
		}
	}
	return out.String()
}

// wrap writes a text in lines of at most so many columns, each behind before;
// lines that go on stand one step further in.
func wrap(out *strings.Builder, text, before string) {
	width := 0
	for _, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case width == 0:
			out.WriteString(before)
			width = len(before)
		case width+1+n > columns:
			out.WriteString("\n" + before + indent)
			width = len(before + indent)
		default:
			out.WriteByte(' ')
			width++
		}
		out.WriteString(word)
		width += n
	}
	if width > 0 {
		out.WriteByte('\n')
	}
}

package text

import (
	"strings"
	"unicode/utf8"

	"lapmark/report"
)

// flat is spans as one text; a box to tick is "[ ]".
func flat(spans []report.Span) string {
	var b strings.Builder
	for i, s := range spans {
		if s.Tick {
			if i > 0 {
				b.WriteString("  ")
			}
			b.WriteString("[ ]\u00a0")
		}
		b.WriteString(s.Text)
	}
	return b.String()
}

// wrapped breaks spans into lines. What is set right stands at the right edge
// of the line it ends.
func wrapped(spans []report.Span, width int) []string {
	var out []string
	for len(spans) > 0 {
		n := 0
		for n < len(spans) && !spans[n].Right {
			n++
		}
		lines := broken(flat(spans[:n]), width)
		spans = spans[n:]
		for n = 0; n < len(spans) && spans[n].Right; n++ {
		}
		if n > 0 {
			lines = rightward(lines, strings.TrimSpace(flat(spans[:n])), width)
			spans = spans[n:]
		}
		out = append(out, lines...)
	}
	return out
}

// rightward puts a text at the right edge of the last line, or of a new one.
func rightward(lines []string, right string, width int) []string {
	last := ""
	if n := len(lines); n > 0 {
		last = lines[n-1]
	}
	room := width - utf8.RuneCountInString(last) - utf8.RuneCountInString(right)
	if len(lines) > 0 && room >= 2 {
		lines[len(lines)-1] = last + strings.Repeat(" ", room) + right
		return lines
	}
	return append(lines, broken(right, width)...)
}

// broken breaks a text at its spaces; a word longer than a line is cut.
func broken(text string, width int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(strings.ReplaceAll(text, "\u00a0", "\x00")) {
		word = strings.ReplaceAll(word, "\x00", "\u00a0")
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			out, line = append(out, line), ""
		}
		for letters := []rune(word); len(letters) > width; letters = []rune(word) {
			out, word = append(out, string(letters[:width])), string(letters[width:])
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// hanging breaks spans into lines behind a mark, the later ones indented.
func hanging(spans []report.Span, mark string, indent int) []string {
	lines := wrapped(spans, width-max(indent, len(mark)))
	for i := range lines {
		if i == 0 {
			lines[i] = mark + lines[i]
		} else {
			lines[i] = strings.Repeat(" ", indent) + lines[i]
		}
	}
	return lines
}

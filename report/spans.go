package report

import "strings"

// marking is a piece of a sentence and the style it is set in.
type marking struct {
	text  string
	style Style
}

// plainly is a sentence in one plain span.
func plainly(text string) []Span { return []Span{{Text: Bind(text)}} }

// marked is a sentence with some of its pieces, in their order, set in another
// style. A piece that is not in the sentence is passed over.
func marked(text string, marks ...marking) []Span {
	rest := Bind(text)
	var spans []Span
	for _, m := range marks {
		piece := Bind(m.text)
		at := strings.Index(rest, piece)
		if piece == "" || at < 0 {
			continue
		}
		if at > 0 {
			spans = append(spans, Span{Text: rest[:at]})
		}
		spans = append(spans, Span{Text: piece, Style: m.style})
		rest = rest[at+len(piece):]
	}
	if rest != "" {
		spans = append(spans, Span{Text: rest})
	}
	return spans
}

// unbroken keeps all of a text on one line.
func unbroken(text string) string { return strings.ReplaceAll(text, " ", nbsp) }

// heading is a heading of a part, kept with what follows.
func heading(text string) Heading { return Heading{Spans: plainly(text)} }

package report

import "strings"

// Words are all words of some blocks in reading order, with plain spaces.
func Words(blocks []Block) string {
	var w wordsOf
	for _, b := range blocks {
		w.block(b)
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(w, " "), nbsp, " ")), " ")
}

// wordsOf gathers words.
type wordsOf []string

func (w *wordsOf) spans(spans []Span) {
	var b strings.Builder
	for i, s := range spans {
		if s.Tick || i > 0 && spans[i-1].Right != s.Right {
			b.WriteByte(' ')
		}
		b.WriteString(s.Text)
	}
	*w = append(*w, b.String())
}

func (w *wordsOf) block(b Block) {
	switch b := b.(type) {
	case Heading:
		w.spans(b.Spans)
	case Paragraph:
		w.spans(b.Spans)
	case Note:
		w.spans(b.Spans)
	case List:
		for _, item := range b.Items {
			w.spans(item)
		}
	case Table:
		for _, row := range append([][]Cell{b.Head}, b.Rows...) {
			for _, c := range row {
				w.spans(c.Spans)
			}
		}
	case Plan:
		*w = append(*w, b.Drawing.Title, b.Drawing.Says)
		*w = append(*w, b.Listed...)
	case Picture:
		*w = append(*w, b.Says)
		w.spans(b.Caption)
	}
}

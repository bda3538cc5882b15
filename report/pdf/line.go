package pdf

import (
	"strings"

	"lapmark/report"
)

// run is a piece of text in one face at one place of its line, or a box to
// tick. space is the width of a space in its face.
type run struct {
	face           face
	text           string
	size           float64
	x, wide, space float64
	tick           bool
}

// line is a set line: its runs and its width in mm.
type line struct {
	runs  []run
	width float64
}

// word is what a line is never broken in: pieces of text set close together,
// and the width of the space before it.
type word struct {
	runs  []run
	width float64
	space float64
}

// setter breaks spans into lines.
type setter struct {
	meter *meter
	err   error
	pages map[string]int // on which named sections begin, once that is known
}

// says is the text of a span: the number of a page, where it names one.
func (s *setter) says(span report.Span) string {
	if span.PageOf == "" {
		return span.Text
	}
	return number(max(1, s.pages[span.PageOf]))
}

// width is the width of a text in mm.
func (s *setter) width(f face, text string, size float64) float64 {
	total := 0.0
	for _, r := range text {
		g, err := s.meter.glyph(f, plainSpace(r))
		if err != nil && s.err == nil {
			s.err = err
		}
		total += g.advance
	}
	return total / 1000 * size * point
}

// plainSpace draws U+00A0 as a space: it has done its work when lines are set.
func plainSpace(r rune) rune {
	if r == '\u00a0' {
		return ' '
	}
	return r
}

// lines breaks spans into lines of a width. Spans set right end their line.
func (s *setter) lines(spans []report.Span, plain face, t typeface, width float64) []line {
	var out []line
	for len(spans) > 0 {
		n := 0
		for n < len(spans) && !spans[n].Right {
			n++
		}
		left := s.broken(s.words(spans[:n], plain, t), width)
		spans = spans[n:]
		n = 0
		for n < len(spans) && spans[n].Right {
			n++
		}
		if n > 0 {
			left = s.rightward(left, spans[:n], plain, t, width)
			spans = spans[n:]
		}
		out = append(out, left...)
	}
	return out
}

// rightward sets spans at the right edge, on the last line if it has room.
func (s *setter) rightward(left []line, spans []report.Span, plain face, t typeface, width float64) []line {
	right := s.broken(s.words(spans, plain, t), width)
	for i := range right {
		right[i].shift(width - right[i].width)
	}
	if n := len(left); n > 0 && len(right) == 1 && left[n-1].width+cellGap/2+right[0].width <= width {
		left[n-1].runs = append(left[n-1].runs, right[0].runs...)
		left[n-1].width = width
		return left
	}
	return append(left, right...)
}

func (l *line) shift(by float64) {
	for i := range l.runs {
		l.runs[i].x += by
	}
}

// words cuts spans at their spaces. What stands without a space between is one
// word, in whatever styles.
func (s *setter) words(spans []report.Span, plain face, t typeface) []word {
	var words []word
	open := false
	space := 0.0
	for _, span := range spans {
		f := faceOf(span.Style, plain)
		if span.Tick {
			open = false
			space = tickApart
		}
		for i, text := range strings.Split(s.says(span), " ") {
			if i > 0 {
				open = false
				space = s.width(f, " ", t.size)
			}
			if text == "" && !(span.Tick && i == 0) {
				continue
			}
			if !open {
				words = append(words, word{space: space})
				open = true
			}
			s.extend(&words[len(words)-1], f, text, t, span.Tick && i == 0)
		}
	}
	return words
}

// extend adds a piece of text to a word, each stretch in the face that has its
// characters.
func (s *setter) extend(w *word, f face, text string, t typeface, ticked bool) {
	if ticked {
		w.runs = append(w.runs, run{tick: true, x: w.width, wide: tick + tickGap})
		w.width += tick + tickGap
	}
	for text != "" {
		stretch, in := s.stretch(f, text)
		wide := s.width(f, stretch, t.size)
		w.runs = append(w.runs, run{face: in, text: stretch, size: t.size, x: w.width, wide: wide, space: s.width(in, " ", t.size)})
		w.width += wide
		text = text[len(stretch):]
	}
}

// stretch is the longest beginning of a text that one face prints.
func (s *setter) stretch(f face, text string) (string, face) {
	in := f
	for i, r := range text {
		g, err := s.meter.glyph(f, plainSpace(r))
		if err != nil {
			if s.err == nil {
				s.err = err
			}
			g.face = f
		}
		if i == 0 {
			in = g.face
		} else if g.face != in {
			return text[:i], in
		}
	}
	return text, in
}

// broken fills lines with words. A word wider than a line may break between
// any two of its letters.
func (s *setter) broken(words []word, width float64) []line {
	var out []line
	var l line
	for len(words) > 0 {
		w := words[0]
		words = words[1:]
		if w.width > width && len(w.runs) > 1 || w.width > width && len([]rune(w.runs[0].text)) > 1 {
			words = append(s.letters(w), words...)
			continue
		}
		if len(l.runs) > 0 && l.width+w.space+w.width > width+0.001 {
			out = append(out, l)
			l = line{}
		}
		l.add(w)
	}
	if len(l.runs) > 0 {
		out = append(out, l)
	}
	return out
}

// add puts a word at the end of a line, joining what is in one face.
func (l *line) add(w word) {
	at := l.width
	if len(l.runs) > 0 {
		at += w.space
	}
	for _, r := range w.runs {
		r.x += at
		last := len(l.runs) - 1
		if last >= 0 && l.runs[last].joins(r) {
			between := ""
			if r.x > l.runs[last].end()+0.001 {
				between = " "
			}
			l.runs[last].text += between + r.text
			l.runs[last].wide = r.end() - l.runs[last].x
			continue
		}
		l.runs = append(l.runs, r)
	}
	l.width = at + w.width
}

// joins tells whether a run goes on with another: the same face, and no more
// between them than one space of that face.
func (r run) joins(next run) bool {
	return !r.tick && !next.tick && r.face == next.face && next.x <= r.end()+next.space+0.001
}

func (r run) end() float64 { return r.x + r.wide }

// letters cuts a word into its letters.
func (s *setter) letters(w word) []word {
	var out []word
	space := w.space
	for _, r := range w.runs {
		for _, letter := range r.text {
			one := run{face: r.face, text: string(letter), size: r.size, space: r.space}
			one.wide = s.width(r.face, one.text, r.size)
			out = append(out, word{runs: []run{one}, width: one.wide, space: space})
			space = 0
		}
		if r.tick {
			r.x = 0
			out = append(out, word{runs: []run{r}, width: r.wide, space: space})
			space = 0
		}
	}
	return out
}

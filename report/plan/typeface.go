package plan

import (
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// The two type sizes: 9.5 pt for all words, and the bold statement.
const (
	textSize  Unit = 335
	boldSize  Unit = 420
	textLead  Unit = 410
	boldLead  Unit = 500
	capHeight Unit = 72 // per cent of the size, Go fonts
)

// typeface measures words by the advance widths of the Go fonts.
type typeface struct {
	regular, bold *sfnt.Font
	buffer        sfnt.Buffer
}

// newTypeface reads both fonts. They are part of the program; one that cannot
// be read measures by estimate.
func newTypeface() *typeface {
	t := &typeface{}
	if f, err := sfnt.Parse(goregular.TTF); err == nil {
		t.regular = f
	}
	if f, err := sfnt.Parse(gobold.TTF); err == nil {
		t.bold = f
	}
	return t
}

// width returns the width of a text, rounded up.
func (t *typeface) width(text string, size Unit, bold bool) Unit {
	f := t.regular
	if bold {
		f = t.bold
	}
	var sum, em int64 = 0, 2048
	if f != nil {
		em = int64(f.UnitsPerEm())
	}
	for _, r := range text {
		sum += t.advance(f, r, em)
	}
	return Unit((sum*int64(size) + em - 1) / em)
}

// advance returns the advance of one character in units of the em; a
// character without a glyph takes a whole em.
func (t *typeface) advance(f *sfnt.Font, r rune, em int64) int64 {
	if f == nil {
		return em
	}
	i, err := f.GlyphIndex(&t.buffer, r)
	if err != nil || i == 0 {
		return em
	}
	a, err := f.GlyphAdvance(&t.buffer, i, fixed.I(int(em)), font.HintingNone)
	if err != nil {
		return em
	}
	return int64(a.Ceil())
}

// rows breaks a text at its spaces into rows no wider than most where the
// words allow it, and as even as that many rows can be.
func (t *typeface) rows(text string, size Unit, bold bool, most Unit) []string {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' })
	if len(words) == 0 {
		return nil
	}
	wide := func(s string) Unit { return t.width(s, size, bold) }
	best := fill(words, most, wide)
	low := Unit(0)
	for high := most; low < high; {
		mid := (low + high) / 2
		if r := fill(words, mid, wide); len(r) <= len(best) && widest(r, wide) <= most {
			best, high = r, mid
		} else {
			low = mid + 1
		}
	}
	return best
}

// fill sets words into rows greedily.
func fill(words []string, most Unit, wide func(string) Unit) []string {
	rows := []string{words[0]}
	for _, w := range words[1:] {
		last := len(rows) - 1
		if longer := rows[last] + " " + w; wide(longer) <= most {
			rows[last] = longer
		} else {
			rows = append(rows, w)
		}
	}
	return rows
}

// widest returns the width of the widest row.
func widest(rows []string, wide func(string) Unit) Unit {
	var most Unit
	for _, r := range rows {
		most = max(most, wide(r))
	}
	return most
}

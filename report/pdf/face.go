package pdf

import (
	"fmt"
	"sync"
	"unicode"

	"github.com/go-fonts/dejavu/dejavusans"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is one of the fonts of a paper.
type face int

// The Go fonts, and the one that lends single characters they lack.
const (
	regular face = iota
	bold
	italic
	mono
	fallback
	faces
)

// family is the name of a face in the document.
func (f face) family() string {
	return [...]string{"go", "gobold", "goitalic", "gomono", "dejavu"}[f]
}

// ttf is the font file of a face. fpdf writes into the slice it is given: give
// it a clone.
func (f face) ttf() []byte {
	switch f {
	case bold:
		return gobold.TTF
	case italic:
		return goitalic.TTF
	case mono:
		return gomono.TTF
	case fallback:
		return dejavusans.TTF
	}
	return goregular.TTF
}

// parsed are the fonts as tables of glyphs and widths, parsed when first used.
var parsed = [faces]func() (*sfnt.Font, error){}

func init() {
	for f := range faces {
		parsed[f] = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(f.ttf()) })
	}
}

// MissingGlyph is a character that no font of the papers has, or that they
// cannot set: one beyond U+FFFF, a combining mark, a letter of a script that
// runs from right to left.
type MissingGlyph struct{ Rune rune }

func (e MissingGlyph) Error() string {
	return fmt.Sprintf("the papers cannot print %q (U+%04X)", e.Rune, e.Rune)
}

// Printable tells whether a text can be printed on a paper. Its error is a
// MissingGlyph. Ask it where the text is typed.
func Printable(text string) error {
	m := newMeter()
	for _, r := range text {
		if _, err := m.glyph(regular, r); err != nil {
			return err
		}
	}
	return nil
}

// glyph is a character in the face that has it, and its advance in thousandths
// of the type size.
type glyph struct {
	face    face
	advance float64
}

// meter measures text. It keeps what it has measured.
type meter struct {
	known [faces]map[rune]glyph
	buf   sfnt.Buffer
}

func newMeter() *meter {
	m := &meter{}
	for f := range m.known {
		m.known[f] = map[rune]glyph{}
	}
	return m
}

// glyph finds a character in a face or, where that lacks it, in the fallback.
func (m *meter) glyph(f face, r rune) (glyph, error) {
	if g, ok := m.known[f][r]; ok {
		return g, nil
	}
	if r == '\u200c' || r == '\u200d' {
		return glyph{face: f}, nil // a joiner draws nothing
	}
	if r < ' ' || r > 0xffff || unicode.In(r, rightToLeft...) || unicode.In(r, unicode.M, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs) {
		return glyph{}, MissingGlyph{r}
	}
	for _, try := range []face{f, fallback} {
		advance, ok, err := m.advance(try, r)
		if err != nil {
			return glyph{}, err
		}
		if ok {
			g := glyph{try, advance}
			m.known[f][r] = g
			return g, nil
		}
	}
	return glyph{}, MissingGlyph{r}
}

// rightToLeft are scripts that run from right to left; fpdf sets them in the
// order of their characters.
var rightToLeft = []*unicode.RangeTable{
	unicode.Arabic, unicode.Hebrew, unicode.Syriac, unicode.Thaana, unicode.Nko,
	unicode.Samaritan, unicode.Mandaic,
}

// advance is the width of a character in thousandths of the type size, and
// whether the face has it.
func (m *meter) advance(f face, r rune) (float64, bool, error) {
	ttf, err := parsed[f]()
	if err != nil {
		return 0, false, fmt.Errorf("font %s: %w", f.family(), err)
	}
	at, err := ttf.GlyphIndex(&m.buf, r)
	if err != nil || at == 0 {
		return 0, false, err
	}
	em := ttf.UnitsPerEm()
	wide, err := ttf.GlyphAdvance(&m.buf, at, fixed.Int26_6(em), font.HintingNone)
	if err != nil {
		return 0, false, fmt.Errorf("font %s, %q: %w", f.family(), r, err)
	}
	return float64(wide) * 1000 / float64(em), true, nil
}

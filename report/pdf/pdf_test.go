package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lapmark/report"
	"lapmark/report/plan"
	"lapmark/testdata"
)

var options = Options{Made: time.Date(2020, 4, 24, 9, 30, 0, 0, time.UTC)}

// paperOf is a paper of one section.
func paperOf(s report.Section) report.Paper {
	return report.Paper{
		Title: "Trial", Language: "en", Sections: []report.Section{s},
		Furniture: report.Furniture{
			Shop: "Quillstead Roof Works", Desk: "4 Tannery Rise", Name: "Trial", Mark: "TB78-1133", Page: "page", Of: "of",
			Foot: []report.FootCell{{Label: "this is", Says: words("entry 1")}, {Label: "complete up to", Says: words("entry 0")}, {Label: "code", Says: words("AAAA")}},
		},
	}
}

func words(text string) []report.Span { return []report.Span{{Text: text}} }

func rendered(t testing.TB, p report.Paper) []byte {
	t.Helper()
	out, err := Render(p, options)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// extracted is the text pdftotext finds.
func extracted(t *testing.T, paper []byte) string {
	t.Helper()
	pdftotext := testdata.Program(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(file, paper, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(pdftotext, "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// Which characters can be printed. The Go fonts have Latin, Greek, Cyrillic
// and signs (their makers' list); U+2011 and U+2610 they lack and DejaVu Sans
// has; U+0E01 (Thai) neither has, U+1F600 lies beyond what fpdf draws.
func TestPrintable(t *testing.T) {
	for _, text := range []string{"", "Jörgen Šťastný Łęcki", "Ω Ж ½ ≤ ≥ × − → ° ² µ €", "a\u00a0b", "non\u2011breaking ☐ ♥", "“quoted” – said"} {
		if err := Printable(text); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
	for text, want := range map[string]rune{"roof ก": 'ก', "wet 😀": '😀', "a\nb": '\n', "tab\t": '\t', "שלום": 'ש', "سقف": 'س', "e\u0301": '\u0301', "a\u202eb": '\u202e', "\ufeff": '\ufeff', "漢": '漢', "\ue000": '\ue000'} {
		var missing MissingGlyph
		if err := Printable(text); !errors.As(err, &missing) || missing.Rune != want {
			t.Errorf("%q: %v, not %q", text, err, want)
		}
	}
}

// What is printable in one face is printable in each.
func TestEveryFacePrints(t *testing.T) {
	m := newMeter()
	for r := rune(' '); r < 0xffff; r++ {
		_, err := m.glyph(regular, r)
		for f := range fallback {
			if _, other := m.glyph(f, r); (err == nil) != (other == nil) {
				t.Fatalf("%q: regular %v, %s %v", r, err, f.family(), other)
			}
		}
	}
}

// A character the Go fonts lack is lent by DejaVu Sans, and by nothing else;
// one that neither has stops the printing.
func TestFallbackAndMissing(t *testing.T) {
	plainPaper := rendered(t, paperOf(report.Section{Blocks: []report.Block{report.Paragraph{Spans: words("non-breaking")}}}))
	lent := rendered(t, paperOf(report.Section{Blocks: []report.Block{report.Paragraph{Spans: []report.Span{{Text: "non\u2011breaking", Style: report.Bold}}}}}))
	if bytes.Contains(plainPaper, []byte("utf8dejavu")) || !bytes.Contains(lent, []byte("utf8dejavu")) {
		t.Error("DejaVu is not there exactly where it is needed")
	}
	if got := extracted(t, lent); !strings.Contains(got, "non\u2011breaking") {
		t.Errorf("%q", got)
	}
	for name, block := range map[string]report.Block{
		"paragraph": report.Paragraph{Spans: words("roof ก")},
		"drawing": report.Plan{Drawing: plan.Drawing{Width: 100, Height: 100, Marks: []plan.Mark{
			plan.Words{Text: "ก", Size: 335},
		}}},
		"table": report.Table{Columns: []report.Width{report.Rest}, Rows: [][]report.Cell{{{Spans: words("ก")}}}},
	} {
		var missing MissingGlyph
		if _, err := Render(paperOf(report.Section{Blocks: []report.Block{block}}), options); !errors.As(err, &missing) || missing.Rune != 'ก' {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestNoTimeNoPaper(t *testing.T) {
	if _, err := Render(paperOf(report.Section{}), Options{}); err == nil {
		t.Error("it is printed with no time said")
	}
}

// jpegOf is a grey picture.
func jpegOf(t *testing.T, wide, high int) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, wide, high)), nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A picture is printed 56 mm wide over its caption; without one its words are.
func TestPicture(t *testing.T) {
	m := &setter{meter: newMeter()}
	picture := report.Picture{JPEG: jpegOf(t, 560, 420), Says: "Rear header, 18 March 2020", Caption: words("F4, rear header, 18 Mar 2020")}
	pieces := m.pieces(picture, 178)
	if len(pieces) != 2 || pieces[0].height != 42 || !pieces[0].keep {
		t.Errorf("%d pieces, the first %.1f mm high", len(pieces), pieces[0].height)
	}
	both := rendered(t, paperOf(report.Section{Blocks: []report.Block{picture, report.Picture{Says: "No photo: it rained"}}}))
	if !bytes.Contains(both, []byte("/DCTDecode")) {
		t.Error("the picture is not in the paper")
	}
	if got := extracted(t, both); !strings.Contains(got, "F4, rear header, 18 Mar 2020") || !strings.Contains(got, "No photo: it rained") {
		t.Errorf("%q", got)
	}
	if _, err := Render(paperOf(report.Section{Blocks: []report.Block{report.Picture{JPEG: []byte("GIF89a")}}}), options); err == nil {
		t.Error("what is no JPEG is printed")
	}
}

// A word wider than its column is cut, and nothing of it is lost.
func TestWordWiderThanItsColumn(t *testing.T) {
	s := &setter{meter: newMeter()}
	long := strings.Repeat("Quillstead", 12)
	lines := s.lines([]report.Span{{Text: "of "}, {Text: long, Style: report.Mono}, {Text: ", Cold Elm"}}, regular, base, 40)
	got := ""
	for _, l := range lines {
		if l.width > 40.001 {
			t.Errorf("a line of %.1f mm", l.width)
		}
		for _, r := range l.runs {
			got += r.text
		}
	}
	if strings.ReplaceAll(got, " ", "") != "of"+long+",ColdElm" {
		t.Errorf("%q", got)
	}
}

// What is set right ends its line; it takes a line of its own where there is
// no room.
func TestRight(t *testing.T) {
	s := &setter{meter: newMeter()}
	right := report.Span{Text: "until\u00a023\u00a0Apr\u00a02030", Style: report.Bold, Right: true}
	short := s.lines([]report.Span{{Text: "Deck", Style: report.Bold}, right, {Text: "stays bonded"}}, regular, base, 60)
	long := s.lines([]report.Span{{Text: "Membrane and welds and all", Style: report.Bold}, right, {Text: "stay"}}, regular, base, 60)
	if len(short) != 2 || len(long) != 3 {
		t.Fatalf("%d and %d lines", len(short), len(long))
	}
	last := short[0].runs[len(short[0].runs)-1]
	if d := last.x + last.wide - 60; d > 0.001 || d < -0.001 {
		t.Errorf("it ends %.2f mm off the edge", d)
	}
}

// Papers of any blocks are printed, no word is lost, and printing ends: blocks
// higher than a page, columns that do not fit, drawings larger than the sheet.
func TestAnyPaper(t *testing.T) {
	for seed := range uint64(25) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := paperOf(report.Section{})
		p.Sections = nil
		said := 0
		for range 1 + r.IntN(3) {
			p.Sections = append(p.Sections, anySection(r, &said))
		}
		if why := misplaced(layOut(p, &setter{meter: newMeter()})); why != "" {
			t.Fatalf("seed %d: %s", seed, why)
		}
		found := extracted(t, rendered(t, p))
		for n := range said {
			if !strings.Contains(found, fmt.Sprintf("w%dw", n)) {
				t.Fatalf("seed %d: word %d of %d is lost", seed, n, said)
			}
		}
	}
}

// misplaced says which piece stands outside its page or over another one in
// the same column, if one does. A piece higher than a page may.
func misplaced(b *book) string {
	for n, sheet := range b.sheets {
		for i, at := range sheet.placed {
			tallest := b.bottom() - b.top()
			if at.y < b.headLine(n+1).height || at.y+at.piece.height > b.bottom()+footGap+0.01 && at.piece.height < tallest-1 {
				return fmt.Sprintf("page %d: a piece from %.1f to %.1f mm", n+1, at.y, at.y+at.piece.height)
			}
			for _, other := range sheet.placed[:i] {
				if at.x == other.x && at.y < other.y+other.piece.height-0.01 && other.y < at.y+at.piece.height-0.01 && other.piece.height < tallest {
					return fmt.Sprintf("page %d: pieces from %.1f and from %.1f mm overlap", n+1, at.y, other.y)
				}
			}
		}
	}
	return ""
}

// anySection is a section of some layout with blocks of any length. Each word
// has a number of its own.
func anySection(r *rand.Rand, said *int) report.Section {
	text := func(most int) []report.Span {
		out := ""
		for range 1 + r.IntN(most) {
			out += fmt.Sprintf("w%dw ", *said)
			*said++
		}
		return words(strings.TrimSpace(out))
	}
	s := report.Section{NewPage: r.IntN(2) == 0}
	columns := report.Column(0)
	switch r.IntN(4) {
	case 1:
		s.Columns, s.Gap, s.Flow = []plan.Unit{8550, 8550}, 700, true
	case 2:
		s.Columns, s.Gap, columns = []plan.Unit{9200, 8250}, 350, report.Second
	case 3:
		s.Columns, s.Gap, s.Low, columns = []plan.Unit{6400, 2800, 7700}, 450, 12400, report.Third
	}
	for range 1 + r.IntN(6) {
		at := report.Place{Whole: r.IntN(3) == 0, Column: report.Column(r.IntN(int(columns) + 1))}
		var b report.Block
		switch r.IntN(6) {
		case 0:
			b = report.Heading{Place: at, Spans: text(6), Ruled: r.IntN(2) == 0}
		case 1:
			b = report.Paragraph{Place: at, Spans: text(900)}
		case 2:
			l := report.List{Place: at, Numbered: r.IntN(2) == 0}
			for range 1 + r.IntN(40) {
				l.Items = append(l.Items, text(60))
			}
			b = l
		case 3:
			tb := report.Table{Place: at, Columns: []report.Width{report.Natural, report.Rest}, Rules: report.Rules(r.IntN(3)), More: words("more"), Again: words("again")}
			for range 1 + r.IntN(30) {
				tb.Rows = append(tb.Rows, []report.Cell{{Spans: []report.Span{{Text: text(2)[0].Text, Style: report.Mono}}}, {Spans: text(40), ByPen: r.IntN(9) == 0}})
			}
			b = tb
		case 4:
			b = report.Plan{Place: at, Drawing: plan.Drawing{Width: 2000, Height: plan.Unit(r.IntN(40000))}}
		case 5:
			b = report.Note{Place: at, Spans: text(80)}
		}
		s.Blocks = append(s.Blocks, b)
	}
	return s
}

// Joiners may stand in a private value or a free text; they draw nothing.
func TestJoinersDrawNothing(t *testing.T) {
	render := func(text string) []byte {
		p := report.Paper{Sections: []report.Section{{Blocks: []report.Block{report.Paragraph{Spans: []report.Span{{Text: text}}}}}}}
		out, err := Render(p, options)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	if err := Printable("a\u200cb\u200dc"); err != nil {
		t.Fatal(err)
	}
	if with, without := render("a\u200cb\u200dc"), render("abc"); !bytes.Equal(with, without) {
		t.Errorf("%d bytes with joiners, %d without, or others", len(with), len(without))
	}
}

// However many pictures are equally wide, the same paper has the same bytes.
func TestEquallyWidePictures(t *testing.T) {
	var blocks []report.Block
	for i := range 6 {
		blocks = append(blocks, report.Picture{JPEG: jpegOf(t, 56, 30+i), Says: "one of six"})
	}
	want := rendered(t, paperOf(report.Section{Blocks: blocks}))
	for range 10 {
		if !bytes.Equal(want, rendered(t, paperOf(report.Section{Blocks: blocks}))) {
			t.Fatal("the same paper has other bytes")
		}
	}
}

// A span that names a section says the page it begins on: of a last section of
// one line that is the last page, however full the one before is.
func TestPageOfASection(t *testing.T) {
	filler, pages := report.List{}, map[string]bool{}
	for range 60 {
		filler.Items = append(filler.Items, words("filler"))
		p := paperOf(report.Section{Blocks: []report.Block{filler}})
		p.Sections = append(p.Sections, report.Section{Name: "wording", Blocks: []report.Block{report.Heading{Spans: words("wording")}}})
		s := &setter{meter: newMeter()}
		b := layOut(p, s)
		s.pages = b.begins
		got := s.says(report.Span{Text: "wording", PageOf: "wording"})
		if got != number(len(b.sheets)) {
			t.Errorf("%d lines: page %s of %d", len(filler.Items), got, len(b.sheets))
		}
		pages[got] = true
	}
	if !pages["1"] || !pages["2"] {
		t.Errorf("only pages %v", pages)
	}
}

package report_test

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lapmark/report"
	"lapmark/report/pdf"
	"lapmark/testdata"
	"lapmark/testdata/quillstead"
)

// print renders a paper.
func print(t testing.TB, p report.Paper, size report.Size) []byte {
	t.Helper()
	out, err := pdf.Render(p, pdf.Options{Size: size, Made: made()})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// tool runs an outside program on a printed paper and returns what it says.
func tool(t *testing.T, paper []byte, name string, args ...string) string {
	t.Helper()
	program := testdata.Program(t, name)
	file := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(file, paper, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "PAPER" {
			args[i] = file
		}
	}
	var stderr bytes.Buffer
	cmd := exec.Command(program, args...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s%s", name, args, err, out, stderr.String())
	}
	return string(out)
}

// papers are those that the tests print: Q-0007 in both copies, with few and
// many lines, with inches, and the findings.
func papers(t testing.TB) map[string]report.Paper {
	t.Helper()
	passOn := q7Facts(t)
	passOn.Copy, passOn.Units = report.PassOnCopy, report.Both
	crowded := manyLines(t, 12)
	crowded.Shop.Name = "Quillstead Roof Works and Sons, Coach Builders and Roofers since the Flood of Cold Elm"
	crowded.Shop.Address += ", behind the old tannery, second yard on the left, County of the Long Fells"
	crowded.Coach.Model = "Fellside 78 with the long overhang and the second bedroom"
	crowded.RegionWords = "from 3700 mm aft to the rear, and on the left side from 2100 mm aft as far as the gutter rail goes"
	crowded.HolderName = "Adela Maximiliane Brunskog-Okonta von und zu Lindqvar of the Fells"
	crowded.Number = "Q-0007-LONG-NUMBER-OF-A-CERTIFICATE-2020"
	crowded.Beside = []string{"Q-0003", "Q-0004"}
	for range 6 {
		crowded.Left = append(crowded.Left, report.LeftTrouble{
			Place: "R1", What: "flange 11 of 25 mm", Day: day(t, "2020-03-22"),
			Consequence: "Water from there may run aft under the skin as far as it likes, number " + strconv.Itoa(len(crowded.Left)),
		})
	}
	crowded.Next.KeepAway = append(crowded.Next.KeepAway, strings.Repeat("Nothing that stings or burns. ", 12))
	return map[string]report.Paper{
		"Q-0007": q7(t), "pass-on in inches": certificate(t, passOn, quillstead.Terms()), "history": q7History(t),
		"one line": certificate(t, manyLines(t, 1), quillstead.Terms()), "40 lines": certificate(t, manyLines(t, 40), quillstead.Terms()),
		"crowded":          certificate(t, crowded, quillstead.Terms()),
		"no earlier paper": certificate(t, earlierFacts(t, 0), quillstead.Terms()), "12 earlier papers": certificate(t, earlierFacts(t, 12), quillstead.Terms()),
	}
}

// A face ends with the trailer that attachments are appended to, and its page
// tree is object 1.
func TestFaceLayout(t *testing.T) {
	end := regexp.MustCompile(`\ntrailer\n<<\n/Size (\d+)\n/Root (\d+) 0 R\n/Info (\d+) 0 R\n>>\nstartxref\n(\d+)\n%%EOF\n$`)
	for name, p := range papers(t) {
		face := print(t, p, report.A4)
		m := end.FindSubmatch(face)
		if m == nil {
			t.Fatalf("%s ends with %q", name, face[len(face)-200:])
		}
		number := func(i int) int {
			n, err := strconv.Atoi(string(m[i]))
			if err != nil {
				t.Fatal(err)
			}
			return n
		}
		if size := number(1); number(2) != size-1 || number(3) != size-2 {
			t.Errorf("%s: size %s, root %s, info %s", name, m[1], m[2], m[3])
		}
		if x := number(4); !bytes.HasPrefix(face[x:], []byte("xref\n0 "+string(m[1])+"\n")) {
			t.Errorf("%s: no xref at %d", name, x)
		}
		if !bytes.Contains(face, []byte("\n1 0 obj\n<</Type /Pages\n")) {
			t.Errorf("%s: object 1 is not the page tree", name)
		}
		if bytes.Contains(face, []byte("lapmark-tail")) || len(face) > 400_000 {
			t.Errorf("%s: %d bytes", name, len(face))
		}
		if streams, packed := bytes.Count(face, []byte("\nstream\n")), bytes.Count(face, []byte("/FlateDecode")); packed < streams*2/3 {
			t.Errorf("%s: of %d streams %d are compressed", name, streams, packed)
		}
	}
}

// Same paper, same bytes, in both copies.
func TestSameBytes(t *testing.T) {
	for name, p := range map[string]report.Paper{"Q-0007": q7(t), "history": q7History(t)} {
		first := print(t, p, report.A4)
		for i := range 20 {
			if !bytes.Equal(first, print(t, p, report.A4)) {
				t.Fatalf("%s: printing %d is another", name, i)
			}
		}
	}
}

// qpdf finds nothing wrong, and every font is embedded, as pdffonts says.
func TestSoundAndEmbedded(t *testing.T) {
	for name, p := range papers(t) {
		face := print(t, p, report.Letter)
		if says := tool(t, face, "qpdf", "--check", "PAPER"); !strings.Contains(says, "No syntax or stream encoding errors found") {
			t.Errorf("%s: %s", name, says)
		}
		fonts := strings.Split(strings.TrimSpace(tool(t, face, "pdffonts", "PAPER")), "\n")[2:]
		if len(fonts) == 0 {
			t.Fatalf("%s: no fonts", name)
		}
		for _, font := range fonts {
			if f := strings.Fields(font); len(f) < 6 || f[len(f)-5] != "yes" {
				t.Errorf("%s: not embedded: %s", name, font)
			}
		}
	}
}

// close is a text without its spaces: a word wider than its column is cut.
func close(text string) string { return strings.Join(strings.Fields(text), "") }

// pdftotext finds all words of every block, on A4 and on Letter, in the same
// lines.
func TestWordsAndLines(t *testing.T) {
	for name, p := range papers(t) {
		a4 := tool(t, print(t, p, report.A4), "pdftotext", "-raw", "PAPER", "-")
		letter := tool(t, print(t, p, report.Letter), "pdftotext", "-raw", "PAPER", "-")
		if a4 != letter {
			t.Errorf("%s: A4 and Letter break otherwise", name)
		}
		found := close(a4)
		for _, s := range p.Sections {
			lost := lacking(found, s.Blocks)
			if len(s.Short) > 0 && len(lost) > 0 {
				lost = lacking(found, slices.Concat(s.Short, s.Apart))
			}
			for _, words := range lost {
				t.Errorf("%s: not found: %s", name, words)
			}
		}
	}
}

// lacking are the texts of blocks that are not found.
func lacking(found string, blocks []report.Block) []string {
	var out []string
	for _, b := range blocks {
		for _, words := range sentencesOf(b) {
			if !parted(found, words) {
				out = append(out, words)
			}
		}
	}
	return out
}

// sentencesOf are the texts of a block that are set as one.
func sentencesOf(b report.Block) []string {
	var out []string
	add := func(spans []report.Span) {
		text := ""
		for i, s := range spans {
			if s.Right || s.Tick || i > 0 && spans[i-1].Right {
				out, text = append(out, text), ""
			}
			text += s.Text
		}
		out = append(out, text)
	}
	switch b := b.(type) {
	case report.Heading:
		add(b.Spans)
	case report.Paragraph:
		add(b.Spans)
	case report.Note:
		add(b.Spans)
	case report.List:
		for _, item := range b.Items {
			add(item)
		}
	case report.Table:
		for _, row := range b.Rows {
			for _, c := range row {
				if c.Drawing == nil {
					add(c.Spans)
				}
			}
		}
	}
	return out
}

// parted tells whether a text is there whole or in two pieces: before and after the end
// of a column or page, or the line beside it.
func parted(found, text string) bool {
	words := strings.Fields(text)
	for i := range words {
		at := strings.Index(found, strings.Join(words[:i], ""))
		if at >= 0 && strings.Contains(found[at:], strings.Join(words[i:], "")) {
			return true
		}
	}
	return len(words) == 0
}

// What is not in the warranty stands in the same font, size and column as what
// is in it, on page one.
func TestNotInAsLargeAsIn(t *testing.T) {
	for _, n := range []int{1, 6, 9, 40} {
		all := letters(t, print(t, certificate(t, manyLines(t, n), quillstead.Terms()), report.A4))
		look := func(words string) letter {
			for _, l := range all {
				if strings.Contains(l.line, words) {
					return l
				}
			}
			t.Fatalf("%d lines: %q is not there", n, words)
			return letter{}
		}
		in, out := look("stay watertight: the field"), look("holder's wish, and nobody")
		headIn, headOut := look("In this warranty"), look("Not in this warranty")
		for _, l := range all {
			if l.line == "Not in this warranty" && math.Abs(l.size-11.5) < 0.1 {
				headOut = l
				break
			}
		}
		if in.font != out.font || in.size != out.size || headIn.font != headOut.font || headIn.size != headOut.size {
			t.Errorf("%d lines: in %s %.2f, not in %s %.2f", n, in.font, in.size, out.font, out.size)
		}
		if out.page != 1 || headOut.page != 1 || math.Abs(headIn.x-headOut.x) > 0.1 {
			t.Errorf("%d lines: not in stands on page %d at %.1f, in at %.1f", n, out.page, headOut.x, headIn.x)
		}
		if last := look("from page 2 on."); last.page != 1 && n < 40 {
			t.Errorf("%d lines: its end stands on page %d", n, last.page)
		}
	}
}

// Head code and VIN stand on every page, and within 4 mm of no fold: the half
// and the thirds of the sheet.
func TestFolds(t *testing.T) {
	const mm = 72 / 25.4
	for size, height := range map[report.Size]float64{report.A4: 297, report.Letter: 279.4} {
		for name, p := range papers(t) {
			seen := map[string]map[int]bool{"GZ9TF785XEW004137": {}, "VVYF WYAA": {}, "A44K 43EE": {}}
			pages := 0
			for _, l := range letters(t, print(t, p, size)) {
				pages = max(pages, l.page)
				for mark, on := range seen {
					if !strings.Contains(l.line, mark) {
						continue
					}
					on[l.page] = true
					for _, fold := range []float64{height / 2, height / 3, height * 2 / 3} {
						if l.upper/mm < fold+4 && l.low/mm > fold-4 {
							t.Fatalf("%s, size %d, page %d: %q stands from %.1f to %.1f mm, the fold is at %.1f", name, size, l.page, mark, l.upper/mm, l.low/mm, fold)
						}
					}
				}
			}
			code := max(len(seen["VVYF WYAA"]), len(seen["A44K 43EE"]))
			if len(seen["GZ9TF785XEW004137"]) != pages || code != pages {
				t.Errorf("%s: of %d pages VIN on %d, head code on %d", name, pages, len(seen["GZ9TF785XEW004137"]), code)
			}
		}
	}
}

// What mutool reads from each paper: nothing is set smaller than 9.5 pt,
// drawings included; everything stands within the text block of 178 × 260 mm;
// number and unit never part at the end of a line, nor "entry 30", "page 2".
func TestReadFromPaper(t *testing.T) {
	for name, p := range papers(t) {
		read := letters(t, print(t, p, report.A4))
		smallest(t, name, read)
		withinTheBlock(t, name, read)
		nothingParts(t, name, read)
	}
}

func smallest(t *testing.T, name string, read []letter) {
	t.Helper()
	size := math.Inf(1)
	for _, l := range read {
		size = min(size, l.size)
	}
	if size < 9.495 || size > 9.505 {
		t.Errorf("%s: the smallest type is %.3f pt", name, size)
	}
}

func withinTheBlock(t *testing.T, name string, read []letter) {
	t.Helper()
	const mm = 72 / 25.4
	for _, l := range read {
		if l.x/mm < 15.9 || l.x/mm > 194.1 || l.y/mm < 18 || l.y/mm > 278 {
			t.Fatalf("%s, page %d: %q at %.1f, %.1f mm", name, l.page, l.line, l.x/mm, l.y/mm)
		}
	}
}

var (
	numberEnd  = regexp.MustCompile(`(^|[ (])\d[\d.–]*$`)
	unitBegins = regexp.MustCompile(`^(mm|m²|m|%|°C|months?|days?|g/m²|kg|min|h|R|L|April|Apr|in|×)([ .,;:)]|$)`)
	counterEnd = regexp.MustCompile(`(?i)[ (](page|entry|entries|lot)$`)
)

func nothingParts(t *testing.T, name string, read []letter) {
	t.Helper()
	var lines []string
	for _, l := range read {
		if n := len(lines); n == 0 || lines[n-1] != l.line {
			lines = append(lines, l.line)
		}
	}
	for i, next := range lines[1:] {
		end := strings.TrimSpace(lines[i])
		if numberEnd.MatchString(end) && unitBegins.MatchString(next) || counterEnd.MatchString(end) && next != "" && next[0] >= '0' && next[0] <= '9' {
			t.Errorf("%s: parts: %q, %q", name, end, next)
		}
	}
}

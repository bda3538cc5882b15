package loose

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/sheet"
)

const demoPlate = "GZ9TF785XEW004137"

// demoCoach is the coach of the demo after entry 87, learnt from its sheets.
func demoCoach(t testing.TB) *Coach {
	t.Helper()
	files, err := filepath.Glob("../../cmd/internal/demo/sheets/*.txt")
	require.NoError(t, err)
	slices.Sort(files)
	c := &Coach{}
	no := int64(0)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, n := range sheet.Read(string(text), sheet.Heading{}) {
			require.NoError(t, n.Err)
			no++
			c.Learn("#"+ledger.Decimal(no), n.Draft, n.Heading)
		}
	}
	require.EqualValues(t, 87, no)
	return c
}

func demoShop(t testing.TB) Shop {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Copenhagen")
	require.NoError(t, err)
	return Shop{
		Today: "2026-11-25", Zone: zone, Marks: []string{"desk", "foreman", "hand-1", "hand-2"},
		Plates: []string{demoPlate, "GZ9TF785XEW001133", "000387"},
		Rules:  []string{"closing-too-wet", "closing-no-reading", "flange-narrow", "no-weld-strip", "cap-seal-late"},
		Names:  []string{"Ostrelle", "Kemmervane", "Dunmerrow", "Brackenfold", "Palvoor", "Quillstead Roof Works"},
	}
}

var demoHeading = sheet.Heading{Coach: demoPlate, Day: "2026-11-25", Zone: "+01:00"}

// answer is what the reader makes of some lines, in the form of the tables.
func answer(text string, shop Shop, coach *Coach) string {
	notes := Split(text, demoHeading, []string{"hand-1"}, shop)
	if len(notes) == 0 {
		return ""
	}
	var out []string
	for _, n := range notes {
		n.Read(shop, coach)
		switch {
		case n.Err != nil:
			out = append(out, "unclear: "+n.Err.Error())
		case n.Heads:
			lines := n.Heading.Lines(sheet.Heading{})
			if n.Heading.Coach == demoHeading.Coach && !strings.Contains(strings.ToLower(n.Words), "coach") && n.Heading != demoHeading || n.Heading.Day != "2026-11-25" || strings.Contains(n.Words, "nov") {
				lines = lines[1:]
			} else {
				lines = lines[:1]
			}
			out = append(out, lines...)
		default:
			out = append(out, n.Line)
		}
	}
	return strings.Join(out, "\n")
}

func TestTry(t *testing.T) {
	file := os.Getenv("TRY")
	if file == "" {
		t.Skip()
	}
	shop, coach := demoShop(t), demoCoach(t)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	good, bad := 0, 0
	for row := range strings.Lines(string(text)) {
		row = strings.TrimSuffix(row, "\n")
		if strings.HasPrefix(row, "#") || row == "" {
			continue
		}
		in, want, _ := strings.Cut(row, "\t")
		got := answer(strings.ReplaceAll(in, `\n`, "\n"), shop, coach)
		if same(want, got) {
			good++
			continue
		}
		bad++
		t.Logf("\n  %s\nwant %s\ngot  %s", in, want, got)
	}
	t.Logf("%d good, %d bad", good, bad)
}

func same(want, got string) bool {
	if want == got {
		return true
	}
	w, unclearW := strings.CutPrefix(want, "unclear: ")
	g, unclearG := strings.CutPrefix(got, "unclear: ")
	if !unclearW || !unclearG {
		return false
	}
	rw, aw, _ := strings.Cut(w, ": ")
	rg, ag, _ := strings.Cut(g, ": ")
	return rw == rg && (rw != "readings" || aw == ag)
}

func TestOne(t *testing.T) {
	line := os.Getenv("ONE")
	if line == "" {
		t.Skip()
	}
	shop, coach := demoShop(t), demoCoach(t)
	for _, one := range strings.Split(line, "||") {
		one = strings.ReplaceAll(one, `\n`, "\n")
		b, err := newBase(clean(one), demoHeading, []string{"hand-1"}, shop, coach)
		if err == nil && os.Getenv("TOKENS") != "" {
			for _, tok := range b.tokens {
				t.Logf("%d %q raw=%q unit=%q filler=%v senses=%v", tok.kind, tok.s, tok.raw, tok.unit, tok.filler, tok.senses)
			}
		}
		t.Logf("%s\n   -> %s", one, answer(one, shop, coach))
	}
}

func TestCanonicalLoosely(t *testing.T) {
	if os.Getenv("CANON") == "" {
		t.Skip()
	}
	shop, coach := demoShop(t), demoCoach(t)
	files, _ := filepath.Glob("../../cmd/internal/demo/sheets/*.txt")
	same, un, wrong := 0, 0, 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, n := range sheet.Read(string(text), sheet.Heading{}) {
			r, err := readLoose(n.Line, n.Heading, nil, shop, coach)
			switch {
			case err != nil:
				un++
				t.Logf("unclear %v\n    %s", err, n.Line)
			case r.line == n.Line:
				same++
			default:
				wrong++
				t.Logf("WRONG\n   %s\n   %s", n.Line, r.line)
			}
		}
	}
	t.Logf("same %d unclear %d wrong %d", same, un, wrong)
}

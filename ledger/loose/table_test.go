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
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

const demoPlate = "GZ9TF785XEW004137"

// demoCoach is the coach of the demo after entry 87, learnt from its sheets.
func demoCoach(t testing.TB) *Coach {
	t.Helper()
	c := &Coach{}
	no := int64(0)
	for _, n := range demoNotes(t) {
		no++
		c.Learn("#"+ledger.Decimal(no), n.Draft, n.Heading)
	}
	require.EqualValues(t, 87, no)
	return c
}

func demoNotes(t testing.TB) []sheet.Note {
	t.Helper()
	files, err := filepath.Glob("../../cmd/internal/demo/sheets/*.txt")
	require.NoError(t, err)
	slices.Sort(files)
	var out []sheet.Note
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, n := range sheet.Read(string(text), sheet.Heading{}) {
			require.NoError(t, n.Err)
			out = append(out, n)
		}
	}
	return out
}

func demoShop(t testing.TB) Shop {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Copenhagen")
	require.NoError(t, err)
	s := Shop{
		Today: "2026-11-25", Zone: zone, Marks: []string{"desk", "foreman", "hand-1", "hand-2"},
		Plates: []string{demoPlate, "GZ9RK6128HB000387", "GZ9LM4305CA001902", "TB78-1133"},
		Names:  []string{"Ostrelle", "Kemmervane", "Dunmerrow", "Brackenfold", "Palvoor", "Quillstead Roof Works"},
	}
	for _, r := range rules.Rules() {
		s.Rules = append(s.Rules, r.Key)
	}
	return s
}

var demoHeading = sheet.Heading{Coach: demoPlate, Day: "2026-11-25", Zone: "+01:00"}

// answer is what the reader makes of some lines, in the form of the tables: of a
// heading alone that heading, else the notes.
func answer(text string, shop Shop, coach *Coach) string {
	var heads, out []string
	for _, n := range Split(text, demoHeading, []string{"hand-1"}, shop) {
		n.Read(shop, coach)
		switch {
		case n.Err != nil:
			out = append(out, "unclear: "+n.Err.Error())
		case n.Heads == HeadsCoach:
			heads = append(heads, "coach "+n.Heading.Coach)
		case n.Heads == HeadsDay:
			heads = append(heads, "on "+n.Heading.Day+" zone "+n.Heading.Zone)
		case n.Heads == HeadsWriter:
			heads = append(heads, "by "+n.By[0])
		default:
			out = append(out, n.Line)
		}
	}
	if len(out) == 0 {
		out = heads
	}
	return strings.Join(out, "\n")
}

// same compares an answer with a row: of unclear ones the reason, and each
// reading; the words behind it are advice.
func same(want, got string) bool {
	wanted, wantsUnclear := strings.CutPrefix(want, "unclear: ")
	gotten, gotUnclear := strings.CutPrefix(got, "unclear: ")
	if !wantsUnclear || !gotUnclear {
		return want == got
	}
	reason, what, _ := strings.Cut(wanted, ": ")
	given, said, _ := strings.Cut(gotten, ": ")
	return reason == given && (reason != string(Readings) || what == said)
}

// tally counts the rows of a table: as they are wanted, wrong and given as
// certain, unclear though they can be read, and unclear for another reason.
type tally struct{ right, wrong, unclear, reason int }

func readTable(t *testing.T, file string) (sum tally) {
	t.Helper()
	shop, coach := demoShop(t), demoCoach(t)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	for row := range strings.Lines(string(text)) {
		in, want, ok := strings.Cut(strings.TrimSuffix(strings.TrimSuffix(row, "\n"), "\r"), "\t")
		if !ok || strings.HasPrefix(row, "#") {
			continue
		}
		got := answer(strings.ReplaceAll(in, `\n`, "\n"), shop, coach)
		switch {
		case same(want, got):
			sum.right++
			continue
		case !strings.HasPrefix(got, "unclear: "):
			sum.wrong++
		case strings.HasPrefix(want, "unclear: "):
			sum.reason++
		default:
			sum.unclear++
		}
		t.Logf("%s\nwant %s\ngot  %s", in, want, got)
	}
	require.Positive(t, sum.right)
	t.Logf("%s: %d right, %d wrong as certain, %d unclear though readable, %d unclear for another reason",
		filepath.Base(file), sum.right, sum.wrong, sum.unclear, sum.reason)
	return sum
}

// The cases of the specification, each as it is wanted; files named by SHEETS
// are read the same way.
func TestLoose(t *testing.T) {
	for _, file := range append([]string{"../../testdata/sheet/loose.tsv"}, filepath.SplitList(os.Getenv("SHEETS"))...) {
		sum := readTable(t, file)
		require.Equal(t, tally{right: sum.right}, sum, file)
	}
}

// Sloppier lines, and lines as they are dictated: none may be read wrong, and
// none that can be read may be unclear.
func TestSloppy(t *testing.T) {
	for file, rows := range map[string]int{"sloppy.tsv": 150, "dictated.tsv": 400} {
		sum := readTable(t, "../../testdata/sheet/"+file)
		require.Equal(t, tally{right: sum.right}, sum, file)
		require.GreaterOrEqual(t, sum.right, rows, file)
	}
}

// A canonical line that is read loosely gives itself or is unclear: all entries
// of the demo.
func TestCanonicalTextReadLoosely(t *testing.T) {
	shop, coach := demoShop(t), demoCoach(t)
	itself := 0
	for _, n := range demoNotes(t) {
		r, err := readLoose(n.Line, n.Heading, nil, shop, coach)
		if err != nil {
			require.Equal(t, "verdict", n.Draft.Kind, "%s: %v", n.Line, err)
			continue
		}
		require.Equal(t, n.Line, r.line)
		itself++
	}
	require.Equal(t, 85, itself)
}

// Whatever makes a line unclear, its writer is told how to say it, by an
// example that reads.
func TestInstead(t *testing.T) {
	shop, coach := demoShop(t), demoCoach(t)
	for reason, how := range instead {
		got := answer(how.example, shop, coach)
		require.False(t, strings.HasPrefix(got, "unclear: "), "%s: %s\n%s", reason, how.example, got)
	}
	for _, table := range []string{"loose", "sloppy", "dictated"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "sheet", table+".tsv"))
		require.NoError(t, err)
		for row := range strings.Lines(string(text)) {
			_, want, _ := strings.Cut(strings.TrimSpace(row), "\t")
			why, isUnclear := strings.CutPrefix(want, "unclear: ")
			if !isUnclear || strings.HasPrefix(why, string(Readings)) {
				continue
			}
			require.NotEmpty(t, Instead(why), "%s", row)
		}
	}
}

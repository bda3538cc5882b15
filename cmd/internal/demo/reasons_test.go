package demo

import (
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/ledger/book"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
)

// reason is a reason given in a sheet of the demo.
var reason = regexp.MustCompile(`(?m)^ +override ([a-z-]+), .*\n`)

// Every reason in the demo's sheets is asked for: without it its rule, and no
// other, stops the note. That nothing more is asked for is shown by the demo
// being made at all.
func TestEveryReasonIsAskedFor(t *testing.T) {
	found := 0
	for i, evening := range inked {
		text, err := files.ReadFile("sheets/" + evening.sheet + ".txt")
		require.NoError(t, err)
		for _, at := range reason.FindAllSubmatchIndex(text, -1) {
			found++
			rule := string(text[at[2]:at[3]])
			without := slices.Concat(text[:at[0]], text[at[1]:])
			require.Equal(t, []string{rule}, stops(t, i, without), evening.sheet)
		}
	}
	require.Equal(t, 1, found, "the edge member of entry 30")
}

// stops inks an evening of the demo with another text, and returns the rules that
// stop or refuse a note of it.
func stops(t *testing.T, evening int, text []byte) []string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "demo")
	_, err := MakeTo(t.Context(), folder, evening)
	require.NoError(t, err)
	s := opened(t, folder, inked[evening].at)
	defer func() { require.NoError(t, s.Close()) }()
	notes, err := s.Reading(text, "")
	require.NoError(t, err)
	require.NoError(t, pictures(folder, notes))
	var out []string
	for _, r := range inkedAs(t, s, notes, inked[evening].key) {
		for _, o := range r.Outcomes {
			if o.Degree != rules.Noted {
				out = append(out, o.Rule)
			}
		}
	}
	return out
}

// inkedAs puts notes into pencil and inks them with a key of the demo.
func inkedAs(t *testing.T, s *shop.Shop, notes []shop.Read, key string) []shop.Result {
	t.Helper()
	require.NoError(t, s.Pencil(notes, nil))
	by, err := hand(key)
	require.NoError(t, err)
	in, err := s.InkAs(t.Context(), notes[0].Plate, by, true)
	require.NoError(t, err)
	return in.Results
}

// What is noted while the demo is inked is what DEMO.md says of it; the butyl on
// a skin of aluminium is that of another coach.
func TestWhatIsNotedOnTheWay(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "demo")
	require.NoError(t, begin(folder))
	y := &yard{folder: folder, random: newStream()}
	defer func() { require.NoError(t, y.close()) }()
	var got []string
	for _, evening := range inked {
		at, err := time.Parse(time.RFC3339, evening.at)
		require.NoError(t, err)
		y.clock = at
		if evening.key == "R" {
			require.NoError(t, y.evening(t.Context(), evening.sheet, evening.key, &Made{}))
			continue
		}
		require.NoError(t, y.open())
		text, err := files.ReadFile("sheets/" + evening.sheet + ".txt")
		require.NoError(t, err)
		notes, err := y.shop.Reading(text, "")
		require.NoError(t, err)
		require.NoError(t, pictures(folder, notes))
		for _, r := range inkedAs(t, y.shop, notes, evening.key) {
			require.NoError(t, r.Why, evening.sheet)
			for _, o := range r.Outcomes {
				got = append(got, fmt.Sprintf("%s, entry %d, %s: %s", evening.sheet, r.Entry, o.Rule, o.Sentence))
			}
		}
	}
	const counted, unknown = " h without a temperature: counted at ", " has no delivery in this ledger: its amount and sheet values are not known here."
	require.Equal(t, []string{
		"02, entry 6, meter-cold: Wood at 15.0 °C: a meter that does not correct for it reads about 1.0 % low.",
		"10, entry 27, late-note: Written 10 days after it happened.",
		"14, entry 38, log-gap: 14" + counted + "16.0 °C.",
		"14, entry 38, log-gap: 24" + counted + "16.0 °C.",
		"14, entry 38, log-gap: 24" + counted + "17.0 °C.",
		"others/000387-2, entry 6, pair-unknown: Butyl tape on skin sheet is not in the table. Ask the maker or make a coupon.",
		"22, entry 56, lot-no-delivery: Lot 22-0093" + unknown,
		"25, entry 63, lot-no-delivery: Lot T-118" + unknown,
	}, got)
}

// A lot that this coach has no delivery of is known from the others of the shop:
// its last day, and how much of it is left. The demo has 4200 ml of 20-0417 in
// two coaches, 2100 and 260 used.
func TestLotsOfTheShopsBook(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "demo")
	_, err := Make(t.Context(), folder)
	require.NoError(t, err)
	s := opened(t, folder, "2025-10-03T14:40:00Z")
	defer func() { require.NoError(t, s.Close()) }()
	says := func(amount string) string {
		var out []string
		for _, o := range dryOutcomes(t, s, "coach TB78-1133\non 2025-10-03 zone +02:00\n"+
			"work: cap-seal at left-edge 3000-3300 aft 900-950 L, uses 20-0417 "+amount+", bead 6 mm; by hand-1\n") {
			if strings.Contains(o, "20-0417") {
				out = append(out, o)
			}
		}
		return strings.Join(out, "\n")
	}
	const past = "past-use-by stopped: Lot 20-0417, lap sealant, was good until 2021-01-31; used 2025-10-03."
	const none = "lot-no-delivery noted: Lot 20-0417 has no delivery in this ledger: its amount and sheet values are not known here."
	require.Equal(t, past+"\n"+none, says("1924 ml"), "4284 ml are 102 %")
	require.Equal(t, past+"\nlot-overdrawn noted: Lot 20-0417: 4285 mL used of 4200 mL received.\n"+none, says("1925 ml"))
}

// dryOutcomes are what the rules say of the last note of a sheet that is not
// inked.
func dryOutcomes(t *testing.T, s *shop.Shop, text string) []string {
	t.Helper()
	notes, err := s.Reading([]byte(text), "")
	require.NoError(t, err)
	last := notes[len(notes)-1]
	require.Equal(t, book.Clear, last.State, last.Why)
	draft, err := sheet.ReadLine(last.Line, last.Heading)
	require.NoError(t, err)
	in, err := s.Dry(last.Plate, []shop.Pending{{Line: last.Line, Heading: last.Heading, Draft: draft}})
	require.NoError(t, err)
	var out []string
	for _, o := range in.Results[0].Outcomes {
		out = append(out, o.Rule+" "+o.Degree.String()+": "+o.Sentence)
	}
	return out
}

package ledger_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

func lacks(t *testing.T, line string) []string {
	t.Helper()
	d, err := sheet.ReadLine(line, sheet.Heading{Coach: "X", Day: "2020-04-09", Zone: "+01:00"})
	require.NoError(t, err, line)
	return d.Lacks()
}

// What a note still lacks, and the same note with just that.
func TestLacks(t *testing.T) {
	for _, c := range []struct{ short, whole, want string }{
		{`remark: by hand-1`, `remark: note "x"; by hand-1`, "a note, a photo or the entries it adopts"},
		{`remark: note "x"`, `remark: note "x"; by hand-1`, "by"},
		{`measure: by hand-1`, `measure: crown 35 mm; by hand-1`, "something that was measured"},
		{
			`finding F1: rot; at bay 1; in-the-deck; next-upkeep; by hand-1`,
			`finding F1: rot; at bay 1; in-the-deck; next-upkeep; no-photo "dark"; by hand-1`, `a photo or no-photo "why"`,
		},
		{
			`finding F1: delamination; at bay 1; in-the-deck; next-upkeep; photo a.jpg; by hand-1`,
			`finding F1: delamination; at bay 1; between ply-core; in-the-deck; next-upkeep; photo a.jpg; by hand-1`, "between which layers",
		},
		{
			`decision: repair-by; at bay 1; given phone, on 2020-04-01; warned "w"; by desk`,
			`decision: repair-by; at bay 1; until 2020-05-01; given phone, on 2020-04-01; warned "w"; by desk`, "until which day",
		},
		{
			`decision: leave; at bay 1; given phone, on 2020-04-01; by desk`,
			`decision: no-answer; at bay 1; given phone, on 2020-04-01; by desk`, "warned, in quotes",
		},
		{
			`decision: leave; given phone, on 2020-04-01; warned "w"; by desk`,
			`decision: leave; answers F1; given phone, on 2020-04-01; warned "w"; by desk`, "at which place, or the findings it answers",
		},
		{`work: lay-deck at bay 9; hides; by hand-1`, `work: lay-deck at bay 9; hides; photo a.jpg; by hand-1`, "a photo of what is hidden"},
		{
			`work: lay-deck at bay 9; override closing-too-wet, reason "fourteen chars", by foreman; by hand-1`,
			`work: lay-deck at bay 9; override closing-too-wet, reason "fifteen charact", by foreman; by hand-1`,
			"a reason of 15 characters or more",
		},
		{`cure: answers #3; by hand-1`, `cure: answers #3; start 2020-04-09 11:00; by hand-1`, "a start, a log or a release"},
		{
			`correction: answers #3, #4; not-this-coach; why "w"; found "f"; by hand-1`,
			`correction: answers #3; not-this-coach; why "w"; found "f"; by hand-1`, "exactly the one entry it corrects",
		},
		{`delivery: lot A-1, plywood; private cost "12 EUR"; by desk`, `delivery: lot A-1, plywood; private cost "12.00 EUR"; by desk`, `cost as "3940.00 EUR"`},
	} {
		require.Equal(t, []string{c.want}, lacks(t, c.short), c.short)
		require.Empty(t, lacks(t, c.whole), c.whole)
	}
}

// A certificate's lines and sentences, which its facts write, from both sides.
func TestCertificateLimitsFromBothSides(t *testing.T) {
	over := func(member string, n int, says string) []string {
		list := format.Array{}
		for range n {
			list = append(list, format.Object{"key": "law-note", "says": says})
		}
		d := ledger.Draft{Kind: "certificate", Body: format.Object{member: list}}
		return slices.DeleteFunc(d.Lacks(), func(s string) bool { return !strings.Contains(s, " shorter: ") })
	}
	require.Empty(t, over("lines", ledger.MaxLines, ""))
	require.Equal(t, []string{"lines shorter: 41, 40 at most"}, over("lines", ledger.MaxLines+1, ""))
	require.Empty(t, over("sentences", 1, strings.Repeat("å", ledger.MaxSentence)))
	require.Equal(t, []string{"the sentence shorter: 1001, 1000 at most"},
		over("sentences", 1, strings.Repeat("å", ledger.MaxSentence+1)))
}

// The limits of one entry, each from both sides.
func TestLimitsFromBothSides(t *testing.T) {
	text := func(n int) string { return strings.Repeat("å", n) }
	for _, c := range []struct {
		line func(n int) string
		most int
	}{
		{func(n int) string { return `remark: note "` + text(n) + `"; by hand-1` }, ledger.MaxFree},
		{func(n int) string {
			return `check: pins at bay 1, moisture 12.0 %; instrument "` + text(n) + `"; by hand-1`
		}, ledger.MaxLabel},
		{func(n int) string { return `delivery: lot A-1, plywood, maker "` + text(n) + `"; by desk` }, ledger.MaxLabel},
		{func(n int) string { return `remark: ` + strings.Repeat("at bay 1; ", n) + `note "x"; by hand-1` }, ledger.MaxPlaces},
		{func(n int) string {
			return `check: pins` + strings.Repeat(", at bay 1", n)[1:] + `, moisture 12.0 %; by hand-1`
		}, ledger.MaxPlaces},
	} {
		require.Empty(t, lacks(t, c.line(c.most)))
		over := lacks(t, c.line(c.most+1))
		require.Len(t, over, 1)
		require.Contains(t, over[0], "at most")
	}
}

package facts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/report/text"
	"lapmark/testdata/quillstead"
)

// A history tells every entry, those of a side branch too, and whose they are;
// beside what was promised stand the rights the law gives.
func TestHistoryTellsEveryEntry(t *testing.T) {
	r := demo(t, 4)
	side := continued(t, r)
	const note = "coach GZ9TF785XEW004137\non 2020-03-20 zone +01:00\nremark: at bay 2; note \"seen on the road\"; by desk\n"
	side.ink(note, "2020-03-20T10:00:00Z")
	k := continued(t, r)
	parted := k.size()
	k.ink(note, "2020-03-20T11:00:00Z")
	k.takeIn(side, parted)
	k.hand = "IN1"
	k.ink(note, "2020-03-20T12:00:00Z")
	f := facts.History(k.r, facts.Options{Terms: quillstead.Terms(), Head: newest(t, k.r), Given: reportDay(t, "2020-03-21"), Copy: report.PassOnCopy}, "buyer")
	var numbers []string
	for _, e := range f.Entries {
		numbers = append(numbers, e.Number)
	}
	require.Equal(t, strings.Fields("1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 15/1 18"), numbers)
	require.Contains(t, f.Entries[18].Sentence, "It changes no line of Quillstead Roof Works.")
	paper, err := report.History(f)
	require.NoError(t, err)
	plain := strings.Join(strings.Fields(text.Render(paper)), " ")
	require.Contains(t, plain, "for a buyer, as of 21 March 2020")
	require.Contains(t, plain, "Rights the law gives the holder stand beside it.")
	require.NotContains(t, plain, "Adela", "a buyer is told no name")
}

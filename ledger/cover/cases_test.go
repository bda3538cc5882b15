package cover_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/cover"
	"lapmark/testdata/cases"
)

const coverFolder = "../../testdata/cover"

func wants(a cover.Answer) cases.Answer {
	out := cases.Answer{
		Verdict: a.Verdict, Share: a.Share, Most: a.Most, Lead: a.Lead, Grounds: []string{}, Check: a.Check,
		Day: a.Day.String(), Line: a.Line, Who: a.Who, Out: append([]string{}, a.Out...),
	}
	for _, g := range a.Grounds {
		out.Grounds = append(out.Grounds, g.Text())
	}
	return out
}

func runCase(t *testing.T, c cases.Case, folder string) {
	t.Helper()
	f := c.Facts(t, folder)
	if c.Question.Ask == "standing" {
		var want, got []cases.Stands
		require.NoError(t, cases.Strict(c.Expect, &want), c.Name)
		for _, s := range cover.StandingOn(f, c.Question.Day.Day) {
			got = append(got, cases.Stands{
				Line: s.Line, Word: s.Word, Since: s.Since.String(), LastDay: s.LastDay.String(), Months: s.Months, Share: s.Share,
				DaysLeft: s.DaysLeft, Who: s.Who,
			})
		}
		require.Equal(t, want, got, c.Why)
		return
	}
	var want, got []cases.Answer
	require.NoError(t, cases.Strict(c.Expect, &want), c.Name)
	answers, err := cover.Ask(f, c.Question.Cover())
	require.NoError(t, err, c.Name)
	for _, a := range answers {
		got = append(got, wants(a))
	}
	require.Equal(t, want, got, c.Why)
}

// Every case of testdata/cover, and of further folders that the variable CASES
// names, parted as a list of paths is.
func TestCases(t *testing.T) {
	for _, folder := range append([]string{coverFolder}, filepath.SplitList(os.Getenv("CASES"))...) {
		for file, list := range cases.Read(t, folder) {
			for _, c := range list {
				t.Run(file+"/"+c.Name, func(t *testing.T) { runCase(t, c, folder) })
			}
		}
	}
}

package cover_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/cover"
	"lapmark/testdata/cases"
)

// Every ground that the worked cases meet is a whole sentence: nothing in it is
// left blank, and "void" is never said.
func TestSentences(t *testing.T) {
	met := map[string]string{}
	for _, list := range cases.Read(t, coverFolder) {
		for _, c := range list {
			if c.Question.Ask != "" {
				continue
			}
			answers, err := cover.Ask(c.Facts(t, coverFolder), c.Question.Cover())
			require.NoError(t, err)
			for _, a := range answers {
				sentences := append([]string{a.ForHolder(), a.ForDesk()}, a.OutSentences()...)
				for _, g := range a.Grounds {
					met[g.Key] = g.Sentence()
					sentences = append(sentences, g.Sentence())
				}
				for _, s := range sentences {
					require.Regexp(t, regexp.MustCompile(`^[A-Z0-9].*\.$`), s)
					require.NotContains(t, s, "{")
					require.NotContains(t, s, "  ")
					require.NotContains(t, strings.ToLower(s), "void")
				}
			}
		}
	}
	for _, key := range []string{
		cover.KeyExpired, cover.KeyUpkeepPaused, cover.KeySalePaused, cover.KeyNearOthersWork, cover.KeyWithdrawn,
	} {
		require.NotEmpty(t, met[key], key)
		t.Log(met[key])
	}
}

func TestSentenceOfAPause(t *testing.T) {
	g := cover.Ground{
		Key: cover.KeyUpkeepPaused, On: "Q-0007/L4/V2", Day: must(2022, 6, 24), To: must(2022, 10, 2),
	}
	require.Equal(t, "upkeep-paused Q-0007/L4/V2 2022-06-24..2022-10-02", g.Text())
	require.Equal(t, "Line 4 of certificate Q-0007 rested here from 24 June 2022 to 2 October 2022: no upkeep by 23 June 2022.", g.Sentence())
	require.False(t, cover.Answer{Verdict: cover.Covered, Grounds: []cover.Ground{g}}.LawToo())
	require.True(t, cover.Answer{Verdict: cover.NotCovered, Grounds: []cover.Ground{g}}.LawToo())
	require.False(t, cover.Answer{Verdict: cover.NotCovered, Grounds: []cover.Ground{{Key: cover.KeyExpired}}}.LawToo())
}

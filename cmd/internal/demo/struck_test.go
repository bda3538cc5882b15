package demo

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/check"
	"lapmark/cmd/internal/shop"
	"lapmark/ledger"
	"lapmark/report/say"
)

// What is not about this coach is out of every answer: no certificate rests on
// it, no paper shows it as a fact; it stays in sight with the correction beside
// it. The correction struck out in its turn, it counts again.
func TestNotAboutThisCoach(t *testing.T) {
	s := made(t, "19", "2020-04-24T10:00:00Z")
	strike := func(no string) {
		r := tried(t, s, "K1", "on 2020-04-24 zone +02:00\ncorrection: answers "+no+"; not-this-coach; why \"another coach\"; found \"read aloud\"; by foreman\n")
		require.NoError(t, r.Why)
	}
	text, err := os.ReadFile("sheets/20.txt")
	require.NoError(t, err)
	_, certificate, _ := strings.Cut(string(text), "\n")
	certificate, _, _ = strings.Cut(certificate, "\ngiven-out:")
	typed := slices.DeleteFunc(strings.Split(certificate, "\n"), func(line string) bool {
		word, _, _ := strings.Cut(strings.TrimSpace(line), " ")
		return slices.Contains([]string{"lots", "cures", "checks"}, word) // the tool fills them
	})
	rebuilt := func() []string {
		var out []string
		for _, w := range asked(t, s).Rebuilt {
			out = append(out, w.Entry)
		}
		return out
	}

	require.Contains(t, rebuilt(), "42")
	strike("#42") // the membrane
	strike("F2")
	require.NotContains(t, rebuilt(), "42")
	for _, f := range asked(t, s).Found {
		require.NotEqual(t, "F2", f.Tag)
	}
	require.Equal(t, []check.Remark{
		{Entry: "4", Says: "not about this coach, says entry 54"}, {Entry: "42", Says: "not about this coach, says entry 53"},
	}, asked(t, s).Remarks)
	c, err := s.Coach(demoPlate)
	require.NoError(t, err)
	require.Contains(t, say.Entry(c.Replay, c.Replay.Act(ledger.No{N: 42})), "Not about this coach, says entry 53.")
	r := tried(t, s, "K1", strings.Join(typed, "\n")+"\n")
	var held *shop.Held
	require.ErrorAs(t, r.Why, &held)
	require.Equal(t, "beyond-rebuilt", held.Outcome.Rule)
	require.Contains(t, held.Outcome.Sentence, "Line 1")
	rubOut(t, s)

	strike("#53")
	require.Contains(t, rebuilt(), "42")
	require.NoError(t, s.Close())
}

package waiting_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/rules"
	"lapmark/ledger/waiting"
)

// linesOf are the lines of a group of the demo's coach, as it stood after entry
// n, on a day.
func linesOf(t *testing.T, n int64, on string, group waiting.Group) []waiting.Line {
	t.Helper()
	text, err := os.ReadFile("../../testdata/v1/ledger.txt")
	require.NoError(t, err)
	c, err := ledger.Check(text, sshsig.Verify)
	require.NoError(t, err)
	now, err := day.ParseMoment(on + "T09:00+02:00")
	require.NoError(t, err)
	look := waiting.Look{
		Now: now, Stamp: day.StampAt(now.UTC()), Limits: rules.UsualLimits(),
		Certify: func(string) (int, bool) { return 0, false },
	}
	var out []waiting.Line
	for _, l := range look.Of(waiting.Coach{Plate: "GZ9TF785XEW004137", Replay: ledger.NewReplay(c, nil).Until(n)}) {
		if l.Group == group {
			out = append(out, l)
		}
	}
	return out
}

// Due 2022-04-24 and done 2022-10-03: the days are those of the demo's story.
func TestUpkeepWaits(t *testing.T) {
	require.Empty(t, linesOf(t, 55, "2022-02-01", waiting.Upkeep), "82 days ahead")
	due := linesOf(t, 55, "2022-03-01", waiting.Upkeep)
	require.Len(t, due, 2, "nothing falls due on line 6 before its last day")
	require.Equal(t, "Q-0007 line 4: A1, G1, H1, P1, V2", due[0].What)
	require.Equal(t, "Due 24 April 2022, from 24 January 2022, 23 June 2022 at the latest.", due[0].Needs)
	require.False(t, due[0].Late)
	late := linesOf(t, 55, "2022-08-01", waiting.Upkeep)
	require.Len(t, late, 2)
	require.True(t, late[0].Late)
	require.Equal(t, "Was due 24 April 2022; the line rests there since 24 June 2022 until it is done.", late[0].Needs)
	require.Empty(t, linesOf(t, 56, "2022-10-04", waiting.Upkeep))
}

func TestLinesThatRunOut(t *testing.T) {
	require.Empty(t, linesOf(t, 67, "2026-02-21", waiting.Ending))
	out := linesOf(t, 67, "2026-02-22", waiting.Ending)
	require.Len(t, out, 1)
	require.Equal(t, "Q-0007 line 4 ends", out[0].What)
	require.Equal(t, "Last day 23 April 2026. A last look before then?", out[0].Needs)
}

func TestClaimsWait(t *testing.T) {
	for n, needs := range map[int64]string{
		71: "Find out where it comes in and why, then ask.", 73: "The verdict is there. Rule on it, and ring.",
		74: "Ruled; it still lacks the work and a check and a new certificate.",
	} {
		out := linesOf(t, n, "2026-05-21", waiting.Ringing)
		require.Len(t, out, 1, "after entry %d", n)
		require.Equal(t, "claim C1, leak", out[0].What)
		require.Equal(t, needs, out[0].Needs)
	}
	require.Empty(t, linesOf(t, 79, "2026-06-20", waiting.Ringing), "repaired, tested and certified")
}

package cover_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/cover"
	"lapmark/testdata/cases"
)

// Due 2022-04-24, grace to 2022-06-23, done 2022-10-03: the worked example of
// the cover calculus.
func TestDues(t *testing.T) {
	f := cases.Base(t, coverFolder+"/base.json")
	of := func(line string, at ...int) cover.Due {
		for _, d := range cover.Dues(f, must(at[0], at[1], at[2])) {
			if d.Certificate == "Q-0007" && d.Line == line {
				return d
			}
		}
		return cover.Due{}
	}
	before := of("L4", 2022, 5, 1)
	require.Equal(t, must(2022, 4, 24), before.Due)
	require.Equal(t, must(2022, 1, 24), before.From)
	require.Equal(t, must(2022, 6, 23), before.Latest)
	require.True(t, before.RestsSince.IsZero())
	require.ElementsMatch(t, []string{"A1", "G1", "H1", "P1", "V2"}, before.Places)

	late := of("L4", 2022, 8, 1)
	require.Equal(t, must(2022, 4, 24), late.Due)
	require.Equal(t, must(2022, 6, 24), late.RestsSince)

	done := of("L4", 2022, 10, 4)
	require.Equal(t, must(2023, 4, 24), done.Due)
	require.Empty(t, of("L1", 2022, 5, 1).Places, "line 1 asks for no upkeep")
	require.Empty(t, of("L6", 2022, 5, 1).Places, "line 6 is over")
	require.Empty(t, of("L4", 2026, 5, 1).Places)
}

// Of one line, what is late stands before what is still to come, whatever the
// places are called.
func TestDuesByDay(t *testing.T) {
	f := cases.Base(t, coverFolder+"/base.json")
	for i := range f.Upkeep {
		f.Upkeep[i].Seen = nil
	}
	f.Upkeep[0].Seen = []cover.Seen{{Certificate: "Q-0007", Line: "L4", Place: "A1", State: "done"}}
	var got []string
	for _, d := range cover.Dues(f, must(2021, 7, 1)) {
		if d.Line == "L4" {
			got = append(got, d.Due.String()+" "+d.Places[0])
		}
	}
	require.Equal(t, []string{"2021-04-24 G1", "2022-04-24 A1"}, got)
}

package waiting

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/day"
)

func moment(t *testing.T, text string) day.Moment {
	t.Helper()
	m, err := day.ParseMoment(text)
	require.NoError(t, err)
	return m
}

// A coach that cannot be read comes first, then what was stopped, then what
// waits longest, then the inbox.
func TestOrder(t *testing.T) {
	look := Look{Now: moment(t, "2020-04-10T08:00+02:00")}
	lines := Inbox([]string{"IMG-7.jpg"})
	for _, c := range []Coach{
		{Plate: "SN-1", Notes: []Note{
			{ID: 1, Day: "2020-04-09", State: "short", Why: "still missing: by", Kind: "check"},
			{ID: 2, Day: "2020-04-08", State: "unclear", Why: "no kind of note"},
			{ID: 3, Day: "2020-04-10", State: "refused", Why: "That is refused.", Kind: "work"},
			{ID: 4, Day: "2020-04-08", State: "clear"},
			{ID: 5, Day: "2020-04-07", State: "clear"},
		}},
		{Plate: "SN-2", Broken: "Entry 6 is not what was signed."},
		{Plate: "SN-3", Lent: "Lent to another shop."},
	} {
		lines = append(lines, look.Of(c)...)
	}
	Order(lines)
	var says []string
	for _, l := range lines {
		says = append(says, l.What)
	}
	require.Equal(t, []string{
		"Entry 6 is not what was signed.",
		"2 notes are ready, the oldest of 7 April 2020",
		"Note 3, work of 10 April 2020, refused",
		"Note 2 of 8 April 2020, unclear",
		"Note 1, check of 9 April 2020, short",
		"IMG-7.jpg lies in the inbox",
		"Lent to another shop.",
	}, says)
	require.Equal(t, "still missing: by", lines[4].Needs)
}

func TestGroupsHaveTheirWords(t *testing.T) {
	seen := map[string]bool{}
	for i, g := range Groups() {
		require.Equal(t, Group(i), g, "in their order")
		require.NotEmpty(t, g.Heading())
		require.False(t, seen[g.String()])
		seen[g.String()] = true
	}
}

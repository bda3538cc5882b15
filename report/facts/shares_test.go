package facts

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Worked values of the rules of cover: 120 months, 60 in full, floor 10 %; a
// line in force always bears more than nothing and never more with time.
func TestShares(t *testing.T) {
	got := shares(120, 60, 100)
	require.Len(t, got, 120)
	for m, want := range map[int]int{0: 1000, 59: 1000, 60: 1000, 61: 983, 72: 800, 87: 550, 92: 467, 98: 367, 114: 100, 119: 100} {
		require.Equal(t, want, got[m], "month %d", m)
	}
	for _, line := range [][3]int{{120, 60, 0}, {24, 0, 0}, {240, 1, 100}, {7, 3, 1000}, {1, 0, 0}} {
		before := 1000
		for m, share := range shares(line[0], line[1], line[2]) {
			require.LessOrEqual(t, share, before, "%v, month %d", line, m)
			require.Positive(t, share, "%v, month %d", line, m)
			before = share
		}
	}
}

package rules_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func withdrawal(day, more string) string {
	return on(day, "standing: withdrawn; lines Q-0007; from "+day+"; why \"x\"; told phone, on "+day+more)
}

// 60 days, or the shop's own: 24 April and 60 days is 23 June.
func TestWithdrawnAfterLong(t *testing.T) {
	w := demoUpTo(t, "19.txt")
	w.add(w.certificate())
	require.Empty(t, w.says(withdrawal("2020-06-23", "")))
	require.Equal(t, []string{"withdraw stopped: Q-0007 was issued 61 days ago."}, w.says(withdrawal("2020-06-24", "")))
	require.Empty(t, w.says(withdrawal("2020-06-24", "; override withdraw, reason \"the lot was recalled now\", by foreman")))
	require.Equal(t, "60 d", w.limitsOf(withdrawal("2020-06-24", ""))[0]["says"])
	require.Empty(t, w.limitsOf(withdrawal("2020-06-23", "")))
	w.with("withdraw", "61 d")
	require.Empty(t, w.says(withdrawal("2020-06-24", "")))
	ended := "standing: ended; paid-out; lines Q-0007; from 2020-06-24; why \"x\"; told phone, on 2020-06-24"
	require.Empty(t, w.says(on("2020-06-24", ended)), "ended, not withdrawn")
}

// A claim is open until it is ruled, and done where it was ruled covered.
func TestWithdrawnUnderAClaim(t *testing.T) {
	w := withClaim(t)
	w.with("withdraw", "999 d")
	open := []string{"withdraw stopped: Claim C1 on Q-0007 is open and will show the withdrawal."}
	ask := func() []string { return w.says(withdrawal("2021-05-25", "")) }
	require.Equal(t, open, ask(), "no verdict yet")
	w.sheets(on("2021-05-18", shown), verdict("covered-in-part", "in-force Q-0007/L1/field 12 months"))
	require.Equal(t, open, ask(), "not ruled")
	w.sheets(ruling("56", "as-the-verdict", "; at 6660-7325 aft 200-1025 L"))
	require.Equal(t, open, ask(), "nothing done")

	w = withClaim(t)
	w.with("withdraw", "999 d")
	w.sheets(on("2021-05-18", shown), verdict("not-covered", "no-line Q-0007"), ruling("56", "as-the-verdict", ""))
	require.Empty(t, ask(), "ruled not covered")
}

package ledger

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger/format"
)

// TRADE 4: at equal times the entry number decides. A note without a time is
// written in the order of its day.
func TestBefore(t *testing.T) {
	act := func(n int64, happened string) *Act {
		return &Act{No: No{N: n}, Body: format.Object{"happened": happened}}
	}
	for name, c := range map[string]struct {
		a, b *Act
		want bool
	}{
		"inked late":         {act(9, "2020-04-08"), act(5, "2020-04-09"), true},
		"inked early":        {act(5, "2020-04-09"), act(9, "2020-04-08"), false},
		"morning":            {act(9, "2020-04-09T09:30+02:00"), act(5, "2020-04-09T10:00+02:00"), true},
		"one without a time": {act(5, "2020-04-09T15:00+02:00"), act(9, "2020-04-09"), true},
		"equal days":         {act(5, "2020-04-09"), act(9, "2020-04-09"), true},
		"equal, the later":   {act(9, "2020-04-09"), act(5, "2020-04-09"), false},
		"another zone":       {act(9, "2020-04-09T09:30+02:00"), act(5, "2020-04-09T08:00+00:00"), true},
		"the day as written": {act(5, "2020-04-09T23:30-08:00"), act(9, "2020-04-09"), true},
		"a day before":       {act(9, "2020-04-08T23:30-08:00"), act(5, "2020-04-09"), true},
	} {
		require.Equal(t, c.want, c.a.Before(c.b), name)
	}
}

// TRADE 4: a decision happened when it was first given, a ruling when it was
// told.
func TestDecisionHappenedWhenGiven(t *testing.T) {
	said := func(when string) format.Object { return format.Object{"how": "phone", "when": when} }
	work := &Act{No: No{N: 5}, Body: format.Object{"happened": "2020-04-09"}}
	decision := &Act{No: No{N: 9}, Kind: "decision", Body: format.Object{
		"happened": "2020-04-12", "given": format.Array{said("2020-04-10"), said("2020-04-08")},
	}}
	require.True(t, decision.Before(work))
	decision.Body["given"] = format.Array{said("2020-04-10")}
	require.False(t, decision.Before(work))
	require.True(t, work.Before(decision))
	ruling := &Act{No: No{N: 9}, Kind: "ruling", Body: format.Object{"happened": "2020-04-12", "told": said("2020-04-08T10:00+02:00")}}
	require.True(t, ruling.Before(work))
	delete(ruling.Body, "told")
	require.False(t, ruling.Before(work))
}

// Entries of one branch come in their order.
func TestBeforeInABranch(t *testing.T) {
	act := func(n, branch int64) *Act {
		return &Act{No: No{n, branch}, Body: format.Object{"happened": "2020-04-09"}}
	}
	require.True(t, act(60, 1).Before(act(60, 2)))
	require.False(t, act(60, 2).Before(act(60, 1)))
	require.True(t, act(60, 0).Before(act(60, 1)))
	require.True(t, act(60, 2).Before(act(61, 0)))
}

// A sale that was inked late does not hand the coach back.
func TestHolderByTheNewestSale(t *testing.T) {
	act := func(n int64, kind, happened string, body format.Object) *Act {
		body["happened"] = happened
		return &Act{No: No{N: n}, Kind: kind, Body: body, Counts: true}
	}
	intake := act(1, "intake", "2019-01-05", format.Object{"holder": "holder-1"})
	newest := act(2, "transfer", "2021-05-01", format.Object{"to-holder": "holder-3"})
	late := act(3, "transfer", "2020-05-01", format.Object{"to-holder": "holder-2"})
	worked := func() *Replay {
		r := &Replay{Acts: []*Act{intake, newest, late}}
		r.hold()
		return r
	}
	r := worked()
	require.Equal(t, "holder-3", r.Holder())
	for day, want := range map[string]string{"2018-01-01": "holder-1", "2020-04-30": "holder-1", "2020-06-01": "holder-2", "2021-06-01": "holder-3"} {
		require.Equal(t, want, r.HolderAt(act(4, "decision", day, format.Object{})), day)
	}
	newest.Counts = false
	require.Equal(t, "holder-2", worked().Holder())
}

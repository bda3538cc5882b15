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

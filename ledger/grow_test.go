package ledger_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// A replay that grew by an entry is the one that is worked through anew: for
// entries that reach back, and for earlier ones that spoke of what was not
// there yet, which has no effect.
func TestGrownReplayIsTheNewOne(t *testing.T) {
	c := begun(t)
	opened := map[ledger.No]map[string]string{}
	grown := ledger.NewReplay(c.coach, opened)
	add := func(kind string, body format.Object) {
		c.must(house, kind, body)
	}
	refs := func(n ...int64) format.Array {
		var out format.Array
		for _, one := range n {
			out = append(out, one)
		}
		return out
	}
	shows := func(old, new string) format.Array {
		return format.Array{format.Object{"at": "/shows", "old": old, "new": new}}
	}
	openings := func(name string) format.Array {
		return format.Array{format.Object{"name": name, "aft": int64(900), "off": int64(0), "part": "vent"}}
	}
	steps := []func(){
		func() { add("finding", format.Object{"tag": "F1", "shows": "crack", "happened": "2026-05-04"}) },
		func() { add("finding", format.Object{"tag": "F1", "happened": "2026-05-05"}) },
		func() { add("measure", format.Object{"openings": openings("vent-1"), "happened": "2026-05-05"}) },
		func() { c.must(guest, "measure", format.Object{"openings": openings("vent-2")}) },
		func() {
			add("delivery", format.Object{"lots": format.Array{format.Object{"lot": "L-1", "opened": "2026-05-01"}}})
		},
		func() { add("correction", format.Object{"answers": refs(2), "changes": shows("crack", "gap")}) },
		func() { add("remark", format.Object{"adopts": refs(5, 10)}) },
		func() { add("correction", format.Object{"answers": refs(11), "changes": shows("gap", "crack")}) },
		func() { c.must(guest, "finding", format.Object{"tag": "G1"}) }, // 10, adopted beforehand
		func() { add("finding", format.Object{"shows": "gap"}) },        // 11, corrected beforehand
		func() { add("transfer", format.Object{"to-holder": "holder-2", "happened": "2026-05-05"}) },
		func() { add("finding", format.Object{"tag": "F2", "happened": "2026-05-04"}) },
		func() { add("finding", format.Object{"tag": "F3", "happened": "2026-05-06"}) },
		func() { add("correction", format.Object{"answers": refs(3), "not-this-coach": true}) },
		func() {
			body := named(later, key("next recovery"))
			body["reason"], body["firm"] = "stolen", head(c.coach.Head(12))
			c.must(recovery, "key-change", c.accepted(recovery, "key-change", body, later))
		},
		func() { c.must(later, "remark", format.Object{"adopts": refs(13)}) },
	}
	for _, step := range steps {
		step()
		no := c.coach.Last().No
		values := map[string]string{"note": fmt.Sprint("of ", no)}
		grown.Grow(values)
		require.Equal(t, values, opened[no])
		require.Equal(t, ledger.NewReplay(c.coach, opened), grown, "entry %s, %s", no, c.coach.Last().Kind())
	}
	require.False(t, grown.Act(ledger.No{N: 14}).Counts, "what the thief wrote")
	require.True(t, grown.Act(ledger.No{N: 13}).Counts, "what was adopted of it")
	require.Equal(t, "holder-2", grown.Act(ledger.No{N: 14}).Holder)
	require.False(t, grown.Act(ledger.No{N: 10}).Counts, "a reference only points back")
	require.Equal(t, "gap", grown.Act(ledger.No{N: 11}).Text("shows"))
}

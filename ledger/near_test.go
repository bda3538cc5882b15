package ledger_test

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/place"
)

func at(places ...format.Value) format.Object { return format.Object{"places": format.Array(places)} }

func bayPlace(n int64, side string) format.Object {
	return format.Object{"shape": "bay", "bay": n, "side": side}
}

func fieldPlace(front, rear, left, right int64) format.Object {
	return format.Object{"shape": "field", "aft": format.Array{front, rear}, "off": format.Array{left, right}}
}

// deckBody measures a deck of 4000 by 2000 mm with a rafter every 500 mm and an
// opening V1 of 400 by 400 mm at 1000 aft, 500 left.
func deckBody() format.Object {
	return format.Object{
		"deck": format.Object{"length": int64(4000), "front": int64(2000), "rear": int64(2000)}, "rafters-every": int64(500),
		"openings": format.Array{format.Object{
			"name": "V1", "part": "roof-vent", "aft": int64(1000), "off": int64(-500),
			"values": format.Object{"clear": format.Array{int64(400), int64(400)}},
		}},
	}
}

// touching lists the entries that touch a place, and those that could not be
// compared with it.
func touching(r *ledger.Replay, asked place.Place) (yes, open []string) {
	n := r.Near(asked)
	for _, a := range r.Acts {
		t := n.Touch(a)
		if t.Touches {
			yes = append(yes, a.No.String())
		}
		if len(t.Open) > 0 {
			open = append(open, a.No.String())
		}
	}
	return yes, open
}

func (c *chain) replay(branches ...[]byte) *ledger.Replay {
	c.t.Helper()
	checked, err := ledger.Check(c.text, sshsig.Verify, branches...)
	require.NoError(c.t, err)
	return ledger.NewReplay(checked, nil)
}

// Wherever a place stands in an entry, it is found by the area it shares. Bay n
// lies between rafter n-1 and n (SHEET.md, TRADE.md): bay 3 is 1000 to 1500 mm
// aft here.
func TestNearFindsPlacesWhereverTheyStand(t *testing.T) {
	c := begun(t)
	c.must(house, "measure", deckBody())                                                                         // 2: V1 with its skirt reaches to 1275 aft
	c.must(house, "remark", at(fieldPlace(1400, 1600, -900, -800)))                                              // 3
	c.must(house, "remark", at(fieldPlace(1500, 1600, -900, -800)))                                              // 4: touching is not sharing
	c.must(house, "check", format.Object{"results": format.Array{at(bayPlace(3, "left"))}})                      // 5
	c.must(house, "check", format.Object{"results": format.Array{at(bayPlace(3, "right"))}})                     // 6
	c.must(house, "work", format.Object{"ops": format.Array{at(fieldPlace(0, 4000, -10, 10))}})                  // 7
	c.must(house, "finding", format.Object{"causes": format.Array{at(fieldPlace(1200, 1210, -20, -10))}})        // 8
	c.must(house, "certificate", format.Object{"tag": "Q-1", "lines": format.Array{lineAt(1, 3), lineAt(2, 7)}}) // 9
	c.must(house, "standing", format.Object{"covers": format.Array{format.Object{"cert": "Q-1", "lines": format.Array{int64(1)}}}})
	c.must(house, "standing", format.Object{"covers": format.Array{format.Object{"cert": "Q-1", "lines": format.Array{int64(2)}}}})
	c.must(house, "correction", format.Object{"answers": format.Array{int64(6)}, "changes": format.Array{
		format.Object{"at": "/results/0", "old": at(bayPlace(3, "right")), "new": at(bayPlace(3, "left"))},
	}}) // 12, and by it 6
	c.must(house, "later-work", format.Object{"found": format.Array{at(format.Object{"shape": "named", "name": "V1"})}}) // 13
	r := c.replay()

	yes, open := touching(r, place.Place{Shape: place.Bay, Bay: 3, Side: place.Left})
	require.Equal(t, []string{"2", "3", "5", "6", "7", "8", "9", "10", "12", "13"}, yes)
	require.Empty(t, open)
	yes, _ = touching(r, place.Place{Shape: place.Bay, Bay: 7})
	require.Equal(t, []string{"7", "9", "11"}, yes)
	yes, _ = touching(r, place.Place{Shape: place.Wall, Wall: place.Left, Along: place.Over(0, 4000), Down: place.Over(0, 500)})
	require.Empty(t, yes, "a wall is not the roof over it")
}

func lineAt(number, bay int64) format.Object {
	return format.Object{"line": number, "places": format.Array{bayPlace(bay, "left")}}
}

// What was not measured is found by its words, and what cannot be compared is
// said.
func TestNearSaysWhatIsNotCompared(t *testing.T) {
	c := begun(t)
	c.must(house, "remark", at(bayPlace(3, "left")))                                                  // 2
	c.must(house, "remark", at(bayPlace(3, "right")))                                                 // 3
	c.must(house, "remark", at(fieldPlace(0, 100, 0, 100)))                                           // 4
	c.must(house, "remark", at(format.Object{"shape": "named", "name": "W1"}))                        // 5
	c.must(house, "remark", at(format.Object{"shape": "spiral", "aft": int64(1)}))                    // 6: a newer shape
	c.must(house, "newer-kind", format.Object{"spots": format.Array{fieldPlace(0, 100, 0, 100)}})     // 7
	c.must(house, "newer-kind", nil)                                                                  // 8
	c.must(house, "measure", format.Object{"deck": deckBody()["deck"], "rafters-every": int64(500)})  // 9
	c.must(house, "remark", at(format.Object{"shape": "part", "part": "rafter", "number": int64(2)})) // 10
	r := c.replay()

	n := r.Near(place.Place{Shape: place.Named, Name: "W1"})
	require.EqualError(t, n.Why, "nothing is called W1")
	yes, open := touching(r, n.Place)
	require.Equal(t, []string{"5"}, yes)
	require.Equal(t, []string{"2", "3", "4", "6", "7", "8", "10"}, open)

	yes, open = touching(r, place.Place{Shape: place.Bay, Bay: 3, Side: place.Left})
	require.Equal(t, []string{"2", "10"}, yes, "said before the rafters were measured, in the same words; and rafter 2 is 60 mm wide")
	require.Equal(t, []string{"3", "5", "6", "7", "8"}, open)
	yes, _ = touching(r, place.Place{Shape: place.Field, Aft: place.Over(50, 60), Off: place.Over(50, 60)})
	require.Equal(t, []string{"4", "7"}, yes, "in a kind newer than this tool too")

	// By the same words only: another bay, another element and another side are not alike.
	c = begun(t)
	part := func(name, side string) format.Object {
		return format.Object{"shape": "part", "part": name, "side": side}
	}
	c.must(house, "remark", at(bayPlace(4, "left")))                             // 2
	c.must(house, "remark", at(part("rear-header", "left")))                     // 3
	c.must(house, "remark", at(part("front-header", "left")))                    // 4
	c.must(house, "remark", at(fieldPlace(0, 100, 0, 100), bayPlace(4, "left"))) // 5: one place fits, one cannot be compared
	unmeasured := c.replay()
	yes, open = touching(unmeasured, place.Place{Shape: place.Bay, Bay: 3, Side: place.Left})
	require.Empty(t, yes)
	require.Equal(t, []string{"2", "3", "4", "5"}, open)
	yes, _ = touching(unmeasured, place.Place{Shape: place.Part, Part: "rear-header"})
	require.Equal(t, []string{"3"}, yes)
	yes, _ = touching(unmeasured, place.Place{Shape: place.Part, Part: "rear-header", Side: place.Right})
	require.Empty(t, yes)
	yes, open = touching(unmeasured, place.Place{Shape: place.Field, Aft: place.Over(50, 60), Off: place.Over(50, 60)})
	require.Equal(t, []string{"5"}, yes)
	require.Equal(t, []string{"2", "3", "4"}, open)

	n = r.Near(place.Place{Shape: place.Field, Aft: place.Over(0, 100), Off: place.Over(1200, 1300)})
	require.ErrorIs(t, n.Why, ledger.ErrNoArea)
}

// An entry of a side branch has its place like any other.
func TestNearFindsSideBranches(t *testing.T) {
	c, side := begun(t), begun(t)
	c.must(house, "measure", deckBody())
	side.must(house, "measure", deckBody())
	common := c.coach.Newest()
	branch := side.leaf(house, "remark", at(bayPlace(3, "left")))
	side.must(house, "remark", at(bayPlace(3, "left")))
	sum := sha256.Sum256(branch)
	c.must(house, "take-in", format.Object{
		"from": head(common), "head": head(side.coach.Newest()), "count": int64(1), "branch": hex.EncodeToString(sum[:]),
	})
	yes, _ := touching(c.replay(branch), place.Place{Shape: place.Bay, Bay: 3})
	require.Equal(t, []string{"2", "2/1"}, yes)
}

// Only the house erases, and what it says under doubt does not count.
func TestErasures(t *testing.T) {
	c := begun(t)
	gone := func(name string) format.Object {
		return format.Object{"answers": format.Array{int64(1)}, "names": format.Array{name}}
	}
	c.must(house, "erased", gone("plate"))
	require.Equal(t, map[ledger.No]map[string]ledger.No{{N: 1}: {"plate": {N: 2}}}, c.replay().Erasures())
	firm := c.coach.Newest()
	c.must(house, "erased", gone("complaint"))
	body := named(later, key("next recovery"))
	body["reason"], body["firm"] = "stolen", head(firm)
	c.must(recovery, "key-change", c.accepted(recovery, "key-change", body, later))
	require.Equal(t, map[ledger.No]map[string]ledger.No{{N: 1}: {"plate": {N: 2}}}, c.replay().Erasures())
}

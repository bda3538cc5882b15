package ledger_test

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
)

// replayed works the chain through, with the texts of its branches.
func (c *chain) replayed(branches ...[]byte) *ledger.Replay {
	c.t.Helper()
	coach, err := ledger.Check(c.text, sshsig.Verify, branches...)
	require.NoError(c.t, err)
	return ledger.NewReplay(coach, nil)
}

// main is the number of an entry of the main chain.
func main(n int64) ledger.No { return ledger.No{N: n} }

func adopts(nos ...format.Value) format.Object { return format.Object{"adopts": format.Array(nos)} }

func strikes(no format.Value) format.Object {
	return format.Object{"answers": format.Array{no}, "not-this-coach": true}
}

func changes(no format.Value, list ...format.Value) format.Object {
	return format.Object{"answers": format.Array{no}, "changes": list}
}

func change(at string, old, now format.Value) format.Object {
	o := format.Object{"at": at}
	if old != nil {
		o["old"] = old
	}
	if now != nil {
		o["new"] = now
	}
	return o
}

// Each sort of change a correction makes (ENTRIES 3, change).
func TestSortsOfChanges(t *testing.T) {
	reading := func(n int64) format.Object {
		return format.Object{"check": "pins", "values": format.Object{"moisture": n}}
	}
	for name, sort := range map[string]struct {
		change format.Object
		member string
		want   format.Value
	}{
		"a member":                    {change("/instrument", "meter 1", "meter 2"), "instrument", "meter 2"},
		"a member that was missing":   {change("/scale", nil, "softwood"), "scale", "softwood"},
		"a member that does not hold": {change("/instrument", "meter 1", nil), "instrument", nil},
		"the day":                     {change("/happened", "2026-05-04", "2026-05-03"), "happened", "2026-05-03"},
		"one element":                 {change("/results/1", reading(81), reading(281)), "results", format.Array{reading(310), reading(281)}},
		"one more element":            {change("/results/-", nil, reading(90)), "results", format.Array{reading(310), reading(81), reading(90)}},
		"one element less":            {change("/results/0", reading(310), nil), "results", format.Array{reading(81)}},
		"what does not stand there":   {change("/instrument", "meter 7", "meter 2"), "instrument", "meter 1"},
		"an element not there":        {change("/results/1", reading(99), reading(281)), "results", format.Array{reading(310), reading(81)}},
		"what is there already":       {change("/instrument", nil, "meter 2"), "instrument", "meter 1"},
	} {
		c := begun(t)
		signed := format.Object{
			"happened": "2026-05-04", "instrument": "meter 1", "results": format.Array{reading(310), reading(81)},
		}
		c.must(house, "check", signed)
		c.must(house, "correction", changes(int64(2), sort.change))
		a := c.replayed().Act(main(2))
		require.Equal(t, sort.want, a.Body[sort.member], name)
		require.Equal(t, signed, a.Signed(), "%s: the signed body stays", name)
		require.Equal(t, signed, a.Entry.Body(), name)
	}
}

// A later correction quotes what an earlier one left.
func TestCorrectionOfWhatWasCorrected(t *testing.T) {
	c := begun(t)
	c.must(house, "check", format.Object{"instrument": "meter 1"})
	c.must(house, "correction", changes(int64(2), change("/instrument", "meter 1", "meter 2")))
	c.must(house, "correction", changes(int64(2), change("/instrument", "meter 1", "meter 3")))
	c.must(house, "correction", changes(int64(2), change("/instrument", "meter 2", "meter 4")))
	a := c.replayed().Act(main(2))
	require.Equal(t, "meter 4", a.Text("instrument"))
	require.Len(t, a.Corrected, 2)
}

// What is not about this coach is no fact; it stays among the entries. What it
// said itself, as a correction or by adopts, has no effect then.
func TestNotThisCoach(t *testing.T) {
	c := begun(t)
	c.must(guest, "finding", nil)                                                               // 2
	c.must(house, "upkeep", adopts(int64(2)))                                                   // 3
	c.must(house, "check", format.Object{"instrument": "meter 1"})                              // 4
	c.must(house, "correction", changes(int64(4), change("/instrument", "meter 1", "meter 2"))) // 5
	r := c.replayed()
	require.True(t, r.Act(main(2)).Counts)
	require.Equal(t, "meter 2", r.Act(main(4)).Text("instrument"))

	c.must(house, "correction", strikes(int64(3))) // 6
	c.must(house, "correction", strikes(int64(5))) // 7
	r = c.replayed()
	require.Equal(t, main(6), r.Act(main(3)).StruckBy)
	require.False(t, r.Act(main(3)).Counts)
	require.False(t, r.Act(main(2)).Counts, "adopted by an entry that is not about this coach")
	require.Equal(t, ledger.No{}, r.Act(main(2)).Adopted)
	require.Equal(t, "meter 1", r.Act(main(4)).Text("instrument"))
	require.Len(t, r.Acts, 7)

	c.must(house, "correction", strikes(int64(6))) // 8: the strike was wrong
	r = c.replayed()
	require.True(t, r.Act(main(3)).Counts)
	require.True(t, r.Act(main(2)).Counts)
	require.True(t, c.replayed().Until(7).Act(main(3)).StruckBy == main(6), "as it stood before")
}

// A wrong same-coach is undone by a correction; a sale inked into the wrong file
// makes nobody the holder.
func TestStruckSameCoachAndSale(t *testing.T) {
	c := begun(t)
	c.must(house, "same-coach", format.Object{"goes-on": "goes-on-here"})
	c.must(house, "transfer", format.Object{"to-holder": "holder-2", "happened": "2026-05-04"})
	require.Equal(t, "holder-2", c.replayed().Holder())
	c.must(house, "correction", strikes(int64(2)))
	c.must(house, "correction", strikes(int64(3)))
	r := c.replayed()
	require.False(t, r.Act(main(2)).Counts)
	require.Empty(t, r.Holder())
}

// What stands barred, an intake as a whole, and an entry to come are not
// corrected.
func TestWhatIsNotCorrected(t *testing.T) {
	for _, kind := range []string{"certificate", "standing", "verdict", "ruling", "given-out", "erased"} {
		c := begun(t)
		c.must(house, kind, format.Object{"x": "a"})
		c.must(house, "correction", strikes(int64(2)))
		c.must(house, "correction", changes(int64(2), change("/x", "a", "b")))
		a := c.replayed().Act(main(2))
		require.True(t, a.Counts, kind)
		require.Equal(t, "a", a.Text("x"), kind)
	}
	c := begun(t)
	c.must(house, "correction", strikes(int64(1)))
	c.must(house, "correction", strikes(int64(4)))
	c.must(house, "remark", nil)
	r := c.replayed()
	require.True(t, r.Act(main(1)).Counts)
	require.True(t, r.Act(main(4)).Counts, "a reference only points back")
}

// A guest's entries are no facts of the house until it adopts them, and then he
// changes them no more; his adopts has no effect at all.
func TestGuestsAndAdoption(t *testing.T) {
	meter := func(r *ledger.Replay) string { return r.Act(main(2)).Text("instrument") }
	c := begun(t)
	c.must(guest, "check", format.Object{"instrument": "meter 1"})                                     // 2
	c.must(guest, "correction", changes(int64(2), change("/instrument", "meter 1", "meter 2")))        // 3
	c.must(key("other guest"), "correction", changes(int64(2), change("/instrument", "meter 2", "x"))) // 4
	c.must(guest, "remark", adopts(int64(2)))                                                          // 5
	r := c.replayed()
	require.Equal(t, "meter 2", meter(r))
	require.False(t, r.Act(main(2)).Counts)
	require.Equal(t, ledger.No{}, r.Act(main(2)).Adopted)

	c.must(house, "remark", adopts(int64(2)))                                                   // 6
	c.must(guest, "correction", changes(int64(2), change("/instrument", "meter 2", "meter 3"))) // 7
	c.must(guest, "correction", strikes(int64(2)))                                              // 8
	r = c.replayed()
	require.True(t, r.Act(main(2)).Counts)
	require.Equal(t, main(6), r.Act(main(2)).Adopted)
	require.Equal(t, "meter 2", meter(r), "as it was when the house took it")
	require.Equal(t, main(8), r.As(guest.Public().Line()).Act(main(2)).StruckBy, "in his own voice it is struck")

	c.must(house, "remark", adopts(int64(7))) // 9
	require.Equal(t, "meter 3", meter(c.replayed()), "the house took his correction too")
	c.must(house, "remark", adopts(int64(8))) // 10
	require.Equal(t, main(8), c.replayed().Act(main(2)).StruckBy)
}

// In a guest's voice his own entries are facts, and the house's stay so;
// another guest's are not.
func TestVoiceOfAGuest(t *testing.T) {
	c := begun(t)
	c.must(house, "remark", nil)
	c.must(guest, "finding", format.Object{"shop": format.Object{"name": "Low Ferry Coachworks", "place": "Low Ferry"}})
	c.must(key("other guest"), "finding", nil)
	r := c.replayed().As(guest.Public().Line())
	for n, counts := range map[int64]bool{1: true, 2: true, 3: true, 4: false} {
		require.Equal(t, counts, r.Act(main(n)).Counts, n)
		require.Equal(t, n == 3, r.Act(main(n)).House, n)
	}
	require.Equal(t, "Low Ferry Coachworks", r.HouseName())
	require.Empty(t, c.replayed().HouseName())
}

// The name the house signs with, at each entry.
func TestHouseNameAt(t *testing.T) {
	c := &chain{t: t, coach: ledger.NewCoach()}
	sign := func(body format.Object, name string) format.Object {
		body["shop"] = format.Object{"name": name, "place": "Cold Elm"}
		return body
	}
	c.must(house, "intake", sign(named(house, recovery), "Quillstead Roof Works"))
	c.must(guest, "remark", sign(format.Object{}, "Low Ferry Coachworks"))
	c.must(house, "hand-over", c.accepted(house, "hand-over", format.Object{"key": shop2.Public().Fingerprint()}, recovery))
	c.must(shop2, "take-on", sign(named(shop2, key("their recovery")), "Penny Drift Bodyworks"))
	r := c.replayed()
	for n, want := range []string{"", "Quillstead Roof Works", "Quillstead Roof Works", "Quillstead Roof Works", "Penny Drift Bodyworks"} {
		require.Equal(t, want, r.HouseNameAt(int64(n)))
	}
	require.Equal(t, "Penny Drift Bodyworks", r.HouseName())
}

// After a take-on its recovery key is in force, and the old one is a guest's.
func TestRecoveryAfterTakeOn(t *testing.T) {
	theirs, next := key("their recovery"), key("next house")
	c := begun(t)
	c.must(house, "hand-over", c.accepted(house, "hand-over", format.Object{"key": shop2.Public().Fingerprint()}, recovery))
	c.must(shop2, "take-on", named(shop2, theirs))
	keyChange := func(by sshsig.Signer) error {
		body := named(next, key("recovery to come"))
		body["reason"] = "planned"
		return c.try(by, "key-change", c.accepted(by, "key-change", body, next))
	}
	require.ErrorIs(t, keyChange(recovery), ledger.ErrRole)
	over := func(by sshsig.Signer) error {
		return c.try(shop2, "hand-over", c.accepted(shop2, "hand-over", format.Object{"key": next.Public().Fingerprint()}, by))
	}
	require.ErrorIs(t, over(recovery), ledger.ErrRole)
	require.NoError(t, c.try(recovery, "finding", nil))
	require.Equal(t, ledger.Guest, c.coach.Last().Role)
	require.ErrorIs(t, c.try(theirs, "finding", nil), ledger.ErrRole)
	require.NoError(t, keyChange(theirs))
	require.Equal(t, next.Public().Line(), c.coach.House)
}

// side is a copy of a chain that is written on by itself.
func (c *chain) side() *chain {
	c.t.Helper()
	out := &chain{t: c.t, coach: ledger.NewCoach()}
	for rest := c.text; len(rest) > 0; {
		_, _, leaf, err := format.ReadLeaf(rest)
		require.NoError(c.t, err)
		require.NoError(c.t, out.coach.Extend(leaf, sshsig.Verify))
		out.text = append(out.text, leaf...)
		rest = rest[len(leaf):]
	}
	return out
}

// takeIn takes in what side wrote behind the common entries.
func (c *chain) takeIn(side *chain, common format.Head, length int) []byte {
	c.t.Helper()
	branch := side.text[length:]
	tip := side.coach.Newest()
	sum := sha256.Sum256(branch)
	c.must(house, "take-in", format.Object{
		"from": head(common), "head": head(tip), "count": tip.Size - common.Size, "branch": hex.EncodeToString(sum[:]),
	})
	return branch
}

// Entries of a side branch count once the house adopts them. In the branch an
// integer above the parting counts in that branch (ENTRIES 1), whatever stands
// on the chain under that number.
func TestNumbersInASideBranch(t *testing.T) {
	c := begun(t)
	c.must(house, "check", format.Object{"instrument": "meter 1"}) // 2
	common, length := c.coach.Newest(), len(c.text)
	side := c.side()
	side.must(house, "check", format.Object{"instrument": "meter 1", "answers": format.Array{int64(2)}})       // 2/1
	side.must(house, "correction", changes(int64(3), change("/instrument", "meter 1", "meter 2")))             // 2/2
	side.must(house, "finding", format.Object{"whose": format.Object{"whose": "our-shop", "entry": int64(4)}}) // 2/3
	c.must(house, "check", format.Object{"instrument": "meter 1"})                                             // 3
	branch := c.takeIn(side, common, length)                                                                   // 4
	in := func(n int64) ledger.No { return ledger.No{N: 2, Branch: n} }

	r := c.replayed(branch)
	for n := int64(1); n <= 3; n++ {
		require.False(t, r.Act(in(n)).Counts)
	}
	require.Equal(t, []ledger.No{main(2)}, r.Act(in(1)).Refs("answers"))
	require.Equal(t, []ledger.No{in(1)}, r.Act(in(2)).Refs("answers"))
	require.Equal(t, format.Object{"whose": "our-shop", "entry": "2/2"}, r.Act(in(3)).Body["whose"])
	require.Equal(t, "meter 1", r.Act(in(1)).Text("instrument"), "its correction does not count yet")

	c.must(house, "remark", adopts("2/1", "2/2")) // 5
	r = c.replayed(branch)
	require.True(t, r.Act(in(1)).Counts)
	require.Equal(t, main(5), r.Act(in(1)).Adopted)
	require.Equal(t, "meter 2", r.Act(in(1)).Text("instrument"))
	require.Equal(t, "meter 1", r.Act(main(3)).Text("instrument"), "entry 3 of the chain is another")
	require.False(t, r.Act(in(3)).Counts)

	again := c.side()
	again.must(house, "correction", changes("2/1", change("/instrument", "meter 2", "meter 3")))
	require.Equal(t, "meter 3", again.replayed(branch).Act(in(1)).Text("instrument"), "from the chain the house corrects it too")
}

// A guest's measure answers for that guest's notes, and for the house's from the
// entry that adopts it.
func TestMeasuresOfAGuest(t *testing.T) {
	lettered := func(aft int64) format.Object {
		return format.Object{"openings": format.Array{format.Object{
			"name": "A1", "part": "air-conditioner", "aft": aft, "off": int64(0),
			"values": format.Object{"clear": format.Array{int64(100), int64(100)}},
		}}}
	}
	at := format.Object{"places": format.Array{format.Object{"shape": "named", "name": "A1", "skirt": int64(0)}}}
	c := begun(t)
	c.must(house, "measure", lettered(1000)) // 2
	c.must(guest, "measure", lettered(3000)) // 3
	c.must(guest, "finding", at)             // 4
	c.must(house, "finding", at)             // 5
	c.must(house, "remark", adopts(int64(3)))
	c.must(house, "finding", at) // 7
	c.must(house, "measure", lettered(5000))
	r := c.replayed()
	front := func(a *ledger.Act) int64 {
		region, err := r.Region(a, a.Places())
		require.NoError(t, err)
		require.Len(t, region.Planes(), 1)
		return region.Rects(region.Planes()[0])[0].Front
	}
	require.Equal(t, int64(2950), front(r.Act(main(4))))
	require.Equal(t, int64(950), front(r.Act(main(5))))
	require.Equal(t, int64(2950), front(r.Act(main(7))))
}

// A guest gives no lot of the house other values, though he was there first.
func TestLotsOfAGuest(t *testing.T) {
	lot := func(material string) format.Object {
		return format.Object{"lots": format.Array{format.Object{"lot": "L-1", "material": material}}}
	}
	c := begun(t)
	c.must(guest, "delivery", lot("glue-pva"))
	require.Equal(t, "glue-pva", c.replayed().Lots["L-1"].Shape["material"], "nobody else says what it is")
	c.must(house, "delivery", lot("glue-pu-two-part"))
	require.Equal(t, main(3), c.replayed().Lots["L-1"].By)
	require.Equal(t, main(2), c.replayed().As(guest.Public().Line()).Lots["L-1"].By)
	c.must(house, "correction", strikes(int64(3)))
	require.Equal(t, main(2), c.replayed().Lots["L-1"].By)
}

// What is newer than this tool and can change cover stands in the way of
// judging once it counts, and no longer when it is struck out (ENTRIES 8).
func TestNewer(t *testing.T) {
	known := format.Object{"by": format.Array{"hand-1"}, "happened": "2026-01-02"}
	with := func(more format.Object) format.Object {
		body := format.Clone(known).(format.Object)
		for name, v := range more {
			body[name] = v
		}
		return body
	}
	places := func(o format.Object) format.Object { return format.Object{"places": format.Array{o}} }
	for name, odd := range map[string]struct {
		kind  string
		body  format.Object
		what  string
		cover bool
	}{
		"kind":                      {"drone-look", known, "drone-look", true},
		"member":                    {"measure", with(format.Object{"camber": int64(3)}), "camber", true},
		"word":                      {"work", with(format.Object{"state": "half-open"}), "state half-open", true},
		"word in a shape":           {"work", with(format.Object{"ops": format.Array{format.Object{"op": "glue-on"}}}), "op glue-on", true},
		"member in a shape":         {"work", with(format.Object{"ops": format.Array{format.Object{"op": "strip", "how": "hot"}}}), "how", true},
		"quantity":                  {"work", with(format.Object{"values": format.Object{"glow": int64(3)}}), "glow", true},
		"shape":                     {"finding", with(places(format.Object{"shape": "ring"})), "places", true},
		"layer":                     {"finding", with(places(format.Object{"shape": "named", "name": "A1", "layers": format.Array{"gel-coat"}})), "places", true},
		"part":                      {"finding", with(places(format.Object{"shape": "part", "part": "sail"})), "places", true},
		"member of a place":         {"finding", with(places(format.Object{"shape": "named", "name": "A1", "tilt": int64(3)})), "places", true},
		"type of a known member":    {"finding", with(format.Object{"defect": int64(3)}), "defect", true},
		"type of a quantity":        {"work", with(format.Object{"values": format.Object{"depth": "deep"}}), "depth", true},
		"type of a list":            {"check", with(format.Object{"results": "pins"}), "results", true},
		"type of private":           {"finding", with(format.Object{"private": "all"}), "private", true},
		"type of a commitment":      {"finding", with(format.Object{"private": format.Object{"business": int64(3)}}), "private", true},
		"a free text in the open":   {"correction", with(format.Object{"why": "wet"}), "why", true},
		"type of adopts":            {"remark", with(format.Object{"adopts": "2"}), "adopts", true},
		"where it adopts":           {"remark", with(format.Object{"adopts": format.Array{int64(1)}, "mood": "good"}), "mood", true},
		"in a kind without a say":   {"remark", with(format.Object{"mood": "good"}), "mood", false},
		"a word there":              {"erased", with(format.Object{"ground": "bored"}), "ground bored", false},
		"a limit of a new sort":     {"check", with(format.Object{"results": format.Array{format.Object{"check": "pins", "limit": format.Object{"about": int64(3), "quantity": "moisture", "source": "x"}}}}), "limit", true},
		"a limit of a new quantity": {"check", with(format.Object{"results": format.Array{format.Object{"check": "pins", "limit": format.Object{"at-most": int64(3), "quantity": "glow", "source": "x"}}}}), "limit", true},
		"a new stage":               {"cure", with(format.Object{"stages": format.Array{format.Object{"name": "paint", "need": int64(3)}}}), "stages", true},
		"a new unit of a lot":       {"work", with(format.Object{"ops": format.Array{format.Object{"op": "strip", "uses": format.Array{format.Object{"lot": "L-1", "amount": int64(3), "unit": "barrel"}}}}}), "uses", true},
	} {
		for _, own := range []bool{true, false} {
			by := guest
			if own {
				by = house
			}
			c := begun(t)
			if err := c.try(by, odd.kind, odd.body); err != nil {
				require.ErrorIs(t, err, ledger.ErrRole, name) // what a guest may not write at all
				require.Equal(t, "erased", odd.kind)
				continue
			}
			r := c.replayed()
			var what []string
			for _, o := range r.Act(main(2)).Entry.Odd() {
				what = append(what, o.What)
			}
			require.Equal(t, []string{odd.what}, what, name)
			require.Equal(t, odd.cover && own, len(r.Newer()) > 0, name)
			require.Equal(t, odd.cover, len(r.As(by.Public().Line()).Newer()) > 0, "%s: to who wrote it", name)
			if !own {
				c.must(house, "remark", with(adopts(int64(2))))
				require.Equal(t, odd.cover, len(c.replayed().Newer()) > 0, "%s, adopted", name)
				continue
			}
			if !ledger.Barred(odd.kind) {
				c.must(house, "correction", with(strikes(int64(2))))
				require.Empty(t, c.replayed().Newer(), "%s, struck out", name)
			}
		}
	}
	c := begun(t)
	require.ErrorIs(t, c.try(recovery, "drone-look", known), ledger.ErrRole, "by the recovery key anything but a key-change is broken")
}

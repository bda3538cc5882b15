package ledger_test

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	tree "lapmark/ledger/chain"
	"lapmark/ledger/format"
)

// Four lines are all a library user needs.
func ExampleCheck() {
	text, err := os.ReadFile("format/testdata/example-ledger.txt")
	if err != nil {
		fmt.Println(err)
	}
	coach, err := ledger.Check(text, sshsig.Verify)
	fmt.Println(len(coach.Entries), coach.ID(), coach.Code(2), err)
	// Output: 3 8JZTG2HE2FYZ XT7Y BH3B YFSN CDHF V6HR <nil>
}

// chain writes a ledger entry by entry.
type chain struct {
	t     *testing.T
	coach *ledger.Coach
	text  []byte
}

func key(name string) sshsig.Signer {
	return keyring.FromSeed(sha256.Sum256([]byte("key of the test " + name)))
}

var (
	house    = key("house")
	recovery = key("recovery")
	guest    = key("guest")
	later    = key("later")
	shop2    = key("second shop")
)

func begun(t *testing.T) *chain {
	t.Helper()
	c := &chain{t: t, coach: ledger.NewCoach()}
	c.must(house, "intake", named(house, recovery))
	return c
}

func named(h, r sshsig.Signer) format.Object {
	return format.Object{"house": h.Public().Line(), "recovery": r.Public().Fingerprint()}
}

// leaf signs a body on the head of the chain.
func (c *chain) leaf(by sshsig.Signer, kind string, body format.Object) []byte {
	c.t.Helper()
	text, err := format.Encode(body)
	require.NoError(c.t, err)
	line := format.Line{
		At: "2026-05-04T13:22:11Z", Body: text, Key: by.Public().Fingerprint(), Kind: kind, Prev: c.coach.Newest(), V: 1,
	}
	l1, err := line.Append(nil)
	require.NoError(c.t, err)
	blob, err := by.Sign(sshsig.EntryNamespace, append(l1, '\n'))
	require.NoError(c.t, err)
	leaf, err := format.Leaf(l1, blob)
	require.NoError(c.t, err)
	return leaf
}

func (c *chain) try(by sshsig.Signer, kind string, body format.Object) error {
	c.t.Helper()
	if body == nil {
		body = format.Object{}
	}
	leaf := c.leaf(by, kind, body)
	err := c.coach.Extend(leaf, sshsig.Verify)
	if err == nil {
		c.text = append(c.text, leaf...)
	}
	return err
}

func (c *chain) must(by sshsig.Signer, kind string, body format.Object) {
	c.t.Helper()
	require.NoError(c.t, c.try(by, kind, body))
}

// accepted adds the signature of another key over the body without it.
func (c *chain) accepted(by sshsig.Signer, kind string, body format.Object, accepts sshsig.Signer) format.Object {
	c.t.Helper()
	text, err := format.Encode(body)
	require.NoError(c.t, err)
	line := format.Line{
		At: "2026-05-04T13:22:11Z", Body: text, Key: by.Public().Fingerprint(), Kind: kind, Prev: c.coach.Newest(), V: 1,
	}
	message, err := ledger.AcceptMessage(line)
	require.NoError(c.t, err)
	blob, err := accepts.Sign(sshsig.AcceptNamespace, message)
	require.NoError(c.t, err)
	body["accept"] = format.EncodeBase64(blob)
	return body
}

func head(h format.Head) format.Object {
	return format.Object{"size": h.Size, "root": format.EncodeBase64(h.Root[:])}
}

// Each kind under each key: who may write what.
func TestRoleOfEachKind(t *testing.T) {
	own := map[string]bool{"intake": true, "key-change": true, "hand-over": true, "take-on": true, "take-in": true}
	for _, kind := range append(ledger.Kinds(), ledger.Kind{Name: "newer-kind", Guest: true}) {
		c := begun(t)
		err := c.try(recovery, kind.Name, nil)
		require.ErrorIs(t, err, ledger.ErrRole, "recovery, %s", kind.Name)
		c = begun(t)
		if err := c.try(guest, kind.Name, nil); kind.Guest {
			require.NoError(t, err, "guest, %s", kind.Name)
			require.Equal(t, ledger.Guest, c.coach.Last().Role)
		} else {
			require.ErrorIs(t, err, ledger.ErrRole, "guest, %s", kind.Name)
		}
		if own[kind.Name] {
			continue
		}
		c = begun(t)
		require.NoError(t, c.try(house, kind.Name, nil), "house, %s", kind.Name)
		require.Equal(t, ledger.House, c.coach.Last().Role)
	}
}

func TestIntakeStandsFirstAndNamesTwoKeys(t *testing.T) {
	for name, try := range map[string]func(c *chain) error{
		"another kind first":    func(c *chain) error { return c.try(house, "remark", nil) },
		"signed by another key": func(c *chain) error { return c.try(guest, "intake", named(house, recovery)) },
		"one key for both":      func(c *chain) error { return c.try(house, "intake", named(house, house)) },
		"no recovery":           func(c *chain) error { return c.try(house, "intake", format.Object{"house": house.Public().Line()}) },
		"no house":              func(c *chain) error { return c.try(house, "intake", format.Object{"recovery": "SHA256:x"}) },
	} {
		c := &chain{t: t, coach: ledger.NewCoach()}
		require.ErrorIs(t, try(c), ledger.ErrRole, name)
	}
	c := begun(t)
	require.ErrorIs(t, c.try(house, "intake", named(house, recovery)), ledger.ErrRole, "a second intake")
}

func TestKeyChange(t *testing.T) {
	next := key("next recovery")
	change := func(c *chain, accepts sshsig.Signer, more format.Object) error {
		body := named(later, next)
		body["reason"] = "planned"
		for name, v := range more {
			body[name] = v
		}
		return c.try(recovery, "key-change", c.accepted(recovery, "key-change", body, accepts))
	}
	c := begun(t)
	require.ErrorIs(t, change(c, house, nil), ledger.ErrRole, "the new key has not accepted")
	require.ErrorIs(t, c.try(recovery, "key-change", named(later, next)), ledger.ErrRole, "no accept at all")
	require.NoError(t, change(c, later, nil))
	require.Equal(t, later.Public().Line(), c.coach.House)
	require.Equal(t, next.Public().Fingerprint(), c.coach.Recovery)
	require.NoError(t, c.try(house, "finding", nil), "the old key counts as a guest's")
	require.Equal(t, ledger.Guest, c.coach.Last().Role)
	require.ErrorIs(t, c.try(house, "transfer", nil), ledger.ErrRole)
	require.NoError(t, c.try(later, "transfer", nil))
	require.ErrorIs(t, change(c, later, nil), ledger.ErrRole, "the old recovery key changes nothing any more")
}

func TestStolenKeyLeavesDoubt(t *testing.T) {
	next := key("next recovery")
	c := begun(t)
	c.must(house, "remark", nil) // 2, the last the shop vouches for
	firm := c.coach.Newest()
	c.must(house, "certificate", nil) // 3, perhaps the thief's
	c.must(guest, "finding", nil)     // 4, a guest's is not doubtful
	c.must(house, "remark", nil)      // 5
	body := named(later, next)
	body["reason"] = "stolen"
	require.ErrorIs(t, c.try(recovery, "key-change", c.accepted(recovery, "key-change", body, later)), ledger.ErrRole, "stolen without firm")
	wrong := head(firm)
	wrong["size"] = int64(1)
	body = named(later, next)
	body["reason"], body["firm"] = "stolen", wrong
	require.ErrorIs(t, c.try(recovery, "key-change", c.accepted(recovery, "key-change", body, later)), ledger.ErrRole, "firm is no head of this chain")
	body = named(later, next)
	body["reason"], body["firm"] = "stolen", head(firm)
	c.must(recovery, "key-change", c.accepted(recovery, "key-change", body, later))
	doubts := func() (out []int64) {
		for _, e := range c.coach.Entries {
			if _, doubtful := c.coach.Doubtful(e.No); doubtful {
				out = append(out, e.No.N)
			}
		}
		return out
	}
	require.Equal(t, []int64{3, 5}, doubts())
	c.must(later, "remark", format.Object{"adopts": format.Array{int64(5)}})
	require.Equal(t, []int64{3}, doubts())
	again, err := ledger.Check(c.text, sshsig.Verify)
	require.NoError(t, err)
	_, doubtful := again.Doubtful(ledger.No{N: 3})
	require.True(t, doubtful)
}

func TestHandOverAndTakeOn(t *testing.T) {
	c := begun(t)
	over := format.Object{"key": shop2.Public().Fingerprint()}
	require.ErrorIs(t, c.try(house, "hand-over", c.accepted(house, "hand-over", over, house)), ledger.ErrRole, "accepted by the house key alone")
	take := func() error { return c.try(shop2, "take-on", named(shop2, key("their recovery"))) }
	require.ErrorIs(t, take(), ledger.ErrRole, "nothing was handed over")
	c.must(house, "hand-over", c.accepted(house, "hand-over", format.Object{"key": shop2.Public().Fingerprint()}, recovery))
	c.must(house, "remark", nil)
	require.ErrorIs(t, c.try(guest, "take-on", named(guest, recovery)), ledger.ErrRole, "another key")
	require.ErrorIs(t, c.try(shop2, "take-on", named(shop2, shop2)), ledger.ErrRole, "one key for both")
	require.NoError(t, take())
	require.Equal(t, shop2.Public().Line(), c.coach.House)
	require.ErrorIs(t, take(), ledger.ErrRole, "a second time")
	require.ErrorIs(t, c.try(house, "transfer", nil), ledger.ErrRole, "the old house is a guest")
}

func TestSideBranchTakenIn(t *testing.T) {
	c := begun(t)
	c.must(house, "remark", nil)
	common := c.coach.Newest()
	side := begun(t)
	side.must(house, "remark", nil)
	side.must(guest, "finding", nil)
	side.must(house, "remark", nil)
	var branch []byte
	for rest, n := side.text, 0; len(rest) > 0; n++ {
		_, _, leaf, err := format.ReadLeaf(rest)
		require.NoError(t, err)
		if n >= 2 {
			branch = append(branch, leaf...)
		}
		rest = rest[len(leaf):]
	}
	sum := sha256.Sum256(branch)
	c.must(house, "remark", format.Object{"photos": format.Array{}})
	body := format.Object{
		"from": head(common), "head": head(side.coach.Newest()), "count": int64(2), "branch": hex.EncodeToString(sum[:]),
	}
	wrong := format.Clone(body).(format.Object)
	wrong["from"] = head(side.coach.Newest())
	require.ErrorIs(t, c.try(house, "take-in", wrong), ledger.ErrRole, "from is no head of this chain")
	c.must(house, "take-in", body)

	with, err := ledger.Check(c.text, sshsig.Verify, []byte("something else"), branch)
	require.NoError(t, err)
	require.Len(t, with.Branches, 1)
	require.NoError(t, with.Branches[0].Why)
	require.Equal(t, "finding", with.Entry(ledger.No{N: 2, Branch: 1}).Kind())
	require.Equal(t, "2/2", with.Branches[0].Items[1].No.String())
	without, err := ledger.Check(c.text, sshsig.Verify)
	require.NoError(t, err)
	require.Nil(t, without.Branches[0].Text)
	require.Nil(t, without.Entry(ledger.No{N: 2, Branch: 1}))

	cut := append([]byte{}, c.text...)
	broken := strings.Replace(string(branch), "finding", "fixding", 1)
	again, err := ledger.Check(cut, sshsig.Verify, []byte(broken))
	require.NoError(t, err)
	require.Nil(t, again.Branches[0].Text, "a text that does not fit is not read")
}

// In a correction of a branch the numbers inside its changes count in that
// branch too.
func TestChangesOfABranchAreNumbered(t *testing.T) {
	c := begun(t)
	c.must(house, "remark", nil)
	common := c.coach.Newest()
	side := begun(t)
	side.must(house, "remark", nil)
	at := len(side.text)
	side.must(guest, "finding", nil)
	side.must(guest, "check", format.Object{"answers": format.Array{int64(3)}})
	side.must(guest, "correction", format.Object{
		"answers": format.Array{int64(4)},
		"changes": format.Array{format.Object{"at": "/answers", "old": format.Array{int64(3)}, "new": format.Array{int64(3), int64(2)}}},
	})
	branch := side.text[at:]
	sum := sha256.Sum256(branch)
	c.must(house, "take-in", format.Object{
		"from": head(common), "head": head(side.coach.Newest()), "count": int64(3), "branch": hex.EncodeToString(sum[:]),
	})
	checked, err := ledger.Check(c.text, sshsig.Verify, branch)
	require.NoError(t, err)
	r := ledger.NewReplay(checked, nil)
	require.Equal(t, []ledger.No{{N: 2, Branch: 1}, {N: 2}}, r.Act(ledger.No{N: 2, Branch: 2}).Refs("answers"))
	change := ledger.Objects(r.Act(ledger.No{N: 2, Branch: 3}).Body["changes"])[0]
	require.Equal(t, format.Array{"2/1"}, change["old"])
	require.Equal(t, format.Array{int64(3)}, ledger.Objects(checked.Branches[0].Items[2].Body()["changes"])[0]["old"], "as it was signed")
}

// A ledger of the most entries is read, one more entry is not.
func TestEntriesFromBothSides(t *testing.T) {
	line := house.Public().Line()
	trusted := func(string, []byte, []byte) (string, error) { return line, nil }
	text := begun(t).text
	var edge tree.Edge
	edge.Append(tree.Leaf(text))
	for edge.Size() <= format.MaxLeaves {
		entry := format.Line{
			At: "2026-05-04T13:22:11Z", Body: []byte("{}"), Key: house.Public().Fingerprint(), Kind: "remark",
			Prev: format.Head{Size: edge.Size(), Root: edge.Root()}, V: 1,
		}
		l1, err := entry.Append(nil)
		require.NoError(t, err)
		leaf, err := format.Leaf(l1, make([]byte, format.SigSize))
		require.NoError(t, err)
		edge.Append(tree.Leaf(leaf))
		text = append(text, leaf...)
	}
	c, err := ledger.Check(text, trusted)
	require.ErrorIs(t, err, ledger.ErrTooMany)
	require.ErrorContains(t, err, "entry 100001: more entries than a ledger holds")
	require.Len(t, c.Entries, format.MaxLeaves)
}

// So many side branches are read; of one more it is said that it is not.
func TestBranchesFromBothSides(t *testing.T) {
	c := begun(t)
	common := c.coach.Newest()
	var texts [][]byte
	for n := range ledger.MaxBranches + 1 {
		side := begun(t)
		side.must(house, "remark", format.Object{"n": int64(n)})
		_, _, first, err := format.ReadLeaf(side.text)
		require.NoError(t, err)
		branch := side.text[len(first):]
		sum := sha256.Sum256(branch)
		texts = append(texts, branch)
		c.must(house, "take-in", format.Object{
			"from": head(common), "head": head(side.coach.Newest()), "count": int64(1), "branch": hex.EncodeToString(sum[:]),
		})
	}
	coach, err := ledger.Check(c.text, sshsig.Verify, texts...)
	require.NoError(t, err)
	for n, b := range coach.Branches {
		if n < ledger.MaxBranches {
			require.NoError(t, b.Why)
			require.Len(t, b.Items, 1)
			continue
		}
		require.ErrorIs(t, b.Why, ledger.ErrTooMany)
		require.Empty(t, b.Items)
	}
	acts := ledger.NewReplay(coach, nil).Acts
	require.Len(t, acts, 1+2*ledger.MaxBranches+1)
	require.Equal(t, "1/1", acts[2].No.String(), "a branch stands behind its take-in")
}

// So many changes asked of one entry are followed, whether they take or not; a
// correction beyond them is left out whole. That an entry is not about this
// coach is heard at any time.
func TestChangesFromBothSides(t *testing.T) {
	c := begun(t)
	c.must(house, "remark", format.Object{"n": int64(0)})
	correct := func(changes ...format.Value) {
		c.must(house, "correction", format.Object{"answers": format.Array{int64(2)}, "changes": changes})
	}
	change := func(from, to int64) format.Value { return format.Object{"at": "/n", "old": from, "new": to} }
	now := func() *ledger.Act { return ledger.NewReplay(c.coach, nil).Act(ledger.No{N: 2}) }
	var changes []format.Value
	for n := range int64(ledger.MaxCorrections - 2) {
		changes = append(changes, change(n, n+1))
	}
	correct(changes...)
	correct(change(-1, -2)) // takes nothing, and counts
	require.Equal(t, int64(198), now().Body["n"])
	correct(change(198, 199), change(199, 200))
	require.Equal(t, int64(198), now().Body["n"], "one too many, and neither of the two is made")
	correct(change(198, 199))
	require.Equal(t, int64(199), now().Body["n"])
	require.Equal(t, ledger.MaxCorrections, now().Asked)
	correct(change(199, 200))
	require.Equal(t, int64(199), now().Body["n"])
	require.Equal(t, int64(0), c.coach.Entries[1].Body()["n"], "what was signed stays")
	c.must(house, "correction", format.Object{"answers": format.Array{int64(2)}, "not-this-coach": true})
	require.Equal(t, int64(8), now().StruckBy.N)
}

// Every single byte of a ledger changed once: the check never passes, and what
// it says holds is what stands before the change.
func TestEveryByteChangedOnce(t *testing.T) {
	c := begun(t)
	for n := range 9 {
		c.must(house, "remark", format.Object{"places": format.Array{}, "n": int64(n)})
	}
	_, err := ledger.Check(c.text, sshsig.Verify)
	require.NoError(t, err)
	var v sshsig.Verifier
	entry, ends := int64(1), 0
	for at := range c.text {
		if at == 0 || at == ends {
			_, _, leaf, err := format.ReadLeaf(c.text[at:])
			require.NoError(t, err)
			ends = at + len(leaf)
			entry = lineOf(t, leaf).Prev.Size + 1
		}
		mask := []byte{1, 0x20, 0x80}[at%3]
		c.text[at] ^= mask
		coach, err := ledger.Check(c.text, v.Verify)
		require.Error(t, err, "byte %d, mask %x", at, mask)
		require.Equal(t, entry-1, int64(len(coach.Entries)), "byte %d, mask %x", at, mask)
		c.text[at] ^= mask
	}
}

func lineOf(t *testing.T, leaf []byte) format.Line {
	t.Helper()
	l1, _, _, err := format.ReadLeaf(leaf)
	require.NoError(t, err)
	line, err := format.ParseLine(l1)
	require.NoError(t, err)
	return line
}

// The reason given is that of the first step that fails, whatever fails behind
// it: nobody is blamed for words that his key did not sign.
func TestOrderOfChecking(t *testing.T) {
	next := func(c *chain, kind, key, body string, prev format.Head) []byte {
		line := format.Line{At: "2026-05-04T13:22:11Z", Body: []byte(body), Key: key, Kind: kind, Prev: prev, V: 1}
		l1, err := line.Append(nil)
		require.NoError(t, err)
		return l1
	}
	names := guest.Public().Fingerprint()
	for _, step := range []struct {
		name             string
		cut, moved       bool // the canonical line, prev
		otherWords, liar bool // the signature, key
		kind             string
		want             error
	}{
		{"canonical line", true, true, true, true, "verdict", format.ErrShape},
		{"prev", false, true, true, true, "verdict", ledger.ErrChain},
		{"signature", false, false, true, true, "verdict", ledger.ErrSignature},
		{"key", false, false, false, true, "verdict", ledger.ErrKey},
		{"role", false, false, false, false, "verdict", ledger.ErrRole},
		{"nothing", false, false, false, false, "finding", nil},
	} {
		c := begun(t)
		key, prev := names, c.coach.Newest()
		if step.liar {
			key = house.Public().Fingerprint()
		}
		if step.moved {
			prev.Root[0]++
		}
		l1 := next(c, step.kind, key, "{}", prev)
		signed := l1
		if step.otherWords {
			signed = next(c, "finding", names, "{}", c.coach.Newest())
		}
		blob, err := guest.Sign(sshsig.EntryNamespace, append(signed[:len(signed):len(signed)], '\n'))
		require.NoError(t, err)
		if step.cut {
			l1 = append(l1[:len(l1)-1:len(l1)-1], " }"...)
		}
		leaf, err := format.Leaf(l1, blob)
		require.NoError(t, err)
		_, err = ledger.Check(append(c.text, leaf...), sshsig.Verify)
		if step.want == nil {
			require.NoError(t, err, step.name)
			continue
		}
		require.ErrorIs(t, err, step.want, step.name)
		var broken *ledger.Broken
		require.ErrorAs(t, err, &broken)
		require.Equal(t, int64(2), broken.Entry)
		for _, other := range []error{format.ErrShape, ledger.ErrChain, ledger.ErrSignature, ledger.ErrKey, ledger.ErrRole} {
			require.Equal(t, other == step.want, errors.Is(err, other), "%s: %v", step.name, other)
		}
	}
}

func TestNothingIsNoLedger(t *testing.T) {
	_, err := ledger.Check(nil, sshsig.Verify)
	require.ErrorIs(t, err, ledger.ErrEmpty)
	c := begun(t)
	_, err = ledger.Check(append(c.text, '\n'), sshsig.Verify)
	require.ErrorIs(t, err, format.ErrShape)
	_, err = ledger.Check(c.text[:len(c.text)-1], sshsig.Verify)
	require.ErrorIs(t, err, format.ErrShape)
}

// What the program does not know is shown and never broken.
func TestOddThingsAreNotBroken(t *testing.T) {
	c := begun(t)
	c.must(house, "later-kind", format.Object{"what": "ever"})
	c.must(house, "finding", format.Object{
		"by": format.Array{"hand-1"}, "happened": "2026-01-02", "defect": "sagging", "depth-of-woe": int64(3),
		"places": format.Array{format.Object{"shape": "spiral"}}, "deep": "in-the-deck",
	})
	checked, err := ledger.Check(c.text, sshsig.Verify)
	require.NoError(t, err)
	require.Equal(t, "later-kind", checked.Entries[1].Odd()[0].What)
	var what []string
	for _, o := range checked.Entries[2].Odd() {
		what = append(what, o.What)
	}
	require.Equal(t, []string{"defect sagging", "places", "depth-of-woe"}, what)
	var of []int64
	for _, o := range ledger.NewReplay(checked, nil).Newer() {
		of = append(of, o.Entry.N)
	}
	require.Equal(t, []int64{2, 3, 3, 3}, of, "an unknown kind can change cover, and so can a finding")
}

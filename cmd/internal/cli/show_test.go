package cli

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/cmd/internal/shop"
	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
)

// made is a ledger under the hand of a test.
type made struct {
	t     *testing.T
	coach *ledger.Coach
	text  []byte
}

func (m *made) leaf(key, kind string, body format.Object) []byte {
	m.t.Helper()
	text, err := format.Encode(body)
	require.NoError(m.t, err)
	by := keyring.DemoSigner(key)
	line := format.Line{At: "2026-05-04T13:22:11Z", Body: text, Key: by.Public().Fingerprint(), Kind: kind, Prev: m.coach.Newest(), V: 1}
	if kind == "key-change" {
		message, err := ledger.AcceptMessage(line)
		require.NoError(m.t, err)
		blob, err := keyring.DemoSigner("K2").Sign(sshsig.AcceptNamespace, message)
		require.NoError(m.t, err)
		body["accept"] = format.EncodeBase64(blob)
		line.Body, err = format.Encode(body)
		require.NoError(m.t, err)
	}
	l1, err := line.Append(nil)
	require.NoError(m.t, err)
	blob, err := by.Sign(sshsig.EntryNamespace, append(l1, '\n'))
	require.NoError(m.t, err)
	leaf, err := format.Leaf(l1, blob)
	require.NoError(m.t, err)
	return leaf
}

func (m *made) add(key, kind string, body format.Object) {
	m.t.Helper()
	body["happened"], body["by"] = "2026-05-04", format.Array{"desk"}
	leaf := m.leaf(key, kind, body)
	require.NoError(m.t, m.coach.Extend(leaf, sshsig.Verify))
	m.text = append(m.text, leaf...)
}

func begunLedger(t *testing.T) *made {
	t.Helper()
	m := &made{t: t, coach: ledger.NewCoach()}
	m.add("K1", "intake", format.Object{
		"serial": "TB78-1133", "house": keyring.DemoSigner("K1").Public().Line(), "recovery": keyring.DemoSigner("R").Public().Fingerprint(),
		"private": format.Object{"plate": "x", "no-vin": "y"},
	})
	return m
}

func headBody(h format.Head) format.Object {
	return format.Object{"size": h.Size, "root": format.EncodeBase64(h.Root[:])}
}

// What has become of an entry stands beside it, whatever it is, in text and in
// JSON: nothing is left out because this tool does not know it.
func TestShowSaysWhatBecameOfEntries(t *testing.T) {
	m, side := begunLedger(t), begunLedger(t)
	common := m.coach.Newest()
	branch := side.leaf("K1", "remark", format.Object{"happened": "2026-05-04", "by": format.Array{"desk"}})
	require.NoError(t, side.coach.Extend(branch, sshsig.Verify))
	sum := sha256.Sum256(branch)
	m.add("K1", "take-in", format.Object{
		"from": headBody(common), "head": headBody(side.coach.Newest()), "count": int64(1), "branch": hex.EncodeToString(sum[:]),
	}) // 2, and 1/1
	m.add("LF1", "remark", format.Object{})                                                             // 3: a guest's
	m.add("K1", "remark", format.Object{})                                                              // 4
	m.add("K1", "zinc-plating", format.Object{"coat": "thick"})                                         // 5: a kind of a newer tool
	m.add("K1", "correction", format.Object{"answers": format.Array{int64(4)}, "not-this-coach": true}) // 6
	m.add("K1", "erased", format.Object{
		"answers": format.Array{int64(1)}, "names": format.Array{"plate"}, "ground": "asked", "adopts": format.Array{int64(3)},
	}) // 7
	firm := m.coach.Newest()
	m.add("K1", "remark", format.Object{}) // 8: doubtful
	m.add("R", "key-change", format.Object{
		"reason": "stolen", "firm": headBody(firm), "house": keyring.DemoSigner("K2").Public().Line(), "recovery": keyring.DemoSigner("R").Public().Fingerprint(),
	})
	leaf := m.leaf("K2", "zinc-plating", format.Object{}) // 10: says no day
	require.NoError(t, m.coach.Extend(leaf, sshsig.Verify))
	m.text = append(m.text, leaf...)
	checked, err := ledger.Check(m.text, sshsig.Verify, branch)
	require.NoError(t, err)
	c := &shop.Coach{Plate: "TB78-1133", Ledger: checked, Replay: ledger.NewReplay(checked, nil)}

	shows := func(w shop.Wanted, lines bool) (out, talk string) {
		e := testEnv()
		picked, err := c.Pick(w)
		require.NoError(t, err)
		require.NoError(t, e.showPicked(c, w, picked, lines))
		return e.console.Out.(*strings.Builder).String(), e.console.Err.(*strings.Builder).String()
	}
	for number, says := range map[string]string{
		"1":   "erased by entry 7: plate",
		"1/1": "written beside the chain, behind entry 1",
		"3":   "signed by a guest, " + keyring.DemoSigner("LF1").Public().Fingerprint(),
		"4":   "not about this coach, says entry 6",
		"5":   "zinc-plating, newer than this tool, as it stands: ",
		"8":   "doubtful: by the key that entry 9 calls stolen, behind entry 7",
	} {
		out, _ := shows(shop.Wanted{Entries: []string{number}}, false)
		require.Contains(t, out, says, number)
	}
	out, _ := shows(shop.Wanted{Entries: []string{"1"}}, false)
	require.Contains(t, out, "not shown to you: no-vin")
	out, talk := shows(shop.Wanted{Kinds: []string{"zinc-plating"}}, true)
	require.Empty(t, out, "what has no line is no line")
	require.Contains(t, talk, `Entry 5 is newer than this tool and has no line: {"by":["desk"],"coat":"thick"`)
	_, talk = shows(shop.Wanted{Places: []string{"whole roof"}}, false)
	require.Contains(t, talk, "whole roof was not worked out: the deck is not measured yet")
	require.Contains(t, talk, "Not compared, entries 5 and 10: newer than this tool: zinc-plating.")

	_, talk = shows(shop.Wanted{From: "2026-01-01"}, false)
	require.Contains(t, talk, "Not compared, entry 10: it says no day that this tool knows.")

	e := testEnv()
	e.json = true
	picked, err := c.Pick(shop.Wanted{})
	require.NoError(t, err)
	require.NoError(t, e.showPicked(c, shop.Wanted{}, picked, false))
	var answer showAnswer
	require.NoError(t, json.Unmarshal([]byte(e.console.Out.(*strings.Builder).String()), &answer))
	by := map[any]showEntry{}
	for _, one := range answer.Entries {
		by[one.Entry] = one
	}
	require.Len(t, by, 11)
	require.Equal(t, []showErased{{"plate", float64(7)}}, by[1.0].Erased)
	require.Equal(t, []string{"no-vin"}, by[1.0].NotShown)
	require.Equal(t, float64(7), by[3.0].AdoptedBy)
	require.Equal(t, float64(6), by[4.0].StruckBy)
	require.Equal(t, []string{"zinc-plating"}, by[5.0].Newer)
	require.Equal(t, &showDoubt{Firm: 7, Change: 9}, by[8.0].Doubtful)
	require.Equal(t, "remark", by["1/1"].Kind)
	require.False(t, by["1/1"].Counts)
}

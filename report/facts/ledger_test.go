package facts_test

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/private"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/ledger/rules"
	"lapmark/ledger/sheet"
	"lapmark/report"
	"lapmark/report/facts"
	"lapmark/testdata/quillstead"
)

// inker writes a ledger out of sheets, as a shop does: names resolved, filled,
// committed, signed, checked again after each entry. Salts and keys are fixed.
type inker struct {
	t      *testing.T
	terms  report.Terms
	text   []byte
	sides  [][]byte // texts of the branches taken in
	opened map[ledger.No]map[string]string
	verify sshsig.Verifier
	r      *ledger.Replay // nil before the intake
	hand   string         // whose key signs, "" = the house
	limits rules.Limits
}

func newInker(t *testing.T, terms report.Terms) *inker {
	t.Helper()
	return &inker{t: t, terms: terms, opened: map[ledger.No]map[string]string{}}
}

// continued writes on in a ledger.
func continued(t *testing.T, r *ledger.Replay) *inker {
	t.Helper()
	k := newInker(t, quillstead.Terms())
	k.r, k.opened = r, maps.Clone(r.Opened)
	for _, e := range r.Coach.Entries {
		leaf, err := format.Leaf(e.L1, e.Sig)
		require.NoError(t, err)
		k.text = append(k.text, leaf...)
	}
	return k
}

// ink takes all notes of a sheet into the ledger.
func (k *inker) ink(text, at string) {
	k.t.Helper()
	for _, n := range sheet.Read(text, sheet.Heading{}) {
		require.NoError(k.t, n.Err, n.Words)
		require.Empty(k.t, n.Draft.Lacks(), n.Words)
		k.add(k.act(n), n.Draft.Private, n.Heading.Zone, at)
	}
}

// act resolves a note into a draft of an entry.
func (k *inker) act(n sheet.Note) *ledger.Act {
	k.t.Helper()
	d := n.Draft.Clone()
	if changes := d.Body["changes"]; changes != nil {
		says := d.Body["answers"].(format.Array)[0].(string)
		no, ok := k.r.Tagged(says)
		if !ok {
			no, ok = ledger.ParseNo(says[1:])
		}
		require.True(k.t, ok)
		old := k.r.Act(no)
		before := ledger.Unresolve(old.Kind, old.Body, nil, k.names())
		found, err := sheet.Changes(changes, before, n.Heading)
		require.NoError(k.t, err)
		d.Body["changes"] = found
	}
	body, err := d.Resolve(k.names())
	require.NoError(k.t, err, n.Words)
	return &ledger.Act{No: ledger.No{N: k.size() + 1}, Kind: d.Kind, Body: body, House: true, Counts: true}
}

func (k *inker) size() int64 {
	if k.r == nil {
		return 0
	}
	return int64(len(k.r.Coach.Entries))
}

func (k *inker) names() ledger.Names {
	n := ledger.Names{
		No:  func(string) (ledger.No, bool) { return ledger.No{}, false },
		Tag: func(ledger.No) string { return "" },
		Photo: func(name string) (string, bool) {
			sum := sha256.Sum256([]byte(name))
			return hex.EncodeToString(sum[:]), true
		},
	}
	if k.r != nil {
		n.No, n.Tag, n.Last = k.r.Tagged, k.r.TagOf, k.size()
	}
	return n
}

// add fills, seals and adds one entry.
func (k *inker) add(a *ledger.Act, values map[string]string, zone, at string) {
	k.t.Helper()
	c := rules.Case{Replay: k.r, Act: a, Zone: zone, Limits: k.limits}
	require.NoError(k.t, rules.Fill(c))
	rules.Ask(c)
	switch a.Kind {
	case "intake":
		a.Body["nonce"] = "00000000000000000000000000000000"
		a.Body["house"] = keyring.DemoSigner("K1").Public().Line()
		a.Body["recovery"] = keyring.DemoSigner("R").Public().Fingerprint()
	case "certificate":
		k.sentences(a)
	case "given-out":
		sum := sha256.Sum256([]byte("how to check"))
		a.Body["how-to-check"] = hex.EncodeToString(sum[:])
	}
	k.seal(a, values, at)
}

// sentences writes into a certificate all that it prints.
func (k *inker) sentences(a *ledger.Act) {
	k.t.Helper()
	f, err := facts.Certificate(k.r, a, facts.Options{Terms: k.terms, Copy: report.PassOnCopy})
	require.NoError(k.t, err)
	says := report.CertificateSentences(f, k.terms)
	require.NoError(k.t, report.SentencesFit(says))
	a.Body["language"] = "en"
	var list format.Array
	for _, s := range says {
		list = append(list, format.Object{"key": s.Key, "says": s.Says})
	}
	a.Body["sentences"] = list
}

// seal commits the private values, signs, and checks the whole ledger.
func (k *inker) seal(a *ledger.Act, values map[string]string, at string) {
	k.t.Helper()
	kind, _ := ledger.KindNamed(a.Kind)
	sealed := format.Object{}
	for _, name := range privateNames(kind) {
		salt := sha256.Sum256(fmt.Appendf(nil, "salt %s %s", a.No, name))
		value, said := values[name]
		switch {
		case said:
			slip, err := private.Make([16]byte(salt[:16]), name, value)
			require.NoError(k.t, err)
			sealed[name] = private.Commit(slip)
		case !slices.Contains(kind.FreeTexts(), name):
			blank, err := private.Blank(bytes.NewReader(salt[:]))
			require.NoError(k.t, err)
			sealed[name] = blank
		}
	}
	if len(sealed) > 0 {
		a.Body["private"] = sealed
	}
	body, err := format.Encode(a.Body)
	require.NoError(k.t, err)
	key := keyring.DemoSigner(cmp.Or(k.hand, "K1"))
	prev := (&ledger.Coach{}).Newest()
	if k.r != nil {
		prev = k.r.Coach.Newest()
	}
	l1, err := format.Line{At: at, Body: body, Key: key.Public().Fingerprint(), Kind: a.Kind, Prev: prev, V: 1}.Append(nil)
	require.NoError(k.t, err)
	blob, err := key.Sign(ledger.EntryNamespace, append(slices.Clone(l1), '\n'))
	require.NoError(k.t, err)
	leaf, err := format.Leaf(l1, blob)
	require.NoError(k.t, err)
	k.text = append(k.text, leaf...)
	coach, err := ledger.Check(k.text, k.verify.Verify, k.sides...)
	require.NoError(k.t, err)
	k.opened[a.No] = values
	k.r = ledger.NewReplay(coach, k.opened)
}

// takeIn takes in what side wrote after entry from, and returns the number of
// the take-in.
func (k *inker) takeIn(side *inker, from int64) int64 {
	k.t.Helper()
	var text []byte
	for _, e := range side.r.Coach.Entries[from:] {
		leaf, err := format.Leaf(e.L1, e.Sig)
		require.NoError(k.t, err)
		text = append(text, leaf...)
	}
	head := func(h format.Head) format.Object {
		return format.Object{"root": format.EncodeBase64(h.Root[:]), "size": h.Size}
	}
	sum, tip := sha256.Sum256(text), side.r.Coach.Newest()
	k.sides = append(k.sides, text)
	no := k.size() + 1
	k.seal(&ledger.Act{No: ledger.No{N: no}, Kind: "take-in", Body: format.Object{
		"happened": "2021-05-05", "by": format.Array{"desk"},
		"from": head(side.r.Coach.Head(from)), "head": head(tip), "count": tip.Size - from, "branch": hex.EncodeToString(sum[:]),
	}}, nil, "2021-05-05T10:00:00Z")
	return no
}

func privateNames(kind ledger.Kind) []string {
	names := kind.FreeTexts()
	for _, p := range kind.Privates {
		names = append(names, p.Name)
	}
	return names
}

// inkedAt is when each sheet of the demo was inked.
var inkedAt = []string{
	"2020-03-16T16:40:00Z", "2020-03-17T17:05:00Z", "2020-03-18T17:10:00Z", "2020-03-19T16:30:00Z", "2020-03-20T15:00:00Z",
	"2020-03-23T16:20:00Z", "2020-03-27T16:00:00Z", "2020-03-30T15:10:00Z", "2020-03-31T15:30:00Z", "2020-04-07T15:45:00Z",
	"2020-04-08T15:50:00Z", "2020-04-09T15:10:00Z", "2020-04-10T07:40:00Z", "2020-04-13T12:15:00Z", "2020-04-14T14:00:00Z",
	"2020-04-15T15:20:00Z", "2020-04-16T15:30:00Z", "2020-04-17T14:40:00Z", "2020-04-23T15:30:00Z", "2020-04-24T09:30:00Z",
}

// demo is the coach of the demo after so many sheets.
func demo(t *testing.T, sheets int) *ledger.Replay {
	t.Helper()
	k := newInker(t, quillstead.Terms())
	for i := range sheets {
		text, err := os.ReadFile(filepath.Join("../../cmd/internal/demo/sheets", fmt.Sprintf("%02d.txt", i+1)))
		require.NoError(t, err)
		k.ink(string(text), inkedAt[i])
	}
	return k.r
}

// certificate is the certificate of that number.
func certificate(t *testing.T, r *ledger.Replay, number string) *ledger.Act {
	t.Helper()
	no, ok := r.Tagged(number)
	require.True(t, ok)
	return r.Act(no)
}

func reportDay(t *testing.T, iso string) report.Day {
	t.Helper()
	d, err := report.NewDay(iso)
	require.NoError(t, err)
	return d
}

package check

import (
	"encoding/hex"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/testdata"
)

// keysOf are the test keys of those names.
func keysOf(names ...string) map[string]sshsig.Signer {
	out := map[string]sshsig.Signer{}
	for i, name := range names {
		out["key-"+string(rune('a'+i))] = seed(name)
	}
	return out
}

// keyChange names the next house and its recovery key, signed by the recovery
// key of the old house.
func (w *writer) keyChange(from, to string, more format.Object) int64 {
	w.t.Helper()
	body := format.Object{
		"reason": "planned", "house": seed(to).Public().Line(), "recovery": seed(to + "-recovery").Public().Fingerprint(),
	}
	maps.Copy(body, more)
	n := w.accepted(seed(from+"-recovery"), seed(to), "key-change", body)
	w.house = seed(to)
	return n
}

// accepted adds an entry that carries another key's acceptance.
func (w *writer) accepted(by, accepts sshsig.Signer, kind string, body format.Object) int64 {
	w.t.Helper()
	message, err := ledger.AcceptMessage(w.line(by, kind, body, nil))
	require.NoError(w.t, err)
	blob, err := accepts.Sign(ledger.AcceptNamespace, message)
	require.NoError(w.t, err)
	body["accept"] = format.EncodeBase64(blob)
	return w.sign(by, w.line(by, kind, body, nil))
}

// head is the head after the newest entry, as a body holds it.
func (w *writer) head() format.Object {
	root := w.edge.Root()
	return format.Object{"root": format.EncodeBase64(root[:]), "size": w.edge.Size()}
}

// handOver gives the ledger to the shop of that name, which takes it on.
func (w *writer) handOver(from, to string) {
	w.t.Helper()
	n := w.accepted(seed(from), seed(from+"-recovery"), "hand-over", format.Object{
		"to":  format.Object{"name": "Penny Drift Bodyworks", "place": "Penny Drift"},
		"key": seed(to).Public().Fingerprint(), "open-claims": format.Array{},
		"covers": format.Array{format.Object{"cert": "Q-0007", "lines": format.Array{int64(1), int64(2), int64(3)}}},
	})
	w.add(seed(to), "take-on", format.Object{
		"answers": format.Array{n}, "house": seed(to).Public().Line(),
		"recovery": seed(to + "-recovery").Public().Fingerprint(), "own-look": "to-do",
		"shop": format.Object{"name": "Penny Drift Bodyworks", "place": "Penny Drift"},
	}, nil)
	w.house = seed(to)
}

// TestTrust asks how the house key at the last entry stands.
func TestTrust(t *testing.T) {
	plain := func(t *testing.T) []byte { return coachOf3(t).history(seed("quillstead")) }
	changed := func(t *testing.T) []byte {
		w := coachOf3(t)
		w.keyChange("quillstead", "quillstead 2", nil)
		w.keyChange("quillstead 2", "quillstead 3", format.Object{"reason": "lost"})
		return w.history(seed("quillstead 3"))
	}
	takenOn := func(t *testing.T) []byte {
		w := coachOf3(t)
		w.handOver("quillstead", "penny drift")
		return w.history(seed("penny drift"))
	}
	takenOnChanged := func(t *testing.T) []byte {
		w := coachOf3(t)
		w.handOver("quillstead", "penny drift")
		w.keyChange("penny drift", "penny drift 2", nil)
		return w.history(seed("penny drift 2"))
	}
	tests := map[string]struct {
		file           func(t *testing.T) []byte
		trust, retired []string
		how            How
		settled        bool
		takenFrom      string
	}{
		"in the trust":                        {plain, []string{"quillstead"}, nil, InTrust, true, ""},
		"nobody in the trust":                 {plain, nil, nil, Unknown, false, ""},
		"another key in the trust":            {plain, []string{"low ferry"}, nil, Unknown, false, ""},
		"retired":                             {plain, nil, []string{"quillstead"}, Retired, false, ""},
		"retired, and still in the trust":     {plain, []string{"quillstead"}, []string{"quillstead"}, Retired, false, ""},
		"led to from the first key":           {changed, []string{"quillstead"}, nil, ByKeyChange, true, ""},
		"led to from the second key":          {changed, []string{"quillstead 2"}, nil, ByKeyChange, true, ""},
		"the newest in the trust":             {changed, []string{"quillstead", "quillstead 3"}, nil, InTrust, true, ""},
		"led to from a retired key":           {changed, []string{"quillstead"}, []string{"quillstead"}, Unknown, false, ""},
		"led to past a retired key":           {changed, []string{"quillstead"}, []string{"quillstead 2"}, ByKeyChange, true, ""},
		"the newest retired":                  {changed, []string{"quillstead"}, []string{"quillstead 3"}, Retired, false, ""},
		"only a recovery key in the trust":    {changed, []string{"quillstead-recovery"}, nil, Unknown, false, ""},
		"taken on by another shop":            {takenOn, []string{"quillstead"}, nil, Unknown, false, "key-a"},
		"taken on by a shop in the trust":     {takenOn, []string{"penny drift"}, nil, InTrust, true, ""},
		"taken on, nobody in the trust":       {takenOn, nil, nil, Unknown, false, ""},
		"taken on, then changed":              {takenOnChanged, []string{"quillstead"}, nil, Unknown, false, "key-a"},
		"taken on by a trusted shop, changed": {takenOnChanged, []string{"penny drift"}, nil, ByKeyChange, true, ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			in := input(t, test.file(t))
			in.Trust, in.Retired = trusting(t, keysOf(test.trust...)), trusting(t, keysOf(test.retired...))
			a := Verify(in)
			require.Equal(t, LeftTheHouse, a.Paper, a.Text())
			require.Equal(t, test.how, a.SignedBy.How, a.Text())
			require.Equal(t, test.settled, a.SignedBy.Settled)
			require.Equal(t, test.takenFrom, a.SignedBy.TakenFrom)
			require.Equal(t, test.takenFrom != "", a.SignedBy.TakenOn > 0)
			require.Equal(t, test.settled, len(a.Unsettled) == 0, a.Text())
			require.Empty(t, a.Bad)
		})
	}
}

func TestExpectedKey(t *testing.T) {
	in := input(t, coachOf3(t).history(seed("quillstead")))
	print := seed("quillstead").Public().Fingerprint()
	for _, typed := range []string{print, print[len("SHA256:"):], " " + print + "\n"} {
		in.Expect = typed
		a := Verify(in)
		require.Equal(t, 0, a.Exit())
		require.True(t, *a.SignedBy.Expected)
	}
	in.Expect = seed("low ferry").Public().Fingerprint()
	a := Verify(in)
	require.Equal(t, 3, a.Exit())
	require.Contains(t, a.Bad, OtherKey)
	require.Equal(t, LeftTheHouse, a.Paper)

	in.Expect, in.Trust = print, trusting(t, nil)
	require.Equal(t, 7, Verify(in).Exit(), "a fingerprint that agrees is no trust")
}

// Demo keys settle only in a folder made by demo, whatever stands in a trust
// file: their secrets are known to everybody.
func TestDemoKeys(t *testing.T) {
	k1, r := keyring.DemoSigner("K1"), keyring.DemoSigner("R")
	plain := newWriterWith(t, k1, r).history(k1)
	list := map[string]sshsig.Signer{"quillstead": k1}

	in := input(t, plain)
	in.Trust = trusting(t, list)
	a := Verify(in)
	require.Equal(t, DemoKey, a.SignedBy.How)
	require.Equal(t, 7, a.Exit())

	in.DemoFolder = true
	a = Verify(in)
	require.Equal(t, InTrust, a.SignedBy.How)
	require.Equal(t, 0, a.Exit())

	in.Trust = trusting(t, nil)
	a = Verify(in)
	require.Equal(t, Unknown, a.SignedBy.How)
	require.Equal(t, 7, a.Exit())

	// A demo key leads nowhere: everybody has its recovery key.
	w := newWriterWith(t, k1, r)
	w.accepted(r, seed("thief"), "key-change", format.Object{
		"reason": "planned", "house": seed("thief").Public().Line(), "recovery": seed("thief-recovery").Public().Fingerprint(),
	})
	in = input(t, w.history(seed("thief")))
	in.Trust = trusting(t, list)
	a = Verify(in)
	require.Equal(t, Unknown, a.SignedBy.How)
	require.Contains(t, a.Unsettled, KeyUnknown)
}

// A key reported as stolen: what lies above the last head the shop vouches for
// is doubtful, whatever its date, until the house adopts it.
func TestStolenKey(t *testing.T) {
	w := coachOf3(t)
	firm := w.head()
	w.at = firstAt - 86400*365                                               // the thief dates it back
	w.add(seed("quillstead"), "certificate", certificateBody("Q-0666"), nil) // 4
	w.add(seed("low ferry"), "remark", format.Object{"shop": signerBody("Low Ferry Coachworks")}, map[string]string{"note": "seen"})
	w.add(seed("quillstead"), "finding", findingBody("F2"), map[string]string{"no-photo": "dark"}) // 6
	w.at = firstAt + 86400*30
	change := w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})

	a := Verify(input(t, w.side().history(seed("quillstead 2"))))
	require.True(t, a.Whole)
	require.Equal(t, LeftTheHouse, a.Paper, a.Text())
	require.Equal(t, ByKeyChange, a.SignedBy.How)
	require.Len(t, a.Doubtful, 1)
	d := a.Doubtful[0]
	require.Equal(t, "4, 6", d.Entries)
	require.EqualValues(t, 3, d.Firm)
	require.Equal(t, change, d.Change)
	require.Equal(t, []string{"Q-0666"}, d.Certificates)
	require.EqualValues(t, 4, d.BuiltOn, "the guest's entry 5 stands on it")
	require.Equal(t, []string{
		"Doubtful: entries 4, 6, by the old key above entry 3, the last the shop vouches for, and not adopted since.",
		"The shop disowns entries 4, 6 and says its key was stolen.",
		"Q-0666 is among them: a claim on it ends in no verdict, which is neither yes nor no.",
		"Another shop had built on entry 4.",
	}, d.Says)
	require.Empty(t, a.Promised, "a disowned certificate promises nothing")
	require.Len(t, a.Found, 1, "nor is a doubtful finding a fact")
	require.Contains(t, a.Text(),
		"New key from entry 7, named by the recovery key. The old one was stolen; the\n    shop vouches for entries 1 to 3.")
	require.Contains(t, a.Text(), "Entry 4: Written 365 days before the entry above.")

	w.add(seed("quillstead 2"), "remark", format.Object{"adopts": format.Array{int64(6)}}, nil)
	a = Verify(input(t, w.history(seed("quillstead 2"))))
	require.Equal(t, "4", a.Doubtful[0].Entries, "entry 6 was adopted")
	require.Len(t, a.Found, 2)
}

// A key-change that names a last firm head for another reason: doubtful, and
// nothing is said of a thief. A guest's entry below the doubtful ones is built
// on nothing of theirs.
func TestLostKeyWithFirm(t *testing.T) {
	w := coachOf3(t)
	firm := w.head()
	note(w, seed("low ferry"), "seen")
	note(w, w.house, "the last")
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "lost", "firm": firm})
	a := Verify(input(t, w.text))
	require.Equal(t, []string{
		"Doubtful: entries 5, by the old key above entry 3, the last the shop vouches for, and not adopted since.",
	}, a.Doubtful[0].Says)
	require.Zero(t, a.Doubtful[0].BuiltOn)
	require.Equal(t, "New key from entry 6, named by the recovery key. The old one is lost.", a.KeyChanges[0].Says)
}

// Two reports of a stolen key: each disowns its own entries, and a certificate
// is named by the one that disowns it.
func TestTwoStolenKeys(t *testing.T) {
	w := coachOf3(t)
	early := w.head()
	w.add(w.house, "certificate", format.Object{"tag": "Q-1"}, nil) // 4, of the older report
	late := w.head()
	note(w, seed("low ferry"), "built on 4")
	w.add(w.house, "certificate", format.Object{"tag": "Q-2"}, nil) // 6, of the newer one
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": early})
	w.keyChange("quillstead 2", "quillstead 3", format.Object{"reason": "stolen", "firm": late})
	a := Verify(input(t, w.text))
	require.Len(t, a.Doubtful, 2)
	require.Equal(t, []string{"Q-1"}, a.Doubtful[0].Certificates)
	require.EqualValues(t, 4, a.Doubtful[0].BuiltOn)
	require.Equal(t, []string{"Q-2"}, a.Doubtful[1].Certificates)
	require.Zero(t, a.Doubtful[1].BuiltOn)
}

// What is doubtful is said too where a later entry is broken.
func TestDoubtfulInABrokenLedger(t *testing.T) {
	w := coachOf3(t)
	firm := w.head()
	note(w, w.house, "a thief's")
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	note(w, w.house, "later")
	a := Verify(input(t, flipped(w.text, len(w.text)-20)))
	require.EqualValues(t, 6, a.FirstBad)
	require.EqualValues(t, 5, a.Entries)
	require.Len(t, a.Doubtful, 1)
	require.Equal(t, 3, a.Exit())
}

// A key that the house took up again is not given up.
func TestKeyTakenUpAgain(t *testing.T) {
	w := coachOf3(t)
	w.keyChange("quillstead", "quillstead 2", nil)
	w.house = seed("quillstead")
	note(w, w.house, "by the old key")
	a := Verify(input(t, w.text))
	require.Contains(t, a.Remarks, Remark{"5", "Signed with a key the house gave up: it was replaced by entry 4."})

	w = coachOf3(t)
	w.keyChange("quillstead", "quillstead 2", nil)
	w.accepted(seed("quillstead 2-recovery"), seed("quillstead"), "key-change", format.Object{
		"reason": "planned", "house": seed("quillstead").Public().Line(), "recovery": seed("r3").Public().Fingerprint(),
	})
	w.house = seed("quillstead")
	a = Verify(input(t, w.history(w.house)))
	require.Equal(t, LeftTheHouse, a.Paper)
	for _, k := range a.Keys {
		require.Zero(t, k.GivenUp, k.says())
	}
}

// The thief's own paper, beside a newer one that shows the key-change: its
// given-out is doubtful, so these are not pages that left the house.
func TestPaperOfAStolenKey(t *testing.T) {
	w := coachOf3(t)
	firm := w.head()
	w.add(seed("quillstead"), "certificate", certificateBody("Q-0666"), nil)
	thiefs := w.history(seed("quillstead"))
	a := Verify(input(t, thiefs))
	require.Equal(t, LeftTheHouse, a.Paper, "alone nothing shows it")

	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	in := input(t, thiefs)
	in.With = []Paper{{Name: "newer", File: w.history(seed("quillstead 2"))}}
	a = Verify(in)
	require.Equal(t, PagesDiffer, a.Paper)
	require.Equal(t, 3, a.Exit())
	require.Contains(t, a.PagesWhy, "doubtful")
}

// Who closes is named by the name of that time; so is the house that took a
// guest's entries as its own, or did not.
func TestHouseOfItsTime(t *testing.T) {
	guest := seed("low ferry")
	w := coachOf3(t)
	note(w, guest, "looked at")                                                                                  // 4
	note(w, guest, "patched")                                                                                    // 5
	w.handOver("quillstead", "penny drift")                                                                      // 6, 7
	note(w, guest, "looked at again")                                                                            // 8
	w.add(w.house, "remark", format.Object{"adopts": format.Array{int64(5)}}, nil)                               // 9
	w.accepted(w.house, seed("penny drift-recovery"), "hand-over", format.Object{"open-claims": format.Array{}}) // 10
	a := Verify(input(t, w.text))
	var says []string
	for _, k := range a.KeyChanges {
		says = append(says, k.Says)
	}
	require.Equal(t, "Entry 6: Quillstead Roof Works closes and hands over to Penny Drift Bodyworks: Q-0007 lines 1 to 3. "+
		"Any other line is taken over by nobody.", says[0])
	require.Equal(t, "Entry 10: Penny Drift Bodyworks closes. Nobody takes its promises over.", says[2])
	by := " by a guest, a key not in your trust, " + guest.Public().Fingerprint() + ". "
	require.Equal(t, []string{
		"Entry 4" + by + "It changes no line of Quillstead Roof Works.",
		"Entry 5" + by + "Adopted by Penny Drift Bodyworks in entry 9.",
		"Entry 8" + by + "It changes no line of Penny Drift Bodyworks.",
	}, a.guestsSaid())
	require.Equal(t, a.guestsSaid(), []string{a.Guests[0].Says, a.Guests[1].Says, a.Guests[2].Says})
}

func signerBody(name string) format.Object {
	return format.Object{"name": name, "place": "Low Ferry"}
}

func certificateBody(tag string) format.Object {
	return format.Object{
		"tag": tag, "holder": "holder-1", "title": "limited", "rules": int64(1), "language": "en",
		"numbers":    format.Object{"report-days": int64(30)},
		"conditions": format.Array{"yearly-upkeep"}, "exclusions": format.Array{"hail"}, "shop-side": format.Array{"bad-weld"},
		"sentences": format.Array{format.Object{"key": "title", "says": "Limited warranty"}},
		"lines": format.Array{
			certificateLine(1, "bond", "2020-04-24", 120), certificateLine(2, "watertight-tie-in", "2020-04-24", 24),
			certificateLine(3, "sound-frame", "2027-01-01", 12),
		},
	}
}

func certificateLine(n int64, promise, first string, months int64) format.Object {
	return format.Object{
		"line": n, "promise": promise, "first-day": first, "months": months, "full-months": months, "upkeep": false,
		"places": format.Array{field(3700, 7400)},
	}
}

// TestRoles writes every kind in every role: the house all but key-change, the
// recovery key nothing but key-change, a guest what a guest may, by the table
// of the specification.
func TestRoles(t *testing.T) {
	guestMay := []string{
		"measure", "finding", "not-looked-at", "decision", "delivery", "work", "cure", "check", "remark", "certificate",
		"given-out", "upkeep", "later-work", "correction",
	}
	for _, kind := range ledger.Kinds() {
		for role, by := range map[string]sshsig.Signer{
			"house": seed("quillstead"), "recovery": seed("quillstead-recovery"), "guest": seed("low ferry"),
		} {
			t.Run(kind.Name+" by "+role, func(t *testing.T) {
				w := coachOf3(t)
				switch kind.Name {
				case "key-change":
					w.accepted(by, seed("next"), kind.Name, format.Object{
						"reason": "planned", "house": seed("next").Public().Line(), "recovery": seed("next-recovery").Public().Fingerprint(),
					})
				case "hand-over":
					w.accepted(by, seed("quillstead-recovery"), kind.Name, format.Object{"open-claims": format.Array{}})
				case "take-in":
					w.add(by, kind.Name, format.Object{"from": w.head(), "head": w.head(), "count": int64(1), "branch": hexOf(nil)}, nil)
				default:
					w.add(by, kind.Name, format.Object{}, nil)
				}
				may := kind.Name != "key-change" && kind.Name != "intake" && kind.Name != "take-on"
				switch role {
				case "recovery":
					may = kind.Name == "key-change"
				case "guest":
					may = slices.Contains(guestMay, kind.Name)
				}
				a := Verify(input(t, w.text))
				require.Equal(t, may, a.Whole, a.Text())
				if may {
					require.Equal(t, role, a.Keys[len(a.Keys)-1].Role, a.Text())
					return
				}
				require.EqualValues(t, 4, a.FirstBad)
				require.EqualValues(t, 3, a.Entries)
				require.Equal(t, 3, a.Exit())
				require.Contains(t, a.FirstBadSays[0], "Entry 4: ")
				require.Equal(t, "Entries 1–3 hold; nothing later is used.", a.FirstBadSays[1])
			})
		}
	}
}

func TestRoleInWords(t *testing.T) {
	w := coachOf3(t)
	w.add(seed("low ferry"), "transfer", format.Object{}, nil)
	a := Verify(input(t, w.text))
	require.Equal(t, "Entry 4: a guest may not write transfer.", a.FirstBadSays[0])
}

// A take-on under another key than the newest hand-over names, and a second
// one, are broken.
func TestTakeOnOnce(t *testing.T) {
	w := coachOf3(t)
	w.handOver("quillstead", "penny drift")
	again := w.side()
	again.add(seed("penny drift"), "take-on", format.Object{
		"answers": format.Array{int64(4)}, "house": seed("penny drift").Public().Line(),
		"recovery": seed("x").Public().Fingerprint(), "own-look": "to-do",
	}, nil)
	require.EqualValues(t, 6, Verify(input(t, again.text)).FirstBad)

	w.add(seed("quillstead"), "transfer", format.Object{}, nil)
	require.EqualValues(t, 6, Verify(input(t, w.text)).FirstBad, "the old house is a guest now")
}

// Keys under which any words verify, from the reference table; the signature
// of the identity is R = the identity, S = 0.
func TestWeakKeys(t *testing.T) {
	tried := 0
	for _, row := range testdata.Reference(t, "signatures.csv") {
		public, ok := strings.CutPrefix(row.Inputs, "public=")
		if row.Quantity != "public key to be refused" || !ok {
			continue
		}
		raw, err := hex.DecodeString(public)
		require.NoError(t, err, row.ID)
		w := coachOf3(t)
		w.add(weak(raw), "remark", format.Object{}, map[string]string{"note": "anybody"})
		in := input(t, w.text)
		a := Verify(in)
		require.False(t, a.Whole, row.ID)
		require.EqualValues(t, 4, a.FirstBad, row.ID)
		require.Equal(t, saysWeakKey, a.Why, row.ID)
		require.Equal(t, 3, a.Exit())
		tried++
	}
	require.Greater(t, tried, 4)
}

// weak signs with a key that is no key.
type weak []byte

func (w weak) Public() sshsig.PublicKey { return sshsig.PublicKey(w) }

func (w weak) Sign(namespace string, _ []byte) ([]byte, error) {
	identity := [64]byte{1}
	return sshsig.Build(sshsig.PublicKey(w), namespace, identity), nil
}

// The text that a buyer runs follows the house through its changes as the
// check does. (It then stops: it is not the text those papers were made with.)
func TestHowToCheckFollowsTheHouse(t *testing.T) {
	bash := testdata.Program(t, "bash")
	testdata.Program(t, "ssh-keygen")
	script, err := filepath.Abs("../shop/how-to-check.txt")
	require.NoError(t, err)
	run := func(w *writer, by string) string {
		w.history(seed(by))
		work := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(work, "ledger.txt"), w.text, 0o600))
		cmd := exec.Command(bash, script)
		cmd.Dir = work
		out, err := cmd.CombinedOutput()
		require.Error(t, err, "%s", out)
		return string(out)
	}
	of := func(name string) string { return "Key of the house: " + seed(name).Public().Fingerprint() }

	w := coachOf3(t)
	require.Contains(t, run(w, "quillstead"), of("quillstead"))
	w.keyChange("quillstead", "quillstead 2", nil)
	require.Contains(t, run(w, "quillstead 2"), of("quillstead 2"))
	require.Contains(t, run(w, "quillstead"), "given out by the guest "+seed("quillstead").Public().Fingerprint())

	w = coachOf3(t)
	w.handOver("quillstead", "penny drift")
	require.Contains(t, run(w, "penny drift"), of("penny drift"))
	require.Contains(t, run(w, "quillstead"), "given out by the guest ")

	w = coachOf3(t)
	w.accepted(seed("low ferry"), seed("low ferry"), "key-change", format.Object{
		"reason": "planned", "house": seed("low ferry").Public().Line(), "recovery": seed("x").Public().Fingerprint(),
	})
	require.Contains(t, run(w, "low ferry"), "changes the key without the recovery key")
}

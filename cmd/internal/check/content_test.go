package check

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
)

func decide(w *writer, choice, warned string, places format.Array, answers ...format.Value) int64 {
	w.t.Helper()
	body := format.Object{
		"choice": choice, "holder": "holder-1", "places": places,
		"given": format.Array{format.Object{"how": "phone", "when": "2020-03-17"}},
	}
	if len(answers) > 0 {
		body["answers"] = answers
	}
	return w.add(w.house, "decision", body, map[string]string{"warned": warned})
}

func workBody(state, op string, answers ...format.Value) format.Object {
	body := format.Object{
		"ops":   format.Array{format.Object{"op": op, "places": format.Array{field(5550, 6450)}}},
		"state": state, "hides": false,
	}
	if len(answers) > 0 {
		body["answers"] = answers
	}
	return body
}

// TestContent works one finding through a decision and its work, leaves
// another, gives one to the holder and one away.
func TestContent(t *testing.T) {
	w := newWriter(t, "quillstead")
	guest := seed("low ferry")
	f1 := w.add(w.house, "finding", findingBody("F1"), nil)
	f2 := w.add(w.house, "finding", findingBody("F2"), nil)
	yes := decide(w, "repair-now", "", format.Array{field(5550, 6450)}, f1)
	w.add(w.house, "work", workBody("open", "open-up", yes), nil)    // 5
	w.add(w.house, "work", workBody("closed", "lay-deck", yes), nil) // 6
	w.add(w.house, "work", workBody("closed", "tarp", yes), nil)     // 7
	w.add(guest, "work", workBody("closed", "patch"), nil)           // 8
	w.add(w.house, "remark", format.Object{"adopts": format.Array{int64(8)}}, nil)
	w.add(guest, "work", workBody("closed", "patch"), nil) // 10, not adopted
	decide(w, "leave", "Water may run aft under the skin.", format.Array{field(0, 200)}, f2)
	decide(w, "holder-does", "", format.Array{field(200, 400)})
	decide(w, "another-shop", "", format.Array{field(400, 600)}, f2)

	a := Verify(input(t, w.history(w.house)))
	require.Equal(t, 0, a.Exit(), a.Text())
	require.Len(t, a.Found, 2)
	trouble := a.Found[0].Says // worded where papers are
	require.Contains(t, trouble, "standing water")
	require.Contains(t, trouble, "14 mm")
	require.Equal(t, Finding{
		Entry: "2", Tag: "F1", Day: "2020-03-16", Defect: "standing-water", Says: trouble,
		Places: "5550–6450 aft, full width", Deep: "in the core", Soon: "before it stands out in rain", Sure: "measured",
		By: "house", Became: []Remark{{"4", "repair now"}, {"5", "open up, open"}, {"6", "lay deck, closed"}, {"7", "tarp, closed"}},
	}, a.Found[0])
	require.Equal(t, []Rebuilt{
		{Entry: "6", Day: "2020-03-16", By: "house", Ops: []Op{{"lay-deck", "lay deck", "5550–6450 aft, full width"}}},
		{Entry: "8", Day: "2020-03-16", By: guest.Public().Fingerprint(), Ops: []Op{{"patch", "patch", "5550–6450 aft, full width"}}},
	}, a.Rebuilt, "a tarp closes nothing, and entry 10 was not adopted")
	require.Equal(t, []Left{
		{
			"11", "2020-03-17", "house", "leave", "0–200 aft, full width",
			"0–200 aft, full width: " + trouble + ". Left by the holder on 17 March 2020. Water may run aft under the skin.",
		},
		{"12", "2020-03-17", "house", "holder-does", "200–400 aft, full width", "200–400 aft, full width: the holder's own work."},
		{
			"13", "2020-03-17", "house", "another-shop", "400–600 aft, full width",
			"400–600 aft, full width: " + trouble + ". Another shop, 17 March 2020.",
		},
	}, a.Left)
}

// TestPromised says terms by the certificate's own words, on the day of the
// reader. Last days: 24 months from 2020-04-24 end with 2022-04-23, 120 with
// 2030-04-23 (German Civil Code sections 187(2), 188(2): from memory).
func TestPromised(t *testing.T) {
	w := newWriter(t, "quillstead")
	guest := seed("low ferry")
	w.add(w.house, "certificate", certificateBody("Q-0007"), nil)
	w.add(guest, "certificate", certificateBody("LF-112"), nil)
	w.add(w.house, "certificate", with(certificateBody("Q-0031"), "instead-of",
		format.Array{format.Object{"cert": "Q-0007", "lines": format.Array{int64(1)}}, format.Object{"cert": "Q-0099"}}), nil)
	w.add(w.house, "certificate", certificateBody("Q-0099"), nil) // named by none that follows
	w.add(guest, "certificate", with(certificateBody("LF-113"), "instead-of",
		format.Array{format.Object{"cert": "Q-0031"}}), nil)
	firm := w.head()
	w.add(w.house, "certificate", with(certificateBody("Q-0666"), "instead-of",
		format.Array{format.Object{"cert": "Q-0031"}}), nil) // by a thief of the key
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	a := Verify(input(t, w.text))
	require.Len(t, a.Promised, 5)
	require.Empty(t, a.Promised[3].Later)
	require.Equal(t, []Remark{{"6", "certificate, by " + guest.Public().Fingerprint() + ", not adopted"}}, a.Promised[2].Later)
	q := a.Promised[0]
	require.Equal(t, "Q-0007", q.Tag)
	require.Equal(t, byHouse, q.By)
	require.Equal(t, []Remark{{"4", "certificate"}}, q.Later)
	require.Equal(t, []Line{
		{1, "bond", "bond", "3700–7400 aft, full width", "2020-04-24", 120, "2030-04-23", Running},
		{2, "watertight-tie-in", "watertight tie-in", "3700–7400 aft, full width", "2020-04-24", 24, "2022-04-23", Over},
		{3, "sound-frame", "sound frame", "3700–7400 aft, full width", "2027-01-01", 12, "2027-12-31", NotBegun},
	}, q.Lines)
	require.Equal(t, "By the certificate's own words; later entries may end it.", q.Says)
	require.Equal(t, guest.Public().Fingerprint(), a.Promised[1].By)
	require.Contains(t, a.Promised[1].Says, "LF-112 is the promise of "+guest.Public().Fingerprint()+" alone.")
	require.Contains(t, a.Text(), "last day 23 April 2022; over since 24 April 2022")
}

func with(body format.Object, name string, v format.Value) format.Object {
	body[name] = v
	return body
}

// TestRemarks gathers what breaks nothing and is said.
func TestRemarks(t *testing.T) {
	house, guest := seed("quillstead"), seed("low ferry")
	soon := func(no int64) format.Object {
		return format.Object{
			"answers": format.Array{no},
			"changes": format.Array{format.Object{"at": "/soon", "old": "before-rain", "new": "no-need"}},
		}
	}
	why := map[string]string{"why": "dry", "found": "at the desk"}
	tests := map[string]struct {
		add  func(w *writer)
		says Remark
		exit int
	}{
		"a clock that went back": {func(w *writer) {
			w.at -= 3600 + 240
			note(w, house, "early")
		}, Remark{"4", "written 4 minutes before the entry above"}, 0},
		"a guest's adopts": {func(w *writer) {
			w.add(guest, "remark", format.Object{"adopts": format.Array{int64(2)}}, nil)
		}, Remark{"4", saysGuestAdopts}, 0},
		"a guest's correction of the house": {func(w *writer) {
			w.add(guest, "correction", soon(2), why)
		}, Remark{"4", "its correction of entry 2 has no effect"}, 0},
		"an unknown kind": {func(w *writer) {
			w.add(house, "drone-look", format.Object{"seen": true}, nil)
		}, Remark{"4", `Newer than this tool: "drone-look", printed as it stands. What may depend on it: cannot say.`}, 7},
		"an unknown kind by a guest": {func(w *writer) {
			w.add(guest, "drone-look", format.Object{"seen": true}, nil)
		}, Remark{"4", `Newer than this tool: "drone-look", printed as it stands. What may depend on it: cannot say.`}, 0},
		"one by a guest, adopted": {func(w *writer) {
			w.add(guest, "drone-look", format.Object{"seen": true}, nil)
			w.add(house, "remark", format.Object{"adopts": format.Array{int64(4)}}, nil)
		}, Remark{"4", `Newer than this tool: "drone-look", printed as it stands. What may depend on it: cannot say.`}, 7},
		"an unknown word in a kind that can change cover": {func(w *writer) {
			w.add(house, "finding", with(findingBody("F9"), "defect", "moon-dust"), nil)
		}, Remark{"4", `Newer than this tool: "defect moon-dust", printed as it stands. What may depend on it: cannot say.`}, 7},
		"an unknown member in a kind that cannot": {func(w *writer) {
			w.add(house, "not-looked-at", format.Object{"places": format.Array{field(0, 100)}, "moon": true}, map[string]string{"why": "night"})
		}, Remark{"4", `Newer than this tool: "moon", printed as it stands. What may depend on it: cannot say.`}, 0},
		"a newer version of the format": {func(w *writer) {
			line := w.line(house, "remark", format.Object{}, map[string]string{"note": "later"})
			line.V = 2
			w.sign(house, line)
		}, Remark{"4", `Newer than this tool: "v 2", printed as it stands. What may depend on it: cannot say.`}, 0},
		"not about this coach": {func(w *writer) {
			w.add(house, "correction", format.Object{"answers": format.Array{int64(2)}, "not-this-coach": true}, why)
		}, Remark{"2", "not about this coach, says entry 4"}, 0},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			w := coachOf3(t)
			test.add(w)
			a := Verify(input(t, w.history(house)))
			require.Equal(t, LeftTheHouse, a.Paper, a.Text())
			require.Equal(t, []Remark{test.says}, a.Remarks, a.Text())
			require.Equal(t, test.exit, a.Exit(), a.Text())
		})
	}
}

// A house correction changes what is shown; a guest corrects his own entries.
func TestCorrectionsAreApplied(t *testing.T) {
	guest := seed("low ferry")
	for _, by := range []sshsig.Signer{seed("quillstead"), guest} {
		w := newWriter(t, "quillstead")
		w.add(by, "finding", findingBody("F1"), nil)
		w.add(by, "correction", format.Object{
			"answers": format.Array{int64(2)},
			"changes": format.Array{format.Object{"at": "/soon", "old": "before-rain", "new": "no-need"}},
		}, map[string]string{"why": "dry", "found": "at the desk"})
		a := Verify(input(t, w.text))
		require.Empty(t, a.Remarks, a.Text())
		require.Equal(t, "no need", a.Found[0].Soon)
	}
}

func TestLent(t *testing.T) {
	w := coachOf3(t)
	w.giveOut(w.house, format.Object{"paper": "bundle", "to-work": true, "to": "lf-foreman", "reader": "later-shop"}, nil)
	a := Verify(input(t, w.text))
	require.Equal(t, []Remark{{"4", "Lent to lf-foreman on 16 March 2020, up to entry 3."}}, a.Lent)
	w.add(w.house, "remark", format.Object{"answers": format.Array{int64(4)}}, map[string]string{"note": "it came back"})
	require.Empty(t, Verify(input(t, w.text)).Lent)

	w = coachOf3(t)
	for range 3 {
		w.giveOut(w.house, format.Object{"paper": "bundle", "to-work": true, "to": "lf-foreman"}, nil)
	}
	w.add(w.house, "remark", format.Object{"answers": format.Array{int64(5)}}, map[string]string{"note": "it came back"})
	a = Verify(input(t, w.text))
	require.Equal(t, []string{"4", "6"}, []string{a.Lent[0].Entry, a.Lent[1].Entry})
	require.Len(t, a.Lent, 2)

	w = coachOf3(t)
	w.giveOut(w.house, format.Object{"paper": "bundle", "to-work": true, "to": "lf-foreman"}, nil)
	note(w, seed("low ferry"), "patched")
	require.Empty(t, Verify(input(t, w.text)).Lent, "a guest has written since")

	w = coachOf3(t)
	w.giveOut(seed("low ferry"), format.Object{"paper": "bundle", "to-work": true, "to": "desk"}, nil)
	require.Empty(t, Verify(input(t, w.text)).Lent, "a guest lends nothing")
}

// What was struck out is no fact: a guest strikes his own.
func TestStruckOut(t *testing.T) {
	guest := seed("low ferry")
	w := newWriter(t, "quillstead")
	why := map[string]string{"why": "another coach", "found": "at the desk"}
	f := w.add(w.house, "finding", findingBody("F1"), nil)
	d := decide(w, "repair-now", "", format.Array{field(0, 1)}, f)
	w.add(w.house, "correction", format.Object{"answers": format.Array{d}, "not-this-coach": true}, why)
	g := w.add(guest, "finding", findingBody("F2"), nil)
	w.add(guest, "correction", format.Object{"answers": format.Array{g}, "not-this-coach": true}, why)
	a := Verify(input(t, w.text))
	require.Len(t, a.Found, 1)
	require.Empty(t, a.Found[0].Became)
	require.Len(t, a.Remarks, 2)
}

// Spans in whole years and the days beyond them, counted by hand.
func TestSince(t *testing.T) {
	for _, test := range [][3]string{
		{"2025-04-30", "2025-04-30", "today"},
		{"2025-04-30", "2025-05-01", "1 day"},
		{"2025-04-30", "2026-04-29", "364 days"},
		{"2025-04-30", "2026-04-30", "1 year"},
		{"2025-04-30", "2026-11-25", "1 year and 209 days"},
		{"2020-12-31", "2026-01-01", "5 years and 1 day"},
		{"2020-02-29", "2021-02-27", "364 days"},
		{"2020-02-29", "2021-02-28", "1 year"},
		{"9998-12-31", "9999-12-31", "1 year"},
		{"2026-11-26", "2026-11-25", ""},
	} {
		from, err := day.Parse(test[0])
		require.NoError(t, err)
		to, err := day.Parse(test[1])
		require.NoError(t, err)
		require.Equal(t, test[2], since(from, to), test)
	}
}

// A holder keeps his paper, anybody else asks for an older one.
func TestAdvice(t *testing.T) {
	w := coachOf3(t)
	face := w.face()
	passOn := w.side()
	passOn.giveOut(w.house, format.Object{"reader": "holder"}, map[string]string{passOnName: hexOf(face)})
	require.Contains(t, Verify(input(t, mustPaper(t, face, passOn.files(passOnName)))).Shows, "own chain: ask for an older one.")
	holder := w.side()
	holder.giveOut(w.house, format.Object{"reader": "holder"}, map[string]string{faceName: hexOf(face)})
	require.Contains(t, Verify(input(t, mustPaper(t, face, holder.files(faceName)))).Shows, "own chain: keep this one.")
	require.Contains(t, Verify(input(t, w.side().history(w.house))).Shows, "own chain: ask for an older one.")
	require.Contains(t, Verify(input(t, w.side().history(w.house))).Shows, "nothing in entries 1 to 3 was changed")
}

// The day it happened, and the day of the clock where that is another: the age
// counts from the clock.
func TestCompleteUpTo(t *testing.T) {
	w := coachOf3(t)
	for name, test := range map[string]struct {
		happened, at string
		want         UpTo
		says         string
	}{
		"in time": {
			"2025-04-30", "2025-04-30T15:00:00Z",
			UpTo{Day: "2025-04-30", DaysAgo: 574, Age: "1 year and 209 days"},
			"Whole, complete up to entry 4 of 30 April 2025; that is 1 year and 209 days ago.",
		},
		"a day apart": {
			"2025-04-30T23:30+02:00", "2025-05-01T10:00:00Z",
			UpTo{Day: "2025-04-30", DaysAgo: 573, Age: "1 year and 208 days"},
			"Whole, complete up to entry 4 of 30 April 2025; that is 1 year and 208 days ago.",
		},
		"late": {
			"2025-04-30", "2025-05-10T10:00:00Z",
			UpTo{Day: "2025-04-30", Written: "2025-05-10", DaysAgo: 564, Age: "1 year and 199 days"},
			"Whole, complete up to entry 4 of 30 April 2025, written 10 May 2025; that is 1 year and 199 days ago.",
		},
		"clock behind": {
			"2026-11-25", "2026-11-20T08:00:00Z",
			UpTo{Day: "2026-11-25", Written: "2026-11-20", DaysAgo: 5, Age: "5 days"},
			"Whole, complete up to entry 4 of 25 November 2026, written 20 November 2026; that is 5 days ago.",
		},
		"today": {
			"2026-11-25", "2026-11-25T08:00:00Z",
			UpTo{Day: "2026-11-25", Age: "today"},
			"Whole, complete up to entry 4 of 25 November 2026; that is today.",
		},
		"ahead": {
			"2026-11-25", "2099-01-01T08:00:00Z",
			UpTo{Day: "2026-11-25", Written: "2099-01-01", DaysAgo: -26335},
			"Whole, complete up to entry 4 of 25 November 2026, written 1 January 2099; that is 26335 days ahead of the clock here.",
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := w.side()
			line := w.line(w.house, "remark", format.Object{"happened": test.happened}, map[string]string{"note": "x"})
			line.At = test.at
			w.sign(w.house, line)
			a := Verify(input(t, w.text))
			test.want.Entry, test.want.HeadCode = 4, a.UpTo.HeadCode
			require.Equal(t, &test.want, a.UpTo)
			require.Equal(t, test.says, wholeSays(a.UpTo))
		})
	}
}

// What became of a finding is what counts: not a thief's word, not a branch
// that nobody adopted; a guest's hand is named.
func TestBecameByWhatCounts(t *testing.T) {
	w := newWriter(t, "quillstead")
	guest := seed("low ferry")
	print := guest.Public().Fingerprint()
	f := w.add(w.house, "finding", findingBody("F1"), nil) // 2
	w.add(guest, "work", workBody("closed", "patch", f), nil)
	w.add(guest, "work", workBody("closed", "tarp", f), nil)
	side := w.side()
	decide(side, "leave", "", format.Array{field(0, 1)}, f)
	w.add(w.house, "remark", format.Object{"adopts": format.Array{int64(4)}}, nil) // 5
	w.takeIn(side, 4, side.head())                                                 // 6
	firm := w.head()
	decide(w, "repair-now", "", format.Array{field(0, 1)}, f)      // 7, by the thief
	w.add(w.house, "work", workBody("closed", "lay-deck", f), nil) // 8, by the thief
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	in := input(t, w.text)
	in.Branches = [][]byte{side.after(4)}
	a := Verify(in)
	require.True(t, a.Branches[0].Read, a.Text())
	require.Equal(t, []Remark{
		{"3", "patch, closed, by " + print + ", not adopted"},
		{"4", "tarp, closed, by " + print},
	}, a.Found[0].Became)

	w = newWriter(t, "quillstead")
	f = w.add(w.house, "finding", findingBody("F1"), nil)
	firm = w.head()
	decide(w, "leave", "", format.Array{field(0, 1)}, f)
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	require.Contains(t, Verify(input(t, w.text)).Text(), "no decision and no work that counts names it")
}

package check

import (
	"bytes"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger/chain"
	"lapmark/ledger/format"
	"lapmark/report/carry"
)

// beside asks about a file with others beside it.
func beside(t *testing.T, file []byte, others ...[]byte) Answer {
	t.Helper()
	in := input(t, file)
	names := []string{"second", "third"}
	for i, other := range others {
		in.With = append(in.With, Paper{Name: names[i], File: other})
	}
	return Verify(in)
}

func note(w *writer, by sshsig.Signer, text string) int64 {
	w.t.Helper()
	return w.add(by, "remark", format.Object{}, map[string]string{"note": text})
}

func TestOneChain(t *testing.T) {
	w := coachOf3(t)
	older := w.side().history(w.house)
	w.history(w.house)
	for range 13 {
		note(w, w.house, "a day")
	}
	newer := w.history(w.house)

	a := beside(t, newer, older)
	require.Equal(t, 0, a.Exit(), a.Text())
	require.Equal(t, OneChain, a.With[0].Relation)
	require.EqualValues(t, 14, a.With[0].Between)
	require.Equal(t, []string{"Both lie on one chain; 14 entries lie between."}, a.With[0].Says)
	require.EqualValues(t, 3, a.With[0].UpTo.Entry)

	a = beside(t, older, newer)
	require.Equal(t, 0, a.Exit(), "an older paper is true on its day")
	require.Equal(t, "other", a.With[0].Newer)

	a = beside(t, newer, newer)
	require.Equal(t, SameState, a.With[0].Relation)
	require.Equal(t, []string{"The same state."}, a.With[0].Says)

	a = beside(t, older, note1(t, older))
	require.Equal(t, "Both lie on one chain; 1 entry lies between.", a.With[0].Says[0])
}

// note1 is the ledger of coachOf3 and its paper with one more entry.
func note1(t *testing.T, _ []byte) []byte {
	t.Helper()
	w := coachOf3(t)
	w.history(w.house)
	note(w, w.house, "a day")
	return w.text
}

// The last entries cut off: whole alone; beside the newer paper they are
// missing.
func TestEntriesMissing(t *testing.T) {
	w := coachOf3(t)
	note(w, w.house, "one")
	cut := w.side().text
	note(w, w.house, "two")
	note(w, w.house, "three")
	newer := w.history(w.house)
	require.Equal(t, 0, Verify(input(t, cut)).Exit())
	a := beside(t, cut, newer)
	require.True(t, a.Whole)
	require.Equal(t, 7, a.Exit())
	require.Equal(t, []Ground{EntriesMissing}, a.Unsettled)
	require.Equal(t, "5 to 7", a.With[0].Missing)
	require.Equal(t, "The paper of 16 March 2020 has 7 entries, this file ends at 4: 5 to 7 missing.", a.With[0].Says[1])
}

// The shop itself writes its past anew: both signed by the house.
func TestTwoLedgers(t *testing.T) {
	w := coachOf3(t)
	other := w.side()
	note(w, w.house, "as it was")
	note(other, other.house, "as it is told now")
	a := beside(t, w.history(w.house), other.history(other.house))
	require.Equal(t, 3, a.Exit())
	require.True(t, a.Whole)
	require.Equal(t, LeftTheHouse, a.Paper)
	require.Equal(t, TwoLedgers, a.With[0].Relation)
	require.EqualValues(t, 3, a.With[0].PartsAfter)
	require.Equal(t, []string{
		"Two ledgers of one coach: they part after entry 3, and the house signed both. This is the gravest finding.",
	}, a.With[0].Says)
}

// takeIn takes in what side wrote after entry from.
func (w *writer) takeIn(side *writer, from int64, head format.Object) int64 {
	w.t.Helper()
	return w.add(w.house, "take-in", format.Object{
		"from": side.headAt(from), "head": head, "count": head["size"].(int64) - from, "branch": hexOf(side.after(from)),
	}, nil)
}

// after is the text of the entries after one.
func (w *writer) after(n int64) []byte {
	w.t.Helper()
	text := w.text
	for range n {
		_, _, leaf, err := format.ReadLeaf(text)
		require.NoError(w.t, err)
		text = text[len(leaf):]
	}
	return text
}

// headAt is the head after an entry, as the prev of the next one says it.
func (w *writer) headAt(n int64) format.Object {
	w.t.Helper()
	l1, _, _, err := format.ReadLeaf(w.after(n))
	require.NoError(w.t, err)
	line, err := format.ParseLine(l1)
	require.NoError(w.t, err)
	return format.Object{"root": format.EncodeBase64(line.Prev.Root[:]), "size": line.Prev.Size}
}

// A lent coach, and an upkeep meanwhile: two honest writers part, and the house
// takes the branch in.
func TestBranchTakenIn(t *testing.T) {
	w := coachOf3(t)
	lent := w.side()
	guest := seed("low ferry")
	lent.add(guest, "finding", findingBody("F9"), map[string]string{"no-photo": "dark"})
	note(lent, guest, "patched")
	branch := lent.side()
	note(w, w.house, "meanwhile")
	by := w.takeIn(lent, 3, lent.head())
	w.add(w.house, "remark", format.Object{"adopts": format.Array{"3/1"}}, nil)

	in := input(t, w.text)
	a := Verify(in)
	require.True(t, a.Whole, a.Text())
	require.Contains(t, a.Unsettled, BranchMissing)
	require.Equal(t, saysBranchMissing, a.Branches[0].Why)

	in.Branches = [][]byte{branch.after(3)}
	a = Verify(in)
	require.Empty(t, a.Unsettled, a.Text())
	require.Equal(t, Branch{
		TakeIn: by, From: 3, First: "3/1", Last: "3/2", Count: 2, Hex: hexOf(branch.after(3)), Read: true,
		Says: "Entries 3/1 to 3/2 were written beside this chain from entry 3 on, and taken in by entry 5.",
	}, a.Branches[0])
	require.Len(t, a.Guests, 2)
	require.Equal(t, "6", a.Guests[0].AdoptedBy)
	require.Contains(t, a.Guests[0].Says, "Adopted by Quillstead Roof Works in entry 6.")
	require.Contains(t, a.Guests[1].Says, "It changes no line of Quillstead Roof Works.")
	require.Len(t, a.Found, 2)
	require.Equal(t, "3/1", a.Found[1].Entry)

	in.With = []Paper{{Name: "lent", File: branch.text}}
	a = Verify(in)
	require.Equal(t, TakenIn, a.With[0].Relation)
	require.EqualValues(t, by, a.With[0].JoinedBy)
	require.Equal(t, []string{"They part after entry 3; the house took the branch in by entry 5."}, a.With[0].Says)
	require.Empty(t, a.Bad)

	// Asked the other way round, and of a branch that was not sent in whole.
	a = beside(t, branch.text, w.text)
	require.Equal(t, TakenIn, a.With[0].Relation)
	note(branch, guest, "and one more")
	a = beside(t, w.text, branch.text)
	require.Equal(t, Parted, a.With[0].Relation)
	require.Equal(t, "Entry 6 of it was not taken in.", a.With[0].Says[1])
	require.Equal(t, 3, a.Exit())
}

// Other copies that parted at the same entry: an early copy of the branch is in
// what was taken in, another branch is not.
func TestCopiesOfABranch(t *testing.T) {
	w := coachOf3(t)
	lent := w.side()
	note(lent, seed("low ferry"), "patched")
	early := lent.side()
	note(lent, seed("low ferry"), "and patched again")
	other := w.side()
	note(other, seed("vale road"), "looked at it")
	otherLonger := other.side()
	note(otherLonger, seed("vale road"), "and again")
	note(w, w.house, "meanwhile")
	w.takeIn(lent, 3, lent.head())
	for name, test := range map[string]struct {
		file     []byte
		relation Relation
	}{
		"an early copy": {early.text, TakenIn}, "all of it": {lent.text, TakenIn},
		"another, shorter": {other.text, Parted}, "another, as long": {otherLonger.text, Parted},
	} {
		in := input(t, w.text)
		in.Branches = [][]byte{lent.after(3)}
		in.With = []Paper{{Name: name, File: test.file}}
		require.Equal(t, test.relation, Verify(in).With[0].Relation, name)
	}

	// A take-in that names a head of its own chain takes nothing in.
	w = coachOf3(t)
	side := w.side()
	note(w, w.house, "meanwhile")
	w.add(w.house, "take-in", format.Object{"from": w.headAt(2), "head": w.headAt(2), "count": int64(1), "branch": hexOf(nil)}, nil)
	note(side, seed("low ferry"), "patched")
	require.Equal(t, Parted, beside(t, w.text, side.text).With[0].Relation)
	w = coachOf3(t)
	side = w.side()
	note(side, seed("low ferry"), "patched")
	head := side.headAt(3)
	note(w, w.house, "meanwhile")
	w.add(w.house, "take-in", format.Object{"from": head, "head": head, "count": int64(1), "branch": hexOf(nil)}, nil)
	c := beside(t, w.text, side.text).With[0]
	require.Equal(t, Parted, c.Relation)
	require.Zero(t, c.JoinedBy)
}

// A restored backup: the house wrote on both sides. What was taken in is no
// second ledger; what the other side goes on to write is.
func TestHouseOnBothSides(t *testing.T) {
	w := coachOf3(t)
	restored := w.side()
	note(restored, restored.house, "from the backup")
	note(w, w.house, "meanwhile")
	w.takeIn(restored, 3, restored.head())
	require.Equal(t, TakenIn, beside(t, w.text, restored.text).With[0].Relation)
	note(restored, restored.house, "and on")
	require.Equal(t, TwoLedgers, beside(t, w.text, restored.text).With[0].Relation)
}

// What only the house may change has no effect in a side branch, and is said.
func TestKeyChangeInABranch(t *testing.T) {
	w := coachOf3(t)
	side := w.side()
	side.keyChange("quillstead", "quillstead 2", nil)
	note(w, w.house, "meanwhile")
	w.takeIn(side, 3, side.head())
	in := input(t, w.text)
	in.Branches = [][]byte{side.after(3)}
	a := Verify(in)
	require.True(t, a.Branches[0].Read, a.Text())
	require.Equal(t, seed("quillstead").Public().Fingerprint(), a.SignedBy.Fingerprint)
	require.Contains(t, a.Remarks, Remark{"3/1", "a key-change in a side branch changes nothing"})
	require.Empty(t, a.KeyChanges)
}

// In a paper saved again a side branch is told from a second ledger by its
// first entry.
func TestBranchInAPaperSavedAgain(t *testing.T) {
	w := coachOf3(t)
	lent := w.side()
	note(lent, seed("low ferry"), "patched")
	note(w, w.house, "meanwhile")
	w.takeIn(lent, 3, lent.head())
	face := w.face()
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	files := w.files(faceName)
	files.Branches = []carry.Branch{{Hex: hexOf(lent.after(3)), Text: lent.after(3)}}
	saved := bytes.Replace(mustPaper(t, face, files), []byte("%lapmark-tail 1"), []byte("% another line "), 1)
	a := Verify(input(t, saved))
	require.Equal(t, SavedAgain, a.Paper)
	require.Empty(t, a.Bad, a.Text())
	require.True(t, a.Branches[0].Read)

	// A ledger without its first entries is none.
	files.Ledger, files.Branches = w.after(1), nil
	saved = bytes.Replace(mustPaper(t, face, files), []byte("%lapmark-tail 1"), []byte("% another line "), 1)
	a = Verify(input(t, saved))
	require.Equal(t, SavedAgain, a.Paper)
	require.False(t, a.Whole)
	require.EqualValues(t, 1, a.FirstBad)
	require.Equal(t, 3, a.Exit())
}

func TestBranchNotTakenIn(t *testing.T) {
	w := coachOf3(t)
	lent := w.side()
	note(lent, seed("low ferry"), "patched")
	note(w, w.house, "meanwhile")
	a := beside(t, w.text, lent.text)
	require.Equal(t, Parted, a.With[0].Relation, "no talk of a second ledger: the house did not sign both")
	require.Equal(t, []string{"They part after entry 3; the house has not taken the branch in."}, a.With[0].Says)
	require.Equal(t, 3, a.Exit())
}

// In a paper the text of a branch travels with it, under its hash.
func TestBranchInAPaper(t *testing.T) {
	w := coachOf3(t)
	lent := w.side()
	note(lent, seed("low ferry"), "patched")
	note(w, w.house, "meanwhile")
	w.takeIn(lent, 3, lent.head())
	w.slips = append(w.slips, lent.slips[len(lent.slips)-1]) // that of 3/1, in its place only behind all others
	w.slips[len(w.slips)-1].entry = 1000
	face := w.face()
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	files := w.files(faceName)
	files.Branches = []carry.Branch{{Hex: hexOf(lent.after(3)), Text: lent.after(3)}}
	a := Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, LeftTheHouse, a.Paper, a.Text())
	require.Empty(t, a.Unsettled)
	require.True(t, a.Branches[0].Read)

	files.Branches[0].Text = lent.after(2)
	a = Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, PagesDiffer, a.Paper)
	require.Equal(t, 3, a.Exit())

	files.Words = w.texts(func(s sealedSlip) bool { return s.free() && s.entry < 1000 })
	a = Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, PagesDiffer, a.Paper)
	require.Contains(t, a.PagesWhy, "not the one that its name says")

	files.Branches = nil
	a = Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, LeftTheHouse, a.Paper, a.Text())
	require.Equal(t, []Ground{BranchMissing}, a.Unsettled)

	files.Branches = []carry.Branch{{Hex: hexOf(lent.after(2)), Text: lent.after(2)}}
	a = Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, PagesDiffer, a.Paper, "nobody took that branch in")
}

// Branches stand in the order in which they were taken in.
func TestBranchesInOrder(t *testing.T) {
	w := coachOf3(t)
	one, two := w.side(), w.side()
	one.add(seed("low ferry"), "remark", format.Object{"places": format.Array{field(0, 1)}}, nil)
	two.add(seed("low ferry"), "remark", format.Object{"places": format.Array{field(0, 2)}}, nil)
	note(w, w.house, "meanwhile")
	w.takeIn(one, 3, one.head())
	w.takeIn(two, 3, two.head())
	face := w.face()
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	files := w.files(faceName)
	files.Branches = []carry.Branch{{Hex: hexOf(one.after(3)), Text: one.after(3)}, {Hex: hexOf(two.after(3)), Text: two.after(3)}}
	a := Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, LeftTheHouse, a.Paper, a.Text())
	require.Equal(t, "3/2", a.Branches[1].First)

	slices.Reverse(files.Branches)
	require.Equal(t, PagesDiffer, Verify(input(t, mustPaper(t, face, files))).Paper)
}

func TestOtherCoach(t *testing.T) {
	w := coachOf3(t)
	other := newWriterOf(t, "quillstead", "GZ9RK6128HB000387")
	a := beside(t, w.text, other.text)
	require.Equal(t, OtherCoach, a.With[0].Relation)
	require.Equal(t, []string{"Not the same coach."}, a.With[0].Says)
	require.Equal(t, 3, a.Exit())

	// The same VIN in two ledgers: joined when each quotes the other.
	other = newWriter(t, "penny drift")
	a = beside(t, w.text, other.text)
	require.Equal(t, SameVIN, a.With[0].Relation)
	require.Equal(t, 3, a.Exit())
	one, two := w.side(), other.side()
	one.sameCoach(other)
	a = beside(t, one.text, other.text)
	require.Equal(t, SameVIN, a.With[0].Relation, "one side alone joins nothing")
	require.Contains(t, a.Remarks[len(a.Remarks)-1].Says, "is of the same coach")
	stolen := other.side()
	firm := stolen.head()
	stolen.sameCoach(w)
	stolen.keyChange("penny drift", "penny drift 2", format.Object{"reason": "stolen", "firm": firm})
	a = beside(t, one.text, stolen.text)
	require.Equal(t, SameVIN, a.With[0].Relation, "a doubtful entry joins nothing")
	two.sameCoach(w)
	a = beside(t, one.text, two.text)
	require.Equal(t, Joined, a.With[0].Relation)
	require.Equal(t, []string{
		"Two ledgers of one coach, joined by entry 4.",
		"At its last entry the house is " + seed("penny drift").Public().Fingerprint() + ": a key you do not know.",
	}, a.With[0].Says)
	require.Empty(t, a.Bad)
	require.Contains(t, a.Unsettled, OtherKeyUnknown)

	// A head that is not one of the other's chain joins nothing.
	anew := newWriter(t, "penny drift")
	note(anew, anew.house, "as it is told now")
	elder := other.side()
	note(elder, elder.house, "as it was")
	quoting := w.side()
	quoting.sameCoach(elder)
	anew.sameCoach(w)
	require.Equal(t, SameVIN, beside(t, quoting.text, anew.text).With[0].Relation)
}

func newWriterOf(t *testing.T, house, vin string) *writer {
	t.Helper()
	w := &writer{t: t, house: seed(house), at: firstAt}
	body := intakeBody(seed(house), seed(house+"-recovery"))
	body["vin"] = vin
	w.add(w.house, "intake", body, nil)
	return w
}

func (w *writer) sameCoach(other *writer) int64 {
	w.t.Helper()
	_, _, leaf, err := format.ReadLeaf(other.text)
	require.NoError(w.t, err)
	id := chain.Leaf(leaf)
	return w.add(w.house, "same-coach", format.Object{
		"ledger": format.EncodeBase64(id[:]), "head": other.head(), "goes-on": "goes-on-here",
	}, map[string]string{"why": "both keys were lost"})
}

// Papers beside the file must lie on one chain with each other too: each of
// these two goes on from the file, and they part behind it.
func TestOthersPartFromEachOther(t *testing.T) {
	w := coachOf3(t)
	old := w.side().text
	one, two := w.side(), w.side()
	note(one, w.house, "as it was")
	note(two, w.house, "as it is told now")
	a := beside(t, old, one.text, two.text)
	require.Equal(t, OneChain, a.With[0].Relation)
	require.Equal(t, OneChain, a.With[1].Relation)
	require.Len(t, a.With, 3)
	require.Equal(t, TwoLedgers, a.With[2].Relation)
	require.Equal(t, "second", a.With[2].Against)
	require.Equal(t, 3, a.Exit())
}

// The other papers are checked like the first.
func TestOtherPapersAreChecked(t *testing.T) {
	w := coachOf3(t)
	paper := w.side().history(w.house)
	broken := flipped(w.text, len(w.text)-20)
	tests := map[string]struct {
		other    []byte
		relation Relation
		exit     int
	}{
		"not whole":       {broken, OneChain, 3},
		"pages differ":    {append(bytes.Clone(paper), '\n'), SameState, 3},
		"saved again":     {bytes.Replace(paper, []byte("%lapmark-tail 1"), []byte("% another line "), 1), SameState, 7},
		"two ledgers":     {append(bytes.Clone(paper), newWriter(t, "penny drift").history(seed("penny drift"))...), NotRead, 3},
		"pages alone":     {examplePart(t, "face.pdf"), NotRead, 7},
		"empty":           {nil, NotRead, 7},
		"a broken bundle": {[]byte("PK and no more"), NotRead, 3},
		"no entry holds":  {flipped(w.text, 30), NothingHeld, 3},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			a := beside(t, paper, test.other)
			require.Equal(t, LeftTheHouse, a.Paper)
			require.Equal(t, test.relation, a.With[0].Relation, a.Text())
			require.Equal(t, test.exit, a.Exit(), a.Text())
			require.NotEmpty(t, a.With[0].Says)
		})
	}
}

// thief is coachOf3 with a paper that a thief of the house key gave out, and
// what the shop wrote above it once it knew: the entries from 4 on are
// doubtful. The shop adopted the entries named.
func thief(t *testing.T, adopted ...format.Value) (paper []byte, shop *writer) {
	t.Helper()
	w := coachOf3(t)
	firm := w.head()
	w.add(w.house, "certificate", certificateBody("Q-0666"), nil) // 4
	paper = w.history(w.house)                                    // 5
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	if len(adopted) > 0 {
		w.add(w.house, "remark", format.Object{"adopts": format.Array(adopted)}, nil)
	}
	return paper, w
}

// A paper that a thief of the key gave out is no paper of the house, on
// whichever side it lies.
func TestThiefsPaper(t *testing.T) {
	paper, shop := thief(t)
	a := beside(t, paper, shop.text)
	require.Equal(t, 3, a.Exit(), a.Text())
	require.Equal(t, PagesDiffer, a.Paper)

	newer := shop.history(shop.house)
	a = beside(t, newer, paper)
	require.Equal(t, 3, a.Exit(), a.Text())
	require.Equal(t, LeftTheHouse, a.Paper)
	require.Equal(t, []Ground{OtherPaperBad}, a.Bad)
	require.Equal(t, PagesDiffer, a.With[0].Paper)
	require.Equal(t, OneChain, a.With[0].Relation)
	require.Equal(t, "Entry 5, by which second was given out, is doubtful by the newer file file.", a.With[0].Says[1])
	require.Contains(t, a.Text(), saysPagesDiffer)

	// Neither the file asked about is new enough to tell; another is.
	a = beside(t, coachOf3(t).text, paper, newer)
	require.Contains(t, a.Bad, OtherPaperBad)
	require.Len(t, a.With, 3)
	require.Equal(t, "Entry 5, by which second was given out, is doubtful by the newer file third.", a.With[2].Says[1])
	a = beside(t, coachOf3(t).text, newer, paper)
	require.Contains(t, a.Bad, OtherPaperBad)
	require.Len(t, a.With, 3)
}

// A bundle of the thief's is said in the same way.
func TestThiefsBundle(t *testing.T) {
	w := coachOf3(t)
	firm := w.head()
	bundle := w.bundle(w.house)
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	a := beside(t, w.history(w.house), bundle)
	require.Equal(t, 3, a.Exit())
	require.Equal(t, BundleDiffers, a.With[0].Bundle)
	require.Contains(t, a.Text(), saysBundleOther)
}

// The shop adopts the paper it gave out itself, not what the thief wrote below
// it: the older paper shows as facts what the shop does not vouch for.
func TestFactsDoubtfulByANewerFile(t *testing.T) {
	paper, shop := thief(t, int64(5))
	a := beside(t, paper, shop.text)
	require.Equal(t, LeftTheHouse, a.Paper)
	require.Equal(t, []Ground{DoubtfulFacts}, a.Unsettled, a.Text())
	require.Contains(t, a.With[0].Says, "By it entry 4 of this file is doubtful: the shop does not vouch for what stands there.")
	require.Equal(t, 0, beside(t, shop.history(shop.house), paper).Exit(), "the newer file knows it itself")
}

// A take-in that the shop disowns took nothing in.
func TestDoubtfulTakeIn(t *testing.T) {
	w := coachOf3(t)
	lent := w.side()
	note(lent, seed("low ferry"), "patched")
	note(w, w.house, "meanwhile")
	firm := w.head()
	w.takeIn(lent, 3, lent.head())
	require.Equal(t, TakenIn, beside(t, w.text, lent.text).With[0].Relation)
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	a := beside(t, w.text, lent.text)
	require.Equal(t, Parted, a.With[0].Relation)
	require.Equal(t, 3, a.Exit())
}

// A guest's paper beside the file is his word; it stays open until he is in the
// trust too.
func TestGuestsPaperBeside(t *testing.T) {
	w := coachOf3(t)
	older := w.history(w.house)
	guest := seed("low ferry")
	paper := w.history(guest)
	a := beside(t, older, paper)
	require.Equal(t, LeftTheHouse, a.Paper)
	require.Equal(t, OneChain, a.With[0].Relation)
	require.Equal(t, []Ground{OtherGuest}, a.Unsettled, a.Text())
	require.Contains(t, a.With[0].Says, "It was given out by "+guest.Public().Fingerprint()+", a guest, not by the house.")

	in := input(t, older)
	in.With = []Paper{{Name: "second", File: paper}}
	in.Trust = trusting(t, map[string]sshsig.Signer{"quillstead": seed("quillstead"), "low-ferry": guest})
	require.Equal(t, 0, Verify(in).Exit())
}

// A newer paper of a shop that took the coach on: its key is not settled by the
// older one.
func TestTakenOnBeside(t *testing.T) {
	w := coachOf3(t)
	older := w.side().text
	w.handOver("quillstead", "low ferry")
	newer := w.history(w.house)
	a := beside(t, older, newer)
	require.Contains(t, a.Unsettled, OtherKeyUnknown, a.Text())
	require.Equal(t, seed("low ferry").Public().Fingerprint(), a.With[0].Key)
	in := input(t, older)
	in.With = []Paper{{Name: "second", File: newer}}
	in.Trust = trusting(t, map[string]sshsig.Signer{"quillstead": seed("quillstead"), "low-ferry": seed("low ferry")})
	require.NotContains(t, Verify(in).Unsettled, OtherKeyUnknown)
}

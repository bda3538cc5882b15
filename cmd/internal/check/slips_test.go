package check

import (
	"bytes"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/private"
	"lapmark/ledger/format"
	"lapmark/report/carry"
)

// swap exchanges the first two lines of a text.
func swap(text []byte) []byte {
	all := bytes.SplitAfter(text, []byte("\n"))
	all[0], all[1] = all[1], all[0]
	return bytes.Join(all, nil)
}

// first is the first line of a text, rest what follows it.
func first(text []byte) []byte { return text[:bytes.IndexByte(text, '\n')+1] }
func rest(text []byte) []byte  { return text[bytes.IndexByte(text, '\n')+1:] }

// TestSlips changes the two files of slips of a paper and builds the tail
// again: what the shop would not have written is not what left the house; what
// is only missing is said.
func TestSlips(t *testing.T) {
	unfit, err := private.Make([16]byte{1}, "why", "another reason")
	require.NoError(t, err)
	renamed, err := private.Make([16]byte{1}, "plate", "CE 40 LM")
	require.NoError(t, err)
	tests := map[string]struct {
		change func(f *carry.Files)
		paper  Pages
		exit   int
		why    string
	}{
		"as written":            {func(*carry.Files) {}, LeftTheHouse, 0, ""},
		"words twice":           {func(f *carry.Files) { f.Words = slices.Concat(first(f.Words), f.Words) }, PagesDiffer, 3, "words.txt"},
		"words out of order":    {func(f *carry.Files) { f.Words = swap(f.Words) }, PagesDiffer, 3, "not in its place"},
		"private out of order":  {func(f *carry.Files) { f.Private = swap(f.Private) }, PagesDiffer, 3, "not in its place"},
		"no slip":               {func(f *carry.Files) { f.Words = append(bytes.Clone(f.Words), "why not\n"...) }, PagesDiffer, 3, "not as they were written"},
		"no line end":           {func(f *carry.Files) { f.Words = bytes.TrimSuffix(f.Words, []byte("\n")) }, PagesDiffer, 3, "no line end"},
		"fits nothing":          {func(f *carry.Files) { f.Words = slices.Concat(f.Words, []byte(unfit), []byte("\n")) }, PagesDiffer, 3, "opens nothing"},
		"private, fits nothing": {func(f *carry.Files) { f.Private = slices.Concat(f.Private, []byte(renamed), []byte("\n")) }, PagesDiffer, 3, "opens nothing"},
		"a private value among the words": {func(f *carry.Files) {
			f.Words, f.Private = slices.Concat(first(f.Private), f.Words), rest(f.Private)
		}, PagesDiffer, 3, "does not belong there"},
		"a free text among the private": {func(f *carry.Files) {
			f.Private, f.Words = slices.Concat(first(f.Words), f.Private), rest(f.Words)
		}, PagesDiffer, 3, "does not belong there"},
		"a free text missing":     {func(f *carry.Files) { f.Words = rest(f.Words) }, LeftTheHouse, 7, ""},
		"a private value missing": {func(f *carry.Files) { f.Private = rest(f.Private) }, LeftTheHouse, 0, ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			w := coachOf3(t)
			face := w.face()
			w.giveOut(w.house, format.Object{"reader": "holder"}, map[string]string{faceName: hexOf(face)})
			files := w.files(faceName, "holder-name")
			test.change(&files)
			a := Verify(input(t, mustPaper(t, face, files)))
			require.Equal(t, test.paper, a.Paper, a.Text())
			require.Equal(t, test.exit, a.Exit(), a.Text())
			require.Contains(t, a.PagesWhy, test.why)
			require.True(t, a.Whole)
		})
	}
}

func TestMissingWordsAreNamed(t *testing.T) {
	w := coachOf3(t)
	face := w.face()
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	files := w.files(faceName)
	files.Words = nil
	a := Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, []Ground{WordsMissing}, a.Unsettled)
	require.Equal(t, []Missing{
		{"1", "no-photo", "the words no-photo of entry 1 are missing"},
		{"2", "no-photo", "the words no-photo of entry 2 are missing"},
		{"3", "why", "the words why of entry 3 are missing"},
	}, a.WordsMissing)

	// What the house has erased is not missing.
	w = coachOf3(t)
	w.add(w.house, "erased", format.Object{"answers": format.Array{int64(1), int64(2)}, "names": format.Array{"no-photo"}, "ground": "asked"}, nil)
	face = w.face()
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	files = w.files(faceName)
	files.Words = w.texts(func(s sealedSlip) bool { return s.name == "why" })
	a = Verify(input(t, mustPaper(t, face, files)))
	require.Empty(t, a.WordsMissing)
	require.Equal(t, 0, len(a.Unsettled))
	require.Len(t, a.Erased, 1)
	require.Equal(t, "Private part erased on 16 March 2020: the person asked for it.", a.Erased[0].Says)
	require.Equal(t, "1, 2", a.Erased[0].Of)
}

// What a doubtful entry says is erased is missing all the same.
func TestErasedByAThief(t *testing.T) {
	w := coachOf3(t)
	firm := w.head()
	w.add(w.house, "erased", format.Object{"answers": format.Array{int64(3)}, "names": format.Array{"why"}, "ground": "asked"}, nil)
	w.keyChange("quillstead", "quillstead 2", format.Object{"reason": "stolen", "firm": firm})
	face := w.face()
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	files := w.files(faceName)
	files.Words = w.texts(func(s sealedSlip) bool { return s.name == "no-photo" })
	a := Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, LeftTheHouse, a.Paper, a.Text())
	require.Contains(t, a.Unsettled, WordsMissing)
	require.Empty(t, a.Erased)
}

// A slip opens a commitment of its own name alone.
func TestSlipOfAnotherName(t *testing.T) {
	w := coachOf3(t)
	slip, err := private.Make([16]byte{9}, "why", "a reason")
	require.NoError(t, err)
	w.add(w.house, "remark", format.Object{"private": format.Object{"note": private.Commit(slip)}}, nil)
	face := w.face()
	w.giveOut(w.house, nil, map[string]string{faceName: hexOf(face)})
	files := w.files(faceName)
	files.Words = slices.Concat(files.Words, []byte(slip), []byte("\n"))
	a := Verify(input(t, mustPaper(t, face, files)))
	require.Equal(t, PagesDiffer, a.Paper)
	require.Contains(t, a.PagesWhy, "opens nothing")
}

// A coach of the shop comes with the slips of its book; a slip of something
// else is passed over.
func TestOwnCoach(t *testing.T) {
	w := coachOf3(t)
	in := input(t, w.text)
	for _, s := range w.slips {
		in.Slips = append(in.Slips, s.slip)
	}
	stray, err := private.Make([16]byte{7}, "why", "of another coach")
	require.NoError(t, err)
	in.Slips = append(in.Slips, stray, "no slip at all")
	a := Verify(in)
	require.Equal(t, 0, a.Exit(), a.Text())
	require.True(t, a.WordsHere)
	require.Empty(t, a.WordsMissing)
	require.Equal(t, "the holder’s wish", a.NeverLookedAt[0].Why)

	in.Slips = in.Slips[1:]
	in.Slips = slices.DeleteFunc(in.Slips, func(s string) bool { return s == w.slips[len(w.slips)-1].slip })
	a = Verify(in)
	require.Equal(t, 7, a.Exit(), "the book lacks a text")
	require.Len(t, a.WordsMissing, 1)
}

// What a reader may not see is named by kind, whether there was a value or
// not, so that nothing can be told from it.
func TestNotShown(t *testing.T) {
	w := coachOf3(t)
	a := Verify(input(t, w.history(w.house)))
	require.Equal(t, []string{
		"business", "complaint", "holder-address", "holder-mail", "holder-name", "holder-phone", "plate", "to-name", "valuables",
	}, a.NotShown, "the face of this paper and of its copy are not among them")
	a = Verify(input(t, w.history(w.house)))
	require.Contains(t, a.NotShown, faceName, "that of an earlier paper is")
	require.Contains(t, a.Text(), "the hash of other pages")
}

package carry

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestPaperOfTheExample compares with the lengths, offsets and SHA-256 that
// the format's specification gives for its worked example.
func TestPaperOfTheExample(t *testing.T) {
	face, files := example(t, "face.pdf"), exampleFiles(t)
	if got, want := sumOf(face), "7340db9af0cad6593b81be8fefaf060eac1feec999b1647c8fe61c48305c4dce"; len(face) != 675 || got != want {
		t.Fatalf("face: %d bytes, SHA-256 %s", len(face), got)
	}
	for name, length := range map[string]int{"ledger.txt": 2830, "words.txt": 177, "private.txt": 135, "how-to-check.txt": 50} {
		if got := len(example(t, name)); got != length {
			t.Errorf("%s: %d bytes, want %d", name, got, length)
		}
	}
	paper := mustPaper(t, face, files)
	if len(paper) != 4906 {
		t.Errorf("paper: %d bytes, want 4906", len(paper))
	}
	if got, want := sumOf(paper), "0259b09e11e66f26aae44ba3410c4f0a7a5d49dd37fb5a11696450c08004b907"; got != want {
		t.Errorf("paper: SHA-256 %s, want %s", got, want)
	}
	if !bytes.HasPrefix(paper, face) || !bytes.HasPrefix(paper[675:], []byte("%lapmark-tail 1\n")) {
		t.Error("the tail does not begin at 675")
	}
	places := map[int]int{7: 691, 8: 769, 9: 3667, 10: 3744, 11: 3989, 12: 4071, 13: 4274, 14: 4366, 6: 4483}
	for object, offset := range places {
		if head := fmt.Sprintf("%d 0 obj\n", object); !bytes.HasPrefix(paper[offset:], []byte(head)) {
			t.Errorf("object %d does not begin at %d", object, offset)
		}
	}
	if !bytes.HasPrefix(paper[4640:], []byte("xref\n6 1\n0000004483 00000 n \n7 8\n0000000691 00000 n \n")) {
		t.Error("the table does not begin at 4640")
	}
	if !bytes.HasSuffix(paper, []byte("\n<</Size 15/Root 6 0 R/Info 5 0 R/Prev 460>>\nstartxref\n4640\n%%EOF\n")) {
		t.Error("the last dictionary is another")
	}
}

func TestPaperIsTakenApart(t *testing.T) {
	face := example(t, "face.pdf")
	empty := Files{Ledger: []byte("x")}
	withEnd := exampleFiles(t)
	withEnd.HowToCheck = []byte("\nendstream\nendobj\n%%EOF\n9 0 obj\n<</Type/Filespec/F(words.txt)\n")
	for name, files := range map[string]Files{
		"example": exampleFiles(t), "branches": withBranches(t), "empty": empty, "layout inside": withEnd,
	} {
		t.Run(name, func(t *testing.T) {
			taken, err := TakePaper(mustPaper(t, face, files))
			if err != nil {
				t.Fatal(err)
			}
			if !taken.Exact || !bytes.Equal(taken.Face, face) || !sameFiles(taken.Files, files) {
				t.Errorf("exact %v, face equal %v, files equal %v", taken.Exact, bytes.Equal(taken.Face, face), sameFiles(taken.Files, files))
			}
		})
	}
}

func TestPaperLeavesTheFaceAlone(t *testing.T) {
	face := example(t, "face.pdf")
	roomy := append(make([]byte, 0, 10_000), face...)
	mustPaper(t, roomy, exampleFiles(t))
	if behind := roomy[:len(face)+1]; behind[len(face)] != 0 {
		t.Error("Paper wrote into the memory behind the face")
	}
}

func TestPaperRefusesAFace(t *testing.T) {
	face := example(t, "face.pdf")
	tests := map[string]struct {
		face []byte
		kind error
		want string
	}{
		"empty":               {nil, ErrFace, "its end is not"},
		"no PDF":              {[]byte("Quillstead Roof Works"), ErrFace, "its end is not"},
		"cut by one byte":     {face[:len(face)-1], ErrFace, "its end is not"},
		"one byte more":       {append(slices.Clone(face), '\n'), ErrFace, "its end is not"},
		"CRLF":                {bytes.ReplaceAll(face, []byte("\n"), []byte("\r\n")), ErrFace, "its end is not"},
		"ID in the trailer":   {changed(t, face, "/Info 5 0 R\n", "/Info 5 0 R\n/ID [()()]\n"), ErrFace, "its end is not"},
		"leading zero":        {changed(t, face, "/Size 7\n", "/Size 07\n"), ErrFace, "its end is not"},
		"Root is no object":   {changed(t, face, "/Root 6 0 R", "/Root 7 0 R"), ErrFace, "Root 7 and Info 5 are not two of its 7 objects"},
		"Info is no object":   {changed(t, face, "/Info 5 0 R", "/Info 9 0 R"), ErrFace, "Root 6 and Info 9 are not two of its 7 objects"},
		"Root is Info":        {changed(t, face, "/Info 5 0 R", "/Info 6 0 R"), ErrFace, "are not two of its"},
		"Root is object 1":    {changed(t, face, "/Root 6 0 R", "/Root 1 0 R"), ErrFace, "are not two of its"},
		"startxref elsewhere": {changed(t, face, "startxref\n460\n", "startxref\n459\n"), ErrFace, "no table of 7 objects at startxref 459"},
		"startxref behind":    {changed(t, face, "startxref\n460\n", "startxref\n999999999\n"), ErrFace, "lies behind its end"},
		"other size":          {changed(t, face, "/Size 7\n", "/Size 8\n"), ErrFace, "no table of 8 objects"},
		"object 1 elsewhere":  {changed(t, face, "0000000009 00000", "0000000010 00000"), ErrFace, "object 1 is not at 10"},
		"object 1 behind":     {changed(t, face, "0000000009 00000", "9999999999 00000"), ErrFace, "object 1 is not at"},
		"object 1 no pages":   {changed(t, face, "/Type/Pages", "/Type/Outls"), ErrFace, "object 1 is not its page tree"},
		"the marker inside":   {changed(t, face, "%PDF-1.4\n", "%PDF-1.4\n%%EOF\n%lapmark-tail 1\n"), ErrMarker, "in the face"},
		"a paper":             {examplePaper(t), ErrMarker, "in the face"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := Paper(test.face, exampleFiles(t))
			wantError(t, err, test.kind, test.want)
			wantError(t, CheckFace(test.face), test.kind, test.want)
		})
	}
	if err := CheckFace(face); err != nil {
		t.Error(err)
	}
}

func TestPaperRefusesFiles(t *testing.T) {
	with := func(change func(*Files)) Files {
		f := withBranches(t)
		change(&f)
		return f
	}
	tests := map[string]struct {
		files Files
		kind  error
		want  string
	}{
		"picture":       {with(func(f *Files) { f.Pictures = []Picture{pictureOf("jpeg")} }), ErrFiles, "carries no pictures"},
		"branch name":   {with(func(f *Files) { f.Branches[0].Hex = "60" }), ErrFiles, "branch-60.txt"},
		"branch twice":  {with(func(f *Files) { f.Branches[1] = f.Branches[0] }), ErrFiles, "comes twice"},
		"marker inside": {with(func(f *Files) { f.HowToCheck = []byte("a\n%%EOF\n%lapmark-tail 1\nb") }), ErrMarker, "in how-to-check.txt"},
		"marker over the end": {
			with(func(f *Files) { f.HowToCheck = []byte("a\n%%EOF\n%lapmark-tail 1") }), ErrMarker,
			"over the end of a file",
		},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := Paper(example(t, "face.pdf"), test.files)
			wantError(t, err, test.kind, test.want)
		})
	}
}

// TestTakePaperTellsApart goes through what a file may be that is not the
// paper that was made: taken but not exact, or without a tail to follow.
func TestTakePaperTellsApart(t *testing.T) {
	paper := examplePaper(t)
	swap := func(old, with string) []byte { return changed(t, paper, old, with) }
	notExact := map[string][]byte{
		"a line behind it":         append(slices.Clone(paper), "signed by some program\n"...),
		"one byte behind it":       append(slices.Clone(paper), '\n'),
		"last byte cut":            paper[:len(paper)-1],
		"other offset in table":    swap("0000000691", "0000000692"),
		"other startxref":          swap("4640\n%%EOF", "4641\n%%EOF"),
		"other object number":      swap("9 0 obj", "19 0 obj"),
		"other number in catalog":  swap("(words.txt)9 0 R", "(words.txt)7 0 R"),
		"length with leading zero": swap("/Length 2830", "/Length 02830"),
		"other Size in face":       swap("/Size 7\n", "/Size 8\n"),
		"face that is no face":     swap("/Info 5 0 R\n>>", "/Info 5 0 R\n >"),
	}
	for name, pdf := range notExact {
		t.Run(name, func(t *testing.T) {
			taken, err := TakePaper(pdf)
			if err != nil {
				t.Fatal(err)
			}
			if taken.Exact || !sameFiles(taken.Files, exampleFiles(t)) {
				t.Errorf("exact %v, files equal %v", taken.Exact, sameFiles(taken.Files, exampleFiles(t)))
			}
		})
	}
	noTail := map[string][]byte{
		"nothing":             nil,
		"a face alone":        example(t, "face.pdf"),
		"another paper after": append(slices.Clone(paper), paper...),
		"second first line":   append(slices.Clone(paper), firstLine...),
		"next version":        swap("%lapmark-tail 1", "%lapmark-tail 2"),
		"cut in a file":       paper[:3000],
		"cut before %%EOF":    paper[:len(paper)-len("%%EOF\n")],
		"a file too long":     swap("/Length 2830", "/Length 999999999"),
		"length of ten":       swap("/Length 2830", "/Length 0000002830"),
		"offset of nine":      swap("0000000691", "000000691"),
		"file name":           swap("/F(words.txt)", "/F(wards.txt)"),
		"two names":           swap("/UF(words.txt)", "/UF(wards.txt)"),
		"a picture":           bytes.ReplaceAll(paper, []byte("how-to-check.txt"), []byte("pictures/"+strings.Repeat("a", 64)+".jpg")),
		"a file missing":      bytes.ReplaceAll(paper, []byte("private.txt"), []byte("words.txt")),
		"a file compressed":   swap("/Type/EmbeddedFile/Length", "/Type/EmbeddedFile/Filter/FlateDecode/Length"),
	}
	for name, pdf := range noTail {
		t.Run(name, func(t *testing.T) {
			_, err := TakePaper(pdf)
			if !errors.Is(err, ErrNoTail) {
				t.Errorf("got %v, want ErrNoTail", err)
			}
		})
	}
}

// TestTakePaperFilesInAnotherOrder has a tail that follows the layout in all
// but the order of its files.
func TestTakePaperFilesInAnotherOrder(t *testing.T) {
	face := example(t, "face.pdf")
	f := exampleFiles(t)
	end, err := readFaceEnd(face)
	if err != nil {
		t.Fatal(err)
	}
	ms := []member{{wordsName, f.Words}, {ledgerName, f.Ledger}, {privateName, f.Private}, {howToCheckName, f.HowToCheck}}
	_, err = TakePaper(slices.Concat(face, tail(len(face), end, ms)))
	wantError(t, err, ErrNoTail, `"words.txt" stands where ledger.txt belongs`)
	if !errors.Is(err, ErrFiles) {
		t.Errorf("%v is not ErrFiles", err)
	}
}

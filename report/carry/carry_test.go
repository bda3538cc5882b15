package carry

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// example reads one part of the worked example of the format's specification.
func example(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "example", name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// exampleFiles are the files of the worked example.
func exampleFiles(t testing.TB) Files {
	t.Helper()
	return Files{
		Ledger:     example(t, "ledger.txt"),
		Words:      example(t, "words.txt"),
		Private:    example(t, "private.txt"),
		HowToCheck: example(t, "how-to-check.txt"),
	}
}

// examplePaper is the paper of the worked example.
func examplePaper(t testing.TB) []byte {
	t.Helper()
	return mustPaper(t, example(t, "face.pdf"), exampleFiles(t))
}

func mustPaper(t testing.TB, face []byte, f Files) []byte {
	t.Helper()
	paper, err := Paper(face, f)
	if err != nil {
		t.Fatal(err)
	}
	return paper
}

func mustBundle(t testing.TB, f Files) []byte {
	t.Helper()
	zip, err := Bundle(f)
	if err != nil {
		t.Fatal(err)
	}
	return zip
}

// branchOf names a text by its SHA-256, as a branch is named.
func branchOf(text string) Branch {
	return Branch{sumOf([]byte(text)), []byte(text)}
}

// pictureOf names bytes by their SHA-256, as a picture is named.
func pictureOf(jpeg string) Picture {
	return Picture{sumOf([]byte(jpeg)), []byte(jpeg)}
}

// sumOf is SHA-256 in lower-case hex.
func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// withBranches are the example's files and two branches whose names do not
// stand in the order in which they were taken in.
func withBranches(t testing.TB) Files {
	t.Helper()
	f := exampleFiles(t)
	f.Branches = []Branch{branchOf("second in, first by name 0\n"), branchOf("a branch\n")}
	if f.Branches[0].Hex < f.Branches[1].Hex {
		slices.Reverse(f.Branches)
	}
	return f
}

// sameFiles says whether two sets of files are equal, in order and to the byte.
func sameFiles(a, b Files) bool {
	return bytes.Equal(a.Ledger, b.Ledger) && bytes.Equal(a.Words, b.Words) &&
		bytes.Equal(a.Private, b.Private) && bytes.Equal(a.HowToCheck, b.HowToCheck) &&
		slices.EqualFunc(a.Branches, b.Branches, func(x, y Branch) bool {
			return x.Hex == y.Hex && bytes.Equal(x.Text, y.Text)
		}) &&
		slices.EqualFunc(a.Pictures, b.Pictures, func(x, y Picture) bool {
			return x.Hex == y.Hex && bytes.Equal(x.JPEG, y.JPEG)
		})
}

// changed is a copy of text with the first place of old made new.
func changed(t testing.TB, text []byte, old, with string) []byte {
	t.Helper()
	if !bytes.Contains(text, []byte(old)) {
		t.Fatalf("%q does not stand there", old)
	}
	return bytes.Replace(text, []byte(old), []byte(with), 1)
}

func TestFilesHaveFixedNamesInOrder(t *testing.T) {
	a, b := strings.Repeat("a", 64), strings.Repeat("b", 64)
	list := func(names ...string) []member {
		var ms []member
		for _, name := range names {
			ms = append(ms, member{name: name})
		}
		return ms
	}
	tests := map[string]struct {
		ms   []member
		want string // "" means taken
	}{
		"four":              {list("ledger.txt", "words.txt", "private.txt", "how-to-check.txt"), ""},
		"branches":          {list("ledger.txt", "branch-"+b+".txt", "branch-"+a+".txt", "words.txt", "private.txt", "how-to-check.txt"), ""},
		"pictures":          {list("ledger.txt", "words.txt", "private.txt", "how-to-check.txt", "pictures/"+a+".jpg", "pictures/"+b+".jpg"), ""},
		"none":              {nil, "ledger.txt is missing"},
		"last missing":      {list("ledger.txt", "words.txt", "private.txt"), "how-to-check.txt is missing"},
		"order":             {list("ledger.txt", "private.txt", "words.txt", "how-to-check.txt"), `"private.txt" stands where words.txt belongs`},
		"branch before":     {list("branch-"+a+".txt", "ledger.txt", "words.txt", "private.txt", "how-to-check.txt"), "stands where ledger.txt belongs"},
		"branch after":      {list("ledger.txt", "words.txt", "branch-"+a+".txt", "private.txt", "how-to-check.txt"), "stands where private.txt belongs"},
		"branch twice":      {list("ledger.txt", "branch-"+a+".txt", "branch-"+a+".txt", "words.txt", "private.txt", "how-to-check.txt"), "comes twice"},
		"upper case":        {list("ledger.txt", "branch-"+strings.ToUpper(a)+".txt", "words.txt", "private.txt", "how-to-check.txt"), "stands where words.txt belongs"},
		"63 digits":         {list("ledger.txt", "branch-"+a[1:]+".txt", "words.txt", "private.txt", "how-to-check.txt"), "stands where words.txt belongs"},
		"pictures order":    {list("ledger.txt", "words.txt", "private.txt", "how-to-check.txt", "pictures/"+b+".jpg", "pictures/"+a+".jpg"), "not in its place by name"},
		"picture twice":     {list("ledger.txt", "words.txt", "private.txt", "how-to-check.txt", "pictures/"+a+".jpg", "pictures/"+a+".jpg"), "comes twice"},
		"unknown":           {list("ledger.txt", "words.txt", "private.txt", "how-to-check.txt", "notes.txt"), `"notes.txt" has no place there`},
		"out of the folder": {list("ledger.txt", "words.txt", "private.txt", "how-to-check.txt", "pictures/../"+a[3:]+".jpg"), "has no place there"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := filesOf(test.ms)
			wantError(t, err, ErrFiles, test.want)
		})
	}
}

// wantError fails unless err is kind and says text; with no text, unless it is
// nil.
func wantError(t *testing.T, err, kind error, text string) {
	t.Helper()
	if text == "" {
		if err != nil {
			t.Fatalf("got error %v, want none", err)
		}
		return
	}
	if err == nil || !strings.Contains(err.Error(), text) {
		t.Fatalf("got error %v, want one that says %q", err, text)
	}
	if !errors.Is(err, kind) {
		t.Fatalf("error %v is not %v", err, kind)
	}
}

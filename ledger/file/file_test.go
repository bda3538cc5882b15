package file_test

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lapmark/ledger/file"
)

// SHA-256 of "abc": FIPS 180-4, example of the standard's test vectors.
const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

func TestCreateWithHoldsAllOfTheFirstInking(t *testing.T) {
	path := filepath.Join(t.TempDir(), "7QX2M4.coach")
	noError(t, file.CreateWith(path, file.Inking{
		Leaves:   leavesFrom(1, 3),
		Pictures: map[string][]byte{abc: []byte("abc")},
		Branches: [][]byte{[]byte("second\n"), []byte("first\n")},
	}))
	c := open(t, path)
	text, err := c.Text()
	noError(t, err)
	if string(text) != textOf(leavesFrom(1, 3)) {
		t.Errorf("text is %q", text)
	}
	jpeg, err := c.Picture(abc)
	noError(t, err)
	if string(jpeg) != "abc" {
		t.Errorf("picture is %q", jpeg)
	}
	hashes, err := c.Pictures()
	noError(t, err)
	if !slices.Equal(hashes, []string{abc}) {
		t.Errorf("pictures are %q", hashes)
	}
	branches, err := c.Branches()
	noError(t, err)
	if !slices.EqualFunc(branches, []string{"second\n", "first\n"}, func(a []byte, b string) bool { return string(a) == b }) {
		t.Errorf("branches are %q, order of taking in is lost", branches)
	}
	onlyFile(t, path)
}

// onlyFile fails if anything but path lies in its folder.
func onlyFile(t *testing.T, path string) {
	t.Helper()
	names, err := os.ReadDir(filepath.Dir(path))
	noError(t, err)
	for _, name := range names {
		if name.Name() != filepath.Base(path) {
			t.Errorf("%s lies beside the file", name.Name())
		}
	}
}

func TestCreateNeverWritesOver(t *testing.T) {
	for _, end := range []string{"", "-journal", "-wal", "-shm"} {
		path := filepath.Join(t.TempDir(), "7QX2M4.coach")
		noError(t, os.WriteFile(path+end, []byte("mine"), 0o600))
		if err := file.Create(path); !errors.Is(err, fs.ErrExist) {
			t.Errorf("with %q there: %v", end, err)
		}
		if was, err := os.ReadFile(path + end); err != nil || string(was) != "mine" {
			t.Errorf("%q is now %q, %v", end, was, err)
		}
	}
}

func TestCreateLeavesNothingWhenItFails(t *testing.T) {
	path := filepath.Join(t.TempDir(), "7QX2M4.coach")
	err := file.CreateWith(path, file.Inking{Leaves: leavesFrom(1, 2), Branches: [][]byte{nil}})
	if err == nil {
		t.Fatal("a branch without text went in")
	}
	onlyFile(t, path)
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a half file is there: %v", err)
	}
}

func TestNamesThatLookLikeParameters(t *testing.T) {
	for _, name := range []string{"a?mode=memory.coach", "a#b.coach", "50%25 of it.coach", "ö 'x'; --.coach"} {
		path := filepath.Join(t.TempDir(), name)
		noError(t, file.CreateWith(path, file.Inking{Leaves: leavesFrom(1, 1)}))
		noError(t, ink(t.Context(), open(t, path), 1))
		onlyFile(t, path)
	}
}

func TestInkSeesTheTextAndAddsToIt(t *testing.T) {
	c := open(t, newCoach(t, 2))
	var seen string
	noError(t, c.Ink(t.Context(), func(text []byte, _ [][]byte) (file.Inking, error) {
		seen = string(text)
		return file.Inking{Leaves: leavesFrom(3, 4), Pictures: map[string][]byte{abc: []byte("abc")}}, nil
	}))
	if seen != textOf(leavesFrom(1, 2)) {
		t.Errorf("the inking saw %q", seen)
	}
	noError(t, c.Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) { // the same photo again
		return file.Inking{Leaves: leavesFrom(5, 5), Pictures: map[string][]byte{abc: []byte("abc")}}, nil
	}))
	text, err := c.Text()
	noError(t, err)
	if string(text) != textOf(leavesFrom(1, 5)) {
		t.Errorf("text is %q", text)
	}
}

// What another window has taken in since the file was opened is seen under the
// lock.
func TestInkSeesBranchesTakenInMeanwhile(t *testing.T) {
	path := newCoach(t, 2)
	c := open(t, path)
	noError(t, open(t, path).Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) {
		return file.Inking{Leaves: leavesFrom(3, 3), Branches: [][]byte{[]byte("a branch")}}, nil
	}))
	noError(t, c.Ink(t.Context(), func(_ []byte, branches [][]byte) (file.Inking, error) {
		if len(branches) != 1 || string(branches[0]) != "a branch" {
			t.Errorf("the inking saw %q", branches)
		}
		return file.Inking{}, nil
	}))
}

func TestInkAddsAllOrNothing(t *testing.T) {
	wrong := errors.New("a note was refused")
	big := bytes.Repeat([]byte("x"), file.MaxLeaf)
	cases := map[string]struct {
		in  file.Inking
		err error
	}{
		"refused by the caller":         {file.Inking{Leaves: leavesFrom(3, 3)}, wrong},
		"leaf of 65,536 bytes":          {file.Inking{Leaves: [][]byte{leaf(3), append(big, 'x')}}, nil},
		"empty leaf":                    {file.Inking{Leaves: [][]byte{leaf(3), {}}}, nil},
		"picture under another hash":    {file.Inking{Leaves: leavesFrom(3, 3), Pictures: map[string][]byte{abc: []byte("abd")}}, nil},
		"hash in capitals":              {file.Inking{Leaves: leavesFrom(3, 3), Pictures: map[string][]byte{strings.ToUpper(abc): []byte("abc")}}, nil},
		"branch without text":           {file.Inking{Leaves: leavesFrom(3, 3), Branches: [][]byte{nil}}, nil},
		"more than 100,000 entries":     {file.Inking{Leaves: make([][]byte, file.MaxEntries-1)}, nil},
		"refused with everything right": {file.Inking{}, wrong},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			coach := open(t, newCoach(t, 2))
			err := coach.Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) { return c.in, c.err })
			if err == nil || (c.err != nil && err != c.err) {
				t.Errorf("error is %v", err)
			}
			text, err := coach.Text()
			noError(t, err)
			if string(text) != textOf(leavesFrom(1, 2)) {
				t.Errorf("text is %q", text)
			}
			noError(t, ink(t.Context(), coach, 1))
		})
	}
	noError(t, open(t, newCoach(t, 0)).Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) {
		return file.Inking{Leaves: [][]byte{big}}, nil
	}))
}

func TestInkStopsWithItsContextAndAfterAPanic(t *testing.T) {
	c := open(t, newCoach(t, 2))
	ctx, cancel := context.WithCancel(t.Context())
	err := c.Ink(ctx, func([]byte, [][]byte) (file.Inking, error) {
		cancel()
		return file.Inking{Leaves: leavesFrom(3, 3)}, nil
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error is %v", err)
	}
	func() {
		defer func() { _ = recover() }()
		_ = c.Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) { panic("a fault of the caller") })
	}()
	noError(t, ink(t.Context(), c, 1))
	text, err := c.Text()
	noError(t, err)
	if string(text) != textOf(leavesFrom(1, 3)) {
		t.Errorf("text is %q", text)
	}
}

func TestReadingWhileAnInkingIsOpen(t *testing.T) {
	c := open(t, newCoach(t, 2))
	noError(t, c.Ink(t.Context(), func([]byte, [][]byte) (file.Inking, error) {
		text, err := c.Text()
		if err != nil || string(text) != textOf(leavesFrom(1, 2)) {
			t.Errorf("a reader saw %q, %v", text, err)
		}
		return file.Inking{Leaves: leavesFrom(3, 3)}, nil
	}))
}

func TestInkRefusesAFileReplacedMeanwhile(t *testing.T) {
	path := newCoach(t, 2)
	c := open(t, path)
	noError(t, os.Rename(newCoach(t, 5), path))
	if err := ink(t.Context(), c, 1); !errors.Is(err, file.ErrMissing) {
		t.Errorf("into a file that lost its name: %v", err)
	}
	noError(t, ink(t.Context(), open(t, path), 1))
	noError(t, os.Remove(path))
	if err := ink(t.Context(), c, 1); !errors.Is(err, file.ErrMissing) {
		t.Errorf("into a file that was taken away: %v", err)
	}
}

func TestPictureThatIsNotThere(t *testing.T) {
	if _, err := open(t, newCoach(t, 1)).Picture(abc); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("error is %v", err)
	}
}

func TestOpenReadOnly(t *testing.T) {
	path := newCoach(t, 2)
	c, err := file.OpenReadOnly(path)
	noError(t, err)
	text, err := c.Text()
	noError(t, err)
	if string(text) != textOf(leavesFrom(1, 2)) {
		t.Errorf("text is %q", text)
	}
	if err := ink(t.Context(), c, 1); !errors.Is(err, file.ErrReadOnly) {
		t.Errorf("inking: %v", err)
	}
	onlyFile(t, path)
	noError(t, c.Close())
	onlyFile(t, path)
}

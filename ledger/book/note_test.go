package book

import (
	"errors"
	"path/filepath"
	"testing"
)

const fellside = "GZ9TF785XEW004137"

// note is a clear note of the demo's coach; version and ID are as the book
// gives them to the first ones.
func note(id int64, day string, position int, words string) Note {
	return Note{
		ID: id, Version: 1, Coach: fellside, Day: day, Zone: "+01:00", Position: position,
		Words: words, Line: "finding " + words, State: Clear, Written: day + "T16:00:00Z",
	}
}

// sheet is three notes, not in their order.
func sheet(t *testing.T) *Book {
	t.Helper()
	b := newBook(t)
	noError(t, b.AddNotes(fellside, []Note{
		note(1, "2020-03-17", 2, "soft deck bay 9"),
		note(2, "2020-03-16", 1, "pins 31.0 bay 10 left"),
		note(3, "2020-03-17", 1, "strip bay 10"),
	}))
	return b
}

func notes(t *testing.T, b *Book) []Note {
	t.Helper()
	all, err := b.Notes(fellside)
	noError(t, err)
	return all
}

func TestNotesComeByDayAndPosition(t *testing.T) {
	b := sheet(t)
	equal(t, notes(t, b), []Note{
		note(2, "2020-03-16", 1, "pins 31.0 bay 10 left"),
		note(3, "2020-03-17", 1, "strip bay 10"),
		note(1, "2020-03-17", 2, "soft deck bay 9"),
	})
	noError(t, b.AddNotes("TB78-1133", []Note{note(0, "2020-01-01", 1, "of another coach")}))
	all, err := b.AllNotes()
	noError(t, err)
	if len(all) != 4 || all[3].Coach != "TB78-1133" || all[3].Words != "of another coach" {
		t.Errorf("all notes are %+v", all)
	}
}

func TestAddNotesIsAllOrNone(t *testing.T) {
	b := newBook(t)
	wrong := note(0, "2020-03-17", 2, "wrong")
	wrong.State = "sparkling"
	if err := b.AddNotes(fellside, []Note{note(0, "2020-03-17", 1, "right"), wrong}); err == nil {
		t.Error("a state of no sort went in")
	}
	equal(t, notes(t, b), nil)
}

func TestChangeNote(t *testing.T) {
	b := sheet(t)
	n := notes(t, b)[0]
	n.Words, n.Line, n.State, n.Why, n.Position = "pins 13.0", "", Unclear, "which bay?", 5
	noError(t, b.ChangeNote(n))
	n.Version = 2
	equal(t, notes(t, b)[:1], []Note{n})
	n.Version = 1
	if err := b.ChangeNote(n); !errors.Is(err, ErrMoved) {
		t.Errorf("from an old page: %v", err)
	}
	n.ID = 99
	if err := b.ChangeNote(n); !errors.Is(err, ErrNoNote) {
		t.Errorf("a note that is not there: %v", err)
	}
}

func TestDropAndBringBack(t *testing.T) {
	b := sheet(t)
	before := notes(t, b)
	noError(t, b.DropNote(2))
	if n := notes(t, b)[0]; n.State != Dropped || n.Words != before[0].Words {
		t.Errorf("a dropped note is %+v", n)
	}
	if err := b.DropNote(2); !errors.Is(err, ErrNoNote) {
		t.Errorf("dropped twice: %v", err)
	}
	noError(t, b.BringBack(2))
	before[0].Version = 3
	equal(t, notes(t, b), before)
	if err := b.BringBack(2); !errors.Is(err, ErrNoNote) {
		t.Errorf("brought back twice: %v", err)
	}
}

func TestPencilled(t *testing.T) {
	b := sheet(t)
	noError(t, b.AddNotes("TB78-1133", []Note{note(0, "2020-01-01", 1, "soft")}))
	noError(t, b.PutPhoto(Photo{Coach: "GZ9RK6128HB000387", Name: "roof-1.jpg"}))
	noError(t, b.PutPhoto(Photo{Coach: "TB78-1133", Name: "roof-2.jpg", Note: 4}))
	noError(t, b.DropNote(4))
	coaches, err := b.Pencilled()
	noError(t, err)
	equal(t, coaches, []string{"GZ9RK6128HB000387", fellside})
}

func TestTakeOut(t *testing.T) {
	b := sheet(t)
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "roof-1.jpg", Original: "aa", Travel: "bb", Note: 3}))
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "roof-2.jpg", Original: "cc", Why: "no travel copy: it is HEIC", Note: 1}))
	noError(t, b.DropNote(1))
	noError(t, b.Together(TakeOut(map[int64]int{3: 28, 2: 27, 1: 0, 77: 29})))
	equal(t, notes(t, b), nil)
	inked, err := b.Inked(fellside)
	noError(t, err)
	want := []InkedNote{
		{note(1, "2020-03-17", 2, "soft deck bay 9"), 0},
		{note(2, "2020-03-16", 1, "pins 31.0 bay 10 left"), 27},
		{note(3, "2020-03-17", 1, "strip bay 10"), 28},
	}
	for i := range want {
		want[i].Version, want[i].State = 0, ""
	}
	equal(t, inked, want)
	photos, err := b.InkedPhotos(fellside)
	noError(t, err)
	equal(t, photos, []Photo{{Coach: fellside, Name: "roof-1.jpg", Original: "aa", Travel: "bb", Note: 3, Entry: 28}})
	noError(t, b.AddNotes(fellside, []Note{note(0, "2020-04-01", 1, "next")}))
	if id := notes(t, b)[0].ID; id != 4 {
		t.Errorf("the next note has ID %d, one that was given before", id)
	}
}

func TestDropInked(t *testing.T) {
	b := sheet(t)
	noError(t, b.Together(TakeOut(map[int64]int{1: 6, 2: 7, 3: 8})))
	noError(t, b.DropInked(fellside, []int{6}))
	noError(t, b.DropInked("TB78-1133", []int{7}))
	noError(t, b.DropInkedBefore("2020-03-17T00:00:00Z"))
	inked, err := b.Inked(fellside)
	noError(t, err)
	if len(inked) != 1 || inked[0].Entry != 8 {
		t.Errorf("left are %+v", inked)
	}
	for _, words := range []string{"soft deck bay 9", "pins 31.0"} {
		if n := traces(t, filepath.Dir(b.path), words); n != 0 {
			t.Errorf("%d traces of %q", n, words)
		}
	}
}

func TestPhotos(t *testing.T) {
	b := newBook(t)
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "b.jpg", Original: "01"}))
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "a.jpg", Original: "02"}))
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "b.jpg", Original: "03", Travel: "04", Why: "why", Note: 7}))
	noError(t, b.PutPhoto(Photo{Coach: "TB78-1133", Name: "b.jpg", Original: "05"}))
	photos, err := b.Photos(fellside)
	noError(t, err)
	equal(t, photos, []Photo{
		{Coach: fellside, Name: "a.jpg", Original: "02"},
		{Coach: fellside, Name: "b.jpg", Original: "03", Travel: "04", Why: "why", Note: 7},
	})
	noError(t, b.Together(TakeOut(map[int64]int{7: 9}))) // the note is gone, its photo is not
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "b.jpg", Original: "06"}))
	noError(t, b.DropPhoto(fellside, "a.jpg"))
	noError(t, b.DropPhoto(fellside, "a.jpg"))
	photos, err = b.Photos(fellside)
	noError(t, err)
	equal(t, photos, []Photo{{Coach: fellside, Name: "b.jpg", Original: "06"}})
	photos, err = b.InkedPhotos(fellside)
	noError(t, err)
	equal(t, photos, []Photo{{Coach: fellside, Name: "b.jpg", Original: "03", Travel: "04", Why: "why", Note: 7, Entry: 9}})
}

// A picture of another coach is found by its original, in ink and in pencil;
// its travel copies may differ.
func TestPhotoElsewhere(t *testing.T) {
	b := newBook(t)
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "1/a.jpg", Original: "01", Travel: "11", Note: 1}))
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "2/a.jpg", Original: "01", Travel: "11", Note: 2}))
	noError(t, b.PutPhoto(Photo{Coach: fellside, Name: "1/b.jpg", Original: "02", Travel: "12", Note: 1}))
	elsewhere := func(travel, want string) {
		t.Helper()
		other, found, err := b.PhotoElsewhere(fellside, travel)
		noError(t, err)
		if other != want || found != (want != "") {
			t.Errorf("%s: %q, %v", travel, other, found)
		}
	}
	elsewhere("11", "")
	noError(t, b.PutPhoto(Photo{Coach: "TB78-1133", Name: "7/c.jpg", Original: "01", Travel: "13", Note: 7}))
	elsewhere("11", "TB78-1133")
	elsewhere("12", "")
	elsewhere("13", "")
	noError(t, b.Together(TakeOut(map[int64]int{7: 9})))
	elsewhere("11", "TB78-1133")
}

func TestPapers(t *testing.T) {
	b := newBook(t)
	own := Paper{"ledger", 54, "certificate", "Q-0007", "face", Own, "Q-0007.pdf", "2020-04-24", Made}
	pass := own
	pass.Copy, pass.Name, pass.Face = PassOn, "Q-0007-pass-on.pdf", "another face"
	noError(t, b.PutPaper(pass))
	noError(t, b.PutPaper(Paper{"ledger", 54, "certificate", "Q-0007", "face of a try", Own, "try.pdf", "2020-04-23", Made}))
	noError(t, b.PutPaper(own))
	noError(t, b.PaperNamed("ledger", 54, Own, "Q-0007 (2).pdf"))
	own.State, own.Name = Named, "Q-0007 (2).pdf"
	papers, err := b.Papers("ledger")
	noError(t, err)
	equal(t, papers, []Paper{own, pass})
	if err := b.PutPaper(own); !errors.Is(err, ErrNamed) {
		t.Errorf("a paper that left the house made again: %v", err)
	}
	if err := b.PaperNamed("ledger", 54, Bundle, "x"); !errors.Is(err, ErrNoPaper) {
		t.Errorf("a paper that is not there named: %v", err)
	}
	other := Paper{"a ledger", 9, "bundle", "", "", Bundle, "b.zip", "2020-05-01", Named}
	noError(t, b.PutPaper(other))
	all, err := b.AllPapers()
	noError(t, err)
	equal(t, all, []Paper{other, own, pass})
}

package book

import (
	"errors"
	"path/filepath"
	"testing"
)

func TestOwnWords(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.db")
	noError(t, Create(path))
	b, err := Open(path)
	noError(t, err)
	defer func() { noError(t, b.Close()) }()
	noError(t, b.SetOwnWord(OwnWord{"spongy", "rot", "2026-11-25"}))
	noError(t, b.SetOwnWord(OwnWord{"mushy", "soft-deck", "2026-11-25"}))
	noError(t, b.SetOwnWord(OwnWord{"spongy", "soft-deck", "2026-11-26"}))
	words, err := b.OwnWords()
	noError(t, err)
	if len(words) != 2 || words[0].Typed != "mushy" || words[1] != (OwnWord{"spongy", "soft-deck", "2026-11-26"}) {
		t.Errorf("own words are %v", words)
	}
	noError(t, b.DropOwnWord("mushy"))
	if err := b.DropOwnWord("mushy"); !errors.Is(err, ErrNoOwnWord) {
		t.Errorf("dropped twice: %v", err)
	}
}

// A book of the first release gets the table, and a copy of it is kept.
func TestBookOfTheFirstReleaseGetsOwnWords(t *testing.T) {
	path := old(t)
	b, err := Open(path)
	noError(t, err)
	noError(t, b.SetOwnWord(OwnWord{"spongy", "soft-deck", "2026-11-25"}))
	noError(t, b.Close())
	if got := names(t, filepath.Dir(path)); got != "book.db book.db.before-2" {
		t.Errorf("in the folder: %s", got)
	}
}

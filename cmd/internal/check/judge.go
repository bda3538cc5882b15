package check

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"lapmark/ledger"
	"lapmark/report/carry"
)

// givenOut is the kind of the entry by which a paper leaves the house;
// paperBundle the word of a bundle in it.
const (
	givenOut    = "given-out"
	paperBundle = "bundle"
)

// The two private values by which an entry holds the hash of its pages.
const (
	faceName   = "face"
	passOnName = "face-pass-on"
)

// judge says whether the files are those that left with the last entry, and
// whose they are. more asks what a paper or a bundle alone has.
func (f *file) judge(more func() string) Pages {
	f.why = f.differs()
	if f.why == "" {
		f.why = more()
	}
	switch {
	case f.why != "":
		f.sealed.open(lines(f.files.Words))
		f.sealed.open(lines(f.files.Private))
		return PagesDiffer
	case f.coach.Last().Role == ledger.Guest:
		return GuestPaper
	}
	return LeftTheHouse
}

// differs says in what the ledger, the slips and how-to-check.txt are not
// those that left with the last entry; "" where they are.
func (f *file) differs() string {
	if f.broken != nil {
		return saysLedgerBroken
	}
	last := f.coach.Last()
	if last.Kind() != givenOut {
		return fmt.Sprintf("Its last entry, %s, is no given-out.", last.No)
	}
	if _, doubtful := f.coach.Doubtful(last.No); doubtful {
		return fmt.Sprintf("Its last entry, %s, is doubtful.", last.No)
	}
	if why := f.branchesDiffer(); why != "" {
		return why
	}
	if err := f.sealed.read("words.txt", f.files.Words, privateField); err != nil {
		return sentence(err.Error())
	}
	if err := f.sealed.read("private.txt", f.files.Private, freeField); err != nil {
		return sentence(err.Error())
	}
	if last.Text("how-to-check") != hexOf(f.files.HowToCheck) {
		return fmt.Sprintf("Its how-to-check.txt is not the one that entry %s names.", last.No)
	}
	return ""
}

// branchesDiffer asks that each branch file has the hash in its name, and that
// the branches were taken in, in this order. One that is missing is said
// elsewhere.
func (f *file) branchesDiffer() string {
	taken := f.coach.Branches
	for _, b := range f.files.Branches {
		if hexOf(b.Text) != b.Hex {
			return fmt.Sprintf("The text of branch %.12s is not the one that its name says.", b.Hex)
		}
		at := slices.IndexFunc(taken, func(t *ledger.Branch) bool { return t.Hex == b.Hex })
		if at < 0 {
			return fmt.Sprintf("Branch %.12s was not taken in, or not in this order.", b.Hex)
		}
		taken = taken[at+1:]
	}
	return ""
}

// pagesDiffer says why the face and the tail are not those that left.
func (f *file) pagesDiffer(taken carry.Taken) string {
	last := f.coach.Last()
	if last.Text("paper") == paperBundle {
		return fmt.Sprintf("Entry %s was written for a bundle, which has no pages.", last.No)
	}
	values := f.sealed.values[last.No]
	own, isOwn := values[faceName]
	passOn, isPassOn := values[passOnName]
	switch {
	case isOwn == isPassOn:
		return fmt.Sprintf("Of the pages of entry %s exactly one slip must be in private.txt.", last.No)
	case isPassOn:
		own = passOn
	}
	if own != hexOf(taken.Face) {
		return fmt.Sprintf("Entry %s was written for other pages.", last.No)
	}
	if !taken.Exact {
		return saysTail
	}
	return ""
}

// noPages says why the files are not those of a bundle that left.
func (f *file) noPages() string {
	last := f.coach.Last()
	if word := last.Text("paper"); word != paperBundle {
		return fmt.Sprintf("Entry %s was written for a paper, not for a bundle.", last.No)
	}
	values := f.sealed.values[last.No]
	if values[faceName]+values[passOnName] != "" {
		return fmt.Sprintf("Entry %s holds the hash of pages, and a bundle has none.", last.No)
	}
	named := namedPictures(f.coach)
	for _, p := range f.files.Pictures {
		if hexOf(p.JPEG) != p.Hex {
			return fmt.Sprintf("Picture %.12s is not the one that its name says.", p.Hex)
		}
		if !named[p.Hex] {
			return fmt.Sprintf("No entry names picture %.12s.", p.Hex)
		}
	}
	return ""
}

// hexOf is the SHA-256 of bytes in small hex digits.
func hexOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

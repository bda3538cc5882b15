package carry

import (
	"bytes"
	"errors"
	"slices"
	"testing"
)

// place is where in the example's paper a byte stands.
type place int

const (
	inFace place = iota
	inMarker
	inFile
	inLayout
	atEnd
)

// examplePlace says where a byte of the example's paper stands: by the offsets
// and lengths that the format's specification states.
func examplePlace(at int) place {
	const faceLength, paperLength = 675, 4906
	objectEnds := []int{3667, 3989, 4274, 4483} // where the object after each embedded file begins
	lengths := []int{2830, 177, 135, 50}
	switch {
	case at == paperLength-1:
		return atEnd
	case at < faceLength-len("%%EOF\n"):
		return inFace
	case at < faceLength+len("%lapmark-tail 1\n"):
		return inMarker
	}
	for i, end := range objectEnds {
		last := end - len("\nendstream\nendobj\n")
		if last-lengths[i] <= at && at < last {
			return inFile
		}
	}
	return inLayout
}

// TestOneByteOfAPaperChanged changes each byte of the example's paper once, in
// two ways, and some in all 255 ways. No change may pass unseen, and each must
// be taken as the package comment says for its place.
func TestOneByteOfAPaperChanged(t *testing.T) {
	paper, face, files := examplePaper(t), example(t, "face.pdf"), exampleFiles(t)
	all := []int{0, 20, 640, 657, 662, 669, 675, 690, 691, 700, 769, 800, 812, 813, 825, 2000, 3660, 4483, 4640, 4647, 4660, 4850, 4899, 4905}
	pdf := slices.Clone(paper)
	for at := range paper {
		ways := []byte{0x01, 0x80}
		if slices.Contains(all, at) {
			ways = ways[:0]
			for way := 1; way < 256; way++ {
				ways = append(ways, byte(way))
			}
		}
		for _, way := range ways {
			pdf[at] = paper[at] ^ way
			taken, err := TakePaper(pdf)
			sameFace, same := bytes.Equal(taken.Face, face), sameFiles(taken.Files, files)
			if err == nil && taken.Exact && sameFace && same {
				t.Fatalf("byte %d, %#02x to %#02x, passes unseen", at, paper[at], pdf[at])
			}
			if !fitsPlace(examplePlace(at), isDigit(paper[at]) && isDigit(pdf[at]), taken, err, sameFace, same) {
				t.Errorf("byte %d, %#02x to %#02x: exact %v, face equal %v, files equal %v, error %v",
					at, paper[at], pdf[at], taken.Exact, sameFace, same, err)
			}
		}
		pdf[at] = paper[at]
	}
}

// fitsPlace says whether a changed byte was taken as its place asks.
func fitsPlace(where place, digits bool, taken Taken, err error, sameFace, same bool) bool {
	noTail := errors.Is(err, ErrNoTail)
	switch where {
	case inFace:
		return err == nil && !sameFace && same
	case inFile:
		return err == nil && taken.Exact && sameFace && !same
	case atEnd:
		return err == nil && !taken.Exact && sameFace && same
	case inLayout:
		return noTail || digits && err == nil && !taken.Exact && sameFace && same
	}
	return noTail
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// TestOneByteOfABundleChanged changes each byte of a small bundle once, in two
// ways, and some in all 255 ways: every one is refused.
func TestOneByteOfABundleChanged(t *testing.T) {
	zip := mustBundle(t, smallBundle())
	headers := []int{0, 4, 6, 8, 10, 12, 14, 18, 22, 26, 28, 30, 40, len(zip) - 1, len(zip) - 2, len(zip) - 22, len(zip) - 10, len(zip) - 6}
	changed := slices.Clone(zip)
	for at := range zip {
		ways := []byte{0x01, 0x80}
		if slices.Contains(headers, at) {
			ways = ways[:0]
			for way := 1; way < 256; way++ {
				ways = append(ways, byte(way))
			}
		}
		for _, way := range ways {
			changed[at] = zip[at] ^ way
			if _, err := TakeBundle(changed); !errors.Is(err, ErrBundle) {
				t.Fatalf("byte %d, %#02x to %#02x: got %v, want ErrBundle", at, zip[at], changed[at], err)
			}
		}
		changed[at] = zip[at]
	}
}

// smallBundle are files for a bundle of all kinds of members.
func smallBundle() Files {
	return Files{
		Ledger:     []byte("{\"at\":\"2020-03-16T16:40:00Z\"}\n"),
		Branches:   []Branch{branchOf("a branch\n")},
		Words:      []byte("WyJB\n"),
		HowToCheck: []byte("Check each entry with ssh-keygen.\n"),
		Pictures:   []Picture{pictureOf("one"), pictureOf("two")},
	}
}

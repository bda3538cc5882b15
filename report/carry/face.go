package carry

import (
	"bytes"
	"errors"
	"fmt"
)

// ErrFace says that a PDF cannot be the face of a paper: its end or its page
// tree is not as the tail needs it.
var ErrFace = errors.New("not the face of a paper")

// ErrMarker says that the text which divides face and tail stands in a face or
// in a file, so that a paper of them could not be taken apart.
var ErrMarker = errors.New("the text that divides face and tail stands where it must not")

const (
	endOfFile = "%%EOF\n"
	firstLine = "%lapmark-tail 1\n"
	marker    = endOfFile + firstLine

	faceEndLayout   layout = "trailer\n<<\n/Size #\n/Root # 0 R\n/Info # 0 R\n>>\nstartxref\n#\n" + endOfFile
	faceTableLayout layout = "xref\n0 #\n@ 65535 f \n@ 00000 n \n"
)

// faceEnd is the four numbers at the end of a face: how many objects it has,
// its catalog, its information dictionary, the offset of its table.
type faceEnd struct{ size, root, info, table int }

// CheckFace says whether Paper would take this face: nil, ErrFace, ErrMarker
// or ErrTooLarge. To be asked before the entry that quotes the face is signed.
func CheckFace(face []byte) error {
	if err := DefaultLimits().checkSize(len(face)); err != nil {
		return err
	}
	if bytes.Contains(face, []byte(marker)) {
		return fmt.Errorf("%w: in the face", ErrMarker)
	}
	_, err := readFaceEnd(face)
	return err
}

// readFaceEnd reads the four numbers, each in its one way of writing.
func readFaceEnd(face []byte) (faceEnd, error) {
	at := max(0, bytes.LastIndex(face, []byte("trailer\n")))
	numbers, _, ok := faceEndLayout.match(face[at:])
	if !ok || !bytes.Equal(faceEndLayout.append(nil, numbers...), face[at:]) {
		return faceEnd{}, fmt.Errorf("%w: its end is not trailer, Size, Root, Info, startxref, %%%%EOF", ErrFace)
	}
	end := faceEnd{numbers[0], numbers[1], numbers[2], numbers[3]}
	if min(end.root, end.info) < 2 || max(end.root, end.info) >= end.size || end.root == end.info {
		return faceEnd{}, fmt.Errorf("%w: Root %d and Info %d are not two of its %d objects", ErrFace, end.root, end.info, end.size)
	}
	return end, checkPageTree(face, end)
}

// checkPageTree refuses a face whose object 1 is not its page tree: the
// catalog of the tail names that object.
func checkPageTree(face []byte, end faceEnd) error {
	if end.table >= len(face) {
		return fmt.Errorf("%w: startxref %d lies behind its end", ErrFace, end.table)
	}
	numbers, _, ok := faceTableLayout.match(face[end.table:])
	if !ok || numbers[0] != end.size {
		return fmt.Errorf("%w: no table of %d objects at startxref %d", ErrFace, end.size, end.table)
	}
	first := numbers[2]
	if first >= len(face) || !bytes.HasPrefix(face[first:], []byte("1 0 obj\n<<")) {
		return fmt.Errorf("%w: object 1 is not at %d", ErrFace, first)
	}
	object, _, _ := bytes.Cut(face[first:], []byte("endobj"))
	if !bytes.Contains(object, []byte("/Type/Pages")) && !bytes.Contains(object, []byte("/Type /Pages")) {
		return fmt.Errorf("%w: object 1 is not its page tree", ErrFace)
	}
	return nil
}

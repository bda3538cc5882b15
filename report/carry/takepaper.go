package carry

import (
	"bytes"
	"fmt"
)

// Taken is a paper taken apart. Face and Files share the memory of the paper.
type Taken struct {
	Face  []byte
	Files Files
	// Exact says that the rest of the paper is byte for byte the tail that
	// Paper writes for this face and these files.
	Exact bool
}

// TakePaper takes a paper apart by the fixed layout of its tail; nothing of it
// is read as PDF. Errors: ErrNoTail when the tail's first line does not stand
// exactly once behind a %%EOF, or the layout cannot be followed from there to
// the %%EOF of the tail; ErrTooLarge.
func TakePaper(pdf []byte) (Taken, error) {
	if err := DefaultLimits().checkSize(len(pdf)); err != nil {
		return Taken{}, err
	}
	at := bytes.Index(pdf, []byte(marker))
	if at < 0 {
		return Taken{}, fmt.Errorf("%w: its first line is missing", ErrNoTail)
	}
	if bytes.Count(pdf, []byte(marker)) > 1 {
		return Taken{}, fmt.Errorf("%w: its first line stands there more than once", ErrNoTail)
	}
	start := at + len(endOfFile)
	face, rest := pdf[:start:start], pdf[start:]
	ms, err := follow(rest)
	if err != nil {
		return Taken{}, err
	}
	files, err := filesOf(ms)
	if err != nil {
		return Taken{}, fmt.Errorf("%w: %w", ErrNoTail, err)
	}
	end, err := readFaceEnd(face)
	exact := err == nil && bytes.Equal(tail(start, end, ms), rest)
	return Taken{Face: face, Files: files, Exact: exact}, nil
}

// follow reads a tail object by object up to its %%EOF and returns the files
// in it, in their order.
func follow(tail []byte) ([]member, error) {
	c := cursor{text: tail}
	c.match(firstLine)
	var ms []member
	for c.err == nil {
		name, ok := filespecName(c.text[c.at:])
		if !ok {
			break
		}
		c.match(filespecLayout(name))
		data := c.file()
		ms = append(ms, member{name, data})
	}
	c.match(catalogLayout(ms))
	c.match(tableLayout(len(ms)))
	return ms, c.err
}

// filespecName returns the file name of the Filespec at the beginning of text,
// when there is one and it is a name that a paper may carry.
func filespecName(text []byte) (string, bool) {
	_, length, ok := objectLayout.match(text)
	if !ok {
		return "", false
	}
	longest := len(branchStart) + 64 + len(branchEnd)
	window := text[length:min(len(text), length+longest+1)]
	name, _, ok := bytes.Cut(window, []byte(")"))
	return string(name), ok && isPaperName(string(name))
}

// isPaperName says whether a paper may carry a file of this name.
func isPaperName(name string) bool {
	switch name {
	case ledgerName, wordsName, privateName, howToCheckName:
		return true
	}
	_, ok := hashIn(name, branchStart, branchEnd)
	return ok
}

// cursor reads layouts one behind the other and keeps the first error.
type cursor struct {
	text []byte
	at   int
	err  error
}

// match reads a layout and returns its numbers; nil after an error.
func (c *cursor) match(l layout) []int {
	if c.err != nil {
		return nil
	}
	numbers, length, ok := l.match(c.text[c.at:])
	c.at += length
	if !ok {
		c.err = fmt.Errorf("%w: byte %d of the tail does not fit", ErrNoTail, c.at)
		return nil
	}
	return numbers
}

// file reads the object of an embedded file and returns its bytes.
func (c *cursor) file() []byte {
	numbers := c.match(embeddedLayout)
	if c.err != nil {
		return nil
	}
	length := numbers[1]
	if length > len(c.text)-c.at {
		c.err = fmt.Errorf("%w: a file of %d bytes at byte %d of the tail goes beyond its end", ErrNoTail, length, c.at)
		return nil
	}
	data := c.text[c.at : c.at+length : c.at+length]
	c.at += length
	c.match(fileEndLayout)
	return data
}

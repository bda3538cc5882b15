package carry

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrFiles says that files cannot stand together in a paper or bundle: a name
// that is not one of the fixed names, a wrong order, a missing or a double one.
var ErrFiles = errors.New("not the files of a paper or bundle")

// Files is what a paper or bundle carries. An empty text is a file of no
// bytes, which stands in the paper or bundle like any other.
type Files struct {
	Ledger     []byte    // ledger.txt
	Branches   []Branch  // branch-HEX.txt, in order of take-in
	Words      []byte    // words.txt
	Private    []byte    // private.txt
	HowToCheck []byte    // how-to-check.txt
	Pictures   []Picture // pictures/HEX.jpg, by name; in a bundle only
}

// Branch is the text of a side branch. Hex is the SHA-256 that names it: 64
// lower-case digits. Whether Text has that hash is not asked here.
type Branch struct {
	Hex  string
	Text []byte
}

// Picture is the travel copy of a photo. Hex is the SHA-256 that names it: 64
// lower-case digits. Whether JPEG has that hash is not asked here.
type Picture struct {
	Hex  string
	JPEG []byte
}

// The names of the files, and what stands around the hash in the name of a
// branch and of a picture.
const (
	ledgerName     = "ledger.txt"
	wordsName      = "words.txt"
	privateName    = "private.txt"
	howToCheckName = "how-to-check.txt"
	branchStart    = "branch-"
	branchEnd      = ".txt"
	pictureStart   = "pictures/"
	pictureEnd     = ".jpg"
)

// member is one named file.
type member struct {
	name string
	data []byte
}

// members lists the files in the order in which they are carried.
func members(f Files) ([]member, error) {
	ms := []member{{ledgerName, f.Ledger}}
	for _, b := range f.Branches {
		ms = append(ms, member{branchStart + b.Hex + branchEnd, b.Text})
	}
	ms = append(ms, member{wordsName, f.Words}, member{privateName, f.Private}, member{howToCheckName, f.HowToCheck})
	pictures := slices.Clone(f.Pictures)
	slices.SortFunc(pictures, func(a, b Picture) int { return cmp.Compare(a.Hex, b.Hex) })
	for _, p := range pictures {
		ms = append(ms, member{pictureStart + p.Hex + pictureEnd, p.JPEG})
	}
	if _, err := filesOf(ms); err != nil {
		return nil, err
	}
	return ms, nil
}

// filesOf gives each member its place. It refuses a list that members would
// not make.
func filesOf(ms []member) (Files, error) {
	t := taker{rest: ms, seen: make(map[string]bool)}
	var f Files
	f.Ledger = t.named(ledgerName)
	for {
		hex, text, ok := t.hashed(branchStart, branchEnd)
		if !ok {
			break
		}
		f.Branches = append(f.Branches, Branch{hex, text})
	}
	f.Words = t.named(wordsName)
	f.Private = t.named(privateName)
	f.HowToCheck = t.named(howToCheckName)
	for {
		hex, jpeg, ok := t.hashed(pictureStart, pictureEnd)
		if !ok {
			break
		}
		if n := len(f.Pictures); n > 0 && f.Pictures[n-1].Hex >= hex {
			return Files{}, fmt.Errorf("%w: picture %s is not in its place by name", ErrFiles, hex)
		}
		f.Pictures = append(f.Pictures, Picture{hex, jpeg})
	}
	if t.err == nil && len(t.rest) > 0 {
		t.err = fmt.Errorf("%w: %.100q has no place there", ErrFiles, t.rest[0].name)
	}
	if t.err != nil {
		return Files{}, t.err
	}
	return f, nil
}

// taker takes members from a list, one after the other, and keeps the first
// error.
type taker struct {
	rest []member
	seen map[string]bool
	err  error
}

// named takes the next member, which must have this name.
func (t *taker) named(name string) []byte {
	if t.err != nil {
		return nil
	}
	if len(t.rest) == 0 {
		t.err = fmt.Errorf("%w: %s is missing", ErrFiles, name)
		return nil
	}
	m := t.rest[0]
	if m.name != name {
		t.err = fmt.Errorf("%w: %.100q stands where %s belongs", ErrFiles, m.name, name)
		return nil
	}
	t.rest = t.rest[1:]
	return m.data
}

// hashed takes the next member when its name is a hash between these two
// texts. No such name may come twice.
func (t *taker) hashed(start, end string) (hex string, data []byte, ok bool) {
	if t.err != nil || len(t.rest) == 0 {
		return "", nil, false
	}
	m := t.rest[0]
	hex, ok = hashIn(m.name, start, end)
	if !ok {
		return "", nil, false
	}
	if t.seen[m.name] {
		t.err = fmt.Errorf("%w: %s comes twice", ErrFiles, m.name)
		return "", nil, false
	}
	t.seen[m.name] = true
	t.rest = t.rest[1:]
	return hex, m.data, true
}

// hashIn returns the 64 lower-case hex digits between start and end of a name.
func hashIn(name, start, end string) (string, bool) {
	hex, hasStart := strings.CutPrefix(name, start)
	hex, hasEnd := strings.CutSuffix(hex, end)
	if !hasStart || !hasEnd || len(hex) != 64 || strings.Trim(hex, "0123456789abcdef") != "" {
		return "", false
	}
	return hex, true
}

// bytesIn counts the bytes of all members.
func bytesIn(ms []member) int {
	total := 0
	for _, m := range ms {
		total += len(m.data)
	}
	return total
}

// holder names the member that holds a text, or says that the text lies over
// the border of two.
func holder(ms []member, text []byte) string {
	for _, m := range ms {
		if bytes.Contains(m.data, text) {
			return "in " + m.name
		}
	}
	return "over the end of a file"
}

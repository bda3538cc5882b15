package carry

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"strings"
)

// How much a damaged bundle may ask for: texts listed in it, and how often its
// own size is summed over. Common practice, no source.
const (
	mostListed = 1000
	mostSummed = 4
)

// Salvage takes the ledger, the branches and the slips out of a bundle that
// TakeBundle refuses, so that it can be said what is true of them. Each member
// is announced twice, by its own header and by the directory: one of them is
// enough, and where both are there that one counts whose checksum fits. What is
// compressed, or stands there twice under one name, is left out.
func Salvage(zip []byte) Files {
	if DefaultLimits().checkSize(len(zip)) != nil {
		return Files{}
	}
	s := salvage{zip: zip, found: map[string][]extent{}, summed: mostSummed * len(zip)}
	for at := 0; s.listed < mostListed; at += 2 {
		next := bytes.Index(zip[at:], []byte("PK"))
		if next < 0 {
			break
		}
		at += next
		s.local(at)
		s.directory(at)
	}
	var f Files
	f.Ledger, f.Words, f.Private = s.text(ledgerName), s.text(wordsName), s.text(privateName)
	for _, name := range s.branches {
		hex := strings.TrimSuffix(strings.TrimPrefix(name, branchStart), branchEnd)
		if text := s.text(name); text != nil {
			f.Branches = append(f.Branches, Branch{hex, text})
		}
	}
	return f
}

// extent is where a header says that a text lies.
type extent struct {
	at, size int
	fits     bool // its checksum
}

type salvage struct {
	zip      []byte
	found    map[string][]extent
	branches []string // their names, as they come
	listed   int
	summed   int // bytes that may still be summed over
}

// local reads a header in front of a text (4.3.7).
func (s *salvage) local(at int) {
	if !s.begins(at, localSignature, localSize) || s.two(at+8) != 0 {
		return
	}
	name, extra := s.two(at+26), s.two(at+28)
	s.list(at+localSize, name, at+localSize+name+extra, s.four(at+22), s.four(at+14))
}

// directory reads a record of the directory (4.3.12).
func (s *salvage) directory(at int) {
	if !s.begins(at, directorySignature, directorySize) || s.two(at+10) != 0 {
		return
	}
	name := s.two(at + 28)
	s.list(at+directorySize, name, s.four(at+42)+localSize+name, s.four(at+24), s.four(at+16))
}

func (s *salvage) begins(at int, signature uint32, size int) bool {
	return len(s.zip)-at >= size && binary.LittleEndian.Uint32(s.zip[at:]) == signature
}

func (s *salvage) two(at int) int  { return int(binary.LittleEndian.Uint16(s.zip[at:])) }
func (s *salvage) four(at int) int { return int(binary.LittleEndian.Uint32(s.zip[at:])) }

// list keeps where a text lies by one of its two announcements.
func (s *salvage) list(nameAt, nameSize, at, size, sum int) {
	if nameAt+nameSize > len(s.zip) || size == 0 || at > len(s.zip) || size > len(s.zip)-at {
		return
	}
	name := string(s.zip[nameAt : nameAt+nameSize])
	isBranch := strings.HasPrefix(name, branchStart) && strings.HasSuffix(name, branchEnd)
	if name != ledgerName && name != wordsName && name != privateName && !isBranch {
		return
	}
	s.listed++
	for _, known := range s.found[name] {
		if known.at == at && known.size == size && known.fits {
			return
		}
	}
	if s.summed -= size; s.summed < 0 {
		s.listed = mostListed
		return
	}
	if isBranch && s.found[name] == nil {
		s.branches = append(s.branches, name)
	}
	fits := crc32.ChecksumIEEE(s.zip[at:at+size]) == uint32(sum)
	s.found[name] = append(s.found[name], extent{at, size, fits})
}

// text is the one text of a name: of those whose checksum fits, or else of
// those that are announced, there must be one and no other.
func (s *salvage) text(name string) []byte {
	if s.listed >= mostListed {
		return nil
	}
	for _, fits := range []bool{true, false} {
		var one *extent
		for i, e := range s.found[name] {
			switch {
			case e.fits != fits:
			case one == nil:
				one = &s.found[name][i]
			case one.at != e.at || one.size != e.size:
				return nil
			}
		}
		if one != nil {
			return s.zip[one.at : one.at+one.size : one.at+one.size]
		}
	}
	return nil
}

package carry

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
)

// ErrBundle says that a file is not a bundle as Bundle writes it. The text
// around it says what differs.
var ErrBundle = errors.New("not a bundle as it is written here")

// Signatures, sizes and the fixed values of the ZIP layout: PKWARE APPNOTE.TXT
// 6.3, sections 4.3.7 (local header), 4.3.12 (directory), 4.3.16 (end).
const (
	localSignature     = 0x04034b50
	directorySignature = 0x02014b50
	endSignature       = 0x06054b50

	localSize     = 30
	directorySize = 46

	versionMade   = 20     // 4.4.2: made by version 2.0 of the format, FAT
	versionNeeded = 10     // 4.4.3: 1.0, a stored file
	firstDay      = 0x0021 // 4.4.6: 1980-01-01, the first day there is
)

// MaxMembers is how many files a bundle has at most: 0xffff would announce
// ZIP64 (4.4.1.4).
const MaxMembers = 0xffff - 1

// zipWriter writes little-endian numbers behind each other (4.4.1.1).
type zipWriter struct{ out []byte }

func (z *zipWriter) two(values ...uint16) {
	for _, v := range values {
		z.out = binary.LittleEndian.AppendUint16(z.out, v)
	}
}

func (z *zipWriter) four(values ...uint32) {
	for _, v := range values {
		z.out = binary.LittleEndian.AppendUint32(z.out, v)
	}
}

// common writes what local header and directory have in common: from the
// version needed to the length of the extra field.
func (z *zipWriter) common(m member) {
	size := uint32(len(m.data))
	z.two(versionNeeded, 0, 0, 0, firstDay)
	z.four(crc32.ChecksumIEEE(m.data), size, size)
	z.two(uint16(len(m.name)), 0)
}

// local writes the header of a member and its name.
func (z *zipWriter) local(m member) {
	z.four(localSignature)
	z.common(m)
	z.out = append(z.out, m.name...)
}

// listed writes the directory's record of the member whose header is at offset.
func (z *zipWriter) listed(m member, offset int) {
	z.four(directorySignature)
	z.two(versionMade)
	z.common(m)
	z.two(0, 0, 0)
	z.four(0, uint32(offset))
	z.out = append(z.out, m.name...)
}

// end writes the end record of a directory that begins at offset.
func (z *zipWriter) end(members, offset int) {
	size := len(z.out) - offset
	z.four(endSignature)
	z.two(0, 0, uint16(members), uint16(members))
	z.four(uint32(size), uint32(offset))
	z.two(0)
}

// Bundle makes a bundle of files. The same files give the same bytes, and
// TakeBundle gives them back; pictures are put in order by name. Errors:
// ErrFiles for a name that is not 64 lower-case hex digits or comes twice;
// ErrTooLarge.
func Bundle(f Files) ([]byte, error) {
	ms, err := members(f)
	if err != nil {
		return nil, err
	}
	if len(ms) > MaxMembers {
		return nil, fmt.Errorf("%w: %d files, at most %d stand in a bundle", ErrTooLarge, len(ms), MaxMembers)
	}
	if err := DefaultLimits().checkSize(bytesIn(ms)); err != nil {
		return nil, err
	}
	z := zipWriter{out: make([]byte, 0, bytesIn(ms)+256*(len(ms)+1))}
	offsets := make([]int, len(ms))
	for i, m := range ms {
		offsets[i] = len(z.out)
		z.local(m)
		z.out = append(z.out, m.data...)
	}
	directory := len(z.out)
	for i, m := range ms {
		z.listed(m, offsets[i])
	}
	z.end(len(ms), directory)
	if err := DefaultLimits().checkSize(len(z.out)); err != nil {
		return nil, err
	}
	return z.out, nil
}

package carry

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
)

// TakeBundle takes the files out of a bundle. They share its memory. Errors:
// ErrBundle, and ErrFiles beside it when the names are at fault, for every
// file that Bundle would not have written byte for byte; ErrTooLarge.
func TakeBundle(zip []byte) (Files, error) {
	if err := DefaultLimits().checkSize(len(zip)); err != nil {
		return Files{}, err
	}
	ms, err := localMembers(zip)
	if err != nil {
		return Files{}, err
	}
	f, err := filesOf(ms)
	if err != nil {
		return Files{}, fmt.Errorf("%w: %w", ErrBundle, err)
	}
	again, err := Bundle(f)
	if err != nil {
		return Files{}, fmt.Errorf("%w: %w", ErrBundle, err)
	}
	if !bytes.Equal(zip, again) {
		at := firstDifference(zip, again)
		return Files{}, fmt.Errorf("%w: the directory or what follows it differs at byte %d", ErrBundle, at)
	}
	return f, nil
}

// localMembers reads the members one behind the other by their local headers,
// up to the first bytes that are none.
func localMembers(zip []byte) ([]member, error) {
	signature := binary.LittleEndian.AppendUint32(nil, localSignature)
	if !bytes.HasPrefix(zip, signature) {
		return nil, fmt.Errorf("%w: it does not begin like a ZIP file", ErrBundle)
	}
	var ms []member
	for at := 0; bytes.HasPrefix(zip[at:], signature); {
		m, length, err := localMember(zip[at:])
		if err != nil {
			return nil, fmt.Errorf("%w: at byte %d, %w", ErrBundle, at, err)
		}
		ms = append(ms, m)
		at += length
	}
	return ms, nil
}

// localMember reads the member at the beginning of text, and says how many
// bytes its header and data fill.
func localMember(text []byte) (member, int, error) {
	if len(text) < localSize {
		return member{}, 0, errors.New("the file ends in a header")
	}
	head := text[:localSize]
	nameLength := int(binary.LittleEndian.Uint16(head[26:]))
	if len(text)-localSize < nameLength {
		return member{}, 0, errors.New("the file ends in a name")
	}
	name := string(text[localSize : localSize+nameLength])
	if fault := headerFault(head); fault != "" {
		return member{}, 0, fmt.Errorf("%.100q %s", name, fault)
	}
	rest := text[localSize+nameLength:]
	size := binary.LittleEndian.Uint32(head[22:])
	if uint64(size) > uint64(len(rest)) {
		return member{}, 0, fmt.Errorf("%.100q goes beyond the end of the file", name)
	}
	m := member{name, rest[:size:size]}
	if binary.LittleEndian.Uint32(head[14:]) != crc32.ChecksumIEEE(m.data) {
		return member{}, 0, fmt.Errorf("%.100q is damaged: its checksum differs", name)
	}
	var z zipWriter
	z.local(m)
	length := localSize + nameLength
	if !bytes.Equal(z.out, text[:length]) {
		return member{}, 0, fmt.Errorf("the header of %.100q differs", name)
	}
	return m, length + int(size), nil
}

// headerFault says in what a local header shows that another program packed
// the file, where that can be told in plain words.
func headerFault(head []byte) string {
	flags := binary.LittleEndian.Uint16(head[6:])
	method := binary.LittleEndian.Uint16(head[8:])
	switch {
	case flags&1 != 0:
		return "is encrypted"
	case method != 0:
		return "is compressed, not stored"
	case flags != 0:
		return "was packed by another program: it has flags"
	case binary.LittleEndian.Uint16(head[28:]) != 0:
		return "was packed by another program: it has an extra field"
	case binary.LittleEndian.Uint32(head[10:]) != firstDay<<16:
		return "was packed by another program: it has a time of its own"
	}
	return ""
}

// firstDifference returns the offset of the first byte in which two texts
// differ.
func firstDifference(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

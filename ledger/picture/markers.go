package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
)

// Markers of ITU-T T.81 (1992), table B.1.
const (
	sof0 = 0xc0 // baseline
	sof2 = 0xc2 // progressive
	dht  = 0xc4
	rst0 = 0xd0
	rst7 = 0xd7
	soi  = 0xd8
	eoi  = 0xd9
	sos  = 0xda
	dqt  = 0xdb
	dri  = 0xdd
	app0 = 0xe0
	appF = 0xef
	com  = 0xfe
)

// MaxScans is far above what encoders write (about ten for a progressive
// picture, from memory); each scan costs a reader the whole picture once.
const MaxScans = 64

// walk goes through all segments from SOI to EOI and returns NotJPEG or
// HasMetadata for one that a travel copy does not have. Nothing may stand
// after EOI.
func walk(photo []byte) error {
	rest, scans := photo[2:], 0 // DecodeConfig has seen SOI
	for first := true; ; first = false {
		marker, segment, after, err := next(rest)
		if err != nil {
			return err
		}
		if err := allowed(marker, segment, first); err != nil {
			return err
		}
		switch marker {
		case eoi:
			if len(after) > 0 {
				return HasMetadata{fmt.Sprintf("%d bytes after its end", len(after))}
			}
			return nil
		case sos:
			if scans++; scans > MaxScans {
				return NotJPEG{fmt.Sprintf("more than %d scans", MaxScans)}
			}
			after = after[scanLength(after):]
		}
		rest = after
	}
}

// next splits the marker and segment that rest begins with from what follows
// (T.81 B.1.1.4). A marker may be filled up with 0xFF before it (B.1.1.2).
func next(rest []byte) (marker byte, segment, after []byte, err error) {
	if len(rest) < 2 || rest[0] != 0xff {
		return 0, nil, nil, NotJPEG{"it breaks off, or bytes stand between its segments"}
	}
	for len(rest) > 0 && rest[0] == 0xff {
		rest = rest[1:]
	}
	if len(rest) == 0 {
		return 0, nil, nil, NotJPEG{"it breaks off"}
	}
	marker, rest = rest[0], rest[1:]
	if marker == eoi || marker == soi || rst0 <= marker && marker <= rst7 {
		return marker, nil, rest, nil
	}
	if len(rest) < 2 {
		return 0, nil, nil, NotJPEG{"it breaks off"}
	}
	length := int(binary.BigEndian.Uint16(rest))
	if length < 2 || length > len(rest) {
		return 0, nil, nil, NotJPEG{"a segment is longer than the file"}
	}
	return marker, rest[2:length], rest[length:], nil
}

// allowed says whether a travel copy may have this segment.
func allowed(marker byte, segment []byte, first bool) error {
	switch {
	case marker == app0:
		if !first || !plainJFIF(segment) {
			return HasMetadata{"an APP0 segment that is not a plain JFIF header"}
		}
	case app0 < marker && marker <= appF:
		return HasMetadata{fmt.Sprintf("an APP%d segment", marker-app0)}
	case marker == com:
		return HasMetadata{"a comment"}
	}
	switch marker {
	case sof0, sof2, dht, eoi, sos, dqt, dri, app0:
		return nil
	}
	return NotJPEG{fmt.Sprintf("marker %#02x is neither of a baseline nor of a progressive picture", marker)}
}

// plainJFIF says whether the segment is a JFIF header and nothing else: 14
// bytes, no small picture in it (JFIF 1.02, "JFIF syntax").
func plainJFIF(segment []byte) bool {
	return len(segment) == 14 && bytes.HasPrefix(segment, []byte("JFIF\x00")) && segment[12] == 0 && segment[13] == 0
}

// scanLength returns how many bytes of entropy-coded data stand before the
// next marker: 0xFF there is followed by 0, or is a restart marker (T.81
// B.1.1.5).
func scanLength(data []byte) int {
	for i := 0; i+1 < len(data); i++ {
		if data[i] == 0xff && data[i+1] != 0 && (data[i+1] < rst0 || data[i+1] > rst7) {
			return i
		}
	}
	return len(data)
}

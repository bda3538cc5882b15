package format

import "unicode/utf8"

// ForbiddenRune says whether a code point may never stand in an entry: control
// characters, marks that turn or hide text, noncharacters and tags. The two
// joiners 200C and 200D are forbidden in an entry and allowed in a slip.
func ForbiddenRune(r rune) bool {
	switch {
	case r < 0x20, r >= 0x7F && r <= 0x9F:
		return true
	case r == 0x061C, r >= 0x200B && r <= 0x200F:
		return true
	case r >= 0x2028 && r <= 0x202E, r >= 0x2060 && r <= 0x2069:
		return true
	case r == 0xFEFF, r >= 0xFFF9 && r <= 0xFFFB:
		return true
	case r >= 0xFDD0 && r <= 0xFDEF, r&0xFFFE == 0xFFFE:
		return true
	case r >= 0xE0000 && r <= 0xE007F, r >= 0xD800 && r <= 0xDFFF:
		return true
	}
	return r > utf8.MaxRune
}

// badText returns the offset of the first byte of s that may not stand in an
// entry, or -1.
func badText(s []byte) int {
	for i := 0; i < len(s); {
		if c := s[i]; c < utf8.RuneSelf {
			if c < 0x20 || c == 0x7F {
				return i
			}
			i++
			continue
		}
		r, n := utf8.DecodeRune(s[i:])
		if r == utf8.RuneError && n <= 1 || ForbiddenRune(r) {
			return i
		}
		i += n
	}
	return -1
}

// IsText says whether s may stand as a text in an entry.
func IsText(s string) bool { return badText([]byte(s)) < 0 }

// IsWord says whether s is a word: a small letter, then small letters, digits
// and hyphens, 40 characters at most. Kinds and member names are words.
func IsWord(s string) bool {
	if len(s) == 0 || len(s) > 40 || s[0] < 'a' || s[0] > 'z' {
		return false
	}
	for i := 1; i < len(s); i++ {
		c := s[i]
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}

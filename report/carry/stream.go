package carry

import "bytes"

// kind is what the text of a stream may be, by its first bytes.
type kind int

const (
	nothing kind = iota // of no interest here
	ledger              // begins like a ledger
	slips               // begins like a line of base64url
)

// kindOf judges a text by its first bytes.
func kindOf(text []byte) kind {
	head := text[:min(len(text), len(ledgerStart))]
	switch {
	case string(head) == ledgerStart:
		return ledger
	case len(head) > 0 && head[0] != '\n' && slipReach(head) == len(head):
		return slips
	}
	return nothing
}

// slipReach says how many bytes at the beginning of text may stand in slips:
// the URL alphabet of RFC 4648, section 5, and 0x0A.
func slipReach(text []byte) int {
	for i, b := range text {
		letter := 'a' <= b && b <= 'z' || 'A' <= b && b <= 'Z'
		if !letter && (b < '0' || b > '9') && b != '-' && b != '_' && b != '\n' {
			return i
		}
	}
	return len(text)
}

// isSlips says of a text that begins like slips whether every line is
// base64url, is not empty and ends with 0x0A.
func isSlips(text []byte) bool {
	return slipReach(text) == len(text) && bytes.HasSuffix(text, []byte("\n")) &&
		!bytes.Contains(text, []byte("\n\n"))
}

// plainReach says how many bytes of a plain text must be read to judge it.
func plainReach(text []byte) int {
	if kindOf(text) == ledger {
		return len(text)
	}
	return slipReach(text)
}

// dataStart returns where the data of the stream begin whose word "stream"
// stands at this offset: behind the end of line after it (ISO 32000-1:2008,
// 7.3.8.1). A lone CR and blanks before it are taken too.
func dataStart(pdf []byte, word int) (int, bool) {
	if bytes.HasSuffix(pdf[:word], []byte("end")) {
		return 0, false
	}
	at := word + len(streamWord)
	for at < len(pdf) && (pdf[at] == ' ' || pdf[at] == '\t') {
		at++
	}
	for _, end := range []string{"\r\n", "\n", "\r"} {
		if bytes.HasPrefix(pdf[at:], []byte(end)) {
			return at + len(end), true
		}
	}
	return 0, false
}

// dictionaryBefore returns the text from the last "obj" to the end of text,
// as far as a dictionary may reach.
func dictionaryBefore(text []byte) []byte {
	window := text[max(0, len(text)-dictionaryReach):]
	return window[bytes.LastIndex(window, []byte("obj"))+1:]
}

// lengthFits returns where the data at start end by the Length in the
// dictionary, when "endstream" stands there. Without such a Length it returns
// the end of the file and false. A file that is cut off in that "endstream"
// fits.
func lengthFits(dictionary, pdf []byte, start int) (end int, ok bool) {
	_, value, found := cutName(dictionary, "/Length")
	if !found {
		return len(pdf), false
	}
	length, digits := leadingNumber(bytes.TrimLeft(value, " \t\r\n"))
	if digits == 0 || length > len(pdf)-start {
		return len(pdf), false
	}
	end = start + length
	rest := pdf[end:min(len(pdf), end+2+len(endStreamWord))]
	rest = bytes.TrimPrefix(bytes.TrimPrefix(rest, []byte("\r")), []byte("\n"))
	rest = rest[:min(len(rest), len(endStreamWord))] // shorter: the file ends in it
	if !bytes.HasPrefix([]byte(endStreamWord), rest) {
		return len(pdf), false
	}
	return end, true
}

// encryptedTrailer says whether a classic trailer names an encryption
// dictionary (ISO 32000-1:2008, 7.5.5 and 7.6.1).
func encryptedTrailer(pdf []byte) bool {
	for {
		_, after, found := bytes.Cut(pdf, []byte("trailer"))
		if !found {
			return false
		}
		window := after[:min(len(after), dictionaryReach)]
		if bytes.HasPrefix(bytes.TrimLeft(window, " \t\r\n"), []byte("<<")) {
			window, _, _ = bytes.Cut(window, []byte("startxref"))
			if hasName(window, "/Encrypt") {
				return true
			}
			after = after[len(window):]
		}
		pdf = after
	}
}

// hasName says whether a name stands in a dictionary.
func hasName(dictionary []byte, name string) bool {
	_, _, found := cutName(dictionary, name)
	return found
}

// cutName cuts a dictionary around the first occurrence of a whole name: one
// after which another name, a value or a delimiter begins (ISO 32000-1:2008,
// 7.2.2 and 7.3.5).
func cutName(dictionary []byte, name string) (before, after []byte, found bool) {
	for at := 0; ; {
		i := bytes.Index(dictionary[at:], []byte(name))
		if i < 0 {
			return dictionary, nil, false
		}
		at += i + len(name)
		if at == len(dictionary) || bytes.IndexByte([]byte("\x00\t\n\f\r ()<>[]{}/%"), dictionary[at]) >= 0 {
			return dictionary[:at-len(name)], dictionary[at:], true
		}
	}
}

// nextEndStream returns where, behind the end of line at this offset, the next
// line begins with "endstream"; else the end of the text.
func nextEndStream(text []byte, from int) int {
	for at := from; ; {
		i := bytes.Index(text[at:], []byte(endStreamWord))
		if i < 0 {
			return len(text)
		}
		at += i
		if text[at-1] == '\n' || text[at-1] == '\r' {
			return at
		}
		at += len(endStreamWord)
	}
}

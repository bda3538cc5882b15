package loose

import (
	"errors"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// ErrNoText is a file that is no text in an encoding that phones send.
var ErrNoText = errors.New("not a text in UTF-8 or UTF-16")

// Decode makes text of a file: UTF-8 or UTF-16, with or without a mark of byte
// order, any line ends, in NFC.
func Decode(raw []byte) (string, error) {
	text, ok := string(raw), utf8.Valid(raw)
	if order := byteOrder(raw); order != nil {
		text, ok = decode16(raw, order)
	}
	if !ok || strings.ContainsRune(text, 0) {
		return "", ErrNoText
	}
	text = lineEnds.Replace(strings.TrimPrefix(text, "\ufeff"))
	return norm.NFC.String(text), nil
}

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u0085", "\n")

// byteOrder tells UTF-16 by its mark, or by the empty halves of plain letters;
// nil is none.
func byteOrder(raw []byte) func(a, b byte) uint16 {
	little := func(a, b byte) uint16 { return uint16(a) | uint16(b)<<8 }
	big := func(a, b byte) uint16 { return uint16(b) | uint16(a)<<8 }
	switch {
	case len(raw) < 2 || len(raw)%2 != 0:
		return nil
	case raw[0] == 0xff && raw[1] == 0xfe:
		return little
	case raw[0] == 0xfe && raw[1] == 0xff:
		return big
	}
	var empty [2]int
	for i, b := range raw {
		if b == 0 {
			empty[i%2]++
		}
	}
	switch half := len(raw) / 4; {
	case empty[1] > half && empty[0] == 0:
		return little
	case empty[0] > half && empty[1] == 0:
		return big
	}
	return nil
}

func decode16(raw []byte, order func(a, b byte) uint16) (string, bool) {
	units := make([]uint16, 0, len(raw)/2)
	for i := 0; i+1 < len(raw); i += 2 {
		units = append(units, order(raw[i], raw[i+1]))
	}
	text := string(utf16.Decode(units))
	return text, !strings.ContainsRune(text, utf8.RuneError)
}

// clean makes what keyboards write for the same thing one thing.
func clean(line string) string {
	line = sameThing.Replace(line)
	var out strings.Builder
	before := ' '
	for _, r := range line {
		if f, ok := fractionSigns[r]; ok {
			if before >= '0' && before <= '9' {
				out.WriteByte(' ')
			}
			out.WriteString(f)
			before = '0'
			continue
		}
		out.WriteRune(r)
		before = r
	}
	return strings.TrimSpace(out.String())
}

var fractionSigns = map[rune]string{
	'½': "1/2", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8",
}

var sameThing = strings.NewReplacer(
	"“", `"`, "”", `"`, "„", `"`, "‟", `"`, "«", `"`, "»", `"`, "″", `"`, "''", `"`, "’’", `"`, "‘‘", `"`,
	"‘", "'", "’", "'", "‚", "'", "‛", "'", "′", "'", "´", "'", "`", "'",
	"‐", "-", "‑", "-", "‒", "-", "–", "-", "—", "-", "―", "-", "−", "-",
	"×", "x", "✕", "x", "⁄", "/", "²", "2", "³", "3", "°", "", "º", "", "…", " ", "•", " ",
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", "\u2002", " ", "\u2003", " ", "\u3000", " ",
	"\t", " ", "\v", " ", "\f", " ", "\u200b", "", "\ufeff", "", "\u00ad", "", "\u2060", "", "\u200e", "", "\u200f", "",
)

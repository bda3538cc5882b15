package report

import (
	"fmt"
	"strconv"
	"strings"
)

// Units says in which units lengths are printed.
type Units int

// The two: millimetres, or millimetres with inches behind them in brackets.
// The millimetres rule.
const (
	MM Units = iota
	Both
)

// Inches is a length in inches: below 1 m to 1/16 in, from 1 m on to 1 in.
// It takes tenths of a millimetre. 1 in = 25.4 mm exactly (international
// yard and pound agreement of 1959).
func Inches(tenths int64) string {
	if tenths >= 10000 {
		return fmt.Sprintf("%d in", (2*tenths+254)/(2*254))
	}
	sixteenths := (2*16*tenths + 254) / (2 * 254)
	whole, part := sixteenths/16, sixteenths%16
	if part == 0 {
		return fmt.Sprintf("%d in", whole)
	}
	below := int64(16)
	for part%2 == 0 {
		part, below = part/2, below/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d in", part, below)
	}
	return fmt.Sprintf("%d %d/%d in", whole, part, below)
}

// WithInches puts inches behind every length in mm of a text, in brackets:
// "75 mm (2 15/16 in)", "3625–3775 mm (143–149 in)", "between 1200 and 1500 mm
// (47 and 59 in)". A length that has its
// brackets already, and a quantity per length (N/50 mm), stay as they are.
func WithInches(text string) string {
	var b strings.Builder
	for {
		at := strings.Index(text, " mm")
		if at < 0 {
			b.WriteString(text)
			return b.String()
		}
		end := at + len(" mm")
		b.WriteString(text[:end])
		if says := inchesOf(text[:at]); says != "" && lengthEnds(text[end:]) {
			b.WriteString(" (" + says + ")")
		}
		text = text[end:]
	}
}

// lengthEnds tells whether what follows "mm" leaves it a plain length.
func lengthEnds(rest string) bool {
	if strings.HasPrefix(rest, " (") {
		return !strings.Contains(strings.SplitN(rest, ")", 2)[0], " in")
	}
	return rest == "" || strings.ContainsAny(rest[:1], " .,;:)")
}

// inchesOf reads the number or range a text ends with and says it in inches.
func inchesOf(text string) string {
	start := len(text)
	for start > 0 && strings.ContainsRune("0123456789.", rune(text[start-1])) {
		start--
	}
	last, ok := tenthsOf(text[start:])
	if !ok || strings.HasSuffix(text[:start], "/") {
		return ""
	}
	for _, span := range spans {
		before, found := strings.CutSuffix(text[:start], span.join)
		if !found {
			continue
		}
		from := len(before)
		for from > 0 && strings.ContainsRune("0123456789.", rune(before[from-1])) {
			from--
		}
		if first, ok := tenthsOf(before[from:]); ok && strings.HasSuffix(before[:from], span.lead) {
			return strings.TrimSuffix(Inches(first), " in") + span.join + Inches(last)
		}
	}
	return Inches(last)
}

// spans are the ways to say two lengths with one unit.
var spans = []struct{ lead, join string }{{"", "–"}, {"between ", " and "}, {"from ", " to "}}

// tenthsOf reads a number of at most one decimal as tenths.
func tenthsOf(number string) (int64, bool) {
	whole, part, has := strings.Cut(number, ".")
	if has && len(part) != 1 {
		return 0, false
	}
	n, err := strconv.ParseInt(whole+part, 10, 40)
	if err != nil || whole == "" {
		return 0, false
	}
	if !has {
		n *= 10
	}
	return n, true
}

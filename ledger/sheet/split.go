package sheet

import (
	"regexp"
	"strings"
	"sync"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"

	"golang.org/x/text/unicode/norm"
)

// Note is one note of a day sheet: where it stood, under what heading, its
// words as they came, and its canonical line or why it has none.
type Note struct {
	At      int // number of its first line, from 1
	Heading Heading
	Words   string
	Line    string // "" where Err is set
	Draft   ledger.Draft
	Err     error
}

var (
	headingOn = pattern(`^on (\d{4}-\d{2}-\d{2}) zone ([+-]\d{2}:\d{2})$`)
	opensNote = pattern(`^[a-z][a-z-]*( [A-Z0-9-]+)?:( |$)`)
)

// pattern is made when it is first asked for.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// Read reads a day sheet in canonical text, under the heading that holds
// before its first line. Every line comes out as heading, note or blank;
// nothing is dropped. Line ends may be LF or CRLF, a byte order mark passes,
// text is made NFC.
func Read(text string, h Heading) []Note {
	text = strings.TrimPrefix(text, "\ufeff")
	text = norm.NFC.String(strings.ReplaceAll(text, "\r\n", "\n"))
	var notes []Note
	var open *Note
	for i, line := range strings.Split(text, "\n") {
		switch {
		case open != nil && strings.HasPrefix(line, " "):
			open.Words += "\n" + line
			continue
		case strings.TrimSpace(line) == "":
			open = nil
			continue
		}
		open = nil
		if next, ok, err := ReadHeading(line, h); ok {
			h = next
			if err != nil {
				h.Day = "" // what stands below it has no day until a good one
				notes = append(notes, Note{At: i + 1, Heading: h, Words: line, Err: err})
			}
			continue
		}
		notes = append(notes, Note{At: i + 1, Heading: h, Words: line})
		open = &notes[len(notes)-1]
	}
	for i := range notes {
		notes[i].read()
	}
	return notes
}

// IsPlate says whether a heading can name a coach by this VIN or serial.
func IsPlate(s string) bool {
	return s != "" && strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-") == ""
}

// ReadHeading reads a heading line; ok says whether it is one.
func ReadHeading(line string, h Heading) (Heading, bool, error) {
	if coach, ok := strings.CutPrefix(line, "coach "); ok {
		coach = strings.ToUpper(strings.ReplaceAll(coach, " ", ""))
		if !IsPlate(coach) {
			return h, true, unclear(ReasonReference, "%q is no VIN or serial", clip(line))
		}
		h.Coach = coach
		return h, true, nil
	}
	if !strings.HasPrefix(line, "on ") {
		return h, false, nil
	}
	m := headingOn().FindStringSubmatch(line)
	if m == nil {
		return h, true, unclear(ReasonDay, "write the day as: on 2020-04-07 zone +02:00")
	}
	if _, err := day.ParseMoment(m[1] + "T00:00" + m[2]); err != nil {
		return h, true, unclear(ReasonDay, "%s zone %s: there is no such day or zone", m[1], m[2])
	}
	h.Day, h.Zone = m[1], m[2]
	return h, true, nil
}

func (n *Note) read() {
	if n.Err != nil {
		return
	}
	n.Draft, n.Line, n.Err = ReadNote(n.Words, n.Heading)
}

// ReadNote reads one note, folded or not, under its heading: its draft and its
// canonical line.
func ReadNote(words string, h Heading) (d ledger.Draft, line string, err error) {
	line, err = Unfold(words)
	if err == nil {
		err = Allowed(line)
	}
	if err == nil {
		d, err = ReadLine(line, h)
	}
	if err != nil {
		return ledger.Draft{}, "", err
	}
	return d, line, nil
}

// Allowed refuses characters that no entry may hold. Joiners may stand between
// the quotes of a private value or a free text, which travels in a slip, but
// not in a label; the note is refused where one would stand in the entry.
func Allowed(line string) error {
	plain := strings.NewReplacer("\u200c", "", "\u200d", "").Replace(line)
	if !format.IsText(plain) {
		return unclear(ReasonWord, "it holds a character that nobody can see, which no entry may hold: type it again")
	}
	return nil
}

// Unfold joins a folded note to one line, and refuses one that is folded where
// the writer would not fold.
func Unfold(words string) (string, error) {
	first, rest, folded := strings.Cut(words, "\n")
	if !opensNote().MatchString(first) {
		return "", unclear(ReasonKind, "%q begins with no kind of note: finding, work, check …", clip(first))
	}
	if !folded {
		if len([]rune(first)) > foldAt && !strings.Contains(first, ": ") {
			return "", unclear(ReasonWord, "nothing follows the head")
		}
		return first, nil
	}
	if !strings.HasSuffix(first, ":") {
		return "", unclear(ReasonWord, "a folded note has its kind alone on the first line")
	}
	parts := strings.Split(rest, "\n")
	for i, p := range parts {
		trimmed, ok := strings.CutPrefix(p, "  ")
		if !ok || strings.TrimSpace(trimmed) != trimmed {
			return "", unclear(ReasonWord, "line %d of the note: two spaces before a part, none behind it", i+2)
		}
		parts[i] = trimmed
	}
	line := first + " " + strings.Join(parts, "; ")
	if Fold(line) != words {
		return "", unclear(ReasonWord, "only a note of more than %d characters is folded; this one stands on one line", foldAt)
	}
	return line, nil
}

package loose

import (
	"math/big"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
)

type tokenKind int

const (
	aWord    tokenKind = iota // letters, a phrase once it is known
	aNumber                   //
	aText                     // between quotes
	aStop                     // , ; : . ( ) ?
	aSign                     // - / x + & between other things
	aTag                      // F1, Q-0007, 20-0417
	aRef                      // #34
	aMark                     // hand-1, holder-3
	aDay                      // 2020-03-16, 16.3.2020, 3/4/2026
	aTime                     // 16:30
	aFile                     // roof-12.jpg
	aNewline                  // the end of a line of a note
)

// token is one thing of a line.
type token struct {
	kind   tokenKind
	s      string // as compared: small letters for words, capitals for tags
	raw    string // as typed
	glued  bool   // nothing between it and the one before
	used   bool
	filler bool
	senses []sense
	num    *big.Rat
	comma  int  // figures behind a comma, 0 none
	whole  bool // a number of figures alone
	broken bool // a fraction stands in it
	pairs  bool // sixteen eighty: two pairs of figures
	unit   string
	joined bool  // the unit was typed by a mark or glued to the number
	slip   error // it is near to several words
	from   int   // where it stands in the line
}

func (t *token) is(s string) bool { return t.kind == aWord && t.s == s && !t.used }

var (
	dayISO   = pattern(`^\d{4}-\d{2}-\d{2}$`)
	dayDot   = pattern(`^\d{1,2}\.\d{1,2}\.(\d{4}|\d{2})$`)
	dayNoDot = pattern(`^\d{1,2}\.\d{1,2}\.$`)
	dayRoad  = pattern(`^\d{1,2}/\d{1,2}/\d{4}$`)
	timeOf   = pattern(`^\d{1,2}:\d{2}([+-]\d{2}:\d{2})?$`)
	tagOf    = pattern(`^[A-Za-z]{1,4}-?\d[0-9A-Za-z-]*$`)
	lotOf    = pattern(`^\d{2,4}-\d{3,6}$`)
	markOf   = pattern(`^[a-z]{2,}(-[a-z]+)*-\d{1,3}$`)
	fileOf   = pattern(`(?i)^[\w.-]+\.(jpe?g|png|heic|webp|tiff?|csv|txt|pdf)$`)
	numberOf = pattern(`^\d+([.,]\d+)?`)
)

// pattern is made when it is first asked for.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// scan takes a cleaned line apart. known says whether a chunk is a tag, a lot or
// a name of this coach.
func scan(line string, known func(string) bool, marks []string) ([]token, error) {
	s := scanner{line: line, known: known, marks: marks}
	for s.at < len(line) {
		if err := s.next(); err != nil {
			return nil, err
		}
	}
	return s.out, nil
}

type scanner struct {
	line  string
	at    int
	out   []token
	known func(string) bool
	marks []string
	space bool // a space was passed
}

func (s *scanner) add(kind tokenKind, text string, size int) *token {
	t := token{kind: kind, s: text, raw: s.line[s.at : s.at+size], glued: !s.space && s.at > 0, from: s.at}
	s.out = append(s.out, t)
	s.at += size
	s.space = false
	return &s.out[len(s.out)-1]
}

func (s *scanner) next() error {
	rest := s.line[s.at:]
	switch c := rest[0]; {
	case c == ' ':
		s.at++
		s.space = true
	case c == '\n':
		s.add(aNewline, "\n", 1)
		s.space = true
	case c == '"':
		return s.quote(rest)
	case c == '\'':
		if s.behindDigit() {
			s.add(aWord, "ft", 1)
		} else {
			s.at++
		}
	case strings.IndexByte(",;:.()?!=", c) >= 0:
		s.add(aStop, string(c), 1)
	case strings.IndexByte("-/+&*", c) >= 0:
		s.add(aSign, map[bool]string{true: "x", false: string(c)}[c == '*'], 1)
	case c == '%':
		s.add(aWord, "%", 1)
	case c == '#':
		return s.reference(rest)
	default:
		s.chunk(rest)
	}
	return nil
}

func (s *scanner) behindDigit() bool {
	return s.at > 0 && s.line[s.at-1] >= '0' && s.line[s.at-1] <= '9'
}

func (s *scanner) quote(rest string) error {
	if s.behindDigit() {
		s.add(aWord, "in", 1)
		return nil
	}
	var text strings.Builder
	for at := 1; at < len(rest); at++ {
		if rest[at] != '"' {
			text.WriteByte(rest[at])
			continue
		}
		if at+1 < len(rest) && rest[at+1] == '"' {
			text.WriteByte('"')
			at++
			continue
		}
		s.add(aText, strings.TrimSpace(text.String()), at+1)
		return nil
	}
	return unclear(Word, "the text %s has no closing quote", clip(rest))
}

var refOf = pattern(`^#\d+(/\d+)?`)

func (s *scanner) reference(rest string) error {
	m := refOf().FindString(rest)
	if m == "" {
		return unclear(Reference, "%s: write the number of an entry behind #", clip(rest))
	}
	s.add(aRef, m, len(m))
	return nil
}

// chunk reads what stands up to the next space or stop, or a part of it.
func (s *scanner) chunk(rest string) {
	size := strings.IndexAny(rest, " \n,;()\"?!")
	if size < 0 {
		size = len(rest)
	}
	whole := rest[:size]
	bare := strings.TrimRight(whole, ".:")
	if s.at == 0 || s.space || s.behindStop() {
		if kind, text := s.special(whole, bare); text != "" {
			n := len(bare)
			if kind == aDay && dayNoDot().MatchString(whole) {
				n = len(whole)
			}
			s.add(kind, text, n)
			return
		}
	}
	if rest[0] >= '0' && rest[0] <= '9' {
		s.number(numberOf().FindString(rest))
		return
	}
	if kind, text := s.tagged(s.upTo(rest, "/:.")); text != "" {
		s.add(kind, text, len(text))
		return
	}
	s.letters(rest)
}

func (s *scanner) behindStop() bool {
	return len(s.out) > 0 && (s.out[len(s.out)-1].kind == aStop || s.out[len(s.out)-1].kind == aNewline)
}

func (s *scanner) upTo(rest, stops string) string {
	if at := strings.IndexAny(rest, stops+" \n,;()\"?!"); at >= 0 {
		return rest[:at]
	}
	return rest
}

// special are chunks that are one thing as a whole.
func (s *scanner) special(whole, bare string) (tokenKind, string) {
	switch up := strings.ToUpper(bare); {
	case bare == "":
		return 0, ""
	case s.known(up):
		return aTag, up
	case !strings.ContainsAny(bare, "0123456789.-"):
		return 0, ""
	case dayISO().MatchString(bare), dayDot().MatchString(bare), dayRoad().MatchString(bare):
		return aDay, bare
	case dayNoDot().MatchString(whole):
		return aDay, whole
	case timeOf().MatchString(bare) && !strings.HasPrefix(bare, "1:"):
		return aTime, bare
	case fileOf().MatchString(bare) && !numberOf().MatchString(bare) || strings.HasSuffix(strings.ToLower(bare), ".jpg"):
		return aFile, bare
	case markOf().MatchString(strings.ToLower(bare)), strings.Contains(bare, "-") && slices.Contains(s.marks, strings.ToLower(bare)):
		return aMark, strings.ToLower(bare)
	case lotOf().MatchString(bare) && strings.HasPrefix(bare[strings.IndexByte(bare, '-')+1:], "0"):
		return aTag, bare
	}
	return s.tagged(bare)
}

// tagged is a chunk that looks like a tag: letters, then figures.
func (s *scanner) tagged(chunk string) (tokenKind, string) {
	up := strings.ToUpper(chunk)
	if _, unit := unitTable[strings.ToLower(chunk)]; unit && !s.known(up) {
		return 0, ""
	}
	if s.known(up) || tagOf().MatchString(chunk) && !xThenNumber(chunk) && !s.sideThenNumber(chunk) {
		return aTag, up
	}
	return 0, ""
}

// sideThenNumber is the L-350 of 350 L-350 R.
func (s *scanner) sideThenNumber(chunk string) bool {
	side := strings.ToLower(chunk)
	return (strings.HasPrefix(side, "l-") || strings.HasPrefix(side, "r-")) && len(s.out) > 0 && s.out[len(s.out)-1].kind == aNumber
}

// xThenNumber is the x of 356 x356.
func xThenNumber(chunk string) bool {
	return (chunk[0] == 'x' || chunk[0] == 'X') && strings.Trim(chunk[1:], "0123456789.") == ""
}

func (s *scanner) number(m string) {
	at := strings.IndexAny(m, ".,")
	figures := 0
	if at >= 0 && m[at] == ',' {
		figures = len(m) - at - 1
		if figures > 3 { // a list without spaces
			m, figures, at = m[:at], 0, -1
		}
	}
	n, ok := new(big.Rat).SetString(strings.Replace(m, ",", ".", 1))
	t := s.add(aNumber, m, len(m))
	if !ok || len(m) > 15 {
		n = new(big.Rat)
		t.kind = aWord
	}
	t.num, t.comma, t.whole = n, figures, at < 0
}

func (s *scanner) letters(rest string) {
	size := 0
	for i, r := range rest {
		if !unicode.IsLetter(r) && r != '\'' && !unicode.Is(unicode.Mn, r) {
			break
		}
		size = i + len(string(r))
	}
	if size == 0 {
		for _, r := range rest {
			size = len(string(r))
			break
		}
	}
	word := strings.ToLower(rest[:size])
	if with, ok := unitFigures(rest, size); ok {
		s.add(aWord, strings.ToLower(rest[:with]), with)
		return
	}
	if word == "x" && len(s.out) > 0 && (s.behindDigit() || s.out[len(s.out)-1].kind == aNumber || isUnit(s.out[len(s.out)-1].s)) {
		s.add(aSign, "x", 1)
		return
	}
	s.add(aWord, strings.ReplaceAll(word, "'", ""), size)
}

// unitFigures takes the figure of m2 and n/50mm with the letters.
func unitFigures(rest string, size int) (int, bool) {
	end := size
	for end < len(rest) && rest[end] >= '0' && rest[end] <= '9' {
		end++
	}
	_, ok := unitTable[strings.ToLower(rest[:end])]
	return end, ok && end > size
}

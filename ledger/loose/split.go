package loose

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
	"lapmark/ledger/sheet"
)

// Note is one note of a day sheet, or one of its headings.
type Note struct {
	sheet.Note
	Heads Heads    // what a heading names for the notes below it
	By    []string // writers of a note that says none
	Spare []string // words that went to the note's text by themselves
	named bool     // a line above names By
}

// Heads is what a heading names.
type Heads int

// A note heads nothing.
const (
	NoHeading Heads = iota
	HeadsCoach
	HeadsDay
	HeadsWriter
)

// Split takes a day sheet apart, under the heading that holds before its first
// line. Every line comes out in a note, as a heading, or is blank. by are the
// writers where no line says so.
func Split(text string, h sheet.Heading, by []string, shop Shop) []Note {
	s := splitter{shop: shop, h: h, by: by}
	for i, line := range strings.Split(text, "\n") {
		s.line(i+1, line)
	}
	return s.notes
}

type splitter struct {
	shop  Shop
	h     sheet.Heading
	by    []string
	notes []Note
	named bool // a line says who writes
	open  bool // the last note takes indented lines
	block bool // and all other lines
}

func (s *splitter) line(at int, raw string) {
	text := clean(raw)
	indented := raw != "" && strings.IndexByte(" \t", raw[0]) >= 0 || strings.HasPrefix(raw, "\u00a0")
	switch {
	case text == "":
		if s.open && !s.block && indented {
			return
		}
		s.open, s.block = false, false
		return
	case s.open && indented:
		s.more(raw)
		return
	case s.heading(at, raw, text):
		s.open, s.block = false, false
		return
	case s.block && strings.EqualFold(text, "end"):
		s.open, s.block = false, false
		return
	case s.block && !opensCanonical(raw):
		s.more(raw)
		return
	}
	s.notes = append(s.notes, Note{Note: sheet.Note{At: at, Heading: s.h, Words: raw}, By: s.by, named: s.named})
	s.open, s.block = true, opensBlock(text)
}

func (s *splitter) more(raw string) { s.notes[len(s.notes)-1].Words += "\n" + raw }

var canonicalHead = pattern(`^[a-z][a-z-]*( [A-Z0-9-]+)?:( |$|\n)`)

// opensCanonical says whether a line begins as a canonical one does.
func opensCanonical(line string) bool {
	kind, _, _ := strings.Cut(canonicalHead().FindString(line), ":")
	kind, _, _ = strings.Cut(kind, " ")
	_, known := ledger.KindNamed(kind)
	return known
}

// opensBlock says whether a line is a block word alone.
func opensBlock(text string) bool {
	low := strings.ToLower(strings.Trim(text, " :"))
	first, rest, _ := strings.Cut(low, " ")
	switch {
	case strings.HasSuffix(text, ":") && opensCanonical(text):
		return false
	case first == "certificate":
		return rest != "" && !strings.Contains(" "+rest, " line ")
	case first == "cure":
		return strings.HasSuffix(low, " log")
	case first == "upkeep":
		return rest == "" || strings.HasPrefix(rest, "by ") && len(strings.Fields(rest)) <= 3
	}
	for _, s := range lexiconOf().senses[joined(low)] {
		if s.with == Always && (s.list == "checks" || s.list == kindWords && slices.Contains([]string{"intake", "delivery", "measure", "later-work"}, s.name)) {
			return true
		}
	}
	return false
}

// heading reads a line that is a heading; what of it is unclear is a note.
func (s *splitter) heading(at int, raw, text string) bool {
	h, by, heads, err := s.shop.heading(raw, text, s.h)
	if heads == NoHeading {
		return false
	}
	if by != "" {
		s.by, s.named = []string{by}, true
	}
	if err != nil && heads == HeadsCoach && h.Coach == s.h.Coach {
		h.Day = "" // what stands below it is not of the coach before
	}
	s.h = h
	s.notes = append(s.notes, Note{Note: sheet.Note{At: at, Heading: s.h, Words: raw, Err: err}, By: s.by, Heads: heads})
	return true
}

// heading reads coach, day or writer of the lines below.
func (s Shop) heading(raw, text string, h sheet.Heading) (out sheet.Heading, by string, heads Heads, err error) {
	low := strings.ToLower(text)
	if plate, is := strings.CutPrefix(low, "coach"); is && strings.HasPrefix(strings.TrimLeft(plate, " "), ":") || strings.HasPrefix(low, "coach ") {
		out, err = s.coachHeading(text[len("coach"):], h)
		return out, "", HeadsCoach, err
	}
	if plate, ok := s.barePlate(text); ok {
		h.Coach = plate
		return h, "", HeadsCoach, nil
	}
	if next, is, err := sheet.ReadHeading(raw, h); is && err == nil {
		return next, "", HeadsDay, nil
	}
	if mark, is := s.bareMark(low); is {
		if !s.isOurs(mark) {
			return h, "", HeadsWriter, unclear(Who, saysNoMark, mark)
		}
		return h, mark, HeadsWriter, nil
	}
	out, ok, err := s.dayHeading(text, h)
	if !ok {
		return h, "", NoHeading, nil
	}
	return out, "", HeadsDay, err
}

// isOurs says whether a mark may head lines. A shop that has written down no
// marks yet takes one with a number: hand-1.
func (s Shop) isOurs(mark string) bool {
	return slices.Contains(s.Marks, mark) || len(s.Marks) == 0 && markOf().MatchString(mark) && !isHolder(mark)
}

// coachHeading finds the coach whose VIN or serial ends so.
func (s Shop) coachHeading(typed string, h sheet.Heading) (sheet.Heading, error) {
	plate := strings.ToUpper(strings.ReplaceAll(strings.Trim(typed, " :."), " ", ""))
	if !sheet.IsPlate(plate) {
		return h, unclear(Reference, "%q is no VIN or serial", clip(strings.TrimSpace(typed)))
	}
	if chunks := strings.Fields(typed); !slices.Contains(s.Plates, plate) && len(chunks) > 1 && strings.ToUpper(typed) != typed {
		return h, unclear(Reference, "%s: coach and its VIN or serial stand alone on a line", clip(strings.TrimSpace(typed)))
	}
	h.Coach = plate
	if slices.Contains(s.Plates, plate) || len(plate) >= 8 {
		return h, nil
	}
	var found []string
	for _, p := range s.Plates {
		if strings.HasSuffix(p, plate) && len(plate) >= 4 {
			found = append(found, p)
		}
	}
	switch len(found) {
	case 1:
		h.Coach = found[0]
		return h, nil
	case 0:
		return h, unclear(Reference, "no coach ends in %s", plate)
	}
	return h, unclear(Reference, "%d coaches end in %s: %s", len(found), plate, strings.Join(found, ", "))
}

// barePlate says whether a line is nothing but a VIN or serial.
func (s Shop) barePlate(text string) (string, bool) {
	plate := strings.ToUpper(strings.ReplaceAll(text, " ", ""))
	if !sheet.IsPlate(plate) {
		return "", false
	}
	if slices.Contains(s.Plates, plate) {
		return plate, true
	}
	return plate, vinLine().MatchString(text) && len(plate) == 17
}

// vinLine is a VIN of a coach that is not here yet, in capitals as it stands on
// the plate; the last four are figures.
var vinLine = pattern(`^[A-HJ-NPR-Z0-9 ]+(\d ?){4}$`)

// bareMark reads by hand-2, by hand 2.
func (s Shop) bareMark(low string) (string, bool) {
	mark, ok := strings.CutPrefix(strings.TrimPrefix(low, "written "), "by ")
	mark = strings.ReplaceAll(strings.Trim(mark, " .:"), " ", "-")
	return mark, ok && ledger.IsMark(mark) && strings.Count(mark, "-") <= 2
}

// longestDay is longer than any day and zone that anybody types.
const longestDay = 60

var zoneBehind = pattern(`(?i)\s+zone\s+([+-]\d{2}:\d{2})$`)

// dayHeading reads a line that is nothing but a day.
func (s Shop) dayHeading(text string, h sheet.Heading) (out sheet.Heading, ok bool, err error) {
	if len(text) > longestDay {
		return h, false, nil
	}
	zone := ""
	if m := zoneBehind().FindStringSubmatchIndex(text); m != nil {
		zone, text = text[m[2]:m[3]], text[:m[0]]
	}
	low := strings.ToLower(text)
	if !mayBeDay(low) {
		return h, false, nil
	}
	on := strings.HasPrefix(low, "on ")
	tokens, err := scan(strings.Trim(strings.TrimPrefix(strings.TrimPrefix(low, "on "), "day "), " :"), func(string) bool { return false }, nil)
	if err != nil {
		return h, false, nil
	}
	tokens = numbers(tokens)
	if len(tokens) > 2 && namedIn(weekdayNames, tokens[0].s) > 0 { // Wednesday, 25 November
		tokens = tokens[1:]
		for len(tokens) > 0 && tokens[0].kind == aStop {
			tokens = tokens[1:]
		}
	}
	d, next, err := s.dayAt(tokens, 0)
	for next > 0 && next < len(tokens) && tokens[next].kind == aStop {
		next++
	}
	if next < len(tokens) || next == 0 {
		if on && next == 0 && len(tokens) > 0 && len(tokens) < 4 && (tokens[0].kind == aNumber || tokens[0].kind == aDay) {
			h.Day = ""
			return h, true, unclear(DayOf, "%s: which day", clip(text))
		}
		return h, false, nil
	}
	if err != nil {
		h.Day = ""
		return h, true, err
	}
	var lines []string
	for _, one := range d.days {
		lines = append(lines, strings.Join(s.under(h, one, zone).Lines(sheet.Heading{Coach: h.Coach}), ""))
	}
	if len(lines) > 1 {
		h.Day = ""
		return h, true, unclear(Readings, "%s", strings.Join(lines, " | "))
	}
	return s.under(h, d.days[0], zone), true, nil
}

// mayBeDay says whether the first word of a line may begin a day.
func mayBeDay(low string) bool {
	first, _, _ := strings.Cut(low, " ")
	first = strings.Trim(first, ",.:")
	_, number := numberWords[first]
	return number || first == "on" || first == "the" || first == "day" || first == "today" || first == "yesterday" ||
		first != "" && first[0] >= '0' && first[0] <= '9' || namedIn(monthNames, first) > 0 || namedIn(weekdayNames, first) > 0
}

func (s Shop) under(h sheet.Heading, d day.Day, zone string) sheet.Heading {
	if zone == "" {
		zone = s.zoneOf(d, h)
	}
	h.Day, h.Zone = d.String(), zone
	return h
}

// Canonical reads the note where it is canonical text as it stands, and says
// whether it is. A writer who stands alone on a line above writes it where it
// names none.
func (n *Note) Canonical() bool {
	d, line, err := sheet.ReadNote(n.Words, n.Heading)
	if err != nil {
		return false
	}
	n.Draft, n.Line = d, line
	if d.Body["by"] != nil || !n.named {
		return true
	}
	d.Body["by"] = marks(n.By)
	if line, err := sheet.Line(d, n.Heading); err == nil {
		n.Line = line
	}
	return true
}

func marks(by []string) format.Array {
	var out format.Array
	for _, m := range by {
		out = append(out, m)
	}
	return out
}

// Loosely reads a note that is not canonical against its coach.
func (n *Note) Loosely(shop Shop, coach *Coach) {
	r, err := readLoose(n.Words, n.Heading, n.By, shop, coach)
	if err == nil {
		n.Draft, n.Line, n.Spare = r.draft, r.line, r.notes
		return
	}
	n.Err = err
	if words := strings.TrimSpace(n.Words); opensCanonical(words) {
		if _, _, typed := sheet.ReadNote(n.Words, n.Heading); typed != nil {
			n.Err = typed
		}
	}
}

// Read reads the note: canonical text as it stands, all else loosely.
func (n *Note) Read(shop Shop, coach *Coach) {
	if n.Err == nil && n.Heads == NoHeading && !n.Canonical() {
		n.Loosely(shop, coach)
	}
}

// MaxNote is the longest note that is read loosely, in bytes. Common practice, no
// source: a whole intake has a quarter of it.
const MaxNote = 4000

// readLoose is the one reading of a note, or why it has none.
func readLoose(words string, h sheet.Heading, by []string, shop Shop, coach *Coach) (reading, error) {
	lines := strings.Split(words, "\n")
	for i := range lines {
		lines[i] = clean(lines[i])
	}
	text := strings.Join(lines, "\n")
	if len(text) > MaxNote {
		return reading{}, unclear(Word, "one note of %d bytes; it has %d at most: part it", len(text), MaxNote)
	}
	if err := sheet.Allowed(strings.ReplaceAll(text, "\n", " ")); err != nil {
		return reading{}, err
	}
	if _, err := day.Parse(h.Day); err != nil {
		return reading{}, unclear(DayOf, "no day: write on 2020-04-07 above the note")
	}
	b, err := newBase(text, h, by, shop, coach)
	if err != nil {
		return reading{}, err
	}
	list, err := all(h, b.read)
	if err != nil {
		return reading{}, err
	}
	return one(list)
}

func newBase(text string, h sheet.Heading, by []string, shop Shop, coach *Coach) (*base, error) {
	shop.Marks = append(slices.Clone(shop.Marks), coach.marks...)
	text, parts := canonicalParts(text, h)
	text, overrides, err := shop.cutOverrides(text)
	if err != nil {
		return nil, err
	}
	tokens, err := scan(text, coach.knows, shop.Marks)
	if err != nil {
		return nil, err
	}
	own := map[string]string{}
	for typed, is := range shop.Words {
		own[joined(typed)] = is
	}
	return &base{
		shop: shop, coach: coach, h: h, by: by, line: text, overrides: overrides,
		tokens: numbers(tag(tokens, own)), parts: parts,
	}, nil
}

// canonicalParts takes those parts of a line with a canonical head that are
// canonical themselves; what is left is read loosely.
func canonicalParts(text string, h sheet.Heading) (string, ledger.Draft) {
	head := canonicalHead().FindString(text)
	name, tag, _ := strings.Cut(strings.TrimRight(head, ": \n"), " ")
	kind, known := ledger.KindNamed(name)
	if !known || tag != "" && !sheet.IsTag(tag) {
		return text, ledger.Draft{}
	}
	d := ledger.Draft{Kind: name, Body: format.Object{}, Private: map[string]string{}}
	if tag != "" {
		d.Body["tag"] = tag
	}
	rest := name
	for _, part := range cutParts(text[len(head):]) {
		try := d.Clone()
		if err := sheet.ReadPart(&try, kind, part, h); err == nil {
			d = try
			continue
		}
		rest += " " + part + ";"
	}
	return strings.TrimSuffix(rest, ";"), d
}

// cutParts cuts at semicolons and line ends outside texts.
func cutParts(text string) []string {
	var out []string
	inText, from := false, 0
	for i := 0; i <= len(text); i++ {
		if i < len(text) && text[i] == '"' {
			inText = !inText
		}
		if i == len(text) || !inText && (text[i] == ';' || text[i] == '\n') {
			if part := strings.TrimSpace(text[from:i]); part != "" {
				out = append(out, part)
			}
			from = i + 1
		}
	}
	return out
}

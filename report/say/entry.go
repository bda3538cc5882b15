package say

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"lapmark/ledger"
	"lapmark/ledger/format"
	"lapmark/report"
	"lapmark/report/english"
)

// Entry says an entry, as it counts now, in a few short sentences. Private
// values and free texts are said where r has them opened. What a correction
// changed is marked; a kind, member or word newer than this tool is shown as it
// stands.
func Entry(r *ledger.Replay, a *ledger.Act) string {
	s := &speaker{r: r, a: a, opened: r.Opened[a.No], told: map[string]bool{}}
	kind, ok := ledger.KindNamed(a.Kind)
	if !ok {
		return s.unknownKind()
	}
	if lead := leads[a.Kind]; lead != nil {
		s.say(lead(s))
	}
	for _, f := range kind.AllFields() {
		if f.Name == "private" {
			s.private(kind)
		}
		s.field(f)
	}
	s.rest(kind)
	s.corrections()
	return strings.Join(s.out, " ")
}

// speaker says one entry.
type speaker struct {
	r      *ledger.Replay
	a      *ledger.Act
	opened map[string]string
	told   map[string]bool // members that were said
	out    []string        // sentences
}

// say adds a sentence: a capital in front, a full stop behind.
func (s *speaker) say(text string) {
	text = strings.TrimSpace(text)
	if text == "" {
		return
	}
	r, size := utf8.DecodeRuneInString(text)
	text = string(unicode.ToUpper(r)) + text[size:]
	if !strings.HasSuffix(strings.TrimRight(text, `"`), ".") {
		text += "."
	}
	s.out = append(s.out, text)
}

// take returns a member of the body, which counts as said then.
func (s *speaker) take(name string) format.Value {
	s.told[name] = true
	return s.a.Body[name]
}

func (s *speaker) text(name string) string {
	v, _ := s.take(name).(string)
	return v
}

// unsaid are members that say nothing to people: what programs check, and what
// a certificate prints in its own words.
var unsaid = []string{
	"nonce", "house", "recovery", "accept", "branch", "happened", "how-to-check", "limits", "rules", "language",
	"sentences", "private",
}

// field says one field of the table, unless the lead has said it, or it only
// says what is usual.
func (s *speaker) field(f ledger.Field) {
	if f.Form == ledger.FormFree {
		if text, ok := s.opened[f.Name]; ok {
			s.say(freeText(f.Name, text))
		}
		return
	}
	v, there := s.a.Body[f.Name]
	usual := f.Default != nil && same(v, f.Default) || f.Form == ledger.FormFlag && v == false
	if !there || usual || s.told[f.Name] || slices.Contains(unsaid, f.Name) {
		return
	}
	s.told[f.Name] = true
	if phrase := phrases[f.Name]; phrase != nil {
		s.say(phrase(s, v))
		return
	}
	s.say(s.plain(f, v))
}

// plain says a field by its form: its name and its value.
func (s *speaker) plain(f ledger.Field, v format.Value) string {
	name := f.Says
	if name == "" {
		name = strings.ReplaceAll(f.Name, "-", " ")
	}
	if f.Form == ledger.FormFlag {
		return name
	}
	list, many := v.(format.Array)
	if !many || !f.Many {
		return name + ": " + s.value(f, v)
	}
	if len(list) == 0 {
		return name + ": none"
	}
	if f.Form == ledger.FormRef {
		return name + ": " + s.entries(v)
	}
	var out []string
	for _, one := range list {
		out = append(out, s.value(f, one))
	}
	return name + ": " + several(out)
}

func (s *speaker) value(f ledger.Field, v format.Value) string {
	text, isText := v.(string)
	n, isNumber := v.(int64)
	values, isObject := v.(format.Object)
	switch {
	case f.Form == ledger.FormWord && isText:
		return ledger.Said(f.List, text)
	case f.Form == ledger.FormRef:
		return s.entries(format.Array{v})
	case f.Form == ledger.FormPlace:
		return at(format.Array{v})
	case f.Form == ledger.FormValues && isObject:
		return Values(values)
	case f.Form == ledger.FormMm && isNumber:
		return ledger.Decimal(n) + " mm"
	case f.Form == ledger.FormMonths && isNumber:
		return english.Numbered(int(n), "month", "months")
	case (f.Form == ledger.FormDay || f.Form == ledger.FormMoment || f.Form == ledger.FormDayOrMoment) && isText:
		return when(text)
	case isText:
		return text
	case isNumber:
		return ledger.Decimal(n)
	}
	return asItStands(v)
}

// private says the private values at hand, in the order of the table.
func (s *speaker) private(kind ledger.Kind) {
	for _, p := range kind.Privates {
		if text, ok := s.opened[p.Name]; ok && p.Sight != ledger.SightPaper {
			s.say(strings.ReplaceAll(p.Name, "-", " ") + ": " + text)
		}
	}
}

// rest shows what the tables do not know: members that nothing has said, and
// the members that hold an unknown word or member.
func (s *speaker) rest(kind ledger.Kind) {
	known := map[string]bool{"tag": true}
	for _, f := range kind.AllFields() {
		known[f.Name] = true
		known["unit"] = known["unit"] || f.Form == ledger.FormAmount
	}
	shown := map[string]bool{}
	for _, name := range format.Names(s.a.Body) {
		if !known[name] && !s.told[name] {
			shown[name] = true
			s.say(name + " " + asItStands(s.a.Body[name]))
		}
	}
	if s.a.Entry == nil {
		return
	}
	for _, odd := range s.a.Entry.Odd() {
		s.say(newer(odd.What))
		for _, name := range format.Names(s.a.Body) {
			as := asItStands(s.a.Body[name])
			if !shown[name] && strings.Contains(as, `"`+lastWord(odd.What)+`"`) {
				shown[name] = true
				s.say(name + " " + as)
			}
		}
	}
}

func lastWord(text string) string { return text[strings.LastIndex(text, " ")+1:] }

func newer(word string) string { return report.Fill(report.FixedSays("newer"), "word", word) }

func (s *speaker) unknownKind() string {
	body, _ := format.Clone(s.a.Body).(format.Object)
	delete(body, "private")
	return newer(s.a.Kind) + " " + asItStands(body)
}

func asItStands(v format.Value) string {
	text, err := format.Encode(v)
	if err != nil {
		return "?"
	}
	return string(text)
}

func same(a, b format.Value) bool { return asItStands(a) == asItStands(b) }

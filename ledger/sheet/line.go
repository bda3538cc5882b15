package sheet

import (
	"slices"
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/day"
	"lapmark/ledger/format"
)

// foldAt is how long a line may be before it is folded for people, in code
// points.
const foldAt = 100

// Line writes a draft as its canonical line, unfolded. The day of the draft is
// the heading's. The error is [Unclear] where the draft holds something that
// has no canonical form.
func Line(d ledger.Draft, h Heading) (string, error) {
	kind, ok := ledger.KindNamed(d.Kind)
	if !ok {
		return "", unclear(ReasonKind, "%q is newer than this tool", d.Kind)
	}
	head := d.Kind
	if tag, ok := d.Body["tag"].(string); ok {
		head += " " + tag
	}
	var parts []string
	for _, f := range kind.AllFields() {
		ps, ok := fieldParts(kind, f, d, h)
		if !ok {
			return "", unclear(ReasonWord, "%s has no canonical form", f.Name)
		}
		for _, p := range ps {
			parts = append(parts, p.String())
		}
	}
	return head + ": " + strings.Join(parts, "; "), nil
}

// Fold writes a line of more than 100 characters a part a line.
func Fold(line string) string {
	head, rest, ok := strings.Cut(line, ": ")
	if len([]rune(line)) <= foldAt || !ok {
		return line
	}
	parts, err := split(rest)
	if err != nil {
		return line
	}
	out := head + ":"
	for _, p := range parts {
		out += "\n  " + p.String()
	}
	return out
}

// fieldParts writes one field of a kind as its parts.
func fieldParts(kind ledger.Kind, f ledger.Field, d ledger.Draft, h Heading) ([]part, bool) {
	switch {
	case f.Name == "private":
		return privateParts(kind, d), true
	case f.Name == "happened":
		return timePart(f, d, h)
	case f.Form == ledger.FormFree:
		text, ok := d.Private[f.Name]
		if !ok {
			return nil, true
		}
		return []part{{append(bare(f.Label), quoted(text))}}, true
	case f.Form == ledger.FormChange:
		return changeParts(d.Body[f.Name])
	}
	v, there := d.Body[f.Name]
	if !there || f.Default != nil && format.Same(v, f.Default) {
		return nil, true
	}
	if f.Form == ledger.FormFlag {
		return []part{{bare(f.Label)}}, v == true
	}
	if !f.Many {
		p, ok := value(f, h, v)
		return []part{p.label(f.Label)}, ok
	}
	return listParts(f, h, v)
}

func listParts(f ledger.Field, h Heading, v format.Value) ([]part, bool) {
	list, ok := v.(format.Array)
	if !ok || len(list) == 0 {
		return []part{{bare(f.Label, f.Empty)}}, ok && f.Empty != ""
	}
	var out []part
	var items part
	for _, one := range list {
		p, ok := value(f, h, one)
		if !ok {
			return nil, false
		}
		out = append(out, p.label(f.Label))
		items = append(items, p...)
	}
	if f.OwnPart() {
		return out, true
	}
	return []part{items.label(f.Label)}, true
}

// timePart writes the time of happened; its day is the heading's.
func timePart(f ledger.Field, d ledger.Draft, h Heading) ([]part, bool) {
	s, _ := d.Body[f.Name].(string)
	if dayOf, timeOf, ok := clock(s, h); ok {
		return []part{{bare(f.Label, timeOf)}}, dayOf == h.Day
	}
	return nil, s == h.Day
}

func privateParts(kind ledger.Kind, d ledger.Draft) []part {
	var out []part
	for _, p := range kind.Privates {
		if v, ok := d.Private[p.Name]; ok {
			out = append(out, part{append(bare("private", p.Name), quoted(v))})
		}
	}
	return out
}

// ReadLine reads a canonical line, unfolded, under its heading, and refuses
// whatever [Line] would not write byte for byte. The error is [Unclear].
func ReadLine(line string, h Heading) (ledger.Draft, error) {
	head, rest, ok := strings.Cut(line, ": ")
	name, tag, tagged := strings.Cut(head, " ")
	kind, known := ledger.KindNamed(name)
	switch {
	case !ok || !known:
		return ledger.Draft{}, unclear(ReasonKind, "%q begins with no kind of note: finding, work, check …", clip(line))
	case tagged && !IsTag(tag):
		return ledger.Draft{}, unclear(ReasonReference, "%q is no tag: capitals, digits and hyphens, with a digit", tag)
	}
	parts, err := split(rest)
	if err != nil {
		return ledger.Draft{}, err
	}
	d := ledger.Draft{Kind: name, Body: format.Object{}, Private: map[string]string{}}
	if tagged {
		d.Body["tag"] = tag
	}
	if err := readParts(&d, kind, parts, h); err != nil {
		return ledger.Draft{}, err
	}
	return d, compare(d, line, h)
}

func readParts(d *ledger.Draft, kind ledger.Kind, parts []part, h Heading) error {
	list := kind.AllFields()
	withDefaults(d.Body, list)
	if _, err := day.Parse(h.Day); err != nil {
		return unclear(ReasonDay, "no day: write on 2020-04-07 zone +02:00 above the note")
	}
	d.Body["happened"] = h.Day
	return readInParts(d, kind, parts, h)
}

// begun says whether a form without a label is known by its first word.
func begun(f ledger.Form) bool {
	return f == ledger.FormWord || f == ledger.FormShape || f == ledger.FormChange
}

func readPart(d *ledger.Draft, kind ledger.Kind, f ledger.Field, p part, h Heading) error {
	if f.Form == ledger.FormChange {
		return readChange(d, f, p)
	}
	if f.Label != "" {
		p = p.unlabel()
	}
	switch {
	case f.Name == "private":
		return readPrivate(d, kind, p)
	case f.Name == "happened":
		return readTime(d, p, h)
	case f.Form == ledger.FormFlag:
		if len(p) > 0 {
			return unclear(ReasonWord, "%q is left over behind %s", p, f.Label)
		}
		d.Body[f.Name] = true
		return nil
	case f.Form == ledger.FormFree:
		v, err := readValue(f, h, p)
		if err == nil {
			err = d.Say(f.Name, v.(string))
		}
		return err
	case f.Many && f.Empty != "" && len(p) == 1 && p[0].first() == f.Empty:
		d.Body[f.Name] = format.Array{}
		return nil
	case f.Many && !f.OwnPart():
		for _, it := range p {
			if err := readInto(d.Body, f, h, part{it}); err != nil {
				return err
			}
		}
		return nil
	}
	return readInto(d.Body, f, h, p)
}

func readInto(o format.Object, f ledger.Field, h Heading, p part) error {
	v, err := readValue(f, h, p)
	if err != nil {
		return err
	}
	return put(o, f, v)
}

func readTime(d *ledger.Draft, p part, h Heading) error {
	if len(p) != 1 || len(p[0]) != 1 {
		return unclear(ReasonTime, "a time is written 16:30")
	}
	m, err := moment(h.Day, p[0].first(), h)
	d.Body["happened"] = m
	return err
}

func readPrivate(d *ledger.Draft, kind ledger.Kind, p part) error {
	if len(p) != 1 || len(p[0]) != 2 || !p[0][1].text {
		return unclear(ReasonPrivate, `write private NAME "…"`)
	}
	name := p[0].first()
	if _, ok := kind.PrivateNamed(name); !ok {
		return unclear(ReasonPrivate, "a %s has no private %q", kind.Name, name)
	}
	return d.Say(name, p[0][1].s)
}

// compare writes the draft back and says where the line departs from it.
func compare(d ledger.Draft, line string, h Heading) error {
	want, err := Line(d, h)
	if err != nil || want == line {
		return err
	}
	a, b := []rune(line), []rune(want)
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	from := max(0, n-12)
	return unclear(ReasonWord, "write %q; this line has %q", clip(string(b[from:])), clip(string(a[from:])))
}

// ReadPart reads one part of an entry of a kind into a draft: "odometer 61240
// km". The error is [Unclear].
func ReadPart(d *ledger.Draft, kind ledger.Kind, text string, h Heading) error {
	parts, err := split(text)
	if err != nil {
		return err
	}
	return readInParts(d, kind, parts, h)
}

func readInParts(d *ledger.Draft, kind ledger.Kind, parts []part, h Heading) error {
	list := kind.AllFields()
	for _, p := range parts {
		at := slices.IndexFunc(list, func(f ledger.Field) bool {
			return (f.Label != "" || begun(f.Form)) && begins(f, p[0])
		})
		if at < 0 {
			return unclear(ReasonWord, "%q has no place in a %s", clip(p.String()), kind.Name)
		}
		if err := readPart(d, kind, list[at], p, h); err != nil {
			return err
		}
	}
	return nil
}

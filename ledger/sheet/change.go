package sheet

import (
	"strings"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// In a draft a change is the two parts as they are typed: {"was":…,"is":…}.
// [Changes] finds what they mean in the entry that is corrected, and
// [Changed] writes them back.

func changeParts(v format.Value) ([]part, bool) {
	if v == nil {
		return nil, true
	}
	list, ok := v.(format.Array)
	var out []part
	for _, one := range list {
		o, _ := one.(format.Object)
		for _, side := range []string{"was", "is"} {
			if s, said := o[side].(string); said {
				out = append(out, part{bare(side, s)})
			}
		}
	}
	return out, ok && len(out) > 0
}

func readChange(d *ledger.Draft, f ledger.Field, p part) error {
	side := p[0].first()
	text := p.unlabel().String()
	if text == "" {
		return unclear(ReasonWord, "nothing follows %s: write the part as it stands in the entry", side)
	}
	list, _ := d.Body[f.Name].(format.Array)
	if side == "is" && len(list) > 0 {
		last := list[len(list)-1].(format.Object)
		if _, paired := last["is"]; !paired {
			last["is"] = text
			return nil
		}
	}
	d.Body[f.Name] = append(list, format.Object{side: text})
	return nil
}

// Changes turns the changes of a correction draft into what an entry holds:
// pointers into the body of the corrected entry with the old and new values.
// old is that entry as a draft, h its heading (its own day).
func Changes(typed format.Value, old ledger.Draft, h Heading) (format.Array, error) {
	kind, ok := ledger.KindNamed(old.Kind)
	if !ok {
		return nil, unclear(ReasonKind, "%q is newer than this tool", old.Kind)
	}
	list, _ := typed.(format.Array)
	var out format.Array
	for _, one := range list {
		o, _ := one.(format.Object)
		was, hasWas := o["was"].(string)
		is, hasIs := o["is"].(string)
		change := format.Object{}
		if hasWas {
			at, v, err := findPart(kind, old, was, h)
			if err != nil {
				return nil, err
			}
			change["at"], change["old"] = at, v
		}
		if hasIs {
			name, v, err := onePart(kind, is, h)
			if err != nil {
				return nil, err
			}
			change["new"] = v
			if err := placeChange(change, kind, old, name); err != nil {
				return nil, err
			}
		}
		out = append(out, change)
	}
	return out, nil
}

// placeChange gives the pointer of a new part, or checks it against that of
// the old one.
func placeChange(change format.Object, kind ledger.Kind, old ledger.Draft, name string) error {
	at, replaced := change["at"].(string)
	if replaced {
		if member, _, _ := strings.Cut(at[1:], "/"); member != name {
			return unclear(ReasonWord, "was speaks of %s, is of %s: to take one away and add the other, write is before was", member, name)
		}
		return nil
	}
	change["at"] = "/" + name
	f, _ := fieldNamed(kind, name)
	if _, there := old.Body[name]; there && !f.OwnPart() {
		return unclear(ReasonWord, "%s is there already: write was and is", name)
	}
	if f.OwnPart() {
		change["at"] = "/" + name + "/-"
	}
	return nil
}

func fieldNamed(kind ledger.Kind, name string) (ledger.Field, bool) {
	for _, f := range kind.AllFields() {
		if f.Name == name {
			return f, true
		}
	}
	return ledger.Field{}, false
}

// onePart reads a part of an entry of the kind, alone: the member it belongs
// to, and its value (one element where the sheet writes elements apart).
func onePart(kind ledger.Kind, text string, h Heading) (string, format.Value, error) {
	if dayText, ok := strings.CutPrefix(text, "on "); ok {
		return happenedPart(kind, dayText, h)
	}
	parts, err := split(text)
	if err != nil || len(parts) != 1 {
		return "", nil, unclear(ReasonWord, "%q is no part of a %s", clip(text), kind.Name)
	}
	d := ledger.Draft{Kind: kind.Name, Body: format.Object{}, Private: map[string]string{}}
	for _, f := range kind.AllFields() {
		if f.Form == ledger.FormFree || f.Name == "private" || f.Name == "happened" ||
			f.Label == "" && !begun(f.Form) || !begins(f, parts[0][0]) {
			continue
		}
		if err := readPart(&d, kind, f, parts[0], h); err != nil {
			return "", nil, err
		}
		v := d.Body[f.Name]
		if list, ok := v.(format.Array); ok && f.OwnPart() {
			v = list[0]
		}
		return f.Name, v, nil
	}
	return "", nil, unclear(ReasonWord, "%q is no part of a %s that can be corrected", clip(text), kind.Name)
}

func happenedPart(_ ledger.Kind, text string, h Heading) (string, format.Value, error) {
	c := cursor{toks: bare(strings.Fields(text)...)}
	v, err := readWhen(ledger.Field{Label: "on"}, h, &c)
	if err == nil && !c.done() {
		err = unclear(ReasonDay, "%q is left over behind the day", c.rest())
	}
	return "happened", v, err
}

// findPart finds a part as it stands in the corrected entry.
func findPart(kind ledger.Kind, old ledger.Draft, text string, h Heading) (string, format.Value, error) {
	name, v, err := onePart(kind, text, h)
	if err != nil {
		return "", nil, err
	}
	f, _ := fieldNamed(kind, name)
	there := old.Body[name]
	if !f.OwnPart() {
		if !format.Same(there, v) {
			return "", nil, unclear(ReasonReference, "the entry does not say %q: write the part as it stands there", text)
		}
		return "/" + name, v, nil
	}
	list, _ := there.(format.Array)
	for i, one := range list {
		if format.Same(one, v) {
			return "/" + name + "/" + ledger.Decimal(int64(i)), one, nil
		}
	}
	return "", nil, unclear(ReasonReference, "the entry does not say %q: write the part as it stands there", text)
}

// Changed writes the changes of an inked correction as a draft holds them.
func Changed(changes format.Value, old ledger.Draft, h Heading) (format.Array, error) {
	kind, ok := ledger.KindNamed(old.Kind)
	if !ok {
		return nil, unclear(ReasonKind, "%q is newer than this tool", old.Kind)
	}
	list, _ := changes.(format.Array)
	var out format.Array
	for _, one := range list {
		o, _ := one.(format.Object)
		at, _ := o["at"].(string)
		name, _, _ := strings.Cut(strings.TrimPrefix(at, "/"), "/")
		f, known := fieldNamed(kind, name)
		if !known {
			return nil, unclear(ReasonWord, "%s is newer than this tool", at)
		}
		typed := format.Object{}
		for _, side := range [][2]string{{"old", "was"}, {"new", "is"}} {
			v, said := o[side[0]]
			if !said {
				continue
			}
			text, err := partText(kind, f, v, h)
			if err != nil {
				return nil, err
			}
			typed[side[1]] = text
		}
		out = append(out, typed)
	}
	return out, nil
}

func partText(kind ledger.Kind, f ledger.Field, v format.Value, h Heading) (string, error) {
	if f.Name == "happened" {
		it, ok := writeWhen(f, h, v)
		if !ok {
			return "", unclear(ReasonDay, "happened has no canonical form")
		}
		return "on " + it.String(), nil
	}
	if f.OwnPart() {
		v = format.Array{v}
	}
	f.Default = nil
	d := ledger.Draft{Kind: kind.Name, Body: format.Object{f.Name: v}}
	parts, ok := fieldParts(kind, f, d, h)
	if !ok || len(parts) != 1 {
		return "", unclear(ReasonWord, "%s has no canonical form", f.Name)
	}
	return parts[0].String(), nil
}

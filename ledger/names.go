package ledger

import (
	"errors"
	"fmt"
	"strings"

	"lapmark/ledger/format"
)

// Names ties what people write to what an entry holds: tags to entry numbers,
// file names of pictures to hashes.
type Names struct {
	No    func(tag string) (No, bool) // the entry of a tag
	Last  int64                       // the newest number that may be named
	Tag   func(No) string             // the tag of an entry, "" where it has none
	Photo func(name string) (hex string, ok bool)
}

// ErrNoSuchEntry is a reference to an entry that is not there.
var ErrNoSuchEntry = errors.New("no such entry")

// ErrNoPhoto is a picture that is not at hand.
var ErrNoPhoto = errors.New("no such picture at hand")

// Resolve returns the body of a draft with entry numbers and picture hashes in
// place of tags and file names. It has no member private yet. The error is
// ErrNoSuchEntry or ErrNoPhoto with the name.
func (d Draft) Resolve(n Names) (format.Object, error) {
	return d.walk(n.visit)
}

// visit turns a name into what it names.
func (n Names) visit(f Field, v format.Value) (format.Value, error) {
	s, _ := v.(string)
	switch f.Form {
	case FormRef:
		return n.resolve(s)
	case FormPhoto:
		if hex, ok := n.Photo(s); ok {
			return hex, nil
		}
		return nil, fmt.Errorf("%w: %s", ErrNoPhoto, s)
	}
	return v, nil
}

func (n Names) resolve(typed string) (format.Value, error) {
	if number, ok := strings.CutPrefix(typed, "#"); ok {
		no, ok := ParseNo(number)
		if !ok || no.N > n.Last {
			return nil, fmt.Errorf("%w: %s is not there, the newest is #%d", ErrNoSuchEntry, typed, n.Last)
		}
		if tag := n.Tag(no); tag != "" {
			return nil, fmt.Errorf("%w: %s is called %s: write the tag", ErrNoSuchEntry, typed, tag)
		}
		return no.Value(), nil
	}
	no, ok := n.No(typed)
	if !ok {
		return nil, fmt.Errorf("%w: nothing is called %s", ErrNoSuchEntry, typed)
	}
	return no.Value(), nil
}

// shownDigits is how many digits of an inked picture's hash a sheet shows.
const shownDigits = 12

// Unresolve sets a body in a draft's form again: tags where entries have one,
// else #number, and the first digits of picture hashes. Private values that
// are known come from opened.
func Unresolve(kind string, body format.Object, opened map[string]string, n Names) Draft {
	d := Draft{Kind: kind, Private: opened}
	d.Body, _ = format.Clone(body).(format.Object)
	delete(d.Body, "private")
	out, err := d.walk(func(f Field, v format.Value) (format.Value, error) {
		switch f.Form {
		case FormRef:
			no, ok := NoOf(v)
			if !ok {
				return v, nil
			}
			if tag := n.Tag(no); tag != "" {
				return tag, nil
			}
			return "#" + no.String(), nil
		case FormPhoto:
			if hex, ok := v.(string); ok && len(hex) > shownDigits {
				return hex[:shownDigits], nil
			}
		}
		return v, nil
	})
	if err == nil {
		d.Body = out
	}
	return d
}

// walk returns a copy of the body with every value of a known field given to
// visit, inside shared shapes and changes too.
func (d Draft) walk(visit func(Field, format.Value) (format.Value, error)) (format.Object, error) {
	kind, ok := KindNamed(d.Kind)
	if !ok {
		return d.Body, nil
	}
	out, _ := format.Clone(d.Body).(format.Object)
	if err := walkFields(kind.AllFields(), out, visit); err != nil {
		return nil, err
	}
	return out, nil
}

// see shows every value of a known field, inside shared shapes and changes too.
func (d Draft) see(show func(Field, format.Value)) {
	if kind, ok := KindNamed(d.Kind); ok {
		seeFields(kind.AllFields(), d.Body, show)
	}
}

func seeFields(list []Field, o format.Object, show func(Field, format.Value)) {
	for _, f := range list {
		members, _ := membersOf(f, o)
		for _, v := range members {
			if inner, ok := innerOf(f, v); ok {
				seeFields(inner, v.(format.Object), show)
			} else {
				show(f, v)
			}
		}
	}
}

// membersOf are the values of a field: none where it is not there, one that
// stands alone, or those of its list.
func membersOf(f Field, o format.Object) (members format.Array, alone bool) {
	v, ok := o[f.Name]
	if !ok || f.Form == FormValues {
		return nil, false
	}
	if list, many := v.(format.Array); many && f.Many {
		return list, false
	}
	return format.Array{v}, true
}

// innerOf are the fields of a shared shape; ok is false for any other value.
func innerOf(f Field, v format.Value) (list []Field, ok bool) {
	if _, isObject := v.(format.Object); f.Form != FormShape || !isObject {
		return nil, false
	}
	s, _ := ShapeNamed(f.Shape)
	return s.Fields, true
}

// walkFields puts what visit says into an object, in place.
func walkFields(list []Field, o format.Object, visit func(Field, format.Value) (format.Value, error)) error {
	for _, f := range list {
		members, alone := membersOf(f, o)
		for i, v := range members {
			w, err := walkOne(f, v, visit)
			if err != nil {
				return err
			}
			members[i] = w
		}
		if alone {
			o[f.Name] = members[0]
		}
	}
	return nil
}

func walkOne(f Field, v format.Value, visit func(Field, format.Value) (format.Value, error)) (format.Value, error) {
	if inner, ok := innerOf(f, v); ok {
		return v, walkFields(inner, v.(format.Object), visit)
	}
	return visit(f, v)
}

// Numbers are the entries that a draft names by their number.
func (d Draft) Numbers() []No {
	var out []No
	d.see(func(f Field, v format.Value) {
		s, _ := v.(string)
		if number, ok := strings.CutPrefix(s, "#"); ok && f.Form == FormRef {
			if no, ok := ParseNo(number); ok {
				out = append(out, no)
			}
		}
	})
	return out
}

// ResolveChange resolves the names inside one change of a correction of an
// entry of the kind, in place.
func ResolveChange(kindName string, change format.Value, n Names) error {
	return visitChange(kindName, change, n.visit)
}

// visitChange gives what stands in a change of an entry of the kind to visit, in
// place, both what was and what is.
func visitChange(kindName string, change format.Value, visit func(Field, format.Value) (format.Value, error)) error {
	o, _ := change.(format.Object)
	at, _ := o["at"].(string)
	name, _, inList := strings.Cut(strings.TrimPrefix(at, "/"), "/")
	for _, side := range []string{"old", "new"} {
		v, said := o[side]
		if !said {
			continue
		}
		if inList {
			v = format.Array{v}
		}
		body, err := Draft{Kind: kindName, Body: format.Object{name: v}}.walk(visit)
		if err != nil {
			return err
		}
		v = body[name]
		if list, ok := v.(format.Array); ok && inList {
			v = list[0]
		}
		o[side] = v
	}
	return nil
}

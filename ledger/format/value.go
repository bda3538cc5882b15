package format

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
)

// MaxInteger is the largest integer an entry may hold, 2^53-1 (RFC 7493,
// section 2.2: integers every JSON reader keeps exact).
const MaxInteger = 1<<53 - 1

// MaxDepth is how deep objects and arrays may lie in each other; the object of
// line 1 itself is depth 1.
const MaxDepth = 16

// ErrShape is the cause of every error about the shape of an entry.
var ErrShape = errors.New("not canonical")

func shapef(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrShape, fmt.Sprintf(format, args...))
}

// Value is a text (string), an integer (int64), true or false (bool), an
// [Array] or an [Object].
type Value any

// Array is a list of values.
type Array = []Value

// Object holds values by name. It is written in byte order of the names.
type Object = map[string]Value

// Append writes v in the one form that stands for it and returns the longer
// slice. The output is valid RFC 8785. The error is ErrShape where v holds
// something that an entry may not hold.
func Append(dst []byte, v Value) ([]byte, error) { return appendValue(dst, v, 1) }

// Encode is Append to nothing.
func Encode(v Value) ([]byte, error) { return Append(nil, v) }

func appendValue(dst []byte, v Value, depth int) ([]byte, error) {
	switch v := v.(type) {
	case string:
		return appendText(dst, v)
	case int64:
		if v > MaxInteger || v < -MaxInteger {
			return nil, shapef("integer %d is out of range", v)
		}
		return strconv.AppendInt(dst, v, 10), nil
	case bool:
		return strconv.AppendBool(dst, v), nil
	case Array:
		return appendArray(dst, v, depth)
	case Object:
		return appendObject(dst, v, depth)
	}
	return nil, shapef("%T has no place in an entry", v)
}

func appendText(dst []byte, s string) ([]byte, error) {
	if i := badText([]byte(s)); i >= 0 {
		return nil, shapef("a character that is not allowed at byte %d of a text", i)
	}
	dst = append(dst, '"')
	for i := 0; i < len(s); i++ {
		if s[i] == '"' || s[i] == '\\' {
			dst = append(dst, '\\')
		}
		dst = append(dst, s[i])
	}
	return append(dst, '"'), nil
}

func appendArray(dst []byte, a Array, depth int) ([]byte, error) {
	if depth > MaxDepth {
		return nil, shapef("deeper than %d", MaxDepth)
	}
	dst = append(dst, '[')
	for i, v := range a {
		if i > 0 {
			dst = append(dst, ',')
		}
		var err error
		if dst, err = appendValue(dst, v, depth+1); err != nil {
			return nil, err
		}
	}
	return append(dst, ']'), nil
}

func appendObject(dst []byte, o Object, depth int) ([]byte, error) {
	if depth > MaxDepth {
		return nil, shapef("deeper than %d", MaxDepth)
	}
	dst = append(dst, '{')
	for i, name := range Names(o) {
		if !IsWord(name) {
			return nil, shapef("member name %q is no word", name)
		}
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = append(dst, '"')
		dst = append(dst, name...)
		dst = append(dst, '"', ':')
		var err error
		if dst, err = appendValue(dst, o[name], depth+1); err != nil {
			return nil, err
		}
	}
	return append(dst, '}'), nil
}

// Names returns the member names of o in byte order.
func Names(o Object) []string {
	names := make([]string, 0, len(o))
	for name := range o {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Clone returns a copy of v that shares nothing with it.
func Clone(v Value) Value {
	switch v := v.(type) {
	case Array:
		out := make(Array, len(v))
		for i := range v {
			out[i] = Clone(v[i])
		}
		return out
	case Object:
		out := make(Object, len(v))
		for name, member := range v {
			out[name] = Clone(member)
		}
		return out
	}
	return v
}

// Same says whether two values are written alike. Nothing is the same as
// nothing alone.
func Same(a, b Value) bool {
	switch a := a.(type) {
	case Array:
		b, ok := b.(Array)
		return ok && slices.EqualFunc(a, b, Same)
	case Object:
		b, ok := b.(Object)
		return ok && maps.EqualFunc(a, b, Same)
	}
	switch b.(type) {
	case Array, Object:
		return false
	}
	return a == b
}

package ledger

import (
	"lapmark/ledger/format"
)

// Objects returns the objects of a list.
func Objects(v format.Value) []format.Object {
	list, _ := v.(format.Array)
	var out []format.Object
	for _, one := range list {
		if o, ok := one.(format.Object); ok {
			out = append(out, o)
		}
	}
	return out
}

// Texts returns the texts of a list.
func Texts(v format.Value) []string {
	list, _ := v.(format.Array)
	var out []string
	for _, one := range list {
		if s, ok := one.(string); ok {
			out = append(out, s)
		}
	}
	return out
}

// Ints returns the integers of a list.
func Ints(v format.Value) []int64 {
	list, _ := v.(format.Array)
	var out []int64
	for _, one := range list {
		if n, ok := one.(int64); ok {
			out = append(out, n)
		}
	}
	return out
}

// Int returns an integer member, 0 where there is none.
func Int(o format.Object, name string) int64 {
	n, _ := o[name].(int64)
	return n
}

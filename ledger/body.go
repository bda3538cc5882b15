package ledger

import "lapmark/ledger/format"

// Objects returns the objects of a list.
func Objects(v format.Value) []format.Object { return listOf[format.Object](v) }

// Texts returns the texts of a list.
func Texts(v format.Value) []string { return listOf[string](v) }

// Ints returns the integers of a list.
func Ints(v format.Value) []int64 { return listOf[int64](v) }

func listOf[T any](v format.Value) []T {
	list, _ := v.(format.Array)
	var out []T
	for _, one := range list {
		if t, ok := one.(T); ok {
			out = append(out, t)
		}
	}
	return out
}

// Int returns an integer member, 0 where there is none.
func Int(o format.Object, name string) int64 {
	n, _ := o[name].(int64)
	return n
}

package book

import (
	"reflect"
	"testing"
)

func TestLotsOfOtherCoaches(t *testing.T) {
	b := newBook(t)
	a := []Lot{{Lot: "L-1", Unit: "g", Received: 6000, Used: 3600, Sheet: "{}"}, {Lot: "L-2", Unit: "ml", Used: 40}}
	noError(t, b.Together(PutLots("a", a), PutLots("b", []Lot{{Lot: "L-1", Unit: "g", Used: 10}})))
	for coach, want := range map[string][]Lot{"a": {{Lot: "L-1", Unit: "g", Used: 10}}, "b": a[:1], "c": {a[0], {Lot: "L-1", Unit: "g", Used: 10}}} {
		got, err := b.LotElsewhere(coach, "L-1")
		noError(t, err)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("other than %s: %v, want %v", coach, got, want)
		}
	}
	noError(t, b.Together(PutLots("a", a[1:])))
	if got, err := b.LotElsewhere("c", "L-1"); err != nil || len(got) != 1 {
		t.Errorf("what a coach has no more: %v %v", got, err)
	}
}

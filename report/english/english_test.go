package english

import (
	"slices"
	"testing"
)

// Expected by hand.
func TestReadAloud(t *testing.T) {
	for got, want := range map[string]string{
		List(nil):                      "",
		List([]string{"a"}):            "a",
		List([]string{"a", "b", "c"}):  "a, b and c",
		Or([]string{"a", "b", "c"}):    "a, b or c",
		InWords(0):                     "no",
		InWords(13):                    "13",
		Counted(1, "sale", "sales"):    "one sale",
		Counted(2, "sale", "sales"):    "two sales",
		Counted(40, "line", "lines"):   "40 lines",
		Numbered(1, "piece", "pieces"): "1 piece",
		Numbered(0, "piece", "pieces"): "0 pieces",
		Ordinal(3):                     "third",
		Ordinal(21):                    "21st",
		Ordinal(22):                    "22nd",
		Ordinal(13):                    "13th",
		Ordinal(111):                   "111th",
		Capital("élan"):                "Élan",
		Capital(""):                    "",
		Sentence("It may."):            "It may.",
		Sentence("It may "):            "It may.",
		Sentence("May it?"):            "May it?",
	} {
		if got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}

func TestRuns(t *testing.T) {
	next := func(a, b int) bool { return b == a+1 }
	got := Runs([]int{1, 2, 5, 6, 7, 9}, next)
	if want := []string{"1", "2", "5 to 7", "9"}; !slices.Equal(got, want) {
		t.Errorf("%v, not %v", got, want)
	}
}

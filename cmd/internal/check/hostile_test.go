package check

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"lapmark/ledger"
	"lapmark/ledger/format"
)

// anyValue is some value of the format, of words and members that kinds use
// and of others.
func anyValue(r *rand.Rand, depth int) format.Value {
	texts := []string{"", "bond", "field", "spot", "2020-04-24", "2020-13-77", "3/1", "Q-0007", strings.Repeat("0123456789abcdef", 4), "closed", "leave", "0"}
	names := []string{
		"shape", "aft", "off", "radius", "bay", "line", "promise", "places", "first-day", "months", "cert", "lines", "op", "says",
		"root", "size", "name", "values", "part", "number", "photos", "at", "old", "new", "how", "when", "area",
	}
	switch n := r.IntN(8); {
	case n < 3:
		return texts[r.IntN(len(texts))]
	case n < 5:
		return []int64{0, 1, -1, 3, 3700, format.MaxInteger, -format.MaxInteger}[r.IntN(7)]
	case n == 5:
		return r.IntN(2) == 0
	case n == 6 && depth < 5:
		out := format.Array{}
		for range r.IntN(4) {
			out = append(out, anyValue(r, depth+1))
		}
		return out
	case depth < 5:
		out := format.Object{}
		for range r.IntN(6) {
			out[names[r.IntN(len(names))]] = anyValue(r, depth+1)
		}
		return out
	}
	return int64(7)
}

// Bodies of any kind with any values in any member: signed by the house or by
// a guest, so whole; the answer comes, in both forms, and nothing breaks.
func TestHostileBodies(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	kinds := ledger.Kinds()
	w := newWriter(t, "quillstead")
	for range 1500 {
		kind := kinds[r.IntN(len(kinds))]
		switch kind.Name {
		case "intake", "key-change", "hand-over", "take-on", "take-in": // their bodies decide who may write
			continue
		}
		body := format.Object{}
		for _, f := range kind.AllFields() {
			if f.Name != "private" && f.Form != ledger.FormFree && r.IntN(3) > 0 {
				body[f.Name] = anyValue(r, 1)
			}
		}
		for _, name := range []string{"adopts", "answers", "covers", "lines", "happened", "to-work", "firm", "names", "ledger", "left-out", "places"} {
			if r.IntN(6) == 0 {
				body[name] = anyValue(r, 1)
			}
		}
		body["private"] = anyValue(r, 4)
		by := w.house
		if kind.Guest && r.IntN(3) == 0 {
			by = seed("low ferry")
		}
		w.at += r.Int64N(90000) - 40000
		line := w.line(by, kind.Name, format.Object{}, nil)
		encoded, err := format.Encode(body)
		require.NoError(t, err)
		line.Body = encoded
		w.sign(by, line)
	}
	a := Verify(input(t, w.text))
	require.True(t, a.Whole, a.Why)
	require.NotEqual(t, 0, a.Exit(), "there are things newer than this program in it")
	require.NotEmpty(t, a.Text())
	_, err := json.Marshal(a)
	require.NoError(t, err)
	a = Verify(input(t, w.bundle(w.house)))
	require.True(t, a.Whole)
	require.NotEmpty(t, a.Text())
}

// An entry may name thousands of places that cut each other, and thousands of
// entries: what one entry asks of the reader has a bound.
func TestHostileSizes(t *testing.T) {
	w := newWriter(t, "quillstead")
	places := format.Array{}
	for i := range int64(900) {
		places = append(places, format.Object{"shape": "field", "aft": format.Array{8 * i, 8*i + 3}, "off": format.Array{-1100 + i, int64(1100)}})
	}
	refs := format.Array{}
	for i := range int64(9000) {
		refs = append(refs, i+1)
	}
	for range 5 {
		w.add(w.house, "not-looked-at", format.Object{"places": places}, map[string]string{"why": "many"})
	}
	for range 40 {
		w.add(w.house, "decision", format.Object{"choice": "leave", "answers": refs, "places": format.Array{field(0, 1)}}, nil)
		w.add(w.house, "finding", findingBody("F1"), nil)
	}
	began := time.Now()
	a := Verify(input(t, w.text))
	require.NotEmpty(t, a.Text())
	require.Less(t, time.Since(began), 10*time.Second)
	for _, f := range a.Found {
		require.LessOrEqual(t, len(f.Became), MaxNamed)
	}
}

// The JSON begins as scripts expect it, and has no null list.
func TestJSON(t *testing.T) {
	for name, file := range map[string][]byte{
		"a paper": coachOf3(t).history(seed("quillstead")), "a ledger": ledgerOf10(t).text, "nothing": nil,
		"a broken ledger": flipped(coachOf3(t).text, 20), "pages alone": examplePart(t, "face.pdf"),
	} {
		text, err := json.Marshal(Verify(input(t, file)))
		require.NoError(t, err)
		require.True(t, bytes.HasPrefix(text, []byte(`{"answer":"verify","v":1,"whole":`)), "%s: %.80s", name, text)
		require.NotContains(t, string(text), "null", name)
		var read map[string]any
		require.NoError(t, json.Unmarshal(text, &read))
		for _, member := range []string{"whole", "first_bad", "entries", "paper", "bad", "unsettled", "with", "found", "promised", "remarks", "alone"} {
			require.Contains(t, read, member, name)
		}
	}
}

// The text for people keeps within its columns, in one order of parts; a word
// that is longer stands alone.
func TestText(t *testing.T) {
	w := ledgerOf10(t)
	older := w.side().text
	in := input(t, w.history(w.house))
	in.With = []Paper{{Name: "older", File: older}}
	a := Verify(in)
	text := a.Text()
	for _, line := range strings.Split(text, "\n") {
		if utf8.RuneCountInString(line) > columns {
			require.Len(t, strings.Fields(line), 1, line)
		}
		require.Equal(t, strings.TrimRight(line, " "), line)
	}
	at := -1
	for _, head := range []string{
		"\n  Whole, complete up to entry 10", "\n  This is the paper", "\nBy whom\n", "\nWith other papers\n", "\nPromised, as of", "\nLeft\n",
		"\nNever looked at\n", "\nWhat was found\n", "\nWhat was rebuilt\n", "\nNot printed, not shown\n", "\nWhat this shows\n",
	} {
		next := strings.Index(text, head)
		require.Greater(t, next, at, "%s\n%s", head, text)
		at = next
	}
	parts := a.Parts()
	require.Equal(t, []string{a.Alone, a.Shows}, parts[len(parts)-1].Says, "always last")
}

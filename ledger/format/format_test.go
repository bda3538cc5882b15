package format

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/gowebpki/jcs"
	"github.com/stretchr/testify/require"

	"lapmark/testdata"
)

const example = "testdata/example-ledger.txt"

// The worked example of the specification: three entries made and signed by
// another program, its signatures checked with ssh-keygen -Y verify 9.2p1.
func Example() {
	text, err := os.ReadFile(example)
	if err != nil {
		fmt.Println(err)
		return
	}
	for len(text) > 0 {
		l1, _, leaf, err := ReadLeaf(text)
		if err != nil {
			fmt.Println(err)
			return
		}
		line, err := ParseLine(l1)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(line.Prev.Size+1, line.Kind, line.At, len(leaf))
		text = text[len(leaf):]
	}
	// Output:
	// 1 intake 2020-03-16T16:40:00Z 1403
	// 2 not-looked-at 2020-03-19T16:30:00Z 597
	// 3 given-out 2020-03-20T15:00:00Z 830
}

func exampleLeaves(t *testing.T) [][]byte {
	t.Helper()
	text, err := os.ReadFile(example)
	require.NoError(t, err)
	var out [][]byte
	for len(text) > 0 {
		_, _, leaf, err := ReadLeaf(text)
		require.NoError(t, err)
		out = append(out, leaf)
		text = text[len(leaf):]
	}
	return out
}

func TestExampleIsWrittenBackByteForByte(t *testing.T) {
	for _, leaf := range exampleLeaves(t) {
		l1, sig, _, err := ReadLeaf(leaf)
		require.NoError(t, err)
		line, err := ParseLine(l1)
		require.NoError(t, err)
		again, err := line.Append(nil)
		require.NoError(t, err)
		require.Equal(t, string(l1), string(again))
		body, err := Parse(line.Body)
		require.NoError(t, err)
		encoded, err := Encode(body)
		require.NoError(t, err)
		require.Equal(t, string(line.Body), string(encoded))
		whole, err := Leaf(again, sig)
		require.NoError(t, err)
		require.Equal(t, string(leaf), string(whole))
	}
}

// github.com/gowebpki/jcs is a canonicaliser of RFC 8785 from other hands.
func TestExampleIsItsOwnCanonicalFormElsewhere(t *testing.T) {
	for _, leaf := range exampleLeaves(t) {
		l1, _, _, err := ReadLeaf(leaf)
		require.NoError(t, err)
		other, err := jcs.Transform(l1)
		require.NoError(t, err)
		require.Equal(t, string(l1), string(other))
	}
}

// RFC 8785 as in testdata/reference/jcs.csv: what is not its own canonical
// form, and what the profile leaves out, is refused.
func TestReferenceCanonicalJSON(t *testing.T) {
	tried := 0
	for _, row := range testdata.Reference(t, "jcs.csv") {
		if row.Quantity == "number text" {
			checkNumberText(t, row)
			continue
		}
		text, ok := strings.CutPrefix(row.Inputs, "hex=")
		require.True(t, ok, "%s: no test for %q", row.ID, row.Quantity)
		in, err := hex.DecodeString(text)
		require.NoError(t, err, row.ID)
		v, parseErr := Parse(in)
		switch {
		case row.Quantity == "must be refused", row.Quantity == "is its own canonical form" && row.Value == "no":
			require.ErrorIs(t, parseErr, ErrShape, "%s %s", row.ID, in)
		case row.Quantity == "canonical bytes":
			out, err := hex.DecodeString(row.Value)
			require.NoError(t, err)
			if !bytes.Equal(in, out) {
				require.ErrorIs(t, parseErr, ErrShape, row.ID)
			}
		case row.Quantity != "is its own canonical form":
			t.Fatalf("%s: no test for %q", row.ID, row.Quantity)
		case parseErr == nil:
			again, err := Encode(v)
			require.NoError(t, err)
			require.Equal(t, in, again, row.ID)
		default:
			require.ErrorIs(t, parseErr, ErrShape, row.ID)
		}
		tried++
	}
	require.Greater(t, tried, 25)
}

// checkNumberText reads a number of RFC 8785, appendix B: whole ones up to
// 2^53-1 are written so by us too, all else is refused.
func checkNumberText(t *testing.T, row testdata.Row) {
	t.Helper()
	bits, err := strconv.ParseUint(strings.TrimPrefix(row.Inputs, "ieee754="), 16, 64)
	require.NoError(t, err, row.ID)
	n := math.Float64frombits(bits)
	v, parseErr := Parse([]byte(row.Value))
	if n != math.Trunc(n) || math.Abs(n) > MaxInteger {
		require.ErrorIs(t, parseErr, ErrShape, row.ID)
		return
	}
	require.NoError(t, parseErr, row.ID)
	require.Equal(t, Value(int64(n)), v, row.ID)
	again, err := Encode(v)
	require.NoError(t, err)
	require.Equal(t, row.Value, string(again), row.ID)
}

func TestParseRefuses(t *testing.T) {
	for _, in := range []string{
		``, ` `, `{`, `}`, `[1,]`, `{"a":1,}`, `{"a" :1}`, `{"b":1,"a":2}`, `{"a":1,"a":2}`, `null`, `1.0`, `1e3`, `-0`,
		`01`, `+1`, `-`, `9007199254740992`, `-9007199254740992`, `99999999999999999999`, `"\n"`, `"\u0041"`, `"\/"`,
		"\"\x1f\"", "\"\x7f\"", "\"\u0085\"", "\"\u200b\"", "\"\u200d\"", "\"\u202e\"", "\"\ufeff\"", "\"\ufffe\"",
		"\"\U000e0041\"", "\"\xff\"", "\"\xed\xa0\x80\"", `"a`, `"\`, `"\"`, `{"A":1}`, `{"":1}`, `{"a_b":1}`,
		`{"a":1}x`, `tru`, `[true,fals]`, strings.Repeat("[", 17) + strings.Repeat("]", 17),
		`{"` + strings.Repeat("a", 41) + `":1}`,
	} {
		_, err := Parse([]byte(in))
		require.ErrorIs(t, err, ErrShape, "%q", in)
	}
	for _, in := range []string{
		`""`, `"\"\\/"`, `0`, `-1`, `9007199254740991`, `-9007199254740991`, `[]`, `{}`, `[true,false,[]]`,
		`{"a":1,"a-b":2,"a0":3,"b":{}}`, "\"å ½ ’ 🚐\"", strings.Repeat("[", 16) + strings.Repeat("]", 16),
	} {
		v, err := Parse([]byte(in))
		require.NoError(t, err, "%q", in)
		out, err := Encode(v)
		require.NoError(t, err)
		require.Equal(t, in, string(out))
	}
}

func TestEncodeRefuses(t *testing.T) {
	deep := Value(Array{})
	for range MaxDepth {
		deep = Array{deep}
	}
	for _, v := range []Value{nil, 1, 1.5, int64(MaxInteger + 1), "\n", "\u200b", Object{"A": int64(1)}, Array{nil}, deep} {
		_, err := Encode(v)
		require.ErrorIs(t, err, ErrShape, "%#v", v)
	}
}

func TestBase64IsStrict(t *testing.T) {
	// 187 bytes: the last character before the padding has four unused bits.
	line := EncodeBase64(make([]byte, 187))
	require.Len(t, line, 252)
	require.True(t, strings.HasSuffix(line, "A=="), line)
	_, err := DecodeBase64(line)
	require.NoError(t, err)
	for name, bad := range map[string]string{
		"no padding":        strings.TrimRight(line, "="),
		"unused bit set":    strings.TrimSuffix(line, "A==") + "B==",
		"line end":          line + "\n",
		"line end inside":   line[:70] + "\n" + line[70:],
		"carriage return":   line + "\r",
		"space":             line + " ",
		"url alphabet":      strings.Replace(line, "A", "_", 1),
		"more after it":     line + "AAAA",
		"one padding":       strings.TrimSuffix(line, "="),
		"padding too much":  line + "=",
		"not ASCII":         strings.Replace(line, "A", "Ä", 1),
		"a byte of nothing": line[:10] + "\x00" + line[11:],
	} {
		_, err := DecodeBase64(bad)
		require.Error(t, err, name)
	}
}

// Values are the same where they are written alike.
func TestSame(t *testing.T) {
	values := []Value{
		"", "1", int64(1), int64(0), true, false,
		Array{},
		Array{int64(1)},
		Array{int64(1), "a"},
		Array{"a", int64(1)},
		Object{},
		Object{"a": int64(1)},
		Object{"b": int64(1)},
		Object{"a": Array{}},
		Object{"a": Object{}},
		Object{"a": int64(1), "b": true},
	}
	for _, a := range values {
		for _, b := range values {
			x, err := Encode(a)
			require.NoError(t, err)
			y, err := Encode(b)
			require.NoError(t, err)
			require.Equal(t, string(x) == string(y), Same(Clone(a), b), "%s and %s", x, y)
		}
		require.False(t, Same(a, nil))
		require.False(t, Same(nil, a))
	}
	require.True(t, Same(nil, nil))
}

func TestLineRefuses(t *testing.T) {
	good := `{"at":"2020-03-16T16:40:00Z","body":{},"key":"SHA256:x","kind":"remark","prev":{"root":"47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=","size":0},"v":1}`
	_, err := ParseLine([]byte(good))
	require.NoError(t, err)
	newer := strings.Replace(good, `"v":1`, `"v":2`, 1)
	_, err = ParseLine([]byte(newer))
	require.NoError(t, err, "a higher version is read alike")
	for _, change := range [][2]string{
		{"16:40:00Z", "16:40:60Z"},
		{"03-16", "02-30"},
		{"16:40:00Z", "24:00:00Z"},
		{"00Z", "00z"},
		{"2020-", "020-"},
		{`{}`, `[]`},
		{`{}`, `{"a":null}`},
		{`"remark"`, `"Remark"`},
		{`"remark"`, `1`},
		{`"v":1`, `"v":0`},
		{`"size":0`, `"size":-1`},
		{`FU=`, `FV=`},
		{`47DE`, `7DE`},
		{`"v":1}`, `"v":1,"w":1}`},
		{`"v":1}`, `"v":1} `},
		{`"body":{},`, ``},
		{`"at"`, `"aT"`},
		{`:{}`, `: {}`},
	} {
		bad := strings.Replace(good, change[0], change[1], 1)
		require.NotEqual(t, good, bad)
		_, err := ParseLine([]byte(bad))
		require.ErrorIs(t, err, ErrShape, bad)
	}
}

func TestLeafSizeFromBothSides(t *testing.T) {
	sig := make([]byte, SigSize)
	line := bytes.Repeat([]byte("x"), MaxLeaf-sigLine-2)
	leaf, err := Leaf(line, sig)
	require.NoError(t, err)
	require.Len(t, leaf, MaxLeaf)
	_, _, _, err = ReadLeaf(leaf)
	require.NoError(t, err)
	_, err = Leaf(append(line, 'x'), sig)
	require.ErrorIs(t, err, ErrShape)
	longer := append([]byte("x"), leaf...)
	_, _, _, err = ReadLeaf(longer)
	require.ErrorIs(t, err, ErrShape)
}

func FuzzLine(f *testing.F) {
	text, err := os.ReadFile(example)
	if err != nil {
		f.Fatal(err)
	}
	for line := range bytes.Lines(text) {
		f.Add(bytes.TrimSuffix(line, []byte("\n")))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		if line, err := ParseLine(in); err == nil {
			again, err := line.Append(nil)
			require.NoError(t, err)
			require.Equal(t, string(in), string(again))
			other, err := jcs.Transform(in)
			require.NoError(t, err)
			require.Equal(t, string(in), string(other))
		}
		if v, err := Parse(in); err == nil {
			again, err := Encode(v)
			require.NoError(t, err)
			require.Equal(t, string(in), string(again))
		}
	})
}

func TestRandomValuesRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		v := randomValue(r, 4)
		out, err := Encode(v)
		require.NoError(t, err)
		back, err := Parse(out)
		require.NoError(t, err, "%s", out)
		require.Equal(t, v, back)
		if len(out) > 0 && (out[0] == '{' || out[0] == '[') {
			other, err := jcs.Transform(out)
			require.NoError(t, err)
			require.Equal(t, string(out), string(other))
		}
	}
}

func randomValue(r *rand.Rand, depth int) Value {
	switch n := r.IntN(6); {
	case n == 0 && depth > 0:
		a := Array{}
		for range r.IntN(4) {
			a = append(a, randomValue(r, depth-1))
		}
		return a
	case n == 1 && depth > 0:
		o := Object{}
		for range r.IntN(4) {
			o[string(rune('a'+r.IntN(26)))+"-"+string(rune('0'+r.IntN(10)))] = randomValue(r, depth-1)
		}
		return o
	case n == 2:
		return r.IntN(2) == 0
	case n == 3:
		return r.Int64N(2*MaxInteger+1) - MaxInteger
	}
	letters := []rune("aZ09 \"\\/åéЖ½’🚐-")
	out := make([]rune, r.IntN(12))
	for i := range out {
		out[i] = letters[r.IntN(len(letters))]
	}
	return string(out)
}

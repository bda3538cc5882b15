package private_test

import (
	"bytes"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/private"
	"lapmark/testdata"
)

// saltOf is 16 times one byte, as the salts of the worked example are.
func saltOf(b byte) [16]byte { return [16]byte(bytes.Repeat([]byte{b}, 16)) }

// whySlip is the slip of the worked example of the format.
const whySlip = "WyJBZ0lDQWdJQ0FnSUNBZ0lDQWdJQ0FnIiwid2h5Iiwibm90IG9wZW5lZCBhdCB0aGUgaG9sZGVy4oCZcyBcIndpc2hcIiJd"

// Each row of disclosures.csv names its source: RFC 9901, @sd-jwt/decode.
func TestReferenceDisclosures(t *testing.T) {
	met := map[string]int{}
	for _, row := range testdata.Reference(t, "disclosures.csv") {
		id, quantity, value := row.ID, row.Quantity, row.Value
		disclosure, ok := strings.CutPrefix(row.Inputs, "disclosure=")
		require.True(t, ok, id)
		met[quantity]++
		switch quantity {
		case "digest of a disclosure":
			require.Equal(t, value, private.Commit(disclosure), id)
		case "disclosure text":
			text, err := base64.RawURLEncoding.DecodeString(disclosure)
			require.NoError(t, err, id)
			require.Equal(t, value, hex.EncodeToString(text), id)
		default:
			t.Fatalf("%s: no judge for %q", id, quantity)
		}
		// Their names have an underscore, most have spaces: none is a slip of ours.
		_, err := private.Parse(disclosure)
		require.ErrorIs(t, err, private.ErrMalformed, id)
	}
	require.NotZero(t, met["digest of a disclosure"])
	require.NotZero(t, met["disclosure text"])
}

// The slips of the worked examples of the format, made by another program of
// ours; the commitments stand in its entries.
func TestWorkedExampleSlips(t *testing.T) {
	for _, one := range []struct {
		salt                    [16]byte
		name, value, commitment string
	}{
		{saltOf(0), "no-photo", "it came in at night", "oH-DThreEXv1KWzhfLl6so6nDXO89XrWxuLFkWz_b6s"},
		{saltOf(1), "holder-name", "Adela Brunskog", "24qaAlrHLqp3nl30BMkdxk49Dpv1_E24JwajZn15vj0"},
		{saltOf(2), "why", "not opened at the holder’s \"wish\"", "6syIh22TxYKtslRFkDzappf8SRnb3o-mktCUox7L9sQ"},
		{saltOf(3), "face", "7340db9af0cad6593b81be8fefaf060eac1feec999b1647c8fe61c48305c4dce", "IK5o-W8gmADR_wqKotss7Vh9Rc-f4Hc0fDAEMIgtJ_4"},
		{saltFrom(t, "NXBE9sMo9Bz1ab79g5k6rw"), "signature", "picture signed-18", "7JZ9D9WlpZlYupLhDow6V6tEbkwJWcijVx_XulP-LbA"},
		{saltFrom(t, "4eMudMExMev61-UkRk7bMg"), "warned", "Water may run aft under the skin. The front is not in the warranty.", "RsBgtWXXLHnVdFvX6SIvkgGCDytUdWPad90Tj6ReCKk"},
	} {
		slip, err := private.Make(one.salt, one.name, one.value)
		require.NoError(t, err)
		require.Equal(t, one.commitment, private.Commit(slip), one.name)
		read, err := private.Parse(slip)
		require.NoError(t, err)
		require.Equal(t, private.Slip{Salt: one.salt, Name: one.name, Value: one.value}, read)
		if one.name == "why" {
			require.Equal(t, whySlip, slip)
		}
	}
}

func saltFrom(t *testing.T, coded string) [16]byte {
	t.Helper()
	salt, err := base64.RawURLEncoding.DecodeString(coded)
	require.NoError(t, err)
	return [16]byte(salt)
}

// Whatever may stand in a slip comes back, and a JSON library reads the same.
func TestMakeAndParse(t *testing.T) {
	for _, value := range []string{
		"", " ", `"`, `\`, `\"`, `\u0041`, `","x":"`, "</script>&<>", "Jörgen", "é", "٥", "\u200c\u200d", "日本", "🙂", "\ufffd", "\U0010fffd", "/",
		strings.Repeat("x", 5000),
	} {
		slip, err := private.Make(saltOf(9), "note", value)
		require.NoError(t, err, "%q", value)
		read, err := private.Parse(slip)
		require.NoError(t, err, "%q", value)
		require.Equal(t, value, read.Value)
		text, err := base64.RawURLEncoding.DecodeString(slip)
		require.NoError(t, err)
		var list []string
		require.NoError(t, json.Unmarshal(text, &list))
		require.Equal(t, []string{"CQkJCQkJCQkJCQkJCQkJCQ", "note", value}, list)
	}
}

func TestMakeRefuses(t *testing.T) {
	for _, name := range []string{"", "Note", "1note", "-note", "no_te", "no te", "nöte", "note\n", strings.Repeat("n", 41)} {
		_, err := private.Make(saltOf(1), name, "x")
		require.ErrorIs(t, err, private.ErrName, "%q", name)
	}
	_, err := private.Make(saltOf(1), strings.Repeat("n", 40), "x")
	require.NoError(t, err)
	for _, value := range []string{"a\xffb", "\xed\xa0\x80" /* a lone surrogate */, "\xc0\x80" /* 0 in two bytes */} {
		_, err := private.Make(saltOf(1), "note", value)
		require.ErrorIs(t, err, private.ErrValue, "%q", value)
	}
}

// The list of forbidden characters written down a second time, first and last
// of each run. Asked about are the first plane, the one with tags, and the last
// characters of all the others.
func TestForbiddenCharacters(t *testing.T) {
	runs := [][2]rune{
		{0, 0x1F},
		{0x7F, 0x9F},
		{0x61C, 0x61C},
		{0x200B, 0x200B},
		{0x200E, 0x200F},
		{0x2028, 0x202E},
		{0x2060, 0x2069},
		{0xFDD0, 0xFDEF},
		{0xFEFF, 0xFEFF},
		{0xFFF9, 0xFFFB},
		{0xE0000, 0xE007F},
	}
	asked := [][2]rune{{0, 0xD7FF}, {0xE000, 0xFFFF}, {0xE0000, 0xE0FFF}}
	for plane := rune(0); plane <= 0x10; plane++ {
		runs = append(runs, [2]rune{plane<<16 | 0xFFFE, plane<<16 | 0xFFFF})
		asked = append(asked, [2]rune{plane<<16 | 0xFFF0, plane<<16 | 0xFFFF})
	}
	for _, span := range asked {
		for r := span[0]; r <= span[1]; r++ {
			forbidden := slices.ContainsFunc(runs, func(run [2]rune) bool { return run[0] <= r && r <= run[1] })
			if _, err := private.Make(saltOf(1), "note", string(r)); (err != nil) != forbidden {
				t.Fatalf("%U: forbidden %v, error %v", r, forbidden, err)
			}
		}
	}
}

func TestParseRefuses(t *testing.T) {
	coded := func(text string) string { return base64.RawURLEncoding.EncodeToString([]byte(text)) }
	const salt = "AgICAgICAgICAgICAgICAg"
	_, err := private.Parse(coded(`["` + salt + `","why","x"]`))
	require.NoError(t, err, "the others differ from this one")
	for name, bad := range map[string]string{
		"empty":             "",
		"not base64":        "!",
		"padding":           whySlip + "==",
		"line end":          whySlip + "\n",
		"unused bit set":    strings.TrimSuffix(coded(`["`+salt+`","why","xy"]`), "Q") + "R",
		"space":             coded(`["` + salt + `", "why","x"]`),
		"space after":       coded(`["` + salt + `","why","x"] `),
		"two parts":         coded(`["` + salt + `","why"]`),
		"four parts":        coded(`["` + salt + `","why","x","y"]`),
		"number":            coded(`["` + salt + `","why",1]`),
		"null":              coded(`["` + salt + `","why",null]`),
		"object":            coded(`{"salt":"` + salt + `","why":"x"}`),
		"short salt":        coded(`["AgICAgICAgICAgICAgIC","why","x"]`),
		"long salt":         coded(`["AgICAgICAgICAgICAgICAgIC","why","x"]`),
		"no salt":           coded(`["","why","x"]`),
		"unused bit, salt":  coded(`["AgICAgICAgICAgICAgICAh","why","x"]`),
		"escaped letter":    coded(`["` + salt + `","why","\u0078"]`),
		"escaped slash":     coded(`["` + salt + `","why","\/"]`),
		"escaped tab":       coded(`["` + salt + `","why","\t"]`),
		"raw tab":           coded("[\"" + salt + "\",\"why\",\"\t\"]"),
		"lone surrogate":    coded(`["` + salt + `","why","\ud800"]`),
		"bad UTF-8":         coded("[\"" + salt + "\",\"why\",\"\xff\"]"),
		"hidden direction":  coded("[\"" + salt + "\",\"why\",\"\u202e\"]"),
		"name no word":      coded(`["` + salt + `","Why","x"]`),
		"standard alphabet": strings.Replace(coded(`["`+salt+`","why","~~~???"]`), "_", "/", 1),
	} {
		_, err := private.Parse(bad)
		require.ErrorIs(t, err, private.ErrMalformed, name)
	}
}

func TestRandomBytesComeIn(t *testing.T) {
	source := strings.NewReader("0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
	salt, err := private.Salt(source)
	require.NoError(t, err)
	require.Equal(t, "0123456789abcdef", string(salt[:]))
	blank, err := private.Blank(source)
	require.NoError(t, err)
	require.Equal(t, base64.RawURLEncoding.EncodeToString([]byte("ghijklmnopqrstuvwxyzABCDEFGHIJKL")), blank)
	_, err = private.Blank(source)
	require.Error(t, err, "14 bytes are left")
	_, err = private.Salt(iotest.ErrReader(os.ErrClosed))
	require.ErrorIs(t, err, os.ErrClosed)
}

func FuzzSlip(f *testing.F) {
	f.Add(whySlip)
	f.Add("WyIyR0xDNDJzS1F2ZUNmR2ZyeU5STjl3IiwgImdpdmVuX25hbWUiLCAiSm9obiJd")
	f.Add(base64.RawURLEncoding.EncodeToString([]byte(`["AgICAgICAgICAgICAgICAg","why","\u0078"]`)))
	f.Fuzz(func(t *testing.T, slip string) {
		read, err := private.Parse(slip)
		if err != nil {
			if made, err := private.Make(saltOf(5), "note", slip); err == nil {
				read, err := private.Parse(made)
				require.NoError(t, err, "what is made is read")
				require.Equal(t, slip, read.Value)
			}
			return
		}
		again, err := private.Make(read.Salt, read.Name, read.Value)
		require.NoError(t, err)
		require.Equal(t, slip, again)
		lines, err := private.Lines(private.Text([]string{slip}))
		require.NoError(t, err)
		require.Equal(t, []string{slip}, lines)
	})
}

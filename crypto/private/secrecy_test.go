package private_test

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/private"
)

// hiddenName is the private value that somebody tries to find out.
const hiddenName = "holder-phone"

// known is all that somebody without one slip can have: the line of the entry
// with every commitment in it, and every other slip.
type known struct {
	hidden string // the commitment of hiddenName
	line   []byte // L1 of the entry, public
	nonce  [16]byte
	slips  []string
}

// maker makes a commitment and its slip, as the house does or as a house
// without care would. number counts the values of the entry from 0.
type maker func(t *testing.T, nonce [16]byte, number int, name, value string) (slip string)

// entryBy makes an entry with five private values and gives away all but the
// slip of hiddenName.
func entryBy(t *testing.T, make maker, phone string) known {
	t.Helper()
	nonce := [16]byte([]byte("a public nonce.."))
	values := [][2]string{
		{"complaint", "drips over the sofa"},
		{"holder-mail", "adela@example.org"},
		{hiddenName, phone},
		{"holder-name", "Adela Brunskog"},
		{"plate", "CE 4137"},
	}
	out := known{nonce: nonce}
	commitments := map[string]string{}
	for number, value := range values {
		slip := make(t, nonce, number, value[0], value[1])
		commitments[value[0]] = private.Commit(slip)
		if value[0] != hiddenName {
			out.slips = append(out.slips, slip)
		}
	}
	out.hidden = commitments[hiddenName]
	var err error
	out.line, err = json.Marshal(map[string]any{"nonce": fmt.Sprintf("%x", nonce), "private": commitments})
	require.NoError(t, err)
	return out
}

// salts are those that somebody could try: none, fixed ones, those of the other
// slips and their neighbours, and what can be made from public bytes.
func (k known) salts(t *testing.T) [][]byte {
	t.Helper()
	line, name, hidden := sha256.Sum256(k.line), sha256.Sum256([]byte(hiddenName)), sha256.Sum256([]byte(k.hidden))
	nonce := sha256.Sum256(k.nonce[:])
	named := sha256.Sum256(append(k.nonce[:], hiddenName...))
	salts := [][]byte{
		nil, make([]byte, 16), bytes.Repeat([]byte{0xFF}, 16), k.nonce[:],
		line[:16], name[:16], hidden[:16], nonce[:16], named[:16],
	}
	for _, slip := range k.slips {
		text, err := base64.RawURLEncoding.DecodeString(slip)
		require.NoError(t, err)
		var parts []string
		require.NoError(t, json.Unmarshal(text, &parts))
		salt, err := base64.RawURLEncoding.DecodeString(parts[0])
		require.NoError(t, err)
		salts = append(salts, salt)
		for _, step := range []byte{1, 255} {
			if len(salt) > 0 {
				next := bytes.Clone(salt)
				next[len(next)-1] += step
				salts = append(salts, next)
			}
		}
		commitment := sha256.Sum256([]byte(slip))
		salts = append(salts, commitment[:16])
	}
	return salts
}

// found tries each candidate against the commitment in every way it knows and
// returns the one that fits, or nothing. It shares no line with the package.
func (k known) found(t *testing.T, candidates []string) string {
	t.Helper()
	salts := k.salts(t)
	hidden, err := base64.RawURLEncoding.DecodeString(k.hidden)
	require.NoError(t, err)
	for _, candidate := range candidates {
		quoted, err := json.Marshal(candidate)
		require.NoError(t, err)
		texts := []string{candidate, string(quoted), hiddenName + candidate, fmt.Sprintf(`["%s",%s]`, hiddenName, quoted)}
		for _, salt := range salts {
			coded := base64.RawURLEncoding.EncodeToString(salt)
			texts = append(texts, `["`+coded+`","`+hiddenName+`",`+string(quoted)+`]`, string(salt)+candidate)
		}
		for _, text := range texts {
			plain := sha256.Sum256([]byte(text))
			coded := sha256.Sum256([]byte(base64.RawURLEncoding.EncodeToString([]byte(text))))
			if bytes.Equal(plain[:], hidden) || bytes.Equal(coded[:], hidden) {
				return candidate
			}
		}
	}
	return ""
}

// made is a maker with salts of a given sort.
func made(salt func(nonce [16]byte, number int, name string) [16]byte) maker {
	return func(t *testing.T, nonce [16]byte, number int, name, value string) string {
		t.Helper()
		slip, err := private.Make(salt(nonce, number, name), name, value)
		require.NoError(t, err)
		return slip
	}
}

func asTheHouseDoes(t *testing.T, _ [16]byte, _ int, name, value string) string {
	t.Helper()
	salt, err := private.Salt(rand.Reader)
	require.NoError(t, err)
	slip, err := private.Make(salt, name, value)
	require.NoError(t, err)
	return slip
}

// A telephone number is one of 10,000, and somebody has the entry and every
// other slip: without its own slip not one of them can be tried. That the
// trying is worth something is shown on houses without care, where it finds
// the number: without salts, with one for all, with salts from public bytes.
func TestNothingCanBeToldOfAValue(t *testing.T) {
	candidates := make([]string, 10_000)
	for i := range candidates {
		candidates[i] = fmt.Sprintf("555 %04d", i)
	}
	phone := candidates[7_312]
	careless := map[string]maker{
		"no salt": func(_ *testing.T, _ [16]byte, _ int, name, value string) string {
			return base64.RawURLEncoding.EncodeToString(fmt.Appendf(nil, `["","%s","%s"]`, name, value))
		},
		"zero salt":   made(func([16]byte, int, string) [16]byte { return [16]byte{} }),
		"one for all": made(func([16]byte, int, string) [16]byte { return [16]byte([]byte("one secret salt.")) }),
		"counted up":  made(func(_ [16]byte, number int, _ string) [16]byte { return [16]byte{0: 0xA7, 15: byte(40 + number)} }),
		"the nonce":   made(func(nonce [16]byte, _ int, _ string) [16]byte { return nonce }),
		"hash of a name": made(func(_ [16]byte, _ int, name string) [16]byte {
			sum := sha256.Sum256([]byte(name))
			return [16]byte(sum[:16])
		}),
		"nonce and names": made(func(nonce [16]byte, _ int, name string) [16]byte {
			sum := sha256.Sum256(append(nonce[:], name...))
			return [16]byte(sum[:16])
		}),
	}
	for how, make := range careless {
		near := candidates[7_300:7_320] // the number is among them; the rest is the same work
		require.Equal(t, phone, entryBy(t, make, phone).found(t, near), how)
	}
	require.Empty(t, entryBy(t, asTheHouseDoes, phone).found(t, candidates))
}

// The same value twice has two commitments, and a value that is not there has
// one that looks like any other.
func TestCommitmentsDoNotRepeat(t *testing.T) {
	var all []string
	for range 500 {
		commitment := private.Commit(asTheHouseDoes(t, [16]byte{}, 0, "plate", "CE 4137"))
		blank, err := private.Blank(rand.Reader)
		require.NoError(t, err)
		all = append(all, commitment, blank)
	}
	for _, one := range all {
		digest, err := base64.RawURLEncoding.Strict().DecodeString(one)
		require.NoError(t, err)
		require.Len(t, digest, 32)
	}
	slices.Sort(all)
	require.Len(t, slices.Compact(all), 1000)
}

package ledger_test

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	"lapmark/ledger/format"
)

// However many processors verify, the first bad entry is named, with the first
// reason there is against it.
func TestFirstBadEntryOnAnyProcessors(t *testing.T) {
	s := longLedger(t, 200)
	start := func(n int) int { return s.ends[n-2] }
	line2 := func(text []byte, n int) int { return start(n) + bytes.IndexByte(text[start(n):], '\n') + 1 }
	// the last bytes of a signature line are those of S: another letter is
	// another number, still in good form
	spoil := func(text []byte, n int) { text[line2(text, n)+200] ^= 1 }
	tests := []struct {
		name  string
		spoil func(text []byte) []byte
		entry int64
		why   error
	}{
		{"two signatures of one block", func(text []byte) []byte { spoil(text, 71); spoil(text, 70); return text }, 70, ledger.ErrSignature},
		{"two signatures of two blocks", func(text []byte) []byte { spoil(text, 130); spoil(text, 64); return text }, 64, ledger.ErrSignature},
		{"no leaf at the end of a block", func(text []byte) []byte {
			text[line2(text, 64)] = '!'
			return text
		}, 64, format.ErrShape},
		{"no leaf behind a bad signature", func(text []byte) []byte {
			text[line2(text, 72)] = '!'
			spoil(text, 71)
			return text
		}, 71, ledger.ErrSignature},
		{"one left out, the next not signed", func(text []byte) []byte {
			spoil(text, 101)
			return append(text[:start(100)], text[start(101):]...)
		}, 100, ledger.ErrChain},
		{"cut off", func(text []byte) []byte { return text[:len(text)-1] }, 200, format.ErrShape},
	}
	for _, test := range tests {
		text := test.spoil(bytes.Clone(s.text))
		for _, processors := range []int{1, 2, 4} {
			t.Run(fmt.Sprint(test.name, " on ", processors), func(t *testing.T) {
				var coach *ledger.Coach
				err := onProcessors(processors, func() (err error) {
					coach, err = ledger.Check(text, new(sshsig.Verifier).Verify)
					return err
				})()
				var broken *ledger.Broken
				require.ErrorAs(t, err, &broken)
				require.Equal(t, test.entry, broken.Entry)
				require.ErrorIs(t, err, test.why)
				require.Len(t, coach.Entries, int(test.entry)-1)
			})
		}
	}
}

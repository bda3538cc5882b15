package ledger_test

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
	"lapmark/ledger"
	tree "lapmark/ledger/chain"
	"lapmark/ledger/format"
	"lapmark/testdata"
)

// signed is a long ledger and what bare Ed25519 needs of each of its entries.
type signed struct {
	key   ed25519.PrivateKey
	text  []byte
	ends  []int // where entry 1, 2, … ends in text
	words [][]byte
	sigs  [][]byte
	edge  tree.Edge
}

// long grows as far as a benchmark asks; its entries are signed once.
var long struct {
	sync.Mutex
	signed
}

// longLedger returns a ledger of so many entries, each about as long as those
// of the demo.
func longLedger(b testing.TB, entries int) signed {
	b.Helper()
	long.Lock()
	defer long.Unlock()
	if long.key == nil {
		seed := sha256.Sum256([]byte("key of the long ledger"))
		long.key = ed25519.NewKeyFromSeed(seed[:])
		long.add(b, "intake", named(keyed(long.key), recovery))
	}
	for len(long.ends) < entries {
		long.add(b, "finding", format.Object{
			"by": format.Array{"hand-1"}, "happened": "2026-05-04T15:22:11+02:00", "tag": fmt.Sprint("F", len(long.ends)),
			"part": "front-cap-seam", "shows": format.Array{"crack", "gap", "chalking"}, "pad": strings.Repeat("a word ", 40),
		})
	}
	out := long.signed
	out.text, out.ends = out.text[:out.ends[entries-1]], out.ends[:entries]
	out.words, out.sigs = out.words[:entries], out.sigs[:entries]
	return out
}

// keyed is a signer of which only the public key is asked.
func keyed(key ed25519.PrivateKey) sshsig.Signer { return publicOf{sshsig.PublicKey(key[32:])} }

type publicOf struct{ key sshsig.PublicKey }

func (p publicOf) Public() sshsig.PublicKey { return p.key }

func (p publicOf) Sign(string, []byte) ([]byte, error) { return nil, errors.New("signs nothing") }

func (s *signed) add(b testing.TB, kind string, body format.Object) {
	b.Helper()
	encoded, err := format.Encode(body)
	require.NoError(b, err)
	key := keyed(s.key).Public()
	l1, err := format.Line{
		At: "2026-05-04T13:22:11Z", Body: encoded, Key: key.Fingerprint(), Kind: kind,
		Prev: format.Head{Size: s.edge.Size(), Root: s.edge.Root()}, V: 1,
	}.Append(nil)
	require.NoError(b, err)
	words := sshsig.Message(ledger.EntryNamespace, append(bytes.Clone(l1), '\n'))
	sig := ed25519.Sign(s.key, words)
	leaf, err := format.Leaf(l1, sshsig.Build(key, ledger.EntryNamespace, [64]byte(sig)))
	require.NoError(b, err)
	s.edge.Append(tree.Leaf(leaf))
	s.text, s.words, s.sigs = append(s.text, leaf...), append(s.words, words), append(s.sigs, sig)
	s.ends = append(s.ends, len(s.text))
}

// bare verifies the signatures and nothing else.
func (s *signed) bare() error {
	public := s.key.Public().(ed25519.PublicKey)
	for i, words := range s.words {
		if !ed25519.Verify(public, words, s.sigs[i]) {
			return fmt.Errorf("signature %d is refused", i+1)
		}
	}
	return nil
}

// check checks the ledger in full.
func (s *signed) check() error {
	_, err := ledger.Check(s.text, new(sshsig.Verifier).Verify)
	return err
}

// unsigned checks the ledger in full, but takes every signature as good.
func (s *signed) unsigned() error {
	line := keyed(s.key).Public().Line()
	_, err := ledger.Check(s.text, func(string, []byte, []byte) (string, error) { return line, nil })
	return err
}

// onProcessors lets at most so many goroutines run at once.
func onProcessors(most int, do func() error) func() error {
	return func() error {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(most))
		return do()
	}
}

// BenchmarkFigureCheck holds the full check of a ledger against the bare
// Ed25519 verifications of its signatures, and what is not signatures against
// the full check. The goals are ours: 1.25 and 0.08.
func BenchmarkFigureCheck(b *testing.B) {
	sizes := []int{1_000, 10_000}
	if !testdata.Large() {
		sizes = sizes[:1]
	}
	for _, size := range sizes {
		b.Run(fmt.Sprint(size), func(b *testing.B) {
			s := longLedger(b, size)
			best := testdata.Best(b, testdata.ProcessorTime, s.bare, onProcessors(1, s.check), onProcessors(1, s.unsigned))
			testdata.AtMost(b, "x-bare", 1.25, best[1], best[0])
			testdata.AtMost(b, "not-signatures", 0.08, best[2], best[1])
		})
	}
}

// BenchmarkFigureWorkers checks the same ledger with one, two and four
// processors allowed: more never makes it slower. A machine that has fewer, or
// is busy, gains nothing; the tenth is for its noise.
func BenchmarkFigureWorkers(b *testing.B) {
	s := longLedger(b, 1_000)
	best := testdata.Best(b, testdata.WallTime, onProcessors(1, s.check), onProcessors(2, s.check), onProcessors(4, s.check))
	testdata.AtMost(b, "two-x", 1.1, best[1], best[0])
	testdata.AtMost(b, "four-x", 1.1, best[2], best[0])
}

// BenchmarkFigureLength holds what an entry costs in a ledger of the greatest
// length against one of 1,000. The goal is ours: 1.15.
func BenchmarkFigureLength(b *testing.B) {
	const few = 1_000
	many := 5_000
	if testdata.Large() {
		many = format.MaxLeaves
	}
	short, long := longLedger(b, few), longLedger(b, many)
	var best [2]time.Duration
	for b.Loop() {
		for range 3 {
			// as many short ones as one long one: both last as long
			best[0] = least(best[0], timed(b, many/few, short.check))
			best[1] = least(best[1], timed(b, 1, long.check))
		}
	}
	testdata.AtMost(b, "x-of-1000", 1.15, best[1], best[0])
}

func least(a, b time.Duration) time.Duration {
	if a == 0 {
		return b
	}
	return min(a, b)
}

func timed(b *testing.B, times int, do func() error) time.Duration {
	b.Helper()
	at := testdata.ProcessorTime()
	for range times {
		require.NoError(b, do())
	}
	return testdata.ProcessorTime() - at
}

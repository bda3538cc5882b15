package chain

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/transparency-dev/merkle/compact"
	"github.com/transparency-dev/merkle/rfc6962"
	"golang.org/x/mod/sumdb/tlog"

	"lapmark/testdata"
)

// Every tree up to 100 leaves, against golang.org/x/mod/sumdb/tlog and
// github.com/transparency-dev/merkle.
func TestRootAgainstOtherHands(t *testing.T) {
	var edge Edge
	var stored []tlog.Hash
	read := tlog.HashReaderFunc(func(at []int64) ([]tlog.Hash, error) {
		out := make([]tlog.Hash, len(at))
		for i, n := range at {
			out[i] = stored[n]
		}
		return out, nil
	})
	factory := compact.RangeFactory{Hash: rfc6962.DefaultHasher.HashChildren}
	other := factory.NewEmptyRange(0)
	for n := int64(0); n < 100; n++ {
		leaf := fmt.Appendf(nil, "leaf %d\n", n)
		hashes, err := tlog.StoredHashes(n, leaf, read)
		require.NoError(t, err)
		stored = append(stored, hashes...)
		edge.Append(Leaf(leaf))
		require.NoError(t, other.Append(rfc6962.DefaultHasher.HashLeaf(leaf), nil))

		want, err := tlog.TreeHash(n+1, read)
		require.NoError(t, err)
		require.Equal(t, Hash(want), edge.Root(), "size %d", n+1)
		root, err := other.GetRootHash(nil)
		require.NoError(t, err)
		got := edge.Root()
		require.Equal(t, root, got[:], "size %d", n+1)
	}
}

func TestCloneGrowsApart(t *testing.T) {
	var a Edge
	for i := range 5 {
		a.Append(Leaf([]byte{byte(i)}))
	}
	before := a.Root()
	b := a.Clone()
	b.Append(Leaf([]byte("x")))
	b.Append(Leaf([]byte("y")))
	require.Equal(t, before, a.Root())
	require.Equal(t, int64(5), a.Size())
	require.Equal(t, int64(7), b.Size())
}

// RFC 6962 section 2.1; rows of testdata/reference/merkle.csv. A proof of
// theirs leads, by golang.org/x/mod/sumdb/tlog, to the roots that we make.
func TestReferenceMerkle(t *testing.T) {
	var leaves [][]byte
	for _, row := range testdata.Reference(t, "merkle.csv") {
		if row.Quantity == "leaves" && leaves == nil {
			for leaf := range strings.FieldsSeq(row.Value) {
				leaves = append(leaves, unhex(t, leaf))
			}
		}
	}
	require.Len(t, leaves, 8)
	root := func(size int) Hash {
		var e Edge
		for _, leaf := range leaves[:size] {
			e.Append(Leaf(leaf))
		}
		return e.Root()
	}
	proof := func(r *testdata.Try) (hashes []tlog.Hash) {
		for one := range strings.FieldsSeq(r.Value) {
			hashes = append(hashes, tlog.Hash(unhex(r.T, one)))
		}
		return hashes
	}
	whole := func(r *testdata.Try, name string) int { return int(r.Number(name)) }
	testdata.EachRow(t, "merkle.csv", map[string]func(*testdata.Try){
		"leaves": func(r *testdata.Try) { require.Len(r.T, strings.Fields(r.Value), len(leaves)) },
		"leaf hash": func(r *testdata.Try) {
			got := Leaf(unhex(r.T, r.Text("leaf")))
			r.Is(hex.EncodeToString(got[:]))
		},
		"root": func(r *testdata.Try) {
			got := root(whole(r, "size"))
			r.Is(hex.EncodeToString(got[:]))
		},
		"inclusion proof": func(r *testdata.Try) {
			size, at := whole(r, "size"), whole(r, "index")
			leaf := tlog.Hash(Leaf(leaves[at]))
			require.NoError(r.T, tlog.CheckRecord(proof(r), int64(size), tlog.Hash(root(size)), int64(at), leaf))
		},
		"consistency proof": func(r *testdata.Try) {
			old, grown := whole(r, "old"), whole(r, "new")
			require.NoError(r.T, tlog.CheckTree(proof(r), int64(grown), tlog.Hash(root(grown)), int64(old), tlog.Hash(root(old))))
		},
	})
}

func TestHeadCodeOfTheWorkedExample(t *testing.T) {
	ledger := Hash(unhex(t, "44bfa80a2e13fdf50306e37f73ea1ba0a0564431c26228a07ed3df0c4390aa01"))
	leaf2 := Hash(unhex(t, "365af4ab489540664b1b3121b65b10233a382008abfcce96d5941305dea9d65c"))
	leaf3 := Hash(unhex(t, "7bd5c887b6bb9ea79423215ab07b9c809a02ec5d0b6fa5471ca356a10eb177ca"))
	require.Equal(t, "8JZTG2HE2FYZ", ID(ledger))
	var e Edge
	for i, want := range []struct {
		leaf Hash
		code Code
	}{
		{ledger, "19EA QFQY A44K 43EE F5DP"},
		{leaf2, "XT7Y BH3B YFSN CDHF V6HR"},
		{leaf3, "CEA2 1BAY 668F C6A9 AGB8"},
	} {
		e.Append(want.leaf)
		require.Equal(t, want.code, HeadCode(ledger, int64(i+1), e.Root()))
	}
}

func TestEmptyRootIsHashOfNothing(t *testing.T) {
	var e Edge
	require.Equal(t, Hash(sha256.Sum256(nil)), e.Root())
}

func TestReadCode(t *testing.T) {
	for _, typed := range []string{
		"19EA QFQY A44K 43EE F5DP", "19ea-qfqy-a44k-43ee-f5dp", "l9eaqfqya44k43eef5dp", " I9EA QFQY A44K 43EE F5DP\n",
	} {
		got, err := ReadCode(typed)
		require.NoError(t, err, typed)
		require.Equal(t, Code("19EA QFQY A44K 43EE F5DP"), got)
	}
	for _, typed := range []string{"", "19EA", "19EA QFQY A44K 43EE F5DU", "19EA QFQY A44K 43EE F5DP 0"} {
		_, err := ReadCode(typed)
		require.ErrorIs(t, err, ErrCode, typed)
	}
	require.Equal(t, 2, Apart("19EA QFQY", "19EB QFQZ"))
}

func unhex(t *testing.T, s string) []byte {
	t.Helper()
	b, err := hex.DecodeString(strings.Trim(s, "-"))
	require.NoError(t, err)
	return b
}

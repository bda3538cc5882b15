package chain

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
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

// RFC 6962 section 2.1; rows of testdata/reference/merkle.csv.
func TestReferenceMerkle(t *testing.T) {
	rows := testdata.Reference(t, "merkle.csv")
	var leaves [][]byte
	for _, row := range rows {
		if row.Quantity == "leaves" {
			for leaf := range strings.FieldsSeq(row.Value) {
				leaves = append(leaves, unhex(t, leaf))
			}
		}
	}
	require.Len(t, leaves, 8)
	tried := 0
	for _, row := range rows {
		_, in, _ := strings.Cut(row.Inputs, "=")
		var got Hash
		switch row.Quantity {
		case "leaf hash":
			got = Leaf(unhex(t, in))
		case "root":
			size, err := strconv.Atoi(in)
			require.NoError(t, err)
			var e Edge
			for _, leaf := range leaves[:size] {
				e.Append(Leaf(leaf))
			}
			got = e.Root()
		default:
			continue
		}
		tried++
		require.Equal(t, row.Value, hex.EncodeToString(got[:]), row.ID)
	}
	require.Greater(t, tried, 8)
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

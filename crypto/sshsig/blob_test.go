package sshsig_test

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/sshsig"
)

// houseLine is the key of seed 00…1f, which signed testdata/ledger.txt.
const houseLine = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIAOhB7/zzhC+HXDdGOdLwJln5NYwm6UNXx3chmQSVTG4"

// leaf is an entry as it stands in a ledger: message is its first line with
// the line end, l2 its second without.
type leaf struct {
	message []byte
	l2      string
}

// exampleLeaves reads the three entries of the worked example of the format.
// They were made by another program of ours, and their signatures checked with
// ssh-keygen -Y verify 9.2p1.
func exampleLeaves(t testing.TB) []leaf {
	t.Helper()
	text, err := os.ReadFile("testdata/ledger.txt")
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	require.Len(t, lines, 6)
	var leaves []leaf
	for i := 0; i < len(lines); i += 2 {
		leaves = append(leaves, leaf{[]byte(lines[i] + "\n"), lines[i+1]})
	}
	return leaves
}

func blobOf(t testing.TB, one leaf) []byte {
	t.Helper()
	blob, err := base64.StdEncoding.DecodeString(one.l2)
	require.NoError(t, err)
	return blob
}

func TestWorkedExample(t *testing.T) {
	var verifier sshsig.Verifier
	for _, one := range exampleLeaves(t) {
		blob := blobOf(t, one)
		require.Len(t, blob, 186)
		require.Len(t, one.l2, 248)
		require.Equal(t, one.l2, base64.StdEncoding.EncodeToString(blob))

		line, err := verifier.Verify(sshsig.EntryNamespace, one.message, blob)
		require.NoError(t, err)
		require.Equal(t, houseLine, line)

		_, err = verifier.Verify(sshsig.AcceptNamespace, one.message, blob)
		require.ErrorIs(t, err, sshsig.ErrSignature)
		_, err = verifier.Verify(sshsig.EntryNamespace, bytes.TrimSuffix(one.message, []byte("\n")), blob)
		require.ErrorIs(t, err, sshsig.ErrSignature)

		parsed, err := sshsig.Parse(blob)
		require.NoError(t, err)
		require.Equal(t, sshsig.EntryNamespace, parsed.Namespace)
		require.Equal(t, "SHA256:lbmsoA0yIEcEiVDRnMWuzm+nV+3ZEEpVIURqFoeSspg", parsed.Key.Fingerprint())
	}
}

// One bit turned anywhere in the blob or in the words is refused.
func TestEveryBitCounts(t *testing.T) {
	var verifier sshsig.Verifier
	one := exampleLeaves(t)[1]
	blob := blobOf(t, one)
	for _, flipped := range [][]byte{blob, one.message} {
		for bit := range len(flipped) * 8 {
			flipped[bit/8] ^= 1 << (bit % 8)
			line, err := verifier.Verify(sshsig.EntryNamespace, one.message, blob)
			require.Error(t, err, "bit %d of %d bytes", bit, len(flipped))
			require.Empty(t, line)
			flipped[bit/8] ^= 1 << (bit % 8)
		}
	}
	_, err := verifier.Verify(sshsig.EntryNamespace, one.message, blob)
	require.NoError(t, err)
}

func TestParseRefusesOtherLengths(t *testing.T) {
	blob := blobOf(t, exampleLeaves(t)[0])
	for long := range len(blob) {
		_, err := sshsig.Parse(blob[:long])
		require.ErrorIs(t, err, sshsig.ErrMalformed, "%d bytes", long)
	}
	_, err := sshsig.Parse(append(bytes.Clone(blob), 0))
	require.ErrorIs(t, err, sshsig.ErrMalformed)
	_, err = sshsig.Parse(sshsig.Build(keyFrom(1), "", [64]byte{}))
	require.ErrorIs(t, err, sshsig.ErrMalformed, "PROTOCOL.sshsig: the namespace must not be empty")
}

// A key is looked at once, and a weak one is refused each time.
func TestVerifierDoesNotRememberWeakKeys(t *testing.T) {
	var verifier sshsig.Verifier
	identity := sshsig.PublicKey{1}
	// R the identity, S zero: under the identity key this fits any words, and
	// ssh-keygen 9.2p1 says Good (signatures.csv, SIG-036).
	blob := sshsig.Build(identity, sshsig.EntryNamespace, [64]byte{1})
	for range 2 {
		_, err := verifier.Verify(sshsig.EntryNamespace, []byte("any words\n"), blob)
		require.ErrorIs(t, err, sshsig.ErrWeakKey)
	}
}

func FuzzParse(f *testing.F) {
	for _, one := range exampleLeaves(f) {
		f.Add(blobOf(f, one))
	}
	f.Add(sshsig.Build(keyFrom(1), sshsig.AcceptNamespace, [64]byte{}))
	f.Add([]byte("SSHSIG"))
	f.Fuzz(func(t *testing.T, blob []byte) {
		parsed, err := sshsig.Parse(blob)
		if err != nil {
			_, err := sshsig.Verify(parsed.Namespace, nil, blob)
			require.Error(t, err)
			return
		}
		require.Equal(t, blob, sshsig.Build(parsed.Key, parsed.Namespace, parsed.Signature))
		_, err = sshsig.ParseLine(parsed.Key.Line())
		require.NoError(t, err)
	})
}

func ExampleVerify() {
	const l1 = `{"at":"2020-03-19T16:30:00Z","body":{"by":["foreman"],"happened":"2020-03-19","places":[{"aft":[0,3700],"shape":"field"}],"private":{"why":"6syIh22TxYKtslRFkDzappf8SRnb3o-mktCUox7L9sQ"}},"key":"SHA256:lbmsoA0yIEcEiVDRnMWuzm+nV+3ZEEpVIURqFoeSspg","kind":"not-looked-at","prev":{"root":"RL+oCi4T/fUDBuN/c+oboKBWRDHCYiigftPfDEOQqgE=","size":1},"v":1}`
	const l2 = "U1NIU0lHAAAAAQAAADMAAAALc3NoLWVkMjU1MTkAAAAgA6EHv/POEL4dcN0Y50vAmWfk1jCbpQ1fHdyGZBJVMbgAAAAQZW50cnkudjFAbGFwbWFyawAAAAAAAAAGc2hhNTEyAAAAUwAAAAtzc2gtZWQyNTUxOQAAAEBYUv0ym0KXDcG1sH+USpx5Y+nxOob49HB509G6/eVe0SLjVDf4qUf9QTtRnC+KGoL6OGGlJyyST20UFEUy3AUM"
	blob, err := base64.StdEncoding.DecodeString(l2)
	if err != nil {
		fmt.Println(err)
		return
	}
	key, err := sshsig.Verify(sshsig.EntryNamespace, []byte(l1+"\n"), blob)
	fmt.Println(key, err)
	// Output: ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIAOhB7/zzhC+HXDdGOdLwJln5NYwm6UNXx3chmQSVTG4 <nil>
}

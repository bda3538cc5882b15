package sshsig_test

import (
	"crypto/ed25519"
	"encoding/base64"
	"encoding/hex"
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
	"lapmark/testdata"
)

// reference is one row of a file of published check values.
type reference struct {
	testdata.Row
	inputs map[string]string
}

func (r reference) bytes(t *testing.T, name string) []byte {
	t.Helper()
	text, ok := r.inputs[name]
	require.True(t, ok, "%s has no input %s", r.ID, name)
	decoded, err := hex.DecodeString(text)
	require.NoError(t, err)
	return decoded
}

func (r reference) signer(t *testing.T) sshsig.Signer {
	t.Helper()
	return keyring.FromSeed([32]byte(r.bytes(t, "seed")))
}

// Each row of signatures.csv names its source: RFC 8032 section 7.1, OpenSSH
// 9.2p1, filippo.io/edwards25519, @noble/ed25519. The rows "to be refused"
// include signatures that ssh-keygen 9.2p1 calls good.
func TestReferenceSignatures(t *testing.T) {
	judged := map[string]func(*testing.T, reference){
		"ed25519 public key":       judgePublicKey,
		"ed25519 signature":        judgeSignature,
		"ed25519 verifies":         judgeVerifies,
		"public key to be refused": judgeRefusedKey,
		"SSHSIG blob":              judgeBlob,
		"OpenSSH public key line":  judgeKeyLine,
		"OpenSSH key fingerprint":  judgeFingerprint,
		"SSHSIG verifies":          judgeBlobVerifies,
		"SSHSIG to be refused":     judgeRefusedBlob,
	}
	met := map[string]int{}
	for _, from := range testdata.Reference(t, "signatures.csv") {
		row := reference{from, from.Named()}
		judge, ok := judged[row.Quantity]
		require.True(t, ok, "%s: no judge for %q", row.ID, row.Quantity)
		met[row.Quantity]++
		t.Run(row.ID, func(t *testing.T) { judge(t, row) })
	}
	for quantity := range judged {
		require.NotZero(t, met[quantity], "no row of %q", quantity)
	}
}

func judgePublicKey(t *testing.T, row reference) {
	key := row.signer(t).Public()
	require.Equal(t, row.Value, hex.EncodeToString(key[:]))
	require.NoError(t, key.Check())
}

func judgeSignature(t *testing.T, row reference) {
	private := ed25519.NewKeyFromSeed(row.bytes(t, "seed"))
	require.Equal(t, row.Value, hex.EncodeToString(ed25519.Sign(private, row.bytes(t, "message"))))
}

func judgeVerifies(t *testing.T, row reference) {
	good := ed25519.Verify(row.bytes(t, "public"), row.bytes(t, "message"), row.bytes(t, "signature"))
	require.Equal(t, row.Value == "yes", good)
}

func judgeRefusedKey(t *testing.T, row reference) {
	require.Equal(t, "yes", row.Value)
	key := sshsig.PublicKey(row.bytes(t, "public"))
	require.ErrorIs(t, key.Check(), sshsig.ErrWeakKey)
	_, err := sshsig.ParseLine(key.Line())
	require.ErrorIs(t, err, sshsig.ErrWeakKey)
	_, err = sshsig.Parse(sshsig.Build(key, sshsig.EntryNamespace, [64]byte{1}))
	require.ErrorIs(t, err, sshsig.ErrWeakKey)
	_, err = sshsig.Verify(sshsig.EntryNamespace, nil, sshsig.Build(key, sshsig.EntryNamespace, [64]byte{1}))
	require.ErrorIs(t, err, sshsig.ErrWeakKey)
}

func judgeBlob(t *testing.T, row reference) {
	require.Equal(t, "sha512", row.inputs["hash"])
	blob, err := row.signer(t).Sign(row.inputs["namespace"], row.bytes(t, "message"))
	require.NoError(t, err)
	require.Equal(t, row.Value, base64.StdEncoding.EncodeToString(blob))
}

func judgeKeyLine(t *testing.T, row reference) {
	require.Equal(t, "ssh-ed25519 "+row.Value, row.signer(t).Public().Line())
}

func judgeFingerprint(t *testing.T, row reference) {
	require.Equal(t, row.Value, row.signer(t).Public().Fingerprint())
}

func judgeBlobVerifies(t *testing.T, row reference) {
	blob, err := base64.StdEncoding.DecodeString(row.inputs["blob"])
	require.NoError(t, err)
	line, err := sshsig.Verify(row.inputs["namespace"], row.bytes(t, "message"), blob)
	if row.Value == "no" {
		require.ErrorIs(t, err, sshsig.ErrSignature)
		return
	}
	require.NoError(t, err)
	_, err = sshsig.ParseLine(line)
	require.NoError(t, err)
}

func judgeRefusedBlob(t *testing.T, row reference) {
	require.Equal(t, "yes", row.Value)
	blob, err := base64.StdEncoding.DecodeString(row.inputs["blob"])
	require.NoError(t, err)
	_, err = sshsig.Parse(blob)
	require.Error(t, err)
	line, err := sshsig.Verify(row.inputs["namespace"], row.bytes(t, "message"), blob)
	require.Error(t, err)
	require.NotErrorIs(t, err, sshsig.ErrSignature, "refused by its form, not by arithmetic")
	require.Empty(t, line)
}

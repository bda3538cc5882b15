package shop_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
)

// faulty hands out a signature with one bit turned, as a fault of memory would.
type faulty struct{ sshsig.Hasty }

func (f faulty) SignUnverified(namespace string, message []byte) []byte {
	blob := f.Hasty.SignUnverified(namespace, message)
	blob[len(blob)-40] ^= 1
	return blob
}

// A signature that does not verify puts nothing into the ledger, and every note
// stays in pencil.
func TestFaultySignatureIsNotWritten(t *testing.T) {
	s := open(t, demoShop(t))
	c, err := s.Coach("4137")
	require.NoError(t, err)
	before := len(c.Ledger.Entries)
	text := "coach GZ9TF785XEW004137\non 2020-04-25 zone +02:00\nremark: note \"one\"; by hand-1\nremark: note \"two\"; by hand-1\n"
	notes, err := s.Reading([]byte(text), "")
	require.NoError(t, err)
	require.NoError(t, s.Pencil(notes, nil))
	good := keyring.DemoSigner("K1").(sshsig.Hasty)
	_, err = s.Ink(t.Context(), c.Plate, faulty{good}, true)
	require.ErrorContains(t, err, "does not verify")
	c, err = s.Coach("4137")
	require.NoError(t, err)
	require.Len(t, c.Ledger.Entries, before)
	in, err := s.Ink(t.Context(), c.Plate, good, true)
	require.NoError(t, err)
	require.Equal(t, int64(before+2), in.Size)
}

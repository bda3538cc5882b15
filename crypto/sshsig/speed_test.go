package sshsig_test

import (
	"bytes"
	"crypto/ed25519"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lapmark/crypto/keyring"
	"lapmark/crypto/sshsig"
)

// BenchmarkVerifierAgainstBare verifies the same 200 messages of 700 bytes with
// a Verifier and with bare ed25519.Verify, in turns, and reports the best of
// all rounds of the one in bests of the other. A check of a whole ledger may
// take 1.25; the goal is ours.
func BenchmarkVerifierAgainstBare(b *testing.B) {
	const count, rounds = 200, 15
	seed := [32]byte{7}
	signer, private := keyring.FromSeed(seed), ed25519.NewKeyFromSeed(seed[:])
	public := private.Public().(ed25519.PublicKey)
	messages, blobs, bare := make([][]byte, count), make([][]byte, count), make([][]byte, count)
	for i := range messages {
		messages[i] = append(bytes.Repeat([]byte{'w'}, 700), fmt.Sprintln(i)...)
		var err error
		blobs[i], err = signer.Sign(sshsig.EntryNamespace, messages[i])
		require.NoError(b, err)
		bare[i] = ed25519.Sign(private, messages[i])
	}
	for b.Loop() {
		ours, theirs := time.Hour, time.Hour
		for range rounds {
			start := time.Now()
			for i, message := range messages {
				if !ed25519.Verify(public, message, bare[i]) {
					b.Fatal("bare signature refused")
				}
			}
			theirs = min(theirs, time.Since(start))

			start = time.Now()
			var verifier sshsig.Verifier
			for i, message := range messages {
				if _, err := verifier.Verify(sshsig.EntryNamespace, message, blobs[i]); err != nil {
					b.Fatal(err)
				}
			}
			ours = min(ours, time.Since(start))
		}
		ratio := float64(ours) / float64(theirs)
		b.ReportMetric(ratio, "x-bare")
		if ratio > 1.25 {
			b.Errorf("%.2f times bare verification", ratio)
		}
	}
}

package keyring

import (
	"crypto/ed25519"
	"fmt"
	"io"

	"lapmark/crypto/sshsig"
)

// NewSeed reads the 32 bytes of a new Ed25519 key (the private key of RFC 8032
// section 5.1.5) from a source of randomness.
func NewSeed(random io.Reader) ([32]byte, error) {
	var seed [32]byte
	if _, err := io.ReadFull(random, seed[:]); err != nil {
		return [32]byte{}, fmt.Errorf("random bytes for a key: %w", err)
	}
	return seed, nil
}

// FromSeed returns the signer of a seed: a recovery key read from its sheet, a
// demo key.
func FromSeed(seed [32]byte) sshsig.Signer {
	return held{ed25519.NewKeyFromSeed(seed[:])}
}

// held signs with a private key in memory.
type held struct {
	private ed25519.PrivateKey
}

func (h held) Public() sshsig.PublicKey {
	return sshsig.PublicKey(h.private[ed25519.SeedSize:])
}

func (h held) Sign(namespace string, message []byte) ([]byte, error) {
	signature := ed25519.Sign(h.private, sshsig.Message(namespace, message))
	return verified(h.Public(), namespace, message, signature)
}

// SignUnverified is [sshsig.Hasty].
func (h held) SignUnverified(namespace string, message []byte) []byte {
	signature := ed25519.Sign(h.private, sshsig.Message(namespace, message))
	return sshsig.Build(h.Public(), namespace, [ed25519.SignatureSize]byte(signature))
}

// verified builds the blob of a signature and hands it out only when the
// strict reader finds it good: a fault of memory or a foreign agent must not
// put a bad entry into a ledger.
func verified(key sshsig.PublicKey, namespace string, message, signature []byte) ([]byte, error) {
	if len(signature) != ed25519.SignatureSize {
		return nil, fmt.Errorf("the signature made has %d bytes, not %d", len(signature), ed25519.SignatureSize)
	}
	blob := sshsig.Build(key, namespace, [ed25519.SignatureSize]byte(signature))
	if _, err := sshsig.Verify(namespace, message, blob); err != nil {
		return nil, fmt.Errorf("the signature made does not verify: %w", err)
	}
	return blob, nil
}

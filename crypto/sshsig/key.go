package sshsig

import (
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	"filippo.io/edwards25519"
)

// ErrWeakKey is returned for a public key that is no point of the curve, is
// not written canonically, or is not of prime order.
var ErrWeakKey = errors.New("weak public key")

const (
	keyType = "ssh-ed25519" // RFC 8709 section 4
	keySize = 32            // RFC 8032 section 5.1.5
)

// PublicKey is an Ed25519 public key, the 32 bytes of RFC 8032 section 5.1.5.
type PublicKey [keySize]byte

// Line returns the key as OpenSSH prints it, without a comment and without a
// line end: "ssh-ed25519 AAAA…".
func (k PublicKey) Line() string {
	return keyType + " " + base64.StdEncoding.EncodeToString(k.wire())
}

// Fingerprint returns "SHA256:" and the base64 without padding of the SHA-256
// of the key's wire form, as ssh-keygen -l prints it.
func (k PublicKey) Fingerprint() string {
	sum := sha256.Sum256(k.wire())
	return "SHA256:" + base64.RawStdEncoding.EncodeToString(sum[:])
}

// ParseLine reads what Line writes and nothing else. The error wraps
// ErrMalformed or ErrWeakKey.
func ParseLine(line string) (PublicKey, error) {
	coded, ok := strings.CutPrefix(line, keyType+" ")
	if !ok {
		return PublicKey{}, fmt.Errorf("%w: the line does not begin with %q", ErrMalformed, keyType+" ")
	}
	wire, err := base64.StdEncoding.DecodeString(coded)
	if err != nil || len(wire) < keySize {
		return PublicKey{}, fmt.Errorf("%w: no base64 of a key after %q", ErrMalformed, keyType)
	}
	key := PublicKey(wire[len(wire)-keySize:])
	if key.Line() != line {
		return PublicKey{}, fmt.Errorf("%w: not the form in which a key is written", ErrMalformed)
	}
	if err := key.Check(); err != nil {
		return PublicKey{}, err
	}
	return key, nil
}

// wire is the key as RFC 8709 section 4 sends it: two strings, 51 bytes.
func (k PublicKey) wire() []byte {
	return appendString(appendString(nil, keyType), string(k[:]))
}

// Check refuses a key with an error that wraps ErrWeakKey when the bytes are
//   - no point of the curve, or not the canonical bytes of one (RFC 8032
//     section 5.1.3),
//   - the identity, under which any words verify,
//   - a point of small or of mixed order: [L]A is not the identity, with L the
//     order of the group (RFC 8032 section 5.1).
func (k PublicKey) Check() error {
	point, err := new(edwards25519.Point).SetBytes(k[:])
	if err != nil {
		return fmt.Errorf("%w: no point of the curve", ErrWeakKey)
	}
	if PublicKey(point.Bytes()) != k {
		return fmt.Errorf("%w: not written canonically", ErrWeakKey)
	}
	identity := edwards25519.NewIdentityPoint()
	if point.Equal(identity) == 1 {
		return fmt.Errorf("%w: the identity", ErrWeakKey)
	}
	one, err := edwards25519.NewScalar().SetCanonicalBytes(append([]byte{1}, make([]byte, keySize-1)...))
	if err != nil {
		return fmt.Errorf("the number one as a scalar: %w", err)
	}
	// A scalar stays below L, so [L]A is reckoned as [L-1]A + A.
	product := new(edwards25519.Point).ScalarMult(one.Negate(one), point)
	if product.Add(product, point).Equal(identity) != 1 {
		return fmt.Errorf("%w: not of prime order", ErrWeakKey)
	}
	return nil
}

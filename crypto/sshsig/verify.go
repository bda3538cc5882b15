package sshsig

import (
	"crypto/ed25519"
	"errors"
	"fmt"
	"sync"
)

// ErrSignature is returned for a signature in good form that is not one of
// this message in this namespace.
var ErrSignature = errors.New("signature does not fit")

// Signer makes blobs with one key, wherever that key is kept. The message is
// what the signature speaks of, its last line end included; ssh-keygen -Y sign
// over a file of the same bytes gives the same signature.
type Signer interface {
	Public() PublicKey
	Sign(namespace string, message []byte) (blob []byte, err error)
}

// Hasty is a Signer that also hands out a blob before it is verified. Who asks
// for one verifies it himself before anything rests on it.
type Hasty interface {
	Signer
	SignUnverified(namespace string, message []byte) (blob []byte)
}

// Verifier verifies signatures and remembers the keys it has checked, so that
// many signatures of few keys cost little more than bare Ed25519. The zero
// value is ready; several goroutines may use it at the same time.
type Verifier struct {
	lock sync.RWMutex
	seen map[PublicKey]spelling
}

// spelling is the two ways in which a key is written.
type spelling struct {
	line, fingerprint string
}

// Verify returns the key line (PublicKey.Line) of the key that signed message
// for namespace. The error wraps ErrMalformed, ErrWeakKey or ErrSignature.
// Nothing is said of whose key it is.
func (v *Verifier) Verify(namespace string, message, blob []byte) (keyLine string, err error) {
	parsed, err := split(blob)
	if err != nil {
		return "", err
	}
	known, err := v.look(parsed.Key)
	if err != nil {
		return "", err
	}
	if parsed.Namespace != namespace {
		return "", fmt.Errorf("%w: made for %q, not for %q", ErrSignature, parsed.Namespace, namespace)
	}
	if !ed25519.Verify(parsed.Key[:], Message(namespace, message), parsed.Signature[:]) {
		return "", fmt.Errorf("%w: %s did not sign these words", ErrSignature, known.fingerprint)
	}
	return known.line, nil
}

func (v *Verifier) look(key PublicKey) (spelling, error) {
	v.lock.RLock()
	known, ok := v.seen[key]
	v.lock.RUnlock()
	if ok {
		return known, nil
	}
	if err := key.Check(); err != nil {
		return spelling{}, err
	}
	known = spelling{line: key.Line(), fingerprint: key.Fingerprint()}
	v.lock.Lock()
	defer v.lock.Unlock()
	if v.seen == nil {
		v.seen = make(map[PublicKey]spelling)
	}
	v.seen[key] = known
	return known, nil
}

// Verify is Verifier.Verify for a single signature.
func Verify(namespace string, message, blob []byte) (keyLine string, err error) {
	return new(Verifier).Verify(namespace, message, blob)
}

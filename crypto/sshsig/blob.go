package sshsig

import (
	"bytes"
	"crypto/sha512"
	"encoding/binary"
	"errors"
	"fmt"

	"filippo.io/edwards25519"
)

// ErrMalformed is returned for bytes or text that this package would not write.
var ErrMalformed = errors.New("malformed SSH signature")

// The namespaces of the ledger. A signature made for one is none for the other.
const (
	EntryNamespace  = "entry.v1@lapmark"  // the line of an entry
	AcceptNamespace = "accept.v1@lapmark" // the acceptance of a key-change or a hand-over
)

const (
	magic         = "SSHSIG"
	version       = 1
	hashName      = "sha512"
	signatureSize = 64 // RFC 8032 section 5.1.6

	// Where things lie in a blob, and its size without the namespace.
	keyAt       = len(magic) + 4 + 4 + 4 + len(keyType) + 4
	namespaceAt = keyAt + keySize + 4
	frameSize   = namespaceAt + 4 + 4 + len(hashName) + 4 + 4 + len(keyType) + 4 + signatureSize
)

// Parsed is what a blob says. Signature is R and S of RFC 8032 section 5.1.6.
type Parsed struct {
	Key       PublicKey
	Namespace string
	Signature [signatureSize]byte
}

// Build returns the blob of a signature: 170 bytes and the namespace, which
// must not be empty. It checks nothing.
func Build(key PublicKey, namespace string, signature [signatureSize]byte) []byte {
	blob := make([]byte, 0, frameSize+len(namespace))
	blob = append(blob, magic...)
	blob = binary.BigEndian.AppendUint32(blob, version)
	blob = binary.BigEndian.AppendUint32(blob, uint32(4+len(keyType)+4+keySize))
	blob = appendString(blob, keyType)
	blob = appendString(blob, string(key[:]))
	blob = appendString(blob, namespace)
	blob = appendString(blob, "")
	blob = appendString(blob, hashName)
	blob = binary.BigEndian.AppendUint32(blob, uint32(4+len(keyType)+4+signatureSize))
	blob = appendString(blob, keyType)
	return appendString(blob, string(signature[:]))
}

// Parse reads what Build writes and nothing else. S must be below the group
// order and the key must pass Check. The error wraps ErrMalformed or ErrWeakKey.
func Parse(blob []byte) (Parsed, error) {
	parsed, err := split(blob)
	if err != nil {
		return Parsed{}, err
	}
	if err := parsed.Key.Check(); err != nil {
		return Parsed{}, err
	}
	return parsed, nil
}

// split is Parse without the check of the key, which costs as much as
// verifying and is needed once for each key only.
func split(blob []byte) (Parsed, error) {
	long := len(blob) - frameSize
	if long < 1 {
		return Parsed{}, fmt.Errorf("%w: %d bytes", ErrMalformed, len(blob))
	}
	parsed := Parsed{
		Key:       PublicKey(blob[keyAt:]),
		Namespace: string(blob[namespaceAt : namespaceAt+long]),
		Signature: [signatureSize]byte(blob[len(blob)-signatureSize:]),
	}
	if !bytes.Equal(Build(parsed.Key, parsed.Namespace, parsed.Signature), blob) {
		return Parsed{}, fmt.Errorf("%w: not the layout of an ssh-ed25519 signature with sha512", ErrMalformed)
	}
	if _, err := edwards25519.NewScalar().SetCanonicalBytes(parsed.Signature[32:]); err != nil {
		return Parsed{}, fmt.Errorf("%w: S is not below the group order", ErrMalformed)
	}
	return parsed, nil
}

// Message returns the bytes that Ed25519 signs for a message (PROTOCOL.sshsig,
// "Signed Data"): "SSHSIG" and the strings namespace, empty, "sha512" and the
// SHA-512 of the message.
func Message(namespace string, message []byte) []byte {
	digest := sha512.Sum512(message)
	signed := make([]byte, 0, len(magic)+4+len(namespace)+4+4+len(hashName)+4+len(digest))
	signed = append(signed, magic...)
	signed = appendString(signed, namespace)
	signed = appendString(signed, "")
	signed = appendString(signed, hashName)
	return appendString(signed, string(digest[:]))
}

// appendString appends a string of RFC 4251 section 5: its length in four
// bytes, high byte first, and its bytes.
func appendString(to []byte, s string) []byte {
	return append(binary.BigEndian.AppendUint32(to, uint32(len(s))), s...)
}
